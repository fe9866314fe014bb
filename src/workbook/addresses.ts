/** Cell addresses. Rows and columns count from 0. */

/** A block of cells of one sheet. */
export interface Area {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
}

/** 0 → A, 26 → AA. */
export function columnLetters(column: number): string {
  const rest = Math.floor(column / 26);
  return (rest > 0 ? columnLetters(rest - 1) : '') + String.fromCharCode(65 + (column % 26));
}

export const cellAddress = (row: number, column: number): string => `${columnLetters(column)}${row + 1}`;

/** "A1" or "A1:C3", without the sheet. */
export function areaAddress({row, column, rows, columns}: Omit<Area, 'sheet'>): string {
  const from = cellAddress(row, column);
  return rows === 1 && columns === 1 ? from : `${from}:${cellAddress(row + rows - 1, column + columns - 1)}`;
}

/** A sheet's name as a formula writes it, quoted where it has to be. */
export const sheetPrefix = (sheet: string): string =>
  /^[A-Za-z_][A-Za-z0-9_.]*$/.test(sheet) && !/^([A-Za-z]{1,3}\d+|[Rr]\d*[Cc]\d*|true|false)$/i.test(sheet)
    ? `${sheet}!`
    : `'${sheet.replace(/'/g, "''")}'!`;

/** An address as a formula on another sheet writes it. */
export const fullAddress = (area: Area): string => `${sheetPrefix(area.sheet)}${areaAddress(area)}`;

export const contains = (area: Area, {sheet, row, column}: {sheet: string; row: number; column: number}): boolean =>
  sheet === area.sheet &&
  row >= area.row &&
  row < area.row + area.rows &&
  column >= area.column &&
  column < area.column + area.columns;
