/** What the pane reads and writes of a working. */
import {DOMParser} from '@xmldom/xmldom';
import {CATALOGUE, find} from '../../src/functions/catalogue';
import type {Raw} from '../../src/functions/cells';
import {callOf} from '../../src/functions/columns';
import {Refusal} from '../../src/maths/refusal';
import {cellAddress, letters, quoted} from '../../src/working/addresses';
import {MOST_CELLS} from '../../src/working/sheet';
import {
  loadWorkings,
  workingAtOnce,
  workingOf,
  writeWorking,
  type RangeOfSheet,
  type Working,
  type WorkingSheet,
} from '../../src/working/workingOf';
import {parseCall} from '../support/formula';

beforeAll(loadWorkings);

const range = (sheet: string, row: number, column: number, rows: number, columns: number): RangeOfSheet => ({
  sheet,
  row,
  column,
  rows,
  columns,
});

const written = (working: Working, more: {answer?: RangeOfSheet; firstRow?: number} = {}): WorkingSheet => {
  const sheet = writeWorking(working, {title: 'Title', note: 'Note', firstRow: 0, ...more});
  if ('refused' in sheet) throw new Error(sheet.refused);
  return sheet;
};

const formulas = (sheet: WorkingSheet): string[] => sheet.cells.flatMap(({formula}) => formula ?? []);

describe('reading', () => {
  test('steps with formula, figures put in, value, unit and source', async () => {
    const rims = range('Wheels', 4, 1, 1, 2);
    const working = await workingOf('wheel.match', [[[0.8, 40]], [[0.6, 100]]], (argument) =>
      argument === 'rim' ? rims : undefined,
    );
    expect(working.name).toBe('MATCH');
    expect(working.steps.map(({symbol}) => symbol)).toEqual(['R', 'ρ', 'T', 'τ', 'turn', 'after', 'before', 'gain']);
    const [amount, angle, tire, , turn, , before] = working.steps;
    expect(amount).toMatchObject({
      step: 1,
      says: 'rim: amount',
      value: 0.8,
      unit: 'as rim',
      kind: 'input',
      addresses: ["'Wheels'!$B$5"],
      answers: [],
      typeset: undefined,
    });
    expect(angle.addresses).toEqual(["'Wheels'!$C$5"]);
    expect(tire.addresses).toEqual([]);
    expect(turn).toMatchObject({
      formula: 'IF(R = 0 or T = 0, 0, turned(180 + ρ − τ))',
      withFigures: 'IF(0.8 = 0 or 0.6 = 0, 0, turned(180 + 40 − 100))',
      value: 120,
      unit: '°',
      kind: 'formula',
    });
    expect(turn.answers).toMatchObject([{part: 'turn', row: 1, around: 360}]);
    expect(before.withFigures).toContain('cos(40 − 100)');
    expect(working.figures.map(({part, cell, worked, answered}) => [part, cell, worked === answered])).toEqual([
      ['turn', 0, true],
      ['after', 1, true],
      ['before', 2, true],
      ['gain', 3, true],
    ]);
  });

  test('a column has its values, an empty cell none', async () => {
    const {steps} = await workingOf('TIR', [[[0.1, '', 0.4]]], () => range('A', 0, 0, 1, 3));
    expect(steps[0]).toMatchObject({values: [0.1, NaN, 0.4], value: undefined, kind: 'input'});
    expect(steps[0].addresses).toEqual(["'A'!$A$1", "'A'!$B$1", "'A'!$C$1"]);
  });

  test('part and row leave the figures asked for', () => {
    const only = workingAtOnce('MATCH', [[[0.8, 40]], [[0.6, 100]], 'AFTER']);
    expect(only.figures.map(({part, cell}) => [part, cell])).toEqual([['after', 0]]);
    const readings: Raw = [[0.5, 0.3, 0, -0.3, -0.5, -0.2, 0, 0.3]];
    const column = workingAtOnce('HARMONICS', [readings, 3, null, 2]);
    expect(column.figures.map(({part, row, cell}) => [part, row, cell])).toEqual([
      ['amount', 1, 0],
      ['amount', 2, 1],
      ['amount', 3, 2],
    ]);
    const row = workingAtOnce('HARMONICS', [readings, 3, null, null, 2]);
    expect(row.figures.map(({part, row: r, cell}) => [part, r, cell]).slice(0, 2)).toEqual([
      ['order', 2, 0],
      ['amount', 2, 1],
    ]);
  });

  test('what the function refuses its working refuses, in the same words', async () => {
    await expect(workingOf('MATCH', [[[0.8, 'x']], [[0.6, 100]]])).rejects.toThrow(
      'rim (row 1, column 2): an angle in degrees is wanted, found the text "x"',
    );
    await expect(workingOf('TURNWINDOW', [[[1, 0]], [[0.1, 0]], 0.2])).rejects.toBeInstanceOf(Refusal);
    await expect(workingOf('NOTHING', [])).rejects.toThrow('there is no function NOTHING');
  });

  test.each(CATALOGUE.map((declared) => [declared.name, declared] as const))(
    '%s: its example is typeset as well-formed MathML, every figure answered',
    (_, declared) => {
      const {name, args} = parseCall(declared.example.formula);
      const working = workingAtOnce(name, callOf(declared, args));
      for (const {typeset, typesetWithFigures, kind, values} of working.steps) {
        if (kind !== 'formula') continue;
        for (const text of values === undefined ? [typeset, typesetWithFigures] : [typeset]) {
          const document = new DOMParser().parseFromString(`<math>${text}</math>`, 'text/xml');
          expect(document.documentElement!.tagName).toBe('math');
          expect(text).not.toMatch(/undefined|NaN/);
        }
      }
      if (name === 'WORKING') return;
      expect(new Set(working.figures.map(({cell}) => cell)).size).toBe(working.answer.flat().length);
    },
  );
});

describe('writing', () => {
  const sources = new Map([
    ['rim', range("Bob's wheels", 4, 1, 1, 2)],
    ['tire', range('Tires', 0, 25, 2, 1)],
  ]);
  const match = () => workingAtOnce('MATCH', [[[0.8, 40]], [[0.6], [100]]], (argument) => sources.get(argument));

  test('inputs are the user’s own cells, sheets in quotes', () => {
    const sheet = written(match());
    expect(formulas(sheet).slice(0, 4)).toEqual([
      "'Bob''s wheels'!$B$5",
      "'Bob''s wheels'!$C$5",
      "'Tires'!$Z$1",
      "'Tires'!$Z$2",
    ]);
    expect(formulas(sheet)[4]).toBe('IF(OR($E$5=0,$E$7=0),0,(180+$E$6-$E$8)-360*INT((180+$E$6-$E$8)/360))');
  });

  test('last the difference to the function’s own cells, or to its figures of today', () => {
    const beside = written(match(), {answer: range('Wheels', 9, 3, 1, 1)});
    const own = beside.differences.map(({row}) => beside.cells.find((c) => c.row === row && c.column === 3)!);
    expect(own.map(({formula}) => formula)).toEqual([
      "'Wheels'!$D$10",
      "'Wheels'!$E$10",
      "'Wheels'!$F$10",
      "'Wheels'!$G$10",
    ]);
    const last = beside.cells[beside.cells.length - 1];
    expect(last).toMatchObject({style: 'difference', expected: 0});
    const alone = written(match());
    const figures = alone.differences.map(({row}) => alone.cells.find((c) => c.row === row && c.column === 3)!);
    expect(figures.map(({value}) => value)).toEqual([120, 0.8 - 0.6, expect.any(Number), expect.any(Number)]);
  });

  test('a second working goes below the first', () => {
    const first = written(match());
    const second = written(match(), {firstRow: first.rows + 1});
    expect(Math.min(...second.cells.map(({row}) => row))).toBe(first.rows + 1);
    expect(formulas(second)[4]).toContain(`$E$${first.rows + 1 + 5}=0`);
  });

  test('no formula of any function needs what Excel 2016 lacks, or an array entry', () => {
    const known = new Set(
      (
        'ABS AND ASIN ATAN2 COS COUNT DATE DEGREES EXP FDIST HYPGEOMDIST IF INDEX INT ISERROR ISNA ISNUMBER LEN ' +
        'LINEST MATCH MAX MID MIN N NA NORMSINV NOT OR PI RADIANS ROUND SIN SQRT SUBSTITUTE SUM SUMPRODUCT TEXT TINV ' +
        'TRIM UPPER VALUE'
      ).split(' '),
    );
    const used = new Set<string>();
    for (const declared of CATALOGUE) {
      const {name, args} = parseCall(declared.example.formula);
      for (const formula of formulas(written(workingAtOnce(name, callOf(declared, args))))) {
        const code = formula.replace(/"[^"]*"|'[^']*'/g, '');
        for (const [, called] of code.matchAll(/([A-Z][A-Z0-9.]*)\(/g)) used.add(called);
        expect(code).not.toMatch(/[{}@]|_xl/);
        expect(formula.length).toBeLessThan(8192);
      }
    }
    expect([...used].filter((called) => !known.has(called))).toEqual([]);
  });

  test('TRUE and FALSE count, empty cells stay empty', () => {
    const names = range('R', 0, 0, 3, 1);
    const working = workingAtOnce(
      'GROUPRATE',
      [
        [['a'], [''], ['a']],
        [[true], [false], [false]],
      ],
      (argument) => ({
        ...names,
        column: argument === 'names' ? 0 : 1,
      }),
    );
    const all = formulas(written(working));
    expect(all).toContain(`IF('R'!$A$2="","",'R'!$A$2)`);
    expect(all).toContain(`IF('R'!$B$1="","",N('R'!$B$1))`);
  });

  test('one that would be too large is refused in words, and WHEEL.WORKING is named', () => {
    const rows = Array.from({length: 400}, (_, i) => [i + 1, 10]);
    const sheet = writeWorking(workingAtOnce('EACHROW', ['MATCH', [rows, [[1, 2]]] as unknown as Raw]), {
      title: '',
      note: '',
      firstRow: 0,
    });
    expect(sheet).toEqual({refused: expect.stringMatching(/^The working of this WHEEL\.EACHROW would take \d+ cells/)});
    expect('refused' in sheet && sheet.refused).toContain(`more than ${MOST_CELLS}`);
    expect('refused' in sheet && sheet.refused).toContain('WHEEL.WORKING');
  });
});

describe('EACHROW', () => {
  test('of more records than a list of arguments has places for, the first ones and how many more there are', () => {
    const masses = Array.from({length: 200_000}, () => [12]);
    const {steps} = workingAtOnce('EACHROW', ['STOCK', [masses, [[5]]] as unknown as Raw]);
    expect(steps.at(-1)).toMatchObject({
      value: 199_800,
      says: 'records after the first 200, which are not written out here',
    });
  });

  test('each record’s steps with its own cells; an empty record has none, a failing one says why', () => {
    const working = workingAtOnce(
      'EACHROW',
      [
        'MATCH',
        [
          [
            [0.8, 40],
            ['', ''],
            [-1, 0],
          ],
          [[0.6, 100]],
        ] as unknown as Raw,
      ],
      (argument) => (argument === 'arguments 1' ? range('W', 1, 0, 3, 2) : range('W', 0, 5, 1, 2)),
    );
    const by = new Map(working.steps.map((step) => [step.symbol, step]));
    expect(by.get('R_row1')).toMatchObject({value: 0.8, addresses: ["'W'!$A$2"]});
    expect(by.get('T_row1')).toMatchObject({value: 0.6, addresses: ["'W'!$F$1"]});
    expect(by.has('R_row2')).toBe(false);
    expect(by.get('refused_row3')!.says).toMatch(/^record 3: rim .*found -1$/);
    expect(working.figures.filter(({row}) => row > 8).map(({worked, answered}) => [worked, answered])).toEqual(
      Array.from({length: 4}, () => [NaN, NaN]),
    );
  });

  test('of very many records the first are written out, and how many are left is said', () => {
    const rows = Array.from({length: 203}, (_, i) => [i + 1]);
    const {steps, figures} = workingAtOnce('EACHROW', ['STOCK', [rows, 5] as unknown as Raw]);
    expect(figures).toHaveLength(200);
    expect(steps[steps.length - 1]).toMatchObject({symbol: 'more', value: 3});
  });
});

describe('what has nothing to show', () => {
  const value = (working: Working, symbol: string) => working.steps.find((step) => step.symbol === symbol)!.value;

  test('equal readings with one missing have no high point, as rounding has none', () => {
    for (const [name, angle] of [
      ['HARMONIC', 'angle'],
      ['ROUNDNESS', 'angle'],
    ]) {
      const working = workingAtOnce(name, [[[1, '', 1, 1, 1, 1, 1, 1]]]);
      expect([name, value(working, angle)]).toEqual([name, 0]);
    }
  });

  test('a flat curve has no extremes', () => {
    const flat: Raw = [[0, 0, 0, 0, 0, 0]];
    const working = workingAtOnce('ASSESSREADINGS', [flat, flat, flat, [[1, 1, 1]], 1]);
    expect(value(working, 'total')).toBe(0);
    expect(value(working, 'finding')).toBe('accept');
  });

  test('in a working of several records a number such as 1e-12 is no symbol', () => {
    const spins: Raw = [
      [1.5, 0, 0.5, 0, 0.9, 0],
      [1.4, 0, 0.5, 10, 0.9, 0],
    ];
    const turns = (list: number[]): Raw => [list];
    const working = workingAtOnce('EACHROW', [
      'UNTANGLE',
      [spins, turns([0, 180, 0]), turns([0, 0, 180])] as unknown as Raw,
    ]);
    expect(working.figures).toHaveLength(14);
    // Angles are compared around the circle: 360 is 0.
    for (const {worked, answered} of working.figures) {
      const apart = (worked as number) - (answered as number);
      expect(apart - 360 * Math.round(apart / 360)).toBeCloseTo(0, 9);
    }
  });
});

describe('guards', () => {
  const value = (working: Working, symbol: string) => working.steps.find((step) => step.symbol === symbol)!.value;

  test('a proof holds for what was found', () => {
    for (const [name, symbol, args] of [
      ['MATCHCURVE', 'proved', [[[0.4, 0.2, -0.2, -0.4, -0.2, 0.2]], [[0.4, 0.6, 0.2, -0.4, -0.6, -0.2]], 2]],
      ['PAIR', 'provedworst', [[[0.2, 0, 0.5, 0]], [[0.5, 90, 0.3, 0]]]],
      [
        'PLACE',
        'proved',
        [
          [[0.5, 0.2]],
          [[1, 2]],
          null,
          [
            [true, true],
            [true, true],
          ],
        ],
      ],
      ['ROUNDNESS', 'proved', [[[0.5, 0.3, 0, -0.3, -0.5, -0.2, 0, 0.3]], 'MZ']],
    ] as const) {
      expect([name, value(workingAtOnce(name, args as unknown as Raw[]), symbol)]).toEqual([name, 1]);
    }
  });

  test('a declaration without a working does not exist', () => {
    for (const {working} of CATALOGUE) expect(typeof working).toBe('function');
    expect(find('MATCH')!.working()).toBeInstanceOf(Promise);
  });
});

test('addresses', () => {
  expect([0, 25, 26, 701, 702, 16383].map(letters)).toEqual(['A', 'Z', 'AA', 'ZZ', 'AAA', 'XFD']);
  expect(quoted("Bob's")).toBe("'Bob''s'");
  expect(cellAddress(range('A', 1, 2, 2, 3), 4)).toBe("'A'!$D$3");
  expect(cellAddress(range('A', 1, 2, 2, 3), 6)).toBeUndefined();
});
