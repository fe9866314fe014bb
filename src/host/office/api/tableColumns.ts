/** Excel.TableColumn and its collection. */
import {oneCell, type Area} from '../../book/addresses';
import {rowCount} from '../areas';
import {deleteCells, insertCells} from '../structure';
import {dataArea} from '../tables';
import {writeContents, writeRows} from '../writing';
import {Collection, isGiven, number, OfficeObject, sameName, text} from './officeObject';
import {invalid, notFound, OfficeProblem, taken} from './problem';
import {Range} from './range';
import {isFree, rowsOf} from './tableCells';
import type {Table} from './tables';

export class TableColumnCollection extends Collection<TableColumn> {
  readonly officeType = 'TableColumnCollection';

  constructor(readonly table: Table) {
    super(table.surrounding);
  }

  listed(): readonly TableColumn[] {
    return this.table.state.columns.map(({id}) => new TableColumn(this.table, id));
  }

  isMeant(column: TableColumn, key: unknown): boolean {
    return column.columnId === key || sameName(column.name, key);
  }

  /** The cells right of the table move aside. `values` has the heading first, unless it is named by itself. */
  add(index: unknown, values: unknown, name: unknown): TableColumn {
    const {area, sheetId, columns, header} = this.table.state;
    this.mayChange(sheetId);
    const {book} = this.surrounding;
    const at = isGiven(index) && number(index) >= 0 ? number(index) : columns.length;
    if (at > columns.length) throw invalid();
    const rows = rowsOf(values, rowCount(area), 1);
    const column = area.left + at;
    const id = Math.max(...columns.map((one) => one.id)) + 1;
    const added = {...area, left: column, right: column};
    if (at === columns.length) {
      if (!isFree(book, sheetId, added)) insertCells(book, sheetId, added, 'Right');
      book.setTable(this.table.tableId, {
        area: {...area, right: area.right + 1},
        columns: [...columns, {id, name: ''}],
      });
    } else {
      insertCells(book, sheetId, added, 'Right');
      const grown = this.table.state;
      if (grown.columns.length === columns.length) {
        book.setTable(this.table.tableId, {
          area: {...area, right: area.right + 1},
          columns: [...columns.slice(0, at), {id, name: ''}, ...columns.slice(at)],
        });
      }
    }
    const made = this.listed()[at];
    if (header && isGiven(name)) writeRows(book, sheetId, oneCell(area.top, column), [[text(name)]]);
    else if (header && !rows) writeContents(book, sheetId, [{row: area.top, column, value: null}]);
    if (rows) {
      const own = isGiven(name) && header ? rows.map((row, i) => (i === 0 ? [null] : row)) : rows;
      writeRows(book, sheetId, added, own);
    }
    return made;
  }
}

export class TableColumn extends OfficeObject {
  readonly officeType = 'TableColumn';

  constructor(
    readonly table: Table,
    readonly columnId: number,
  ) {
    super(table.surrounding);
  }

  override identity(): Record<string, unknown> {
    return {Id: this.columnId};
  }

  #range(area: Area): Range {
    const column = area.left + this.index;
    return new Range(this.surrounding, this.table.state.sheetId, {...area, left: column, right: column});
  }

  get id(): number {
    return this.columnId;
  }

  get index(): number {
    const found = this.table.state.columns.findIndex(({id}) => id === this.columnId);
    if (found < 0) throw notFound();
    return found;
  }

  get name(): string {
    return this.table.state.columns[this.index].name;
  }

  set name(given: unknown) {
    const {area, header, sheetId, columns} = this.table.state;
    const name = text(given);
    if (name === '') throw invalid();
    if (columns.some((column) => column.id !== this.columnId && sameName(column.name, name))) throw taken();
    this.mayChange(sheetId);
    const {book} = this.surrounding;
    if (!header) {
      const renamed = columns.map((column) => (column.id === this.columnId ? {...column, name} : column));
      book.setTable(this.table.tableId, {columns: renamed});
      return;
    }
    writeContents(book, sheetId, [{row: area.top, column: area.left + this.index, value: name}]);
  }

  get values(): unknown {
    return this.getRange().values;
  }

  set values(given: unknown) {
    this.getRange().values = given;
  }

  getRange(): Range {
    return this.#range(this.table.state.area);
  }

  getHeaderRowRange(): Range {
    return this.#range(this.table.getHeaderRowRange().area);
  }

  getDataBodyRange(): Range {
    return this.#range(dataArea(this.table.state));
  }

  getTotalRowRange(): Range {
    return this.#range(this.table.getTotalRowRange().area);
  }

  /** The cells right of the table move up to it. */
  delete(): null {
    const {columns, sheetId, area} = this.table.state;
    if (columns.length === 1) throw new OfficeProblem('InvalidOperation', 'A table needs one column at least.');
    this.mayChange(sheetId);
    const column = area.left + this.index;
    deleteCells(this.surrounding.book, sheetId, {...area, left: column, right: column}, 'Left');
    return null;
  }
}
