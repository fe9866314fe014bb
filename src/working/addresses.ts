/** Addresses of cells in formulas. Rows and columns count from 0. */

/** Where an argument was read from, or an answer stands: a range of a sheet. */
export interface RangeOfSheet {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
}

/** Column letters of a column. */
export function letters(column: number): string {
  const rest = Math.floor(column / 26);
  return (rest > 0 ? letters(rest - 1) : '') + String.fromCharCode(65 + (column % 26));
}

/** The name of a sheet as a formula has it: in quotes, which every name may have and many must. */
export const quoted = (sheet: string): string => `'${sheet.replace(/'/g, "''")}'`;

/** Absolute address of the `index`-th cell of a range, row by row from 0; undefined beyond its end. */
export function cellAddress({sheet, row, column, rows, columns}: RangeOfSheet, index: number): string | undefined {
  if (index >= rows * columns) return undefined;
  const [r, c] = [row + Math.floor(index / columns), column + (index % columns)];
  return `${quoted(sheet)}!$${letters(c)}$${r + 1}`;
}
