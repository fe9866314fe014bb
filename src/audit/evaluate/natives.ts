/** Functions of the spreadsheet itself that formulas around ours use; what they do to single values comes from a library. */
import * as library from '@formulajs/formulajs';
import {cellError, isError, type CellError, type CellValue} from '../../host/book/cells';
import {asFlag, asNumber, asText, compare, type Grid} from './values';

type Coerce = (value: CellValue) => CellValue;

/** A function of single values, applied cell by cell: what it makes of its arguments first, and what it gives. */
export interface Elementwise {
  readonly coerce: readonly Coerce[];
  readonly call: (...args: never[]) => unknown;
}

const elementwise = (call: (...args: never[]) => unknown, ...coerce: Coerce[]): Elementwise => ({coerce, call});
const ofNumbers = (call: (...args: never[]) => unknown): Elementwise => elementwise(call, asNumber);
const ofTexts = (call: (...args: never[]) => unknown, ...rest: Coerce[]): Elementwise =>
  elementwise(call, asText, ...rest);

const {ABS, SQRT, EXP, LN, LOG, LOG10, SIN, COS, TAN, ASIN, ACOS, ATAN, RADIANS, DEGREES} = library;
const {MOD, INT, TRUNC, ROUND, ROUNDUP, ROUNDDOWN, SIGN, POWER, PI} = library;
const {LEN, LEFT, RIGHT, MID, TRIM, UPPER, LOWER, SUBSTITUTE, EXACT, CONVERT, DATE, YEAR, MONTH, DAY} = library;

/** Functions of single values whose arguments are what they are, errors included. */
export const TESTS: Readonly<Record<string, (value: CellValue) => CellValue>> = {
  ISNUMBER: (value) => typeof value === 'number',
  ISTEXT: (value) => typeof value === 'string',
  ISNONTEXT: (value) => typeof value !== 'string',
  ISLOGICAL: (value) => typeof value === 'boolean',
  ISERROR: (value) => isError(value),
  ISERR: (value) => isError(value) && value.code !== '#N/A',
  ISNA: (value) => isError(value) && value.code === '#N/A',
  N: (value) => (isError(value) ? value : typeof value === 'string' ? 0 : asNumber(value)),
  T: (value) => (isError(value) || typeof value === 'string' ? value : ''),
};

export const ELEMENTWISE: Readonly<Record<string, Elementwise>> = {
  ...Object.fromEntries(
    Object.entries({ABS, SQRT, EXP, LN, LOG, LOG10, SIN, COS, TAN, ASIN, ACOS, ATAN, RADIANS, DEGREES}).map(
      ([name, call]) => [name, ofNumbers(call)],
    ),
  ),
  ...Object.fromEntries(
    Object.entries({MOD, INT, TRUNC, ROUND, ROUNDUP, ROUNDDOWN, SIGN, POWER, PI, DATE, YEAR, MONTH, DAY}).map(
      ([name, call]) => [name, ofNumbers(call)],
    ),
  ),
  // The library takes the arguments the other way round.
  ATAN2: ofNumbers((x: number, y: number) => (x === 0 && y === 0 ? new Error('#DIV/0!') : Math.atan2(y, x))),
  LEN: ofTexts(LEN),
  TRIM: ofTexts(TRIM),
  UPPER: ofTexts(UPPER),
  LOWER: ofTexts(LOWER),
  EXACT: ofTexts(EXACT),
  SUBSTITUTE: ofTexts(SUBSTITUTE, asText, asText, asNumber),
  LEFT: ofTexts(LEFT, asNumber),
  RIGHT: ofTexts(RIGHT, asNumber),
  MID: ofTexts(MID, asNumber),
  VALUE: elementwise((value: number) => value, asNumber),
  NOT: elementwise((value: boolean) => !value, asFlag),
  CONVERT: elementwise(CONVERT, asNumber, asText),
};

/** Applies a function to one value of each argument. */
export function applied({coerce, call}: Elementwise, args: readonly CellValue[]): CellValue {
  const given = args.map((value, i) => coerce[Math.min(i, coerce.length - 1)](value));
  const wrong = given.find(isError);
  return wrong ?? cellOf((call as (...given: unknown[]) => unknown)(...given));
}

function cellOf(result: unknown): CellValue {
  if (result instanceof Error) return cellError(result.message);
  if (typeof result === 'number') return Number.isFinite(result) ? result : cellError('#NUM!');
  return typeof result === 'string' || typeof result === 'boolean' ? result : cellError('#VALUE!');
}

/** Cells of a range or an array, and single values as they were written. */
export type Given = {readonly cells: Grid} | {readonly single: CellValue};

type Aggregate = (numbers: readonly number[]) => CellValue;

/** Functions of all the numbers in their arguments; texts, blanks, TRUE and FALSE in ranges do not count. */
const AGGREGATES: Readonly<Record<string, Aggregate>> = {
  SUM: (n) => n.reduce((a, b) => a + b, 0),
  PRODUCT: (n) => n.reduce((a, b) => a * b, n.length === 0 ? 0 : 1),
  AVERAGE: (n) => (n.length === 0 ? cellError('#DIV/0!') : n.reduce((a, b) => a + b, 0) / n.length),
  MIN: (n) => (n.length === 0 ? 0 : Math.min(...n)),
  MAX: (n) => (n.length === 0 ? 0 : Math.max(...n)),
  MEDIAN: (n) => (n.length === 0 ? cellError('#NUM!') : cellOf(library.MEDIAN([...n]))),
  SUMSQ: (n) => n.reduce((a, b) => a + b * b, 0),
};

const COUNTS: Readonly<Partial<Record<string, (given: Given) => number>>> = {
  COUNT: (given) =>
    'single' in given
      ? Number(!isError(asNumber(given.single)) && given.single !== null)
      : count(given.cells, (cell) => typeof cell === 'number'),
  COUNTA: (given) => ('single' in given ? 1 : count(given.cells, (cell) => cell !== null)),
  COUNTBLANK: (given) => ('single' in given ? 0 : count(given.cells, (cell) => cell === null || cell === '')),
};

const count = (cells: Grid, counts: (cell: CellValue) => boolean): number =>
  cells.reduce((sum, row) => sum + row.filter(counts).length, 0);

export const isAggregate = (name: string): boolean => name in AGGREGATES || name in COUNTS || name in FLAGS;

const FLAGS: Readonly<Partial<Record<string, (flags: readonly boolean[]) => boolean>>> = {
  AND: (flags) => flags.every(Boolean),
  OR: (flags) => flags.some(Boolean),
};

/** SUM, COUNT, AND and their like. */
export function aggregate(name: string, given: readonly Given[]): CellValue {
  const counts = COUNTS[name];
  if (counts) return given.reduce((sum, each) => sum + counts(each), 0);
  const flags = FLAGS[name];
  const found: CellValue[] = given.flatMap((each) =>
    'single' in each
      ? [flags ? asFlag(each.single) : asNumber(each.single)]
      : each.cells.flat().filter((cell) => isError(cell) || typeof cell === 'number' || (flags && cell === !!cell)),
  );
  const wrong = found.find(isError);
  if (wrong) return wrong;
  if (!flags) return AGGREGATES[name](found as number[]);
  return found.length === 0 ? cellError('#VALUE!') : flags(found.map((value) => value !== 0 && value !== false));
}

/** Where a value stands in a row or column, from 1: exactly, or the last that is not beyond it in a sorted list. */
export function matchPosition(wanted: CellValue, list: readonly CellValue[], type: number): number | CellError {
  if (isError(wanted)) return wanted;
  const same = (cell: CellValue): boolean => cell !== null && !isError(cell) && compare(cell, wanted) === 0;
  let found = list.findIndex(same);
  if (type !== 0) {
    found = -1;
    list.forEach((cell, i) => {
      if (cell === null || isError(cell) || typeof cell !== typeof wanted) return;
      const order = compare(cell, wanted) as number;
      if (type > 0 ? order <= 0 : order >= 0) found = i;
    });
  }
  return found < 0 ? cellError('#N/A', `${String(wanted ?? '')} is not in the list that is looked through`) : found + 1;
}
