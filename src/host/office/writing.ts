/** Writing into cells as Excel takes it, with what tables make of it. */
import {cellKey, COLUMNS, meet, within, type Area} from '../book/addresses';
import type {CellContent} from '../book/content';
import type {CellLook} from '../files/looks';
import {entered} from './entering';
import {areaOfCells} from './areas';
import type {HostBook} from './hostBook';
import {dataArea, fillRows, filledFormula, followHeadings} from './tables';

/** What a batch or a person writes into a cell; null leaves it alone. */
export type Written = string | number | boolean | null;

/**
 * Writes rows of contents into an area of the same size.
 * @throws FormulaSyntaxError when a formula cannot be read; nothing is written then
 */
export function writeRows(
  book: HostBook,
  sheetId: string,
  {top, left}: Area,
  rows: readonly (readonly Written[])[],
): void {
  const contents: CellContent[] = [];
  const looks = new Map<number, CellLook | undefined>();
  rows.forEach((cells, r) =>
    cells.forEach((given, c) => {
      if (given === null) return;
      const [row, column] = [top + r, left + c];
      const look = book.look(sheetId, row, column);
      const {content, format} = entered(row, column, given, look);
      contents.push(content);
      if (format !== undefined) looks.set(cellKey(row, column), {...look, numberFormat: format});
    }),
  );
  book.step(() => {
    if (looks.size > 0) book.putLooks(sheetId, areaOfCells(contents), looks);
    writeContents(book, sheetId, contents);
  });
}

/** Writes contents, lets the tables follow, and tells the panes. */
export function writeContents(book: HostBook, sheetId: string, contents: readonly CellContent[]): void {
  if (contents.length === 0) return;
  const area = areaOfCells(contents);
  book.step(() => {
    book.write(sheetId, contents);
    followHeadings(book, sheetId, area);
    fillColumn(book, sheetId, contents);
  });
  book.touched({sheetId, area});
}

/** A formula in one cell of an otherwise blank column of a table fills the column. */
function fillColumn(book: HostBook, sheetId: string, contents: readonly CellContent[]): void {
  if (contents.length !== 1) return;
  const [{row, column, formula}] = contents;
  if (!formula) return;
  const table = book.tableAt(sheetId, row, column);
  if (!table || !within(dataArea(table), row, column)) return;
  const {top, bottom} = dataArea(table);
  const others = Array.from({length: bottom - top + 1}, (_, i) => top + i).filter((other) => other !== row);
  if (others.some((other) => book.cell(sheetId, other, column))) return;
  book.write(
    sheetId,
    others.map((other) => ({
      row: other,
      column,
      value: null,
      formula: filledFormula(formula, {row, column}, {row: other, column}),
    })),
  );
}

/**
 * What a person enters in the grid. Directly below a table it becomes a new row of it, with the formulas of its columns;
 * directly right of it a new column.
 */
export function enter(book: HostBook, sheetId: string, contents: readonly CellContent[]): void {
  if (contents.length === 0) return;
  book.step(() => {
    writeContents(book, sheetId, contents);
    growTable(book, sheetId, areaOfCells(contents));
  });
}

function growTable(book: HostBook, sheetId: string, written: Area): void {
  for (const table of book.tables) {
    const {area, totals} = table;
    if (table.sheetId !== sheetId || totals) continue;
    const isBelow = written.top === area.bottom + 1 && written.left >= area.left && written.right <= area.right;
    if (!isBelow) continue;
    const grown = {...area, bottom: written.bottom};
    if (book.tables.some((other) => other !== table && other.sheetId === sheetId && meet(other.area, grown))) continue;
    if (isOccupied(book, sheetId, {...grown, top: written.top}, written)) continue;
    fillRows(book, table, written.top, written.bottom);
    book.setTable(table.id, {area: grown});
    return;
  }
}

/** Whether cells of an area hold something, those of another area aside. */
function isOccupied(book: HostBook, sheetId: string, area: Area, aside: Area): boolean {
  for (const key of book.sheet(sheetId).cells.keys()) {
    const [row, column] = [Math.floor(key / COLUMNS), key % COLUMNS];
    if (within(area, row, column) && !within(aside, row, column)) return true;
  }
  return false;
}
