/** Tables of the workbook: their headings, rows, and columns that hold one formula. */
import {translateFormulaToA1, translateFormulaToR1C1} from '@borgar/fx';
import {cellAddress, cellKey, meet, type Area} from '../book/addresses';
import {alone} from '../book/cellStates';
import type {CellContent, CellFormula} from '../book/content';
import {plainValue} from './cellText';
import {tableId} from './fromFile';
import type {HostBook} from './hostBook';
import {renamedColumn, renamedTable, rewriteAll} from './rewriting';
import type {CellsOf, TableColumnState, TableState} from './state';

/** Excel's style of a new table. */
const NEW_STYLE = 'TableStyleMedium2';

/** The rows of a table that hold data; Excel keeps at least one. */
export const dataArea = ({area, header, totals}: TableState): Area => ({
  ...area,
  top: area.top + (header ? 1 : 0),
  bottom: area.bottom - (totals ? 1 : 0),
});

/** Makes a table of cells. Without a header row one is put in their first row, which has to be free for it. */
export function createTable(book: HostBook, {sheetId, area}: CellsOf, wantedName?: string): TableState {
  const columns: TableColumnState[] = [];
  const contents: CellContent[] = [];
  for (let column = area.left; column <= area.right; column++) {
    const shown = book.cell(sheetId, area.top, column);
    const heading = freeHeading(String(plainValue(shown?.value ?? null)), columns);
    columns.push({id: columns.length + 1, name: heading});
    if (shown?.value !== heading) contents.push({row: area.top, column, value: heading});
  }
  const table: TableState = {
    id: tableId(book.newId()),
    name: wantedName ?? freeName(book),
    sheetId,
    area: area.bottom > area.top ? area : {...area, bottom: area.top + 1},
    header: true,
    totals: false,
    columns,
    style: NEW_STYLE,
    bandedRows: true,
    bandedColumns: false,
    filterButton: true,
    origin: undefined,
  };
  book.step(() => {
    book.write(sheetId, contents);
    book.setTables([...book.tables, table]);
  });
  book.raise({kind: 'tableAdded', sheetId, tableId: table.id, name: table.name});
  return table;
}

function freeName({tables, names}: HostBook): string {
  const used = new Set([...tables, ...names].map(({name}) => name.toLowerCase()));
  let number = 1;
  while (used.has(`table${number}`)) number++;
  return `Table${number}`;
}

/** Blank headings get a name, repeated ones a number. */
function freeHeading(wanted: string, columns: readonly TableColumnState[]): string {
  const used = new Set(columns.map(({name}) => name.toLowerCase()));
  const base = wanted === '' ? 'Column' : wanted;
  if (wanted !== '' && !used.has(wanted.toLowerCase())) return wanted;
  let number = wanted === '' ? columns.length + 1 : 2;
  while (used.has(`${base}${number}`.toLowerCase())) number++;
  return `${base}${number}`;
}

export function removeTable(book: HostBook, {id, sheetId, name}: TableState): void {
  book.setTables(book.tables.filter((table) => table.id !== id));
  book.raise({kind: 'tableDeleted', sheetId, tableId: id, name});
}

/** Gives a table another name; formulas follow. */
export function renameTable(book: HostBook, {id, name: before}: TableState, name: string): void {
  book.step(() => {
    book.setTable(id, {name});
    rewriteAll(book, renamedTable(before, name));
  });
}

/** Headings that were written over become the names of their columns; formulas follow. */
export function followHeadings(book: HostBook, sheetId: string, written: Area): void {
  for (const table of book.tables) {
    const {area, header} = table;
    if (table.sheetId !== sheetId || !header) continue;
    if (!meet({...area, bottom: area.top}, written)) continue;
    const columns: TableColumnState[] = [];
    const contents: CellContent[] = [];
    const renamed: [string, string][] = [];
    table.columns.forEach((column, i) => {
      const at = area.left + i;
      const value = book.cell(sheetId, area.top, at)?.value ?? null;
      const name = freeHeading(String(plainValue(value)), columns);
      if (value !== name) contents.push({row: area.top, column: at, value: name});
      if (name !== column.name) renamed.push([column.name, name]);
      columns.push({...column, name});
    });
    book.write(sheetId, contents);
    if (renamed.length === 0) continue;
    book.setTable(table.id, {columns});
    const named = {...table, sheet: book.sheet(sheetId).name, columns: []};
    for (const [before, after] of renamed) rewriteAll(book, renamedColumn(named, before, after));
  }
}

interface PlacedFormula {
  readonly formula: CellFormula;
  readonly row: number;
}

/** The formula that every row of a column holds, rows from one to another aside; undefined when they differ. */
function columnFormula(
  book: HostBook,
  table: TableState,
  column: number,
  aside: {readonly from: number; readonly to: number},
): PlacedFormula | undefined {
  const {top, bottom} = dataArea(table);
  let first: (PlacedFormula & {readonly relative: string}) | undefined;
  for (let row = top; row <= bottom; row++) {
    if (row >= aside.from && row <= aside.to) continue;
    const formula = book.cell(table.sheetId, row, column)?.formula?.content;
    if (!formula) return undefined;
    if (!first) {
      first = {formula, row, relative: relativeFormula(formula, row, column)};
      continue;
    }
    if (formula.kind !== first.formula.kind) return undefined;
    if (formula.group !== undefined && formula.group === first.formula.group) continue;
    if (relativeFormula(formula, row, column) !== first.relative) return undefined;
  }
  return first;
}

const relativeFormula = ({text}: CellFormula, row: number, column: number): string =>
  translateFormulaToR1C1(text, cellAddress(row, column));

/** A formula as it is when it is filled from one cell into another. */
export function filledFormula(
  formula: CellFormula,
  from: {readonly row: number; readonly column: number},
  to: {readonly row: number; readonly column: number},
): CellFormula {
  const relative = translateFormulaToR1C1(formula.text, cellAddress(from.row, from.column));
  return {...alone(formula), text: translateFormulaToA1(relative, cellAddress(to.row, to.column)), area: undefined};
}

/** Contents of rows that join the table: the formulas of its columns of one formula, and the formats of the row above. */
export function fillRows(book: HostBook, table: TableState, from: number, to: number): void {
  const {top} = dataArea(table);
  const formulas = table.columns.map((_, i) => columnFormula(book, table, table.area.left + i, {from, to}));
  const contents: CellContent[] = [];
  const looks = new Map<number, ReturnType<HostBook['look']>>();
  const {left, right} = table.area;
  const like = from > top ? from - 1 : to + 1;
  for (let row = from; row <= to; row++) {
    formulas.forEach((found, i) => {
      const column = left + i;
      const look = book.look(table.sheetId, like, column);
      if (Object.keys(look).length > 0) looks.set(cellKey(row, column), look);
      if (!found || book.cell(table.sheetId, row, column)) return;
      const filled = filledFormula(found.formula, {row: found.row, column}, {row, column});
      contents.push({row, column, value: null, formula: filled});
    });
  }
  book.write(table.sheetId, contents);
  if (looks.size > 0) book.putLooks(table.sheetId, {top: from, left, bottom: to, right}, looks);
}
