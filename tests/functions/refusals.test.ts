/**
 * Wrong input never yields a figure: for every function and every argument, each wrong kind of cell is refused with a
 * message that names the argument and the cell. The arguments are those of the function's own example.
 */
import {CATALOGUE} from '../../src/functions/catalogue';
import type {Argument, Declaration} from '../../src/functions/declare';
import type {Cell, Raw} from '../../src/functions/cells';
import {Refusal} from '../../src/maths/refusal';
import {call, parseCall, refusal} from '../support/formula';

interface Place {
  readonly declared: Declaration;
  readonly argument: Argument;
  readonly index: number;
  readonly args: readonly Raw[];
}

const DIVIDED: Cell = {code: '#DIV/0!'};

/** Every argument that the example gives, except EACHROW's, which belong to another function. */
const places: Place[] = CATALOGUE.flatMap((declared) => {
  const {args} = parseCall(declared.example.formula);
  return declared.arguments.flatMap((argument, index) =>
    argument.kind === 'anything' ? [] : [{declared, argument, index, args}],
  );
});

const given = ({args, index}: Place): Raw => args[index] ?? null;

/** The example's arguments with one cell, the last of the argument, replaced. */
function withCell({args, index}: Place, cell: Cell): {args: Raw[]; row: number; column: number} {
  const changed = [...args];
  const raw = changed[index];
  if (!Array.isArray(raw)) {
    changed[index] = cell;
    return {args: changed, row: 1, column: 1};
  }
  const rows = raw.map((row) => [...row]);
  rows[rows.length - 1][rows[0].length - 1] = cell;
  changed[index] = rows;
  return {args: changed, row: rows.length, column: rows[0].length};
}

const title = ({declared, argument}: Place): string => `${declared.name} ${argument.name}`;

const takesText = new Set(['text', 'choice', 'part', 'names', 'record']);
const takesBoolean = new Set(['flag', 'flags', 'flags or empty', 'record']);
const takesEmpty = new Set(['readings', 'flags or empty', 'names', 'record', 'fingerprint']);

describe.each(places.filter((p) => given(p) !== null).map((p) => [title(p), p] as const))('%s', (_, place) => {
  const {declared, argument} = place;

  function refused(cell: Cell, says: string) {
    const {args, row, column} = withCell(place, cell);
    const {message, reason} = refusal(declared.name, ...args);
    expect(reason).toBe('invalid');
    expect(message).toContain(`${argument.name} (row ${row}, column ${column})`);
    expect(message).toContain(says);
  }

  if (!takesText.has(argument.kind)) test('a text', () => refused('high', 'found the text "high"'));
  if (argument.kind === 'choice') test('another word', () => refused('high', 'found the text "high"'));
  if (!takesBoolean.has(argument.kind)) test('a boolean', () => refused(true, 'found TRUE'));
  test('an error', () => refused(DIVIDED, 'found the error #DIV/0!'));
  if (!takesEmpty.has(argument.kind)) test('an empty text', () => refused('', 'found an empty text'));
  const numbers =
    argument.kind === 'part' ? [] : argument.kind === 'record' ? [NaN, Infinity] : [1e308, -1e308, NaN, Infinity];
  if (numbers.length > 0) test.each(numbers)('a number beyond all measure, %p', (n) => refused(n, 'found'));
  test('a ragged range', () => {
    const args = [...place.args];
    args[place.index] = [[1, 2], [3]] as Raw;
    expect(refusal(declared.name, ...args).message).toMatch(
      new RegExp(`^${argument.name}: a rectangular range is wanted`),
    );
  });
  test('no cell at all', () => {
    const args = [...place.args];
    args[place.index] = [] as unknown as Raw;
    expect(refusal(declared.name, ...args).message).toContain(argument.name);
  });
  if (argument.dimension === 'scalar') {
    test('a range for a single value', () => {
      const args = [...place.args];
      args[place.index] = [[1, 2]];
      expect(refusal(declared.name, ...args).message).toBe(
        `${argument.name}: one cell is wanted, found a range of 1 × 2 cells (rows × columns)`,
      );
    });
  }
});

const required = places.filter(({argument}) => !argument.optional);

test.each(required.map((p) => [title(p), p] as const))('%s may not be left out', (_, place) => {
  for (const nothing of [null, undefined]) {
    const args = [...place.args];
    args[place.index] = nothing;
    expect(refusal(place.declared.name, ...args).message).toBe(`${place.argument.name}: this argument is missing`);
  }
});

const optionals = places.filter(({argument}) => argument.optional);

test.each(optionals.map((p) => [title(p), p] as const))('%s may be left out', (_, place) => {
  const args = [...place.args];
  while (args.length <= place.index) args.push(null);
  args[place.index] = null;
  try {
    expect(call(place.declared.name, ...args).length).toBeGreaterThan(0);
  } catch (error) {
    // Left out, another default may leave too few readings; that is an answer too.
    expect(error).toBeInstanceOf(Refusal);
    expect((error as Refusal).message).not.toContain('missing');
  }
});

describe('what is never negative or never 0', () => {
  const rows: [string, unknown[], string][] = [
    ['MATCH', [[[-1, 0]], [[1, 0]]], 'rim (row 1, column 1): an amount, at least 0, is wanted, found -1'],
    [
      'HARMONIC',
      [[[1, 2, 3]], 0],
      'order (row 1, column 1): a whole number, at least 1 and at most 50, is wanted, found 0',
    ],
    ['HARMONIC', [[[1, 2, 3]], 1.5], 'order (row 1, column 1): a whole number'],
    ['STOCK', [-1, 5], 'mass (row 1, column 1): a mass, at least 0, is wanted, found -1'],
    ['STOCK', [1, 0], 'step (row 1, column 1): a step, above 0, is wanted, found 0'],
    ['STOCK', [1, 5, -1], 'ignoreBelow (row 1, column 1)'],
    ['FORCE', [1, 200, 0, 1900], 'speed (row 1, column 1): a speed, above 0,'],
    ['FORCE', [1, 0, 100, 1900], 'radius (row 1, column 1): a radius, above 0,'],
    ['TOLERANCE', [40, 20, 130, -1], 'circumference (row 1, column 1)'],
    ['ASSESS', [[[1, 0]], [[1, 0]], [[0, 1]]], 'limits (row 1, column 1): a limit, above 0, is wanted, found 0'],
    ['ASSESS', [[[1, 0]], [[1, 0]], [[1, 1]], -1], 'plusminus (row 1, column 1): a half-width, at least 0,'],
    [
      'TRANSFER',
      [[[1, 0, 1, 0]], [[0, 100, 50, 0]], [[0, 1, 1, 1]]],
      'fromPlanes (row 1, column 4): a radius, above 0,',
    ],
    [
      'TRANSFER',
      [[[1, 0, 1, 0]], [[5, 100, 5, 100]], [[0, 1, 1, 1]]],
      'fromPlanes: two different positions are wanted, found 5 twice',
    ],
    [
      'PLACE',
      [
        [[1], [-2]],
        [[1], [2]],
      ],
      'severities (row 2, column 1): a severity, at least 0,',
    ],
    ['ENOUGH', [0.5, 0.4, 0.1, 0], 'readings (row 1, column 1): a whole number, at least 1,'],
  ];
  test.each(rows)('%s(%j)', (name, args, message) => expect(refusal(name, ...args).message).toContain(message));
});

describe('shapes', () => {
  const rows: [string, unknown[], string][] = [
    ['MATCH', [[[1, 0, 2]], [[1, 0]]], 'rim: 2 cells (amount, angle) are wanted, found a range of 1 × 3 cells'],
    ['MATCH', [1, [[1, 0]]], 'rim: 2 cells (amount, angle) are wanted, found a range of 1 × 1 cells'],
    [
      'RESULTANT',
      [[[1], [0], [2], [0]]],
      'vectors: 2 columns (amount, angle), or one row of such groups, are wanted, found a range of 4 × 1',
    ],
    ['RESULTANT', [[[1, 2, 3]]], 'vectors: 2 columns'],
    [
      'STATICCOUPLE',
      [[[1, 0]], [[0, 1, 1, 1]]],
      'planes: two vectors (amount, angle) are wanted, found a range of 1 × 2',
    ],
    ['ASSESS', [[[1, 0]], [[1, 0]], [[1, 1, 1]]], 'limits: 2 cells (assembly, rim) are wanted, found a range of 1 × 3'],
    ['HARMONIC', [[[1, 2, 3, 4]], 1, [[0, 90, 180]]], 'angles: as many cells as readings has are wanted, 4, found 3'],
    ['PLACE', [[[1], [2]], [[1]]], 'sensitivities: a position for each of the 2 wheels is wanted, found 1'],
    [
      'PLACE',
      [[[1], [2]], [[1], [2]], 0, [[true, true]]],
      'allowed: 2 rows (wheels) × 2 columns (positions) are wanted, found 1 × 2',
    ],
    [
      'RESIDUAL',
      [[[1, 0, 1, 0]], [[1, 0]], [[0, 1, 1, 1]]],
      'fitted: two vectors (amount, angle), or a row of four cells',
    ],
  ];
  test.each(rows)('%s(%j)', (name, args, message) => expect(refusal(name, ...args).message).toContain(message));

  test('an array within a cell is called that', () => {
    expect(refusal('TIR', [[[[1]], 2]]).message).toBe(
      'readings (row 1, column 1): a reading is wanted, found an array within a cell',
    );
  });

  test('a vector may stand in a column, n vectors in one row', () => {
    expect(call('MATCH', [[0.8], [40]], [[0.6, 100]])).toEqual(call('MATCH', [[0.8, 40]], [[0.6, 100]]));
    expect(call('RESULTANT', [[3, 0, 4, 90]])).toEqual(
      call('RESULTANT', [
        [3, 0],
        [4, 90],
      ]),
    );
  });
});

describe('part and row', () => {
  const args = [[[0.8, 40]], [[0.6, 100]]];
  const [all] = call('MATCH', ...args);

  test('a name in any letter case or a number from 1 gives that cell alone', () => {
    for (const part of ['after', 'AFTER', ' After ', 2, [[2]]])
      expect(call('MATCH', ...args, part)).toEqual([[all[1]]]);
  });

  test.each(['afterwards', '', 0, 5, 1.5, true, {code: '#N/A'}])('%p is refused', (part) => {
    expect(refusal('MATCH', ...args, part).message).toContain(
      'part (row 1, column 1): one of turn, after, before, gain, or its number from 1 to 4, is wanted, found',
    );
  });

  test('in a table, part is a column, row a row, both a cell', () => {
    const readings = [[0.5, 0.3, 0, -0.3, -0.5, -0.2, 0, 0.3]];
    const table = call('HARMONICS', readings, 3);
    expect(table).toHaveLength(3);
    expect(call('HARMONICS', readings, 3, null, 'amount')).toEqual(table.map((row) => [row[1]]));
    expect(call('HARMONICS', readings, 3, null, null, 2)).toEqual([table[1]]);
    expect(call('HARMONICS', readings, 3, null, 'angle', 3)).toEqual([[table[2][2]]]);
    expect(refusal('HARMONICS', readings, 3, null, null, 4).message).toBe(
      'row (row 1, column 1): a whole number from 1 to 3 is wanted, found 4',
    );
  });

  test('a figure that does not exist is an error in its cell, and the answer when asked for alone', () => {
    const [row] = call('AVERAGE', [[10, 30]]);
    expect(row[0]).toBe(10);
    expect(row[2]).toBeInstanceOf(Refusal);
    expect((row[2] as Refusal).reason).toBe('unavailable');
    expect(refusal('AVERAGE', [[10, 30]], 'scatter').message).toBe('one spin alone shows no scatter; spin again');
  });
});
