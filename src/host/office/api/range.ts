/** Excel.Range. */
import {translateFormulaToA1, translateFormulaToR1C1} from '@borgar/fx';
import {cellAddress, cellKey, cellOfKey, COLUMNS, meet, oneCell, ROWS, within, type Area} from '../../book/addresses';
import type {CellValue} from '../../book/cells';
import type {CellContent} from '../../book/content';
import {
  around,
  columnCount,
  common,
  contains,
  fullAddress,
  isOnSheet,
  isWholeColumns,
  isWholeRows,
  moved,
  rowCount,
} from '../areas';
import {plainValue, shownText, valueType} from '../cellText';
import {GENERAL} from '../entering';
import {copyCells, deleteCells, insertCells} from '../structure';
import {usedArea, surroundingArea} from '../used';
import {writeContents, writeRows, type Written} from '../writing';
import {FormulaSyntaxError} from '../../formulas/syntax';
import {ConditionalFormatCollection} from './conditional';
import {number, OfficeObject, text, type Surrounding} from './officeObject';
import {denied, invalid, notFound, OfficeProblem} from './problem';
import {RangeFormat} from './rangeFormat';
import {TableCollection} from './tables';
import {DataValidation} from './validation';
import {Worksheet} from './worksheet';

/** Cells that a batch may read at once; Excel refuses answers of more than about 5 MB. */
const MOST_CELLS = 5_000_000;

export class Range extends OfficeObject {
  readonly officeType = 'Range';

  constructor(
    surrounding: Surrounding,
    readonly sheetId: string,
    readonly area: Area,
  ) {
    super(surrounding);
    if (!isOnSheet(area)) throw invalid();
  }

  override identity(): Record<string, unknown> {
    return {_ReferenceId: this.surrounding.keep(this)};
  }

  get #book() {
    if (!this.surrounding.book.has(this.sheetId)) throw notFound();
    return this.surrounding.book;
  }

  #at(area: Area): Range {
    return new Range(this.surrounding, this.sheetId, area);
  }

  /** Whole rows and columns have no values of their own. */
  get #isUnbounded(): boolean {
    return isWholeRows(this.area) || isWholeColumns(this.area);
  }

  #rows<T>(read: (row: number, column: number) => T): T[][] | null {
    if (this.#isUnbounded) return null;
    const {top, left} = this.area;
    const [rows, columns] = [rowCount(this.area), columnCount(this.area)];
    if (rows * columns > MOST_CELLS) {
      throw new OfficeProblem(
        'ResponsePayloadSizeLimitExceeded',
        'The answer would be too large: ask for fewer cells.',
      );
    }
    return Array.from({length: rows}, (_, r) => Array.from({length: columns}, (__, c) => read(top + r, left + c)));
  }

  // ---- where it is ----

  get address(): string {
    return fullAddress(this.#book.sheet(this.sheetId).name, this.area);
  }

  get addressLocal(): string {
    return this.address;
  }

  get rowIndex(): number {
    return this.area.top;
  }

  get columnIndex(): number {
    return this.area.left;
  }

  get rowCount(): number {
    return rowCount(this.area);
  }

  get columnCount(): number {
    return columnCount(this.area);
  }

  get cellCount(): number {
    const count = rowCount(this.area) * columnCount(this.area);
    return count > 2 ** 31 - 1 ? -1 : count;
  }

  get isEntireRow(): boolean {
    return isWholeRows(this.area);
  }

  get isEntireColumn(): boolean {
    return isWholeColumns(this.area);
  }

  get worksheet(): Worksheet {
    return new Worksheet(this.surrounding, this.sheetId);
  }

  /** In points, from the left edge of the sheet. */
  get left(): number {
    return new RangeFormat(this).offsets().left;
  }

  get top(): number {
    return new RangeFormat(this).offsets().top;
  }

  get width(): number {
    return new RangeFormat(this).offsets().width;
  }

  get height(): number {
    return new RangeFormat(this).offsets().height;
  }

  // ---- contents ----

  #value(row: number, column: number): CellValue {
    return this.#book.value(this.sheetId, row, column);
  }

  get values(): unknown {
    return this.#rows((row, column) => plainValue(this.#value(row, column)));
  }

  set values(given: unknown) {
    this.#write(given);
  }

  get formulas(): unknown {
    return this.#rows(
      (row, column) => this.#book.formula(this.sheetId, row, column) ?? plainValue(this.#value(row, column)),
    );
  }

  set formulas(given: unknown) {
    this.#write(given);
  }

  get formulasLocal(): unknown {
    return this.formulas;
  }

  get formulasR1C1(): unknown {
    return this.#rows((row, column) => {
      const formula = this.#book.formula(this.sheetId, row, column);
      if (formula === undefined) return plainValue(this.#value(row, column));
      return `=${translateFormulaToR1C1(formula.slice(1), cellAddress(row, column))}`;
    });
  }

  set formulasR1C1(given: unknown) {
    this.#write(given, (written, row, column) =>
      typeof written === 'string' && written.startsWith('=')
        ? `=${translateFormulaToA1(written.slice(1), cellAddress(row, column))}`
        : written,
    );
  }

  #write(given: unknown, translate: (written: Written, row: number, column: number) => Written = (one) => one): void {
    this.mayChange(this.sheetId);
    if (this.#isUnbounded) throw invalid();
    const rows = this.#matching(given).map((cells, r) =>
      cells.map((cell, c) => translate(cell as Written, this.area.top + r, this.area.left + c)),
    );
    this.#checkArrays();
    try {
      writeRows(this.#book, this.sheetId, this.area, rows);
    } catch (error) {
      throw error instanceof FormulaSyntaxError ? invalid(`The formula cannot be read: ${error.message}.`) : error;
    }
  }

  /** Rows of the size of the range: a single value stands for all cells. */
  #matching(given: unknown): unknown[][] {
    const [rows, columns] = [rowCount(this.area), columnCount(this.area)];
    if (!Array.isArray(given)) {
      return Array.from({length: rows}, () => Array.from({length: columns}, () => cellOf(given)));
    }
    if (given.length !== rows || given.some((cells) => !Array.isArray(cells) || cells.length !== columns)) {
      throw invalid(
        "The number of rows or columns in the input array doesn't match the size or dimensions of the range.",
      );
    }
    return given.map((cells: unknown[]) => cells.map(cellOf));
  }

  /** An array formula of fixed size changes as a whole or not at all. */
  #checkArrays(): void {
    for (const {formula} of this.#book.sheet(this.sheetId).cells.values()) {
      const area = formula?.content.kind === 'legacy' ? formula.content.area : undefined;
      if (area && meet(area, this.area) && !contains(this.area, area)) throw denied();
    }
  }

  get text(): unknown {
    return this.#rows((row, column) =>
      shownText(this.#value(row, column), this.#book.look(this.sheetId, row, column).numberFormat),
    );
  }

  get valueTypes(): unknown {
    return this.#rows((row, column) => valueType(this.#value(row, column)));
  }

  get numberFormat(): unknown {
    return this.#rows((row, column) => this.#book.look(this.sheetId, row, column).numberFormat ?? GENERAL);
  }

  set numberFormat(given: unknown) {
    this.mayChange(this.sheetId);
    if (!Array.isArray(given) || this.#isUnbounded) {
      const pattern = text(Array.isArray(given) ? (given as unknown[][])[0]?.[0] : given);
      this.#book.setLook(this.sheetId, this.area, {numberFormat: pattern === GENERAL ? null : pattern});
      return;
    }
    const looks = new Map(
      this.#matching(given).flatMap((cells, r) =>
        cells.flatMap((pattern, c) => {
          if (pattern === null) return [];
          const [row, column] = [this.area.top + r, this.area.left + c];
          const {numberFormat: _, ...rest} = this.#book.look(this.sheetId, row, column);
          const look = pattern === GENERAL || pattern === '' ? rest : {...rest, numberFormat: text(pattern)};
          return [[cellKey(row, column), look] as const];
        }),
      ),
    );
    this.#book.putLooks(this.sheetId, this.area, looks);
  }

  get numberFormatLocal(): unknown {
    return this.numberFormat;
  }

  get hasSpill(): boolean | null {
    const spilling = this.#spills().map(({spilled}) => common(spilled, this.area));
    if (spilling.every((one) => one === undefined)) return false;
    return spilling.some((one) => one && contains(one, this.area)) ? true : null;
  }

  /** Formulas that fill several cells by themselves, and these cells. */
  #spills(): {readonly row: number; readonly column: number; readonly spilled: Area}[] {
    const {areas, cells} = this.#book.sheet(this.sheetId);
    return [...areas].flatMap(([at, spilled]) =>
      cells.get(at)?.formula?.content.kind === 'dynamic' ? [{...cellOfKey(at), spilled}] : [],
    );
  }

  // ---- other ranges ----

  getCell(row: unknown, column: unknown): Range {
    return this.#at(oneCell(this.area.top + number(row), this.area.left + number(column)));
  }

  getRow(row: unknown): Range {
    const top = this.area.top + number(row);
    return this.#at({...this.area, top, bottom: top});
  }

  getColumn(column: unknown): Range {
    const left = this.area.left + number(column);
    return this.#at({...this.area, left, right: left});
  }

  getLastRow(): Range {
    return this.#at({...this.area, top: this.area.bottom});
  }

  getLastColumn(): Range {
    return this.#at({...this.area, left: this.area.right});
  }

  getLastCell(): Range {
    return this.#at(oneCell(this.area.bottom, this.area.right));
  }

  getEntireRow(): Range {
    return this.#at({...this.area, left: 0, right: COLUMNS - 1});
  }

  getEntireColumn(): Range {
    return this.#at({...this.area, top: 0, bottom: ROWS - 1});
  }

  getOffsetRange(rows: unknown, columns: unknown): Range {
    return this.#at(moved(this.area, number(rows), number(columns)));
  }

  getResizedRange(rows: unknown, columns: unknown): Range {
    const {bottom, right} = this.area;
    return this.#at({...this.area, bottom: bottom + number(rows), right: right + number(columns)});
  }

  getAbsoluteResizedRange(rows: unknown, columns: unknown): Range {
    const {top, left} = this.area;
    return this.#at({top, left, bottom: top + number(rows) - 1, right: left + number(columns) - 1});
  }

  getRowsAbove(count: unknown = 1): Range {
    const {top} = this.area;
    return this.#at({...this.area, top: top - number(count), bottom: top - 1});
  }

  getRowsBelow(count: unknown = 1): Range {
    const {bottom} = this.area;
    return this.#at({...this.area, top: bottom + 1, bottom: bottom + number(count)});
  }

  getColumnsBefore(count: unknown = 1): Range {
    const {left} = this.area;
    return this.#at({...this.area, left: left - number(count), right: left - 1});
  }

  getColumnsAfter(count: unknown = 1): Range {
    const {right} = this.area;
    return this.#at({...this.area, left: right + 1, right: right + number(count)});
  }

  getBoundingRect(other: unknown): Range {
    return this.#at(around(this.area, this.#other(other).area));
  }

  getIntersection(other: unknown): Range {
    const found = this.getIntersectionOrNullObject(other);
    if (!found) throw notFound();
    return found;
  }

  getIntersectionOrNullObject(other: unknown): Range | null {
    const {sheetId, area} = this.#other(other);
    const both = sheetId === this.sheetId ? common(this.area, area) : undefined;
    return both ? this.#at(both) : null;
  }

  #other(given: unknown): Range {
    return given instanceof Range ? given : this.worksheet.getRange(text(given));
  }

  getUsedRange(valuesOnly: unknown = false): Range {
    const found = this.getUsedRangeOrNullObject(valuesOnly);
    return found ?? this.#at(oneCell(this.area.top, this.area.left));
  }

  getUsedRangeOrNullObject(valuesOnly: unknown = false): Range | null {
    const used = usedArea(this.#book, this.sheetId, valuesOnly === true, this.area);
    return used ? this.#at(used) : null;
  }

  getSurroundingRegion(): Range {
    return this.#at(surroundingArea(this.#book, this.sheetId, this.area));
  }

  getSpillingToRange(): Range {
    const found = this.getSpillingToRangeOrNullObject();
    if (!found) throw notFound();
    return found;
  }

  getSpillingToRangeOrNullObject(): Range | null {
    const {top, left} = this.area;
    const found = this.#spills().find(({row, column}) => row === top && column === left);
    return found ? this.#at(found.spilled) : null;
  }

  getSpillParent(): Range {
    const found = this.getSpillParentOrNullObject();
    if (!found) throw notFound();
    return found;
  }

  getSpillParentOrNullObject(): Range | null {
    const {top, left} = this.area;
    const found = this.#spills().find(({spilled}) => within(spilled, top, left));
    return found ? this.#at(oneCell(found.row, found.column)) : null;
  }

  getTables(fullyContained: unknown = false): TableCollection {
    return new TableCollection(this.surrounding, this.sheetId, ({area}) =>
      fullyContained === true ? contains(this.area, area) : meet(this.area, area),
    );
  }

  // ---- doing ----

  select(): null {
    this.#book.activate(this.sheetId);
    this.#book.select(this.sheetId, [this.area]);
    return null;
  }

  calculate(): null {
    return null;
  }

  /** Asked by office.js itself before it sends more than 1,500 cells in parts. */
  _ValidateArraySize(rows: unknown, columns: unknown): null {
    if (rows !== rowCount(this.area) || columns !== columnCount(this.area)) throw invalid();
    return null;
  }

  clear(what: unknown = 'All'): null {
    this.mayChange(this.sheetId);
    this.#checkArrays();
    const book = this.#book;
    book.step(() => {
      if (what === 'All' || what === 'Contents') this.#clearContents();
      if (what === 'All' || what === 'Formats') {
        const keys = [...book.looks(this.sheetId)].filter(({row, column}) => within(this.area, row, column));
        book.putLooks(this.sheetId, this.area, new Map(keys.map(({row, column}) => [cellKey(row, column), undefined])));
      }
    });
    return null;
  }

  #clearContents(): void {
    const contents: CellContent[] = [];
    for (const at of this.#book.sheet(this.sheetId).cells.keys()) {
      const {row, column} = cellOfKey(at);
      if (within(this.area, row, column)) contents.push({row, column, value: null});
    }
    writeContents(this.#book, this.sheetId, contents);
  }

  insert(shift: unknown): Range {
    this.mayChange(this.sheetId);
    insertCells(this.#book, this.sheetId, this.area, shift === 'Right' ? 'Right' : 'Down');
    return this.#at(this.area);
  }

  delete(shift: unknown): null {
    this.mayChange(this.sheetId);
    deleteCells(this.#book, this.sheetId, this.area, shift === 'Left' ? 'Left' : 'Up');
    return null;
  }

  copyFrom(source: unknown, what: unknown = 'All', skipBlanks: unknown = false, transpose: unknown = false): null {
    this.mayChange(this.sheetId);
    const from = this.#other(source);
    copyCells(
      this.#book,
      from,
      {sheetId: this.sheetId, area: this.area},
      {
        what: typeof what === 'string' ? what : 'All',
        skipBlanks: skipBlanks === true,
        transpose: transpose === true,
      },
    );
    return null;
  }

  merge(across: unknown = false): null {
    this.mayChange(this.sheetId);
    const {top, bottom} = this.area;
    const added =
      across === true
        ? Array.from({length: bottom - top + 1}, (_, i) => ({...this.area, top: top + i, bottom: top + i}))
        : [this.area];
    const book = this.#book;
    book.step(() => {
      const others = book.state(this.sheetId).merges.filter((one) => !added.some((area) => meet(one, area)));
      // Only the upper left cell of merged cells keeps its content.
      const lost: CellContent[] = [];
      for (const at of book.sheet(this.sheetId).cells.keys()) {
        const {row, column} = cellOfKey(at);
        const area = added.find((one) => within(one, row, column));
        if (area && (row !== area.top || column !== area.left)) lost.push({row, column, value: null});
      }
      writeContents(book, this.sheetId, lost);
      const merges = added.filter((area) => rowCount(area) > 1 || columnCount(area) > 1);
      book.setSheet(this.sheetId, {merges: [...others, ...merges]}, 'merges');
    });
    return null;
  }

  unmerge(): null {
    this.mayChange(this.sheetId);
    const merges = this.#book.state(this.sheetId).merges.filter((area) => !meet(area, this.area));
    this.#book.setSheet(this.sheetId, {merges}, 'merges');
    return null;
  }

  /** Fills the cells of a larger range from this one: formulas in their way, other contents repeated. */
  autoFill(target: unknown, kind: unknown = 'FillDefault'): null {
    this.mayChange(this.sheetId);
    const to = this.#other(target);
    if (!contains(to.area, this.area) || (kind !== 'FillDefault' && kind !== 'FillCopy')) throw invalid();
    copyCells(
      this.#book,
      this,
      {sheetId: this.sheetId, area: to.area},
      {
        what: 'All',
        skipBlanks: false,
        transpose: false,
      },
    );
    return null;
  }

  get hidden(): boolean {
    return this.rowHidden || this.columnHidden;
  }

  get rowHidden(): boolean {
    return new RangeFormat(this).areHidden('rows');
  }

  set rowHidden(given: unknown) {
    new RangeFormat(this).hide('rows', given === true);
  }

  get columnHidden(): boolean {
    return new RangeFormat(this).areHidden('columns');
  }

  set columnHidden(given: unknown) {
    new RangeFormat(this).hide('columns', given === true);
  }

  // ---- parts ----

  get format(): RangeFormat {
    return new RangeFormat(this);
  }

  get dataValidation(): DataValidation {
    return new DataValidation(this);
  }

  get conditionalFormats(): ConditionalFormatCollection {
    return new ConditionalFormatCollection(this);
  }
}

const cellOf = (given: unknown): Written => {
  if (given === null || typeof given === 'string' || typeof given === 'number' || typeof given === 'boolean')
    return given;
  throw invalid();
};
