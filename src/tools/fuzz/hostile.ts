/** What nobody should hand to a worksheet function, and some do. */
import fc from 'fast-check';
import type {Cell, Raw} from '../../functions/cells';
import {randomFrom} from '../random';
import type {Given} from './calls';

const NUMBERS = [
  NaN,
  Infinity,
  -Infinity,
  1e308,
  -1e308,
  Number.MAX_VALUE,
  Number.MIN_VALUE,
  -Number.MIN_VALUE,
  2.2250738585072014e-308,
  1e-300,
  1e15,
  1.0000000000000002e15,
  -1e15,
  2 ** 53,
  2 ** 31,
  2 ** 32,
  -0,
  // Dates, and the last day there is.
  45739,
  45739.5,
  2958465,
  -1,
  0.1 + 0.2,
];

const ERRORS = ['#DIV/0!', '#N/A', '#NAME?', '#NULL!', '#NUM!', '#REF!', '#VALUE!', '#SPILL!', '#CALC!', '#BUSY!'].map(
  (code) => ({code}),
);

const TEXTS = [
  '',
  ' ',
  '0',
  '1e5',
  '1,5',
  'NaN',
  'TRUE',
  '=1+1',
  '=HYPERLINK("http://invalid","x")',
  '+1',
  '-1',
  '@SUM(A1)',
  "=cmd|'/C calc'!A0",
  '\t1',
  'a\nb',
  '\u0000',
  '\u0007\u001b[31m',
  '\u202eabc',
  '\ud800',
  '\u0130\u0131\u00df\ufb01',
  '\u{1f6de}',
  '__proto__',
  'constructor',
  'toString',
  'hasOwnProperty',
  'EACHROW',
  '<b>&amp;',
  'x'.repeat(32767),
  '9'.repeat(400),
];

export const hostileCell: fc.Arbitrary<Cell> = fc.oneof(
  fc.constantFrom(...NUMBERS),
  fc.double(),
  fc.constantFrom(...ERRORS),
  fc.constantFrom(true, false, null, undefined),
  fc.constantFrom(...TEXTS),
  fc.string({unit: 'binary', maxLength: 20}),
);

const anyCell: fc.Arbitrary<Cell> = fc.oneof(
  {weight: 2, arbitrary: hostileCell},
  fc.double({min: 0, max: 400, noNaN: true}),
);

const rectangle: fc.Arbitrary<Raw> = fc
  .tuple(fc.integer({min: 1, max: 5}), fc.integer({min: 1, max: 5}))
  .chain(([rows, columns]) =>
    fc.array(fc.array(anyCell, {minLength: columns, maxLength: columns}), {minLength: rows, maxLength: rows}),
  );

const ragged: fc.Arbitrary<Raw> = fc.array(fc.array(anyCell, {maxLength: 4}), {maxLength: 4});

/** 10,000 cells, a few of them hostile or none. */
const huge: fc.Arbitrary<Raw> = fc
  .tuple(
    fc.nat(),
    fc.constantFrom([100, 100], [1, 10000], [10000, 1], [5000, 2], [2500, 4]),
    fc.array(fc.tuple(fc.nat(9999), hostileCell), {maxLength: 2}),
  )
  .map(([seed, [rows, columns], odd]): Raw => {
    const random = randomFrom(seed);
    const cells: Cell[] = Array.from({length: rows * columns}, () => Math.round(random() * 1000) / 1000);
    for (const [i, cell] of odd) cells[i] = cell;
    return Array.from({length: rows}, (_, r) => cells.slice(r * columns, (r + 1) * columns));
  });

/** An array within a cell of an array. */
const nested = fc.tuple(rectangle, rectangle).map(([outer, inner]) => {
  const rows = (outer as Cell[][]).map((row) => [...row]);
  rows[0][0] = inner as Cell;
  return rows as Raw;
});

/** A change of the argument that would be valid there. */
export interface Change {
  readonly in: (valid: Given) => Given;
}

export const isChange = (given: Given | Change): given is Change =>
  typeof given === 'object' && given !== null && 'in' in given;

/** One cell of the valid argument put in another's place. */
const oneCell: fc.Arbitrary<Change> = fc.tuple(hostileCell, fc.nat()).map(([cell, place]) => ({
  in: (valid) => {
    if (!Array.isArray(valid) || !Array.isArray(valid[0]) || valid[0].length === 0) return cell;
    const at = place % (valid.length * valid[0].length);
    const [row, column] = [Math.floor(at / valid[0].length), at % valid[0].length];
    return (valid as Cell[][]).map((cells, r) =>
      r === row ? cells.map((own, c) => (c === column ? cell : own)) : cells,
    );
  },
}));

/** A last row or a last column too few or too many. */
const resized: fc.Arbitrary<Change> = fc.nat(3).map((way) => ({
  in: (valid) => {
    if (!Array.isArray(valid) || !Array.isArray(valid[0])) return [[valid, valid]] as unknown as Raw;
    const rows = valid as Cell[][];
    if (way === 0) return rows.slice(0, -1);
    if (way === 1) return [...rows, rows[0]];
    return rows.map((row) => (way === 2 ? row.slice(0, -1) : [...row, 1]));
  },
}));

export const hostileArgument: fc.Arbitrary<Raw | Change> = fc.oneof(
  {weight: 40, arbitrary: oneCell},
  {weight: 10, arbitrary: resized},
  {weight: 20, arbitrary: hostileCell},
  {weight: 15, arbitrary: rectangle},
  {weight: 10, arbitrary: ragged},
  {weight: 5, arbitrary: anyCell.map((cell): Raw => [[cell]])},
  {weight: 3, arbitrary: nested},
  {weight: 1, arbitrary: huge},
);
