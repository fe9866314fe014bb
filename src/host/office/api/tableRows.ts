/** Excel.TableRow and its collection. */
import {rowCount} from '../areas';
import {deleteCells, insertCells} from '../structure';
import {dataArea, fillRows} from '../tables';
import {writeRows} from '../writing';
import {Collection, isGiven, number, OfficeObject} from './officeObject';
import {invalid} from './problem';
import {Range} from './range';
import {isFree, rowsOf} from './tableCells';
import type {Table} from './tables';

export class TableRowCollection extends Collection<TableRow> {
  readonly officeType = 'TableRowCollection';

  constructor(readonly table: Table) {
    super(table.surrounding);
  }

  listed(): readonly TableRow[] {
    return Array.from({length: rowCount(dataArea(this.table.state))}, (_, i) => new TableRow(this.table, i));
  }

  isMeant({at}: TableRow, key: unknown): boolean {
    return at === key;
  }

  override get count(): number {
    return rowCount(dataArea(this.table.state));
  }

  override getCount(): number {
    return this.count;
  }

  /** The cells below the table move down. Columns of one formula fill themselves unless a value is given. */
  add(index: unknown, values: unknown): TableRow {
    const {area, sheetId, columns} = this.table.state;
    this.mayChange(sheetId);
    const {book} = this.surrounding;
    const rows = rowsOf(values, undefined, columns.length) ?? [columns.map(() => null)];
    const data = dataArea(this.table.state);
    const at = isGiven(index) && number(index) >= 0 ? data.top + number(index) : data.bottom + 1;
    if (at > data.bottom + 1) throw invalid();
    const added = {...area, top: at, bottom: at + rows.length - 1};
    if (at === area.bottom + 1 && isFree(book, sheetId, added)) {
      fillRows(book, this.table.state, added.top, added.bottom);
      book.setTable(this.table.tableId, {area: {...area, bottom: added.bottom}});
    } else {
      insertCells(book, sheetId, added, 'Down');
      if (rowCount(this.table.state.area) === rowCount(area)) {
        fillRows(book, this.table.state, added.top, added.bottom);
        book.setTable(this.table.tableId, {area: {...area, bottom: area.bottom + rows.length}});
      }
    }
    writeRows(book, sheetId, added, rows);
    return new TableRow(this.table, at - data.top);
  }

  deleteRowsAt(index: unknown, count: unknown = 1): null {
    const {area, sheetId} = this.table.state;
    this.mayChange(sheetId);
    const data = dataArea(this.table.state);
    const top = data.top + number(index);
    const bottom = top + number(count) - 1;
    if (top < data.top || bottom > data.bottom || bottom < top) throw invalid();
    if (top === data.top && bottom === data.bottom) {
      // The last row stays, blank.
      new Range(this.surrounding, sheetId, {...area, top, bottom: top}).clear('Contents');
      if (bottom > top) deleteCells(this.surrounding.book, sheetId, {...area, top: top + 1, bottom}, 'Up');
      return null;
    }
    deleteCells(this.surrounding.book, sheetId, {...area, top, bottom}, 'Up');
    return null;
  }
}

export class TableRow extends OfficeObject {
  readonly officeType = 'TableRow';

  constructor(
    readonly table: Table,
    readonly at: number,
  ) {
    super(table.surrounding);
  }

  override identity(): Record<string, unknown> {
    return {Index: this.at};
  }

  get index(): number {
    return this.at;
  }

  get values(): unknown {
    return this.getRange().values;
  }

  set values(given: unknown) {
    this.getRange().values = given;
  }

  getRange(): Range {
    const {top, left, right} = dataArea(this.table.state);
    return new Range(this.surrounding, this.table.state.sheetId, {
      top: top + this.at,
      left,
      bottom: top + this.at,
      right,
    });
  }

  delete(): null {
    return new TableRowCollection(this.table).deleteRowsAt(this.at);
  }
}
