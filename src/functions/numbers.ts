/** Which numbers an argument accepts, as data; the sentence that refuses the others follows from it. */
import {cells, grid, LARGEST, shape, single, wrongCell, type Cell, type Raw} from './cells';
import {invalid, type Refusal} from '../maths/refusal';

export interface Range {
  /** What the number is: "a mass", "an angle in degrees", "a whole number". */
  readonly what: string;
  readonly least?: number;
  readonly above?: number;
  readonly most?: number;
  readonly whole?: boolean;
}

/** The range in words: "a limit, above 0,". */
export function wanted({what, least, above, most}: Range): string {
  const bounds = [
    ...(above === undefined ? [] : [`above ${above}`]),
    ...(least === undefined ? [] : [`at least ${least}`]),
    ...(most === undefined ? [] : [`at most ${most}`]),
  ];
  return bounds.length === 0 ? what : `${what}, ${bounds.join(' and ')},`;
}

/** Whether a cell is a number of this range. */
function accepts(cell: Cell, {least, above, most, whole}: Range): cell is number {
  return (
    typeof cell === 'number' &&
    Math.abs(cell) <= LARGEST &&
    (least === undefined || cell >= least) &&
    (above === undefined || cell > above) &&
    (most === undefined || cell <= most) &&
    (!whole || Number.isInteger(cell))
  );
}

/** Adds what a message should say of a number that is refused for its size alone. */
const limited = (range: Range, cell: Cell): string =>
  typeof cell === 'number' && !(Math.abs(cell) <= LARGEST) ? `${range.what} of a size up to 1E+15` : wanted(range);

/** The refusal of a cell that is no number of this range. */
export const wrongNumber = (name: string, row: number, column: number, range: Range, cell: Cell): Refusal =>
  wrongCell(name, row, column, limited(range, cell), cell);

export function readNumber(raw: Raw, name: string, range: Range): number {
  const cell = single(raw, name);
  if (accepts(cell, range)) return cell;
  throw wrongNumber(name, 0, 0, range, cell);
}

/** Every cell of a range, row by row. */
export function readNumbers(raw: Raw, name: string, rangeAt: (index: number) => Range): number[] {
  const rows = grid(raw, name);
  const numbers: number[] = [];
  rows.forEach((row, r) =>
    row.forEach((cell, c) => {
      const range = rangeAt(numbers.length);
      if (!accepts(cell, range)) throw wrongNumber(name, r, c, range, cell);
      numbers.push(cell);
    }),
  );
  return numbers;
}

/** A range of exactly `count` cells in any arrangement. */
export function readExactly(raw: Raw, name: string, ranges: readonly Range[], what: string): number[] {
  const rows = grid(raw, name);
  const count = rows.length * rows[0].length;
  if (count !== ranges.length) {
    throw invalid(`${cells(ranges.length)} (${what}) are wanted, found ${shape(rows)}`, name);
  }
  return readNumbers(rows, name, (i) => ranges[i]);
}

/**
 * Groups of `size` cells: a range of that many columns, a group a row, or one single row of groups. Other shapes are
 * refused, so that a column of amounts without their angles is never taken for something else.
 */
export function readGroups(raw: Raw, name: string, ranges: readonly Range[], what: string): number[][] {
  const rows = grid(raw, name);
  const size = ranges.length;
  const width = rows[0].length;
  if (width !== size && !(rows.length === 1 && width % size === 0)) {
    throw invalid(`${size} columns (${what}), or one row of such groups, are wanted, found ${shape(rows)}`, name);
  }
  const flat = readNumbers(rows, name, (i) => ranges[i % size]);
  return Array.from({length: flat.length / size}, (_, i) => flat.slice(i * size, (i + 1) * size));
}
