/** Excel.Range. */
import {cellKey, cellOfKey, meet, within, type Area} from '../../book/addresses';
import type {CellContent} from '../../book/content';
import {columnCount, contains, rowCount} from '../areas';
import {copyCells, deleteCells, insertCells} from '../structure';
import {writeContents} from '../writing';
import {ConditionalFormatCollection} from './conditional';
import type {Surrounding} from './officeObject';
import {invalid} from './problem';
import {checkArrays, RangeContents} from './rangeContents';
import {RangeFormat} from './rangeFormat';
import {bookOf, otherRange} from './rangePlace';
import {TableCollection} from './tables';
import {DataValidation} from './validation';
import {Worksheet} from './worksheet';

export class Range extends RangeContents<Range> {
  constructor(surrounding: Surrounding, sheetId: string, area: Area) {
    super(surrounding, sheetId, area, (...place) => new Range(...place));
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

  getTables(fullyContained: unknown = false): TableCollection {
    return new TableCollection(this.surrounding, this.sheetId, ({area}) =>
      fullyContained === true ? contains(this.area, area) : meet(this.area, area),
    );
  }

  // ---- doing ----

  select(): null {
    bookOf(this).activate(this.sheetId);
    bookOf(this).select(this.sheetId, [this.area]);
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
    checkArrays(this);
    const book = bookOf(this);
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
    for (const at of bookOf(this).sheet(this.sheetId).cells.keys()) {
      const {row, column} = cellOfKey(at);
      if (within(this.area, row, column)) contents.push({row, column, value: null});
    }
    writeContents(bookOf(this), this.sheetId, contents);
  }

  insert(shift: unknown): Range {
    this.mayChange(this.sheetId);
    // The range itself moves along; the new cells are where it was.
    const {area} = this;
    insertCells(bookOf(this), this.sheetId, area, shift === 'Right' ? 'Right' : 'Down');
    return this.at(area);
  }

  delete(shift: unknown): null {
    this.mayChange(this.sheetId);
    deleteCells(bookOf(this), this.sheetId, this.area, shift === 'Left' ? 'Left' : 'Up');
    return null;
  }

  copyFrom(source: unknown, what: unknown = 'All', skipBlanks: unknown = false, transpose: unknown = false): null {
    this.mayChange(this.sheetId);
    const from = otherRange(this, source);
    copyCells(
      bookOf(this),
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
    const book = bookOf(this);
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
    const merges = bookOf(this)
      .state(this.sheetId)
      .merges.filter((area) => !meet(area, this.area));
    bookOf(this).setSheet(this.sheetId, {merges}, 'merges');
    return null;
  }

  /** Fills the cells of a larger range from this one: formulas in their way, other contents repeated. */
  autoFill(target: unknown, kind: unknown = 'FillDefault'): null {
    this.mayChange(this.sheetId);
    const to = otherRange(this, target);
    if (!contains(to.area, this.area) || (kind !== 'FillDefault' && kind !== 'FillCopy')) throw invalid();
    copyCells(
      bookOf(this),
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
