/** What columns and rows of tables have in common. */
import {cellKey, type Area} from '../../book/addresses';
import type {Written} from '../writing';
import {isGiven, type Surrounding} from './officeObject';
import {invalid} from './problem';

/** Whether cells hold nothing and belong to no table. */
export const isFree = (book: Surrounding['book'], sheetId: string, {top, left, bottom, right}: Area): boolean => {
  for (let row = top; row <= bottom; row++) {
    for (let column = left; column <= right; column++) {
      if (book.cell(sheetId, row, column) || book.sheet(sheetId).values.has(cellKey(row, column))) return false;
      if (book.tableAt(sheetId, row, column)) return false;
    }
  }
  return true;
};

/** Rows of a size; a single value stands for one cell. */
export function rowsOf(given: unknown, rows: number | undefined, columns: number): Written[][] | undefined {
  if (!isGiven(given)) return undefined;
  const all = Array.isArray(given) ? (given as unknown[]) : [[given]];
  const listed = all.map((row) => (Array.isArray(row) ? (row as Written[]) : [row as Written]));
  if (listed.some((row) => row.length !== columns) || (rows !== undefined && listed.length !== rows)) throw invalid();
  return listed;
}
