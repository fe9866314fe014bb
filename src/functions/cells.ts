import {invalid, type Refusal} from '../maths/refusal';

/** A cell that holds an error arrives as an object with its code, such as "#DIV/0!". */
export interface ErrorCell {
  readonly code: string;
}

/** A cell as Excel hands it over. Null is an omitted argument, or on some builds a blank single cell. */
export type Cell = number | string | boolean | null | undefined | ErrorCell;

export type Grid = readonly (readonly Cell[])[];

/** An argument as it arrives: a range or array as rows of cells, a single value as itself. */
export type Raw = Cell | Grid;

/** A cell of an answer; a refusal in one cell becomes an error in that cell alone. */
export type OutCell = number | string | boolean | Refusal;

export const isGrid = (raw: Raw): raw is Grid => Array.isArray(raw);

/** Larger numbers are no measurement and could overflow a square of a product. */
export const LARGEST = 1e15;

/** The argument as rows of cells, all of one length. */
export function grid(raw: Raw, name: string): Grid {
  if (!isGrid(raw)) return [[raw]];
  const width = Array.isArray(raw[0]) ? raw[0].length : 0;
  if (width === 0) throw invalid('a range with at least one cell is wanted, found none', name);
  for (let i = 1; i < raw.length; i++) {
    if (raw[i].length !== width) {
      throw invalid(
        `a rectangular range is wanted, found ${cells(width)} in row 1 and ${cells(raw[i].length)} in row ${i + 1}`,
        name,
      );
    }
  }
  return raw;
}

export const cells = (count: number): string => (count === 1 ? '1 cell' : `${count} cells`);

/** What a cell holds, for a message. */
export function found(cell: Cell): string {
  if (cell === null || cell === undefined) return 'nothing';
  if (cell === '') return 'an empty text';
  if (typeof cell === 'string') return `the text "${cell.length > 40 ? `${cell.slice(0, 40)}…` : cell}"`;
  if (typeof cell === 'boolean') return cell ? 'TRUE' : 'FALSE';
  if (typeof cell === 'number') return String(cell);
  // No build of Excel that we know of puts an array into a cell of an array; then it is neither a value nor an error.
  return Array.isArray(cell) ? 'an array within a cell' : `the error ${cell.code}`;
}

/** The refusal of one cell: which it is, what was found and what is wanted. */
export function wrongCell(name: string, row: number, column: number, wanted: string, cell: Cell): Refusal {
  return invalid(`${wanted} is wanted, found ${found(cell)}`, `${name} (row ${row + 1}, column ${column + 1})`);
}

/** The one cell of an argument. */
export function single(raw: Raw, name: string): Cell {
  if (!isGrid(raw)) return raw;
  const rows = grid(raw, name);
  if (rows.length > 1 || rows[0].length > 1) {
    throw invalid(`one cell is wanted, found ${shape(rows)}`, name);
  }
  return rows[0][0];
}

export const shape = (rows: Grid): string => `a range of ${rows.length} × ${rows[0].length} cells (rows × columns)`;
