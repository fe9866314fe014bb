/** Values within a formula: single ones, arrays, and references to cells that are read when they are needed. */
import {cellError, isError, type CellError, type CellValue} from '../../host/book/cells';
import type {Reference} from '../../host/formulas/references';

export type Grid = readonly (readonly CellValue[])[];

/** Cells that a formula refers to. */
export interface Range {
  readonly reference: Reference;
}

export type Value = CellValue | Grid | Range;

export const isRange = (value: Value): value is Range =>
  typeof value === 'object' && value !== null && 'reference' in value;

export const isGrid = (value: Value): value is Grid => Array.isArray(value);

/** The formula asks for something that is not worked out here. Nothing is wrong with it. */
export class Beyond extends Error {}

const VALUE = (message: string): CellError => cellError('#VALUE!', message);

/** As arithmetic sees a value: a blank is 0, a text that reads as a number is that number. */
export function asNumber(value: CellValue): number | CellError {
  if (typeof value === 'number') return value;
  if (value === null) return 0;
  if (typeof value === 'boolean') return value ? 1 : 0;
  if (isError(value)) return value;
  const number = value.trim() === '' ? NaN : Number(value);
  return Number.isFinite(number) ? number : VALUE(`a number is wanted, found the text "${value}"`);
}

/** As a condition sees a value. */
export function asFlag(value: CellValue): boolean | CellError {
  if (typeof value === 'string') {
    const word = value.trim().toUpperCase();
    return word === 'TRUE' ? true : word === 'FALSE' ? false : VALUE(`TRUE or FALSE is wanted, found "${value}"`);
  }
  if (value === null) return false;
  return isError(value) ? value : value !== 0 && value !== false;
}

/** As "&" sees a value. */
export function asText(value: CellValue): string | CellError {
  if (value === null) return '';
  if (isError(value)) return value;
  if (typeof value === 'boolean') return value ? 'TRUE' : 'FALSE';
  return typeof value === 'number' ? String(Number(value.toPrecision(15))) : value;
}

const RANK = {number: 0, string: 1, boolean: 2} as const;

/** −1, 0 or 1: numbers before texts before FALSE before TRUE; texts in any letter case; a blank is like its partner. */
export function compare(a: CellValue, b: CellValue): number | CellError {
  if (isError(a)) return a;
  if (isError(b)) return b;
  const left = a ?? blankLike(b);
  const right = b ?? blankLike(a);
  const [leftRank, rightRank] = [left, right].map((value) => RANK[typeof value as keyof typeof RANK]);
  if (leftRank !== rightRank) return Math.sign(leftRank - rightRank);
  const [x, y] = [left, right].map((value) => (typeof value === 'string' ? value.toLowerCase() : value));
  return x === y ? 0 : x < y ? -1 : 1;
}

const blankLike = (other: CellValue): number | string | boolean =>
  typeof other === 'string' ? '' : typeof other === 'boolean' ? false : 0;

/** Applies a calculation cell by cell: single values and single rows or columns serve all. */
export function each(grids: readonly Grid[], calculate: (...cells: CellValue[]) => CellValue): Grid {
  const rows = Math.max(...grids.map((grid) => grid.length));
  const columns = Math.max(...grids.map((grid) => grid[0].length));
  return Array.from({length: rows}, (_, r) =>
    Array.from({length: columns}, (__, c) => {
      const cells = grids.map((grid) => {
        const row = grid.length === 1 ? grid[0] : grid[r];
        return row === undefined ? undefined : row.length === 1 ? row[0] : row[c];
      });
      return cells.includes(undefined)
        ? cellError('#N/A', 'the ranges differ in size')
        : calculate(...(cells as CellValue[]));
    }),
  );
}
