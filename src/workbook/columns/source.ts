/** Rows with headings in a workbook: Excel tables, and plain ranges of a sheet. */
import {findHeadings, type Cells} from '../guess/headings';
import {plain} from '../guess/vocabulary';
import type {CellValue} from '../ledger';
import {MAP_SHEET, MAP_TABLE} from '../ledgerMap';

/** An Excel table of a sheet; rows and columns count from 0 in the sheet. */
export interface TableArea {
  readonly name: string;
  readonly row: number;
  readonly column: number;
  /** Headings and totals included. */
  readonly rows: number;
  readonly columns: number;
  readonly totals: boolean;
}

/** What a sheet holds: its used range as values, and where that begins. */
export interface SheetCells {
  readonly name: string;
  readonly row: number;
  readonly column: number;
  readonly cells: Cells;
  readonly tables: readonly TableArea[];
}

export interface Source {
  readonly kind: 'table' | 'range';
  /** Name of the table; of a plain range, that of its sheet. */
  readonly name: string;
  readonly sheet: string;
  /** Row of the lowest headings in the sheet, from 0, and how many rows the headings take. */
  readonly headerRow: number;
  readonly headerRows: number;
  readonly firstRow: number;
  readonly firstColumn: number;
  /** One text a column, groups above joined to it. */
  readonly headings: readonly string[];
  /** The records, one row each, as wide as the headings. */
  readonly cells: Cells;
  /** Texts that stand above the headings. */
  readonly above: readonly string[];
}

/** Tables of settings hold no wheels. */
const SETTINGS_TABLES: ReadonlySet<string> = new Set(['Limits', 'Prices', 'Positions', 'Planes', MAP_TABLE]);

export const isEmpty = (cell: CellValue | undefined): boolean =>
  cell === undefined || (typeof cell === 'string' && cell.trim() === '');

/** The tables of a sheet and what stands outside them, if it has headings. */
export function sourcesOf(sheet: SheetCells): Source[] {
  const found = sheet.tables.filter(({name}) => !SETTINGS_TABLES.has(name)).map((table) => ofTable(sheet, table));
  if (sheet.name === MAP_SHEET) return found;
  const range = ofRange(sheet);
  return range === undefined ? found : [...found, range];
}

function ofTable(sheet: SheetCells, table: TableArea): Source {
  const row = (i: number): CellValue[] =>
    Array.from({length: table.columns}, (_, k) => sheet.cells[i - sheet.row]?.[table.column - sheet.column + k] ?? '');
  const records = table.rows - 1 - (table.totals ? 1 : 0);
  return {
    kind: 'table',
    name: table.name,
    sheet: sheet.name,
    headerRow: table.row,
    headerRows: 1,
    firstRow: table.row + 1,
    firstColumn: table.column,
    headings: row(table.row).map(String),
    cells: Array.from({length: records}, (_, i) => row(table.row + 1 + i)),
    above: [],
  };
}

function ofRange(sheet: SheetCells): Source | undefined {
  const inTable = (row: number, column: number): boolean =>
    sheet.tables.some(
      (t) => row >= t.row && row < t.row + t.rows && column >= t.column && column < t.column + t.columns,
    );
  const cells =
    sheet.tables.length === 0
      ? sheet.cells
      : sheet.cells.map((line, i) => line.map((cell, k) => (inTable(sheet.row + i, sheet.column + k) ? '' : cell)));
  const headings = findHeadings(cells);
  if (headings === undefined) return undefined;
  const own = headings.columns;
  const top = headings.row - headings.rows + 1;
  return {
    kind: 'range',
    name: sheet.name,
    sheet: sheet.name,
    headerRow: sheet.row + headings.row,
    headerRows: headings.rows,
    firstRow: sheet.row + headings.firstRecord,
    firstColumn: sheet.column + own.first,
    headings: headings.texts.slice(own.first, own.last + 1),
    cells: cells.slice(headings.firstRecord, headings.lastRecord + 1).map((row) => row.slice(own.first, own.last + 1)),
    above: cells
      .slice(0, top)
      .flatMap((row) => row.filter((cell) => !isEmpty(cell)).map((cell) => plain(String(cell)))),
  };
}

/** What a person calls it. */
export const sourceWords = (source: Source): string =>
  source.kind === 'table' ? `table ${source.name}` : `sheet ${source.sheet}`;

/** Two descriptions of the same place. */
export const sameSource = (a: Source, b: Source): boolean =>
  a.kind === b.kind && a.name === b.name && a.sheet === b.sheet;
