/** Addresses: A1 text and zero-based rows and columns. */
import {fromCol, toCol} from '@borgar/fx';

export const ROWS = 1048576;
export const COLUMNS = 16384;

/** Zero-based, both ends included. */
export interface Area {
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
}

export interface Place {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
}

const CELL = /^\$?([A-Z]{1,3})\$?([1-9]\d{0,6})$/i;

/** "B3" → row 2, column 1; undefined for anything that is not the address of a cell. */
export function parseCell(address: string): {row: number; column: number} | undefined {
  const found = CELL.exec(address);
  if (!found) return undefined;
  const row = Number(found[2]) - 1;
  const column = fromCol(found[1]);
  return row < ROWS && column < COLUMNS ? {row, column} : undefined;
}

export const cellAddress = (row: number, column: number): string => `${toCol(column)}${row + 1}`;

/** "B3:D5" or "B3". */
export function parseArea(address: string): Area | undefined {
  const [first, last = first, ...rest] = address.split(':');
  const from = parseCell(first);
  const to = parseCell(last);
  if (!from || !to || rest.length > 0) return undefined;
  return {
    top: Math.min(from.row, to.row),
    left: Math.min(from.column, to.column),
    bottom: Math.max(from.row, to.row),
    right: Math.max(from.column, to.column),
  };
}

export function areaAddress({top, left, bottom, right}: Area): string {
  const from = cellAddress(top, left);
  return top === bottom && left === right ? from : `${from}:${cellAddress(bottom, right)}`;
}

export const within = (area: Area, row: number, column: number): boolean =>
  row >= area.top && row <= area.bottom && column >= area.left && column <= area.right;

/** Whether two areas have a cell in common. */
export const meet = (a: Area, b: Area): boolean =>
  a.top <= b.bottom && b.top <= a.bottom && a.left <= b.right && b.left <= a.right;

/** The sheet's name as a formula writes it. */
export const sheetPrefix = (sheet: string): string =>
  PLAIN_SHEET.test(sheet) && !parseCell(sheet) && !R1C1.test(sheet) ? `${sheet}!` : `'${sheet.replace(/'/g, "''")}'!`;

const PLAIN_SHEET = /^[A-Za-z_][A-Za-z0-9_]*$/;
const R1C1 = /^(R\d*)?(C\d*)?$/i;

/** "Sheet1!B3", for messages and reports. */
export const placeAddress = ({sheet, row, column}: Place): string => `${sheetPrefix(sheet)}${cellAddress(row, column)}`;

/** One number for a cell, to be used as a key within its sheet. */
export const cellKey = (row: number, column: number): number => row * COLUMNS + column;

/** The row and the column of a key. */
export function cellOfKey(key: number): {row: number; column: number} {
  const column = key % COLUMNS;
  return {row: (key - column) / COLUMNS, column};
}

export const oneCell = (row: number, column: number): Area => ({top: row, left: column, bottom: row, right: column});
