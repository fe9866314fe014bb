/** Sheets laid out in different ways: the guess is right, or says that it is not sure. */
import {findHeadings, type Cells} from '../../src/workbook/guess/headings';
import {guessLayout, type Layout} from '../../src/workbook/guess/layout';
import type {Role} from '../../src/workbook/ledgerMap';
import {randomFrom} from '../support/random';

const COUNT = 16;
const numbers = (n = COUNT): number[] => Array.from({length: n}, (_, i) => i + 1);
const degrees = (n = COUNT): number[] => numbers(n).map((i) => (360 * (i - 1)) / n);

/** Readings with a spread of about `size`. */
function readings(seed: number, size: number, n = COUNT): number[] {
  const random = randomFrom(seed);
  const high = 6.28 * random();
  return Array.from(
    {length: n},
    (_, i) => Math.round(10000 * size * (0.5 * Math.cos((2 * Math.PI * i) / n - high) + 0.05 * random())) / 10000,
  );
}

/** Rows of one width, short ones filled up with blanks, as a used range comes. */
function sheet(rows: (string | number)[][]): Cells {
  const width = Math.max(...rows.map((row) => row.length));
  return rows.map((row) => [...row, ...new Array<string>(width - row.length).fill('')]);
}

const found = (layout: Layout | undefined): Partial<Record<Role, [number, number]>> =>
  Object.fromEntries(layout!.columns.map(({role, first, last}) => [role, [first, last]]));
const sure = (layout: Layout | undefined, role: Role): boolean => layout!.columns.find((c) => c.role === role)!.sure;

test('wide rows in English, three sets of readings, limits and unbalance', () => {
  const cells = sheet([
    [
      'Job',
      'Vehicle',
      'Pos',
      'Tire size',
      'TIN',
      ...numbers().map((i) => `Assembly ${i}`),
      ...numbers().map((i) => `Inner ${i}`),
      ...numbers().map((i) => `Outer ${i}`),
      'In oz',
      'In °',
      'Out oz',
      'Out °',
      'Limit',
      'Rim limit',
      'Notes',
    ],
    ...[1, 2, 3].map((i) => [
      `J${i}`,
      'Van',
      'LF',
      '205/55R16',
      'x',
      ...readings(i, 0.5),
      ...readings(i + 9, 0.2),
      ...readings(i + 20, 0.2),
      1.25,
      90,
      0.5,
      180,
      0.46,
      0.4,
      'ok',
    ]),
  ]);
  const layout = guessLayout(cells);
  expect(found(layout)).toEqual({
    Job: [0, 0],
    Vehicle: [1, 1],
    Position: [2, 2],
    'Tire size': [3, 3],
    TIN: [4, 4],
    'Assembly readings': [5, 20],
    'Inner bead seat': [21, 36],
    'Outer bead seat': [37, 52],
    Unbalance: [53, 56],
    Limits: [57, 58],
  });
  expect(layout!.columns.every((c) => c.sure)).toBe(true);
  expect(layout!.runoutUnit).toMatchObject({unit: 'mm', sure: false});
  expect(layout!.weightUnit).toMatchObject({unit: 'oz', sure: true});
});

test('merged titles above and totals below', () => {
  const cells = sheet([
    ['Runout of the week'],
    [''],
    ['measured by K.'],
    ['Order', 'Wheel', ...numbers().map((i) => `R${i}`)],
    ...[1, 2, 3, 4].map((i) => [100 + i, 'LR', ...readings(i, 0.4)]),
    ['Average', '', ...readings(50, 0.3)],
    ['Count', 4],
  ]);
  const layout = guessLayout(cells)!;
  expect([layout.headings.row, layout.headings.rows, layout.headings.firstRecord, layout.headings.lastRecord]).toEqual([
    3, 1, 4, 7,
  ]);
  expect(found(layout)).toEqual({Job: [0, 0], Position: [1, 1], 'Assembly readings': [2, 17]});
  expect(sure(layout, 'Assembly readings')).toBe(true);
});

test('two header rows: groups above, angles below', () => {
  const groups = [
    '',
    '',
    'Tire assembly (in)',
    ...new Array(15).fill(''),
    'Inboard bead seat',
    ...new Array(15).fill(''),
    'Outboard bead seat',
  ];
  const cells = sheet([
    groups,
    [
      'RO',
      'Position',
      ...degrees().map((d) => `${d}°`),
      ...degrees().map((d) => `${d}°`),
      ...degrees().map((d) => `${d}°`),
    ],
    ...[1, 2, 3].map((i) => [i, 'RF', ...readings(i, 0.02), ...readings(i + 5, 0.01), ...readings(i + 8, 0.01)]),
  ]);
  const layout = guessLayout(cells)!;
  expect(layout.headings.rows).toBe(2);
  expect(found(layout)).toMatchObject({
    Position: [1, 1],
    'Assembly readings': [2, 17],
    'Inner bead seat': [18, 33],
    'Outer bead seat': [34, 49],
  });
  expect(layout.runoutUnit).toEqual({unit: 'in', sure: true, why: 'a heading names it'});
});

test('German headings, decimal commas in the angles, millimeters named', () => {
  const cells = sheet([
    [
      'Auftrag',
      'Datum',
      'Fahrzeug',
      'Radposition',
      'Reifengröße',
      'Hersteller',
      'DOT',
      ...degrees(8).map((d) => `Rundlauf mm ${String(d).replace('.', ',')}`),
      ...degrees(8).map((d) => `Innen ${String(d).replace('.', ',')}`),
      ...degrees(8).map((d) => `Außen ${String(d).replace('.', ',')}`),
      'Unwucht innen g',
      'Winkel innen',
      'Unwucht außen g',
      'Winkel außen',
      'Grenzwert',
    ],
    ...[1, 2].map((i) => [
      i,
      46000 + i,
      'Wagen',
      'VL',
      '205/55R16',
      'A',
      'x',
      ...readings(i, 0.5, 8),
      ...readings(i, 0.2, 8),
      ...readings(i, 0.3, 8),
      20,
      45,
      10,
      200,
      0.5,
    ]),
  ]);
  const layout = guessLayout(cells)!;
  expect(found(layout)).toEqual({
    Job: [0, 0],
    Date: [1, 1],
    Vehicle: [2, 2],
    Position: [3, 3],
    'Tire size': [4, 4],
    Supplier: [5, 5],
    TIN: [6, 6],
    'Assembly readings': [7, 14],
    'Inner bead seat': [15, 22],
    'Outer bead seat': [23, 30],
    Unbalance: [31, 34],
    Limits: [35, 35],
  });
  expect(layout.runoutUnit).toMatchObject({unit: 'mm', sure: true});
  expect(layout.weightUnit).toMatchObject({unit: 'g', sure: true});
});

test('French headings', () => {
  const cells = sheet([
    [
      'Ordre',
      'Véhicule',
      'Roue',
      'Dimension',
      'Fournisseur',
      ...numbers(12).map((i) => `Faux-rond ${i}`),
      ...numbers(12).map((i) => `Intérieur ${i}`),
      ...numbers(12).map((i) => `Extérieur ${i}`),
      'Limite',
    ],
    ...[1, 2].map((i) => [
      i,
      'Camion',
      'AVG',
      '275/70R22.5',
      'B',
      ...readings(i, 0.9, 12),
      ...readings(i, 0.3, 12),
      ...readings(i, 0.3, 12),
      0.94,
    ]),
  ]);
  const layout = guessLayout(cells)!;
  expect(found(layout)).toEqual({
    Job: [0, 0],
    Vehicle: [1, 1],
    Position: [2, 2],
    'Tire size': [3, 3],
    Supplier: [4, 4],
    'Assembly readings': [5, 16],
    'Inner bead seat': [17, 28],
    'Outer bead seat': [29, 40],
    Limits: [41, 41],
  });
});

test('headings that are plain numbers, readings in inches without a unit', () => {
  const cells = sheet([['Wheel', ...degrees()], ...[1, 2, 3].map((i) => [`W${i}`, ...readings(i, 0.02)])]);
  const layout = guessLayout(cells)!;
  expect(found(layout)).toEqual({Position: [0, 0], 'Assembly readings': [1, 16]});
  expect(layout.runoutUnit).toMatchObject({unit: 'in', sure: false});
});

test('three runs without words: the order is a guess, and said to be one', () => {
  const cells = sheet([
    ['Job', ...numbers(), ...numbers(), ...numbers()],
    ...[1, 2, 3].map((i) => [i, ...readings(i, 0.5), ...readings(i, 0.2), ...readings(i, 0.2)]),
  ]);
  const layout = guessLayout(cells)!;
  expect(found(layout)).toMatchObject({
    'Assembly readings': [1, 16],
    'Inner bead seat': [17, 32],
    'Outer bead seat': [33, 48],
  });
  for (const role of ['Assembly readings', 'Inner bead seat', 'Outer bead seat'] as const)
    expect(sure(layout, role)).toBe(false);
  expect(layout.columns[0].why).toContain('confirm it');
});

test('amounts and angles without a side are unsure; a single limit serves for both', () => {
  const cells = sheet([
    ['Job', ...numbers().map((i) => `R${i}`), 'Weight 1 g', 'Angle 1', 'Weight 2 g', 'Angle 2', 'Limit'],
    ...[1, 2].map((i) => [i, ...readings(i, 0.5), 10, 20, 30, 40, 0.5]),
  ]);
  const layout = guessLayout(cells)!;
  expect(found(layout)).toMatchObject({Unbalance: [17, 20], Limits: [21, 21]});
  expect(sure(layout, 'Unbalance')).toBe(false);
  expect(sure(layout, 'Limits')).toBe(false);
});

test('two columns that could be the position: the exact word wins', () => {
  const cells = sheet([
    ['Wheel supplier', 'Wheel remark', 'Position', ...numbers().map((i) => `R${i}`)],
    ...[1, 2].map((i) => ['A', 'x', 'LF', ...readings(i, 0.5)]),
  ]);
  expect(found(guessLayout(cells))).toMatchObject({Position: [2, 2], Supplier: [0, 0]});
});

describe('what is no ledger', () => {
  test.each<[string, (string | number)[][]]>([
    ['an empty sheet', [[''], ['']]],
    [
      'prices',
      [
        ['Item', 'Value', 'Unit'],
        ['Labor', 72, 'per hour'],
        ['Weight', 0.06, 'per g'],
      ],
    ],
    [
      'text only',
      [
        ['a', 'b', 'c'],
        ['d', 'e', 'f'],
        ['g', 'h', 'i'],
      ],
    ],
    [
      'too few readings',
      [
        ['Job', 'R1', 'R2', 'R3'],
        ['a', 1, 2, 3],
        ['b', 2, 3, 4],
      ],
    ],
  ])('%s', (_, rows) => expect(guessLayout(sheet(rows))).toBeUndefined());
});

test('blank rows between records do not end them, a blank row at the end does', () => {
  const head = ['Job', ...numbers().map((i) => `R${i}`)];
  const cells = sheet([head, ['a', ...readings(1, 0.5)], [''], ['b', ...readings(2, 0.5)], [''], [''], ['note']]);
  expect(findHeadings(cells)).toMatchObject({row: 0, firstRecord: 1, lastRecord: 3});
});
