/** What arguments may look like beyond the shapes of the examples, and the words with which others are refused. */
import {metadata} from '../../src/functions/metadata';
import {find} from '../../src/functions/catalogue';
import {Refusal} from '../../src/maths/refusal';
import {call, figures, refusal} from '../support/formula';

const words = (name: string, ...args: unknown[]): string => {
  const {message, reason} = refusal(name, ...args);
  return `${reason}: ${message}`;
};

describe('TRUE and FALSE', () => {
  const [severities, sensitivities] = [[[3, 2, 1]], [[1, 2, 3]]];
  const place = (allowed: unknown, ...more: unknown[]) => call('PLACE', severities, sensitivities, 0, allowed, ...more);
  const table = (yes: unknown, no: unknown) => [
    [no, no, yes],
    [no, yes, no],
    [yes, no, no],
  ];

  test('1 and 0 serve as well', () => {
    expect(place(table(true, false))).toEqual([[3, 2, 1]]);
    expect(place(table(1, 0))).toEqual([[3, 2, 1]]);
    expect(place(null)).toEqual([[1, 2, 3]]);
  });

  test('nothing else does', () => {
    for (const [cell, found] of [
      [2, '2'],
      [-1, '-1'],
      ['TRUE', 'the text "TRUE"'],
      ['', 'an empty text'],
      [null, 'nothing'],
      [{code: '#N/A'}, 'the error #N/A'],
    ] as const) {
      const cells: unknown[][] = table(true, false);
      cells[1][2] = cell;
      expect(words('PLACE', severities, sensitivities, 0, cells)).toBe(
        `invalid: allowed (row 2, column 3): TRUE or FALSE is wanted, found ${found}`,
      );
    }
  });

  test('a table of another size', () => {
    const wanted = 'invalid: allowed: 3 rows (wheels) × 3 columns (positions) are wanted, found';
    expect(words('PLACE', severities, sensitivities, 0, table(1, 0).slice(1))).toBe(`${wanted} 2 × 3`);
    expect(words('PLACE', severities, sensitivities, 0, [[1, 1], [1, 1], [1, 1]])).toBe(`${wanted} 3 × 2`); // prettier-ignore
  });

  test('one wheel alone', () => {
    expect([1, 2, 3].map((row) => place(table(1, 0), row))).toEqual([[[3]], [[2]], [[1]]]);
    expect(words('PLACE', severities, sensitivities, 0, null, 4)).toBe(
      'invalid: row (row 1, column 1): a whole number from 1 to 3 is wanted, found 4',
    );
  });

  test('in a list of records an empty cell is not known, 1 and 0 are', () => {
    const rates = (flags: unknown[]) =>
      call('GROUPRATE', [['A', 'A', 'A', 'A']], [flags]).map((row) => row.slice(0, 3));
    expect(rates([true, false, true, false])).toEqual([['A', 2, 4]]);
    expect(rates([1, 0, 1, 0])).toEqual([['A', 2, 4]]);
    for (const empty of ['', null, undefined]) expect(rates([1, empty, 0, empty])).toEqual([['A', 1, 2]]);
    expect(words('GROUPRATE', [['A', 'B']], [[true, 'no']])).toBe(
      'invalid: flags (row 1, column 2): TRUE or FALSE is wanted, found the text "no"',
    );
  });
});

describe('names and texts', () => {
  test('outer blanks are taken off, numbers are names, empty cells are none', () => {
    const names = (list: unknown[]) => call('GROUPRATE', [list], [list.map(() => true)]).map((row) => row.slice(0, 3));
    expect(names([' A ', 'A', 'a'])).toEqual([['A', 3, 3]]);
    expect(names([16, 16, '16'])).toEqual([['16', 3, 3]]);
    for (const none of ['', '   ', null, undefined]) expect(names(['A', none])).toEqual([['A', 1, 1]]);
    expect(names(['A', 1e15])).toHaveLength(2);
    for (const [cell, found] of [
      [true, 'TRUE'],
      [false, 'FALSE'],
      [2e15, '2000000000000000'],
      [NaN, 'NaN'],
      [{code: '#REF!'}, 'the error #REF!'],
    ] as const)
      expect(words('GROUPRATE', [['A'], [cell]], [[true], [true]])).toBe(
        `invalid: names (row 2, column 1): a name is wanted, found ${found}`,
      );
  });

  test('no group is large enough yet', () => {
    expect(words('GROUPRATE', [['A', 'B']], [[true, true]], null, 2)).toBe(
      'unavailable: names: no group has as many records as wanted yet',
    );
  });

  test('a choice in any letter case and with blanks around it; another word is refused with those there are', () => {
    const vectors = [[1, 0]];
    const total = call('PAIR', vectors, vectors, 'total');
    for (const goal of ['TOTAL', ' total ', 'Total']) expect(call('PAIR', vectors, vectors, goal)).toEqual(total);
    expect(words('PAIR', vectors, vectors, 'least')).toBe(
      'invalid: goal (row 1, column 1): one of "worst", "total" is wanted, found the text "least"',
    );
    expect(words('PAIR', vectors, vectors, 1)).toContain('one of "worst", "total" is wanted, found 1');
  });

  test('a text of blanks alone is none; a long one is shown in part', () => {
    expect(words('TIRESIZE', '   ')).toBe('invalid: text (row 1, column 1): a text is wanted, found the text "   "');
    const shown = (length: number) => words('STOCK', 'x'.repeat(length), 5).split('found ')[1];
    expect(shown(40)).toBe(`the text "${'x'.repeat(40)}"`);
    expect(shown(41)).toBe(`the text "${'x'.repeat(40)}…"`);
  });
});

describe('numbers', () => {
  test('up to a size of 1E+15', () => {
    expect(figures('DIFFERENCE', [[1e15, 0]], [[0, 0]])[0]).toBe(1e15);
    expect(figures('STOCK', 1e15, 5e14)[0]).toBe(1e15);
    expect(call('TIR', [[-1e15, 1e15, 0]])[0][0]).toBe(2e15);
    expect(words('STOCK', 2e15, 5)).toBe(
      'invalid: mass (row 1, column 1): a mass of a size up to 1E+15 is wanted, found 2000000000000000',
    );
    for (const cell of [1.1e15, -1.1e15, NaN, Infinity])
      expect(words('TIR', [[0, 1, cell]])).toContain('readings (row 1, column 3): a reading of a size up to 1E+15');
    expect(words('HARMONIC', [[1, 2, 3, 4]], 1, [[0, 90, 180, 1.1e15]])).toBe(
      'invalid: angles (row 1, column 4): an angle in degrees is wanted, found 1100000000000000',
    );
    expect(figures('HARMONIC', [[1, 2, 3, 4]], 1, [[0, 90, 180, 1e15]]).every(Number.isFinite)).toBe(true);
  });

  test('no readings at all, ragged ones, and none in a row', () => {
    for (const none of [[], [[]]])
      expect(words('TIR', none)).toBe('invalid: readings: a range with at least one cell is wanted, found none');
    const ragged = 'a rectangular range is wanted, found 2 cells in row 1 and 1 cell in row 3';
    expect(words('TIR', [[1, 2], [3, 4], [5]])).toBe(`invalid: readings: ${ragged}`); // prettier-ignore
    expect(words('RESULTANT', [[1, 2], [3, 4], [5]])).toContain(ragged); // prettier-ignore
  });

  test('figures named one by one, the last of them only if wanted', () => {
    // Twice around, so that the first harmonic is nothing and the whole curve is not.
    const flat = [Array.from({length: 12}, (_, i) => 0.1 * Math.cos((i * Math.PI) / 3))];
    const assess = (...limits: number[]) => call('ASSESSREADINGS', flat, flat, flat, [limits])[0][0];
    const {parts} = find('ASSESSREADINGS')!;
    expect(Object.keys(parts)[0]).toBe('finding');
    expect(assess(0.5, 0.4)).toBe('accept');
    expect(assess(0.5, 0.4, 0.5)).toBe('accept');
    expect(assess(0.5, 0.4, 0.1)).not.toBe('accept');
    const refused = (...limits: number[]) => words('ASSESSREADINGS', flat, flat, flat, [limits]);
    const wanted = 'invalid: limits: 3 cells (assembly, rim, total) are wanted, found a range of 1 ×';
    expect(refused(0.5)).toBe(`${wanted} 1 cells (rows × columns)`);
    expect(refused(0.5, 0.4, 0.3, 0.2)).toBe(`${wanted} 4 cells (rows × columns)`);
    expect(words('ASSESSREADINGS', flat, flat, flat, [[0.5], [0.4], [0]])).toContain(
      'limits (row 3, column 1): a limit, above 0, is wanted, found 0',
    );
    expect(words('TOLERANCEPLANES', 1, [[1]])).toContain('2 cells (inboard, outboard) are wanted');
    expect(words('MATCHALL', [[1, 0]], [[1, 0]], [[1, 0, 1, 0]], [[1, 0, 1, 0]], [[1, 2]])).toContain(
      '3 cells (runout, static, couple) are wanted',
    );
  });
});

describe('vectors and planes', () => {
  const required = [[20, 0, 20, 180]];
  const at = [[-80, 200, 80, 200]];

  test('weights with planes of their own, a row each', () => {
    const here = figures('RESIDUAL', required, [[15, 0, 20, 180]], at);
    const own = figures('RESIDUAL', required, [[15, 0, -80, 200], [20, 180, 80, 200]], at); // prettier-ignore
    expect(own).toEqual(here);
    const halves = [[7.5, 0, -80, 200], [7.5, 0, -80, 200], [20, 180, 80, 200]]; // prettier-ignore
    figures('RESIDUAL', required, halves, at).forEach((figure, i) => expect(figure).toBeCloseTo(here[i], 9));
    // Elsewhere: 10 at a radius of 300 acts as 15 at 200.
    const far = [[10, 0, -80, 300], [20, 180, 80, 200]]; // prettier-ignore
    figures('RESIDUAL', required, far, at).forEach((figure, i) => expect(figure).toBeCloseTo(here[i], 9));
    expect(
      words(
        'RESIDUAL',
        required,
        [
          [7.5, 0, -80, 200],
          [7.5, 0, -80, 0],
        ],
        at,
      ),
    ).toBe(
      // prettier-ignore
      'invalid: fitted (row 2, column 4): a radius, above 0, is wanted, found 0',
    );
    expect(
      words(
        'RESIDUAL',
        required,
        [
          [-1, 0, -80, 200],
          [7.5, 0, -80, 1],
        ],
        at,
      ),
    ).toContain(
      // prettier-ignore
      'fitted (row 1, column 1): an amount, at least 0, is wanted',
    );
  });

  test('two planes at one position', () => {
    expect(words('RESIDUAL', required, required, [[80, 200, 80, 190]])).toBe(
      'invalid: atPlanes: two different positions are wanted, found 80 twice',
    );
    expect(words('TOLERANCEPLANES', 1, [[5, 5]])).toBe(
      'invalid: positions: two different positions are wanted, found 5 twice',
    );
  });

  test('shapes that are no vectors', () => {
    const three = [[1, 0], [1, 90], [1, 180]]; // prettier-ignore
    expect(words('RESULTANT', [[1], [0]])).toContain('vectors: 2 columns (amount, angle), or one row of such groups');
    expect(words('MATCH', [[1]], [[1, 0]])).toContain(
      'rim: 2 cells (amount, angle) are wanted, found a range of 1 × 1',
    );
    expect(words('STATICCOUPLE', three, at)).toMatch(/two vectors \(amount, angle\) are wanted/);
    expect(
      words('STATICCOUPLE', required, [
        [1, 1],
        [2, 2],
        [3, 3],
      ]),
    ).toMatch(/two planes \(position, radius\) are wanted/);
    expect(words('STATICCOUPLE', required, [[1, 2, 3]])).toContain('2 columns (position, radius), or one row');
    expect(words('ONEPLANE', required, at, [[1]])).toContain('2 cells (position, radius) are wanted');
  });

  test('the rim behind a prediction tells a wrong turn; two cells are a true rim', () => {
    const verify = (predicted: number[][]) => call('VERIFY', predicted, 0.06, [[0.8, 130]], 0.06, 0.5)[0];
    const [finding, en] = verify([[0.2, 40, 0.5, 100]]);
    expect(verify([[0.2, 40], [0.5, 100]])[0]).toEqual(finding); // prettier-ignore
    expect(verify([[0.2, 40]])).toEqual(verify([[0.2, 40, 0, 0]]));
    expect(verify([[0.2, 40]])[1]).toEqual(en);
    expect(words('VERIFY', [[0.2, 40, 0.5]], 0.06, [[0.8, 130]], 0.06, 0.5)).toContain('2 cells (amount, angle)');
    expect(words('VERIFY', [[0.2, 40, -0.5, 1]], 0.06, [[0.8, 130]], 0.06, 0.5)).toContain(
      'predicted (row 1, column 3): an amount, at least 0, is wanted',
    );
  });
});

describe('lists that go together', () => {
  test('spins and turns', () => {
    const spins = [[1.5, 0], [0.5, 0], [0.9, 0]]; // prettier-ignore
    expect(words('UNTANGLE', spins.slice(1), [[0], [180]], [[0], [0]])).toBe(
      'invalid: vectors: at least three spins are wanted, found 2',
    );
    expect(words('UNTANGLE', spins, [[0], [180]], [[0], [0], [180]])).toBe(
      'invalid: tireTurns: 3 turns, one a spin, are wanted, found 2',
    );
    expect(words('UNTANGLE', spins, [[0], [180], [0]], [[0], [0], [180], [1]])).toBe(
      'invalid: shaftTurns: 3 turns, one a spin, are wanted, found 4',
    );
  });

  test('trial angles and readings', () => {
    expect(words('TRIALSWEEP', 10, [[7, 12, 18]], [[0, 120]], 50)).toBe(
      'invalid: angles: 3 angles, one a reading, are wanted, found 2',
    );
  });

  test('spokes: how many, or where they are', () => {
    const five = [0, 72, 144, 216, 288];
    expect(call('SPOKES', [[30, 36]], [five])).toEqual(call('SPOKES', [[30, 36]], 5));
    for (const count of [3, 360]) expect(figures('SPOKES', [[30, 36]], count).every(Number.isFinite)).toBe(true);
    for (const count of [2, 361, 4.5, 0, -5])
      expect(words('SPOKES', [[30, 36]], count)).toBe(
        `invalid: spokes: a whole number of spokes from 3 to 360 is wanted, or their angles, found ${count}`,
      );
  });

  test('a frequency that nothing turns with', () => {
    const {reason, message} = refusal('SOURCES', 3.21, 100, 2000);
    expect([reason, message]).toEqual([
      'unavailable',
      'frequency: nothing that turns fits this frequency within the tolerance',
    ]);
  });
});

describe('EACHROW', () => {
  test('a function that is not there, or does not answer with a row', () => {
    expect(words('EACHROW', 'NOTHING', [[1]])).toBe('invalid: name: there is no function WHEEL.NOTHING');
    expect(words('EACHROW', ' wheel.nothing', [[1]])).toBe('invalid: name: there is no function WHEEL.NOTHING');
    for (const name of ['PAIR', 'EACHROW', 'WORKING'])
      expect(words('EACHROW', name, [[1]])).toBe(`invalid: name: WHEEL.${name} does not answer with one row a record`);
  });

  test('WORKING of what is not there, and of itself', () => {
    expect(words('WORKING', 'wheel.nothing', 1)).toBe('invalid: name: there is no function WHEEL.NOTHING');
    expect(words('WORKING', 'WORKING', 'STOCK', 7, 5)).toBe(
      'invalid: name: the working of a working is not written out',
    );
  });

  test('a blank first argument is missing, a blank later one is left out, and no row is more than one', () => {
    for (const first of [null, undefined])
      expect(words('EACHROW', 'STOCK', first, 5)).toBe('invalid: arguments: the first argument is missing');
    expect(words('EACHROW', 'STOCK')).toBe('invalid: arguments: the first argument is missing');
    for (const least of [null, undefined]) expect(call('EACHROW', 'STOCK', [[7], [12]], 5, least)).toEqual([[5], [10]]);
    expect(words('EACHROW', 'STOCK', [[7], [12]], [[5], [5], [5]])).toContain(
      'arguments, step: 2 rows as in mass, or one row for all, are wanted, found 3',
    );
  });

  test('answers of different widths are filled up to the widest', () => {
    // One reason alone for what cannot be said, several cells for the rest.
    const rows = call('EACHROW', 'MATCH', [[0.8, 40], [0.5, 10]], [[0.6, 100], [0.2, 20]]); // prettier-ignore
    expect(rows[0]).toEqual(call('MATCH', [[0.8, 40]], [[0.6, 100]])[0]);
    expect(rows[1]).toEqual(call('MATCH', [[0.5, 10]], [[0.2, 20]])[0]);
    const one = call('EACHROW', 'STOCK', [[7], [''], [12]], 5);
    expect(one).toEqual([[5], [''], [10]]);
  });

  test('records without cells of their own stay empty, errors fill their row', () => {
    const rows = call('EACHROW', 'MATCH', [[0.8, 40], ['', null], [-1, 0], [0.8, 40]], [[0.6, 100]]); // prettier-ignore
    const width = rows[0].length;
    expect(width).toBeGreaterThan(1);
    expect(rows[3]).toEqual(rows[0]);
    expect(rows[1]).toEqual(new Array(width).fill(''));
    expect(rows[2]).toHaveLength(width);
    rows[2].forEach((cell) => {
      expect(cell).toBeInstanceOf(Refusal);
      expect((cell as Refusal).message).toContain('rim (row 1, column 1): an amount, at least 0, is wanted, found -1');
    });
  });
});

test('part and row: by name with blanks, by whole number; nothing else', () => {
  const match = (part: unknown) => call('MATCH', [[0.8, 40]], [[0.6, 100]], part);
  const parts = Object.keys(find('MATCH')!.parts);
  const whole = figures('MATCH', [[0.8, 40]], [[0.6, 100]]);
  parts.forEach((part, i) => {
    expect(match(` ${part.toUpperCase()} `)).toEqual([[whole[i]]]);
    expect(match(i + 1)).toEqual([[whole[i]]]);
  });
  expect(match(undefined)).toEqual([whole]);
  for (const wrong of [0, parts.length + 1, 1.5, '', 'nothing', true, '1'])
    expect(refusal('MATCH', [[0.8, 40]], [[0.6, 100]], wrong).message).toContain(
      `part (row 1, column 1): one of ${parts.join(', ')}, or its number from 1 to ${parts.length}, is wanted, found`,
    );
  const pair = (row: unknown) => call('PAIR', [[1, 0], [2, 0]], [[1, 0], [2, 0]], null, null, row); // prettier-ignore
  expect(pair(1)).toHaveLength(1);
  expect(pair(undefined)).toHaveLength(2);
  for (const wrong of [0, -1, 3, 1.5, '1', true])
    expect(() => pair(wrong)).toThrow(/row \(row 1, column 1\): a whole number from 1 to 2 is wanted, found/);
});

test('figures too large to be answered are refused, never infinite', () => {
  expect(figures('DIFFERENCE', [[1e15, 0]], [[1e15, 180]])[0]).toBe(2e15);
  for (const none of [refusal('SPINRATE', 1e15, 1e-300), refusal('TOLERANCE', 1e15, 1e15, 1e-300, 1e15)])
    expect([none.reason, none.message]).toEqual([
      'invalid',
      'the figures are too large, too small or too much alike for an answer',
    ]);
});

test('the clock face of shops that number the other way', () => {
  for (const yes of [true, 1, null, undefined]) expect(call('CLOCK', 135, yes)).toEqual([['4:30']]);
  for (const no of [false, 0]) expect(call('CLOCK', 135, no)).toEqual([['7:30']]);
  for (const [cell, found] of [
    [2, '2'],
    ['FALSE', 'the text "FALSE"'],
  ] as const)
    expect(words('CLOCK', 135, cell)).toBe(
      `invalid: clockwise (row 1, column 1): TRUE or FALSE is wanted, found ${found}`,
    );
});

describe('metadata', () => {
  const whole = () => metadata('https://wheels.example/reference.html');

  test('errors reach the functions, and everything is of any type, answered as a matrix', () => {
    const {functions, allowErrorForDataTypeAny} = whole();
    expect(allowErrorForDataTypeAny).toBe(true);
    for (const {id, name, parameters, result, helpUrl} of functions) {
      expect(name).toBe(id);
      expect(result).toEqual({type: 'any', dimensionality: 'matrix'});
      expect(helpUrl).toBe(`https://wheels.example/reference.html#${id.toLowerCase()}`);
      parameters.forEach(({type, description}, i) => {
        const {says, takes} = find(id)!.arguments[i];
        expect(type).toBe('any');
        expect(description.toLowerCase()).toBe(`${says}: ${takes}.`.toLowerCase());
        expect(description).toMatch(/^[^a-z]/);
      });
    }
    expect(metadata().functions.some((one) => 'helpUrl' in one)).toBe(false);
  });

  test('optional and repeating parameters are marked as such, others are not', () => {
    const {functions} = whole();
    const of = (name: string) => functions.find(({id}) => id === name)!;
    expect(of('STOCK').parameters.map((one) => one.optional)).toEqual([undefined, undefined, true]);
    expect(of('STOCK').parameters[0]).toEqual({
      name: 'mass',
      description: expect.stringMatching(/^Mass/),
      type: 'any',
      dimensionality: 'scalar',
    });
    expect(of('EACHROW').parameters.map((one) => one.repeating)).toEqual([undefined, true]);
    for (const {id, parameters} of functions) {
      const {arguments: declared} = find(id)!;
      parameters.forEach((one, i) => {
        expect([one.optional ?? false, one.repeating ?? false]).toEqual([
          declared[i].optional ?? false,
          declared[i].repeating ?? false,
        ]);
      });
    }
  });
});
