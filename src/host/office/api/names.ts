/** Excel.NamedItem and its collection. */
import {parseAddress} from '../areas';
import {plainValue} from '../cellText';
import {bareFormula, parseFormula} from '../../formulas/syntax';
import {absoluteAddress} from '../absolute';
import type {NameState} from '../state';
import {Collection, isGiven, OfficeObject, sameName, text, type Surrounding} from './officeObject';
import {invalid, notFound, taken} from './problem';
import {Range} from './range';
import {Worksheet} from './worksheet';

const NAME = /^[\p{L}_\\][\p{L}\p{N}_.\\]*$/u;

/** The cells that a name stands for, as seen from a sheet; undefined when it stands for none. */
export function rangeOfName(surrounding: Surrounding, name: string, sheetId: string | undefined): Range | undefined {
  const {names} = surrounding.book;
  const same = names.filter((one) => sameName(one.name, name));
  const meant = same.find((one) => one.sheetId === sheetId) ?? same.find((one) => one.sheetId === undefined);
  return meant && rangeOf(surrounding, meant);
}

function rangeOf(surrounding: Surrounding, {formula}: NameState): Range | undefined {
  const parsed = parseAddress(formula);
  const sheet = surrounding.book.sheets.find(({name}) => sameName(name, parsed?.sheet));
  return parsed && sheet && new Range(surrounding, sheet.id, parsed.area);
}

export class NamedItemCollection extends Collection<NamedItem> {
  readonly officeType = 'NamedItemCollection';

  constructor(
    surrounding: Surrounding,
    readonly sheetId: string | undefined,
  ) {
    super(surrounding);
  }

  listed(): readonly NamedItem[] {
    return this.surrounding.book.names
      .filter(({sheetId}) => sheetId === this.sheetId)
      .map(({name}) => new NamedItem(this.surrounding, name, this.sheetId));
  }

  isMeant(item: NamedItem, key: unknown): boolean {
    return sameName(item.called, key);
  }

  /** `reference` is a range or a formula. */
  add(given: unknown, reference: unknown, comment: unknown): NamedItem {
    const name = text(given);
    if (!NAME.test(name) || parseAddress(name)) throw invalid();
    if (this.getItemOrNullObject(name)) throw taken();
    const {book} = this.surrounding;
    const formula =
      reference instanceof Range
        ? absoluteAddress(book.sheet(reference.sheetId).name, reference.area)
        : typeof reference === 'string'
          ? bareFormula(reference)
          : String(plainValue(reference as number | boolean));
    readable(formula);
    const state: NameState = {
      name,
      sheetId: this.sheetId,
      formula,
      comment: isGiven(comment) ? text(comment) : '',
      visible: true,
      isNew: true,
    };
    book.setNames([...book.names, state]);
    return new NamedItem(this.surrounding, name, this.sheetId);
  }
}

function readable(formula: string): void {
  try {
    parseFormula(formula);
  } catch {
    throw invalid();
  }
}

export class NamedItem extends OfficeObject {
  readonly officeType = 'NamedItem';

  constructor(
    surrounding: Surrounding,
    readonly called: string,
    readonly sheetId: string | undefined,
  ) {
    super(surrounding);
  }

  override identity(): Record<string, unknown> {
    return {_Id: this.called};
  }

  get #state(): NameState {
    const found = this.surrounding.book.names.find((one) => this.#isThis(one));
    if (!found) throw notFound();
    return found;
  }

  #isThis({name, sheetId}: NameState): boolean {
    return name === this.called && sheetId === this.sheetId;
  }

  #change(change: Partial<NameState>): void {
    const {book} = this.surrounding;
    book.setNames(book.names.map((one) => (this.#isThis(one) ? {...one, ...change} : one)));
  }

  get name(): string {
    return this.#state.name;
  }

  get formula(): string {
    return `=${this.#state.formula}`;
  }

  set formula(given: unknown) {
    const formula = bareFormula(text(given));
    readable(formula);
    this.#change({formula});
  }

  get comment(): string {
    return this.#state.comment;
  }

  set comment(given: unknown) {
    this.#change({comment: text(given)});
  }

  get visible(): boolean {
    return this.#state.visible;
  }

  set visible(given: unknown) {
    this.#change({visible: given === true});
  }

  get scope(): string {
    return this.sheetId === undefined ? 'Workbook' : 'Worksheet';
  }

  get type(): string {
    return this.#kind;
  }

  get #kind(): string {
    if (rangeOf(this.surrounding, this.#state)) return 'Range';
    const {formula} = this.#state;
    if (formula.trim() !== '' && Number.isFinite(Number(formula))) return 'Double';
    if (/^(?:TRUE|FALSE)$/i.test(formula)) return 'Boolean';
    return /^"(?:[^"]|"")*"$/.test(formula) ? 'String' : 'Array';
  }

  /** What it stands for: an address, or a constant; other formulas as they are. */
  get value(): unknown {
    const {formula} = this.#state;
    switch (this.#kind) {
      case 'Range':
        return formula;
      case 'Double':
        return Number(formula);
      case 'Boolean':
        return /^TRUE$/i.test(formula);
      case 'String':
        return formula.slice(1, -1).replace(/""/g, '"');
      default:
        return `=${formula}`;
    }
  }

  get worksheet(): Worksheet {
    if (this.sheetId === undefined) throw notFound();
    return new Worksheet(this.surrounding, this.sheetId);
  }

  get worksheetOrNullObject(): Worksheet | null {
    return this.sheetId === undefined ? null : new Worksheet(this.surrounding, this.sheetId);
  }

  getRange(): Range {
    const found = this.getRangeOrNullObject();
    if (!found) throw notFound();
    return found;
  }

  getRangeOrNullObject(): Range | null {
    return rangeOf(this.surrounding, this.#state) ?? null;
  }

  delete(): null {
    const {book} = this.surrounding;
    book.setNames(book.names.filter((one) => !this.#isThis(one)));
    return null;
  }
}
