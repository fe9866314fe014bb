/** Excel.WorksheetCollection. */
import {withEvents} from './following';
import {Collection, isGiven, sameName, text} from './officeObject';
import {invalid, taken} from './problem';
import {Worksheet} from './worksheet';

/** What the name of a sheet may not have. */
const BARRED = /[:\\/?*[\]]|^'|'$/;
const LONGEST = 31;

/** @throws OfficeProblem when Excel would refuse the name */
export function checkSheetName(name: string, others: readonly string[]): void {
  if (name === '' || name.length > LONGEST || BARRED.test(name) || sameName('History', name)) throw invalid();
  if (others.some((other) => sameName(other, name))) throw taken();
}

export class WorksheetCollection extends Collection<Worksheet> {
  readonly officeType = 'WorksheetCollection';

  get #book() {
    return this.surrounding.book;
  }

  listed(): readonly Worksheet[] {
    return this.#book.sheets.map(({id}) => new Worksheet(this.surrounding, id));
  }

  isMeant({sheetId}: Worksheet, key: unknown): boolean {
    return sheetId === key || sameName(this.#book.sheet(sheetId).name, key);
  }

  #seen(visibleOnly: unknown): readonly Worksheet[] {
    const all = this.listed();
    return visibleOnly === true ? all.filter(({sheetId}) => this.#book.state(sheetId).visibility === 'Visible') : all;
  }

  override getCount(visibleOnly: unknown = false): number {
    return this.#seen(visibleOnly).length;
  }

  getFirst(visibleOnly: unknown = false): Worksheet {
    return this.#seen(visibleOnly)[0];
  }

  getLast(visibleOnly: unknown = false): Worksheet {
    return this.#seen(visibleOnly).at(-1)!;
  }

  getActiveWorksheet(): Worksheet {
    return new Worksheet(this.surrounding, this.#book.activeSheet);
  }

  add(given: unknown): Worksheet {
    const names = this.#book.sheets.map(({name}) => name);
    let name = '';
    if (isGiven(given)) name = text(given);
    else for (let number = names.length + 1; name === '' || names.includes(name); number++) name = `Sheet${number}`;
    checkSheetName(name, names);
    return new Worksheet(this.surrounding, this.#book.addSheet(name, names.length));
  }
}

withEvents(WorksheetCollection.prototype, {
  Activated: 'activated',
  Added: 'added',
  Calculated: 'calculated',
  DataChanged: 'changed',
  Deactivated: 'deactivated',
  Deleted: 'deleted',
  FormatChanged: 'formatChanged',
  NameChanged: 'nameChanged',
  SelectionChanged: 'selectionChanged',
});
