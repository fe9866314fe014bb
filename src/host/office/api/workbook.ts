/** Excel.Workbook and Excel.Application. */
import {oneCell} from '../../book/addresses';
import {NamedItemCollection} from './names';
import {OfficeObject, text} from './officeObject';
import {invalid, notFound} from './problem';
import {Range} from './range';
import {TableCollection} from './tables';
import {WorksheetCollection} from './worksheets';

/** What office.js calls before anything else, of no consequence here. */
export class Service extends OfficeObject {
  readonly officeType = 'Service';

  /** What office.js says before anything else. */
  notifyActionHandlerReady(): null {
    return null;
  }
}

export class Workbook extends OfficeObject {
  readonly officeType = 'Workbook';

  get #book() {
    return this.surrounding.book;
  }

  get name(): string {
    return 'Local workbook';
  }

  get readOnly(): boolean {
    return false;
  }

  get worksheets(): WorksheetCollection {
    return new WorksheetCollection(this.surrounding);
  }

  get tables(): TableCollection {
    return new TableCollection(this.surrounding);
  }

  get names(): NamedItemCollection {
    return new NamedItemCollection(this.surrounding, undefined);
  }

  get application(): Application {
    return new Application(this.surrounding);
  }

  getSelectedRange(): Range {
    const areas = this.#book.selection();
    if (areas.length !== 1) throw invalid('Several blocks of cells are selected.');
    return new Range(this.surrounding, this.#book.activeSheet, areas[0]);
  }

  getActiveCell(): Range {
    const [{top, left}] = this.#book.selection();
    return new Range(this.surrounding, this.#book.activeSheet, oneCell(top, left));
  }

  _GetRangeForEventByReferenceId(id: unknown): Range {
    const found = this._GetRangeOrNullObjectForEventByReferenceId(id);
    if (!found) throw notFound();
    return found;
  }

  _GetRangeOrNullObjectForEventByReferenceId(id: unknown): Range | null {
    const found = this.surrounding.kept(text(id));
    return found instanceof Range ? found : null;
  }

  _RemoveReference(id: unknown): null {
    this.surrounding.release(text(id));
    return null;
  }

  _RemoveAllReferences(): null {
    this.surrounding.releaseAll();
    return null;
  }
}

const MODES = ['Automatic', 'AutomaticExceptTables', 'Manual'] as const;

export class Application extends OfficeObject {
  readonly officeType = 'Application';

  get #book() {
    return this.surrounding.book;
  }

  get calculationMode(): string {
    return this.#book.calculationMode;
  }

  set calculationMode(given: unknown) {
    const mode = MODES.find((one) => one === given);
    if (!mode) throw invalid();
    this.#book.calculationMode = mode;
  }

  get calculationState(): string {
    return this.#book.isPending ? 'Pending' : 'Done';
  }

  get calculationEngineVersion(): number {
    return 0;
  }

  get decimalSeparator(): string {
    return '.';
  }

  get thousandsSeparator(): string {
    return ',';
  }

  get useSystemSeparators(): boolean {
    return true;
  }

  /** The answer waits until everything is calculated. */
  async calculate(kind: unknown): Promise<null> {
    await this.#book.settle();
    if (kind === 'Full' || kind === 'FullRebuild') await this.#book.calculation.calculate();
    return null;
  }

  /** A batch is calculated once in any case, when something asks for results or at its end. */
  suspendApiCalculationUntilNextSync(): null {
    return null;
  }

  suspendScreenUpdatingUntilNextSync(): null {
    return null;
  }
}
