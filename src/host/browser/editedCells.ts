/** What a person has put into cells of the grid, in the words of the host. */
import {isError, type CellValue} from '../book/cells';
import type {CellContent} from '../book/content';
import type {Sheet} from '../book/cellStates';
import {cellKey} from '../book/addresses';

/** A cell in the words of the grid. */
export interface GridCell {
  readonly v?: string | number | boolean | null;
  readonly t?: number | null;
  readonly f?: string | null;
  readonly si?: string | null;
  readonly p?: {readonly body?: {readonly dataStream?: string}} | null;
  readonly s?: unknown;
}

/** A change of cells in the words of the grid, by row and column. */
export type GridCells = Readonly<Record<number, Readonly<Record<number, GridCell | null>> | undefined>>;

const NUMBER = 2;
const BOOLEAN = 3;

/** Fields that say what a cell holds; the others say how it looks. */
const CONTENT = ['v', 'f', 'si', 'p', 't'] as const;

export const isContent = (cell: GridCell | null): boolean => cell === null || CONTENT.some((field) => field in cell);

/** The same change without what the cells hold; undefined when nothing is left of it. */
export function withoutContents(cells: GridCells): GridCells | undefined {
  const left: Record<number, Record<number, GridCell>> = {};
  for (const [row, column, cell] of eachCell(cells)) {
    if (cell && 's' in cell) (left[row] ??= {})[column] = {s: cell.s};
  }
  return Object.keys(left).length === 0 ? undefined : left;
}

export function* eachCell(cells: GridCells): Iterable<[row: number, column: number, cell: GridCell | null]> {
  for (const [row, columns] of Object.entries(cells)) {
    for (const [column, cell] of Object.entries(columns ?? {})) yield [Number(row), Number(column), cell];
  }
}

/** The value of a cell without a formula. */
export function gridValue(cell: GridCell | null | undefined): CellValue {
  const text = cell?.p?.body?.dataStream;
  if (typeof text === 'string') return text.replace(/\r\n$/, '').replace(/\r/g, '\n') || null;
  const {v = null, t} = cell ?? {};
  if (v === null || v === '') return null;
  if (t === BOOLEAN) return v === true || v === 1 || v === '1' || v === 'TRUE';
  if (typeof v === 'boolean') return v;
  if (t === NUMBER && typeof v === 'string' && !Number.isNaN(Number(v))) return Number(v);
  return v;
}

/** What a cell of the model holds. */
export function contentAt(sheet: Sheet, row: number, column: number): CellContent {
  const state = sheet.cells.get(cellKey(row, column));
  if (!state) return {row, column, value: null};
  const {value, formula} = state;
  return formula ? {row, column, value: null, formula: formula.content} : {row, column, value};
}

export const sameContent = (a: CellContent, b: CellContent): boolean =>
  a.formula === b.formula &&
  (a.value === b.value || (isError(a.value) && isError(b.value) && a.value.code === b.value.code));
