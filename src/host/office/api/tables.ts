/** Excel.Table and its collection. */
import {meet, parseArea, type Area} from '../../book/addresses';
import type {CellContent} from '../../book/content';
import {parseAddress, rowCount} from '../areas';
import {deleteCells, insertCells} from '../structure';
import type {TableColumnState, TableState} from '../state';
import {createTable, dataArea, fillRows, removeTable, renameTable} from '../tables';
import {writeContents} from '../writing';
import {withEvents} from './following';
import {Collection, OfficeObject, sameName, text, type Surrounding} from './officeObject';
import {invalid, notFound, OfficeProblem, taken} from './problem';
import {Range} from './range';
import {TableColumnCollection} from './tableColumns';
import {TableRowCollection} from './tableRows';
import {Worksheet} from './worksheet';

const NAME = /^[\p{L}_\\][\p{L}\p{N}_.\\]*$/u;

export class TableCollection extends Collection<Table> {
  readonly officeType = 'TableCollection';

  /** @param sheetId the sheet whose tables these are; undefined for those of the workbook */
  constructor(
    surrounding: Surrounding,
    readonly sheetId?: string,
    readonly only: (table: TableState) => boolean = () => true,
  ) {
    super(surrounding);
  }

  listed(): readonly Table[] {
    return this.surrounding.book.tables
      .filter((table) => (this.sheetId === undefined || table.sheetId === this.sheetId) && this.only(table))
      .map(({id}) => new Table(this.surrounding, id));
  }

  isMeant(table: Table, key: unknown): boolean {
    return table.tableId === key || sameName(table.state.name, key);
  }

  getFirst(): Table {
    const [first] = this.listed();
    if (!first) throw notFound();
    return first;
  }

  add(address: unknown, hasHeaders: unknown): Table {
    const range = address instanceof Range ? address : this.#range(text(address));
    this.mayChange(range.sheetId);
    const {book} = this.surrounding;
    const {sheetId} = range;
    if (book.tables.some((table) => table.sheetId === sheetId && meet(table.area, range.area))) {
      throw new OfficeProblem('InvalidOperation', 'A table cannot overlap another table.');
    }
    if (book.state(sheetId).merges.some((area) => meet(area, range.area))) {
      throw new OfficeProblem('InvalidOperation', 'A table cannot have merged cells.');
    }
    let {area} = range;
    if (hasHeaders !== true) {
      // Excel puts a row of headings above, and moves what is below down.
      insertCells(book, sheetId, {...area, bottom: area.top}, 'Down');
      area = {...area, bottom: area.bottom + 1};
    }
    return new Table(this.surrounding, createTable(book, {sheetId, area}).id);
  }

  #range(address: string): Range {
    const parsed = parseAddress(address);
    const {book} = this.surrounding;
    const sheetId =
      parsed?.sheet === undefined
        ? (this.sheetId ?? book.activeSheet)
        : book.sheets.find(({name}) => sameName(name, parsed.sheet))?.id;
    if (!parsed || sheetId === undefined) throw invalid();
    return new Range(this.surrounding, sheetId, parsed.area);
  }
}

withEvents(TableCollection.prototype, {Added: 'tableAdded', DataChanged: 'tableChanged', Deleted: 'tableDeleted'});

export class Table extends OfficeObject {
  readonly officeType = 'Table';

  constructor(
    surrounding: Surrounding,
    readonly tableId: string,
  ) {
    super(surrounding);
  }

  override identity(): Record<string, unknown> {
    return {Id: this.tableId};
  }

  get state(): TableState {
    const found = this.surrounding.book.tables.find(({id}) => id === this.tableId);
    if (!found) throw notFound();
    return found;
  }

  #change(change: Partial<TableState>): void {
    this.mayChange(this.state.sheetId);
    this.surrounding.book.setTable(this.tableId, change);
  }

  #range(area: Area): Range {
    return new Range(this.surrounding, this.state.sheetId, area);
  }

  get id(): string {
    return this.state.id;
  }

  get legacyId(): string {
    return this.tableId;
  }

  get name(): string {
    return this.state.name;
  }

  set name(given: unknown) {
    const name = text(given);
    if (!NAME.test(name) || parseArea(name)) throw invalid();
    const {book} = this.surrounding;
    const others = [...book.tables.filter(({id}) => id !== this.tableId), ...book.names];
    if (others.some((other) => sameName(other.name, name))) throw taken();
    this.mayChange(this.state.sheetId);
    renameTable(book, this.state, name);
  }

  get style(): string {
    return this.state.style;
  }

  set style(given: unknown) {
    this.#change({style: text(given)});
  }

  get showHeaders(): boolean {
    return this.state.header;
  }

  /** The header row comes above the data, or goes; the data stay where they are. */
  set showHeaders(given: unknown) {
    const {header, area, sheetId, columns} = this.state;
    if (header === (given === true)) return;
    this.mayChange(sheetId);
    const {book} = this.surrounding;
    if (header) {
      book.write(
        sheetId,
        contentsOf(area, area.top, () => null),
      );
      book.setTable(this.tableId, {header: false, area: {...area, top: area.top + 1}});
    } else {
      insertCells(book, sheetId, {...area, bottom: area.top}, 'Down');
      book.write(
        sheetId,
        contentsOf(area, area.top, (i) => columns[i].name),
      );
      book.setTable(this.tableId, {header: true, area: {...area, bottom: area.bottom + 1}});
    }
  }

  get showTotals(): boolean {
    return this.state.totals;
  }

  set showTotals(given: unknown) {
    const {totals, area, sheetId} = this.state;
    if (totals === (given === true)) return;
    this.mayChange(sheetId);
    const {book} = this.surrounding;
    if (totals) {
      book.setTable(this.tableId, {totals: false, area: {...area, bottom: area.bottom - 1}});
      deleteCells(book, sheetId, {...area, top: area.bottom}, 'Up');
    } else {
      insertCells(book, sheetId, {...area, top: area.bottom + 1, bottom: area.bottom + 1}, 'Down');
      book.setTable(this.tableId, {totals: true, area: {...area, bottom: area.bottom + 1}});
      book.write(sheetId, [{row: area.bottom + 1, column: area.left, value: 'Total'}]);
    }
  }

  get showBandedRows(): boolean {
    return this.state.bandedRows;
  }

  set showBandedRows(given: unknown) {
    this.#change({bandedRows: given === true});
  }

  get showBandedColumns(): boolean {
    return this.state.bandedColumns;
  }

  set showBandedColumns(given: unknown) {
    this.#change({bandedColumns: given === true});
  }

  get showFilterButton(): boolean {
    return this.state.filterButton;
  }

  set showFilterButton(given: unknown) {
    this.#change({filterButton: given === true});
  }

  get worksheet(): Worksheet {
    return new Worksheet(this.surrounding, this.state.sheetId);
  }

  get columns(): TableColumnCollection {
    return new TableColumnCollection(this);
  }

  get rows(): TableRowCollection {
    return new TableRowCollection(this);
  }

  getRange(): Range {
    return this.#range(this.state.area);
  }

  getHeaderRowRange(): Range {
    const {header, area} = this.state;
    if (!header) throw notFound();
    return this.#range({...area, bottom: area.top});
  }

  getDataBodyRange(): Range {
    return this.#range(dataArea(this.state));
  }

  getTotalRowRange(): Range {
    const {totals, area} = this.state;
    if (!totals) throw notFound();
    return this.#range({...area, top: area.bottom});
  }

  /** The header row has to stay where it is. */
  resize(given: unknown): null {
    const {area, sheetId, columns, header} = this.state;
    const range = given instanceof Range ? given : new Worksheet(this.surrounding, sheetId).getRange(given);
    const to = range.area;
    if (range.sheetId !== sheetId || (header && to.top !== area.top) || !meet(to, area)) throw invalid();
    if (rowCount(to) < (header ? 2 : 1)) throw invalid();
    this.mayChange(sheetId);
    const {book} = this.surrounding;
    const others = book.tables.filter((table) => table.id !== this.tableId && table.sheetId === sheetId);
    if (others.some((table) => meet(table.area, to))) {
      throw new OfficeProblem('InvalidOperation', 'A table cannot overlap another table.');
    }
    let highest = Math.max(...columns.map(({id}) => id));
    const kept = Array.from({length: to.right - to.left + 1}, (_, i): TableColumnState => {
      return columns[to.left + i - area.left] ?? {id: ++highest, name: ''};
    });
    book.setTable(this.tableId, {area: to, columns: kept});
    const headings = contentsOf(to, to.top, (i) => book.value(sheetId, to.top, to.left + i));
    if (header) writeContents(book, sheetId, headings);
    if (to.bottom > area.bottom) fillRows(book, this.state, area.bottom + 1, to.bottom);
    return null;
  }

  /** The cells are cleared too. */
  delete(): null {
    const {sheetId, area} = this.state;
    this.mayChange(sheetId);
    const {book} = this.surrounding;
    removeTable(book, this.state);
    new Range(this.surrounding, sheetId, area).clear();
    return null;
  }

  convertToRange(): Range {
    const range = this.getRange();
    this.mayChange(range.sheetId);
    removeTable(this.surrounding.book, this.state);
    return range;
  }
}

withEvents(Table.prototype, {DataChanged: 'tableChanged', SelectionChanged: 'tableSelectionChanged'});

const contentsOf = ({left, right}: Area, row: number, value: (index: number) => CellContent['value']): CellContent[] =>
  Array.from({length: right - left + 1}, (_, i) => ({row, column: left + i, value: value(i)}));
