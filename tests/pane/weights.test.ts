/** @jest-environment ./tests/host/support/environment.cjs */
import type {Workbook} from '../../src/host/book/workbook';
import {stockPair} from '../../src/maths/stockPair';
import {askedTurn, remount} from '../../src/pane/wheel/remountModel';
import {wheelModel} from '../../src/pane/wheel/model';
import {weightsBlock} from '../../src/pane/wheel/weightsBlock';
import {
  firstChoice,
  largeCorrection,
  needed,
  placeWeights,
  standing,
  verdict,
  type Needed,
  type WeightChoice,
} from '../../src/pane/wheel/weightsModel';
import type {LedgerRecord} from '../../src/workbook/ledger';
import {openWorkbook} from '../host/support/books';
import {calculated, demoBytes, demoLedger, demoRecords} from '../support/demoLedger';

let workbook: Workbook;
let records: LedgerRecord[];
beforeAll(async () => {
  workbook = await openWorkbook(demoBytes);
  records = demoRecords(workbook);
}, 60000);
afterAll(() => workbook.dispose());

const need = (record: LedgerRecord): Needed => {
  const found = needed(record);
  if ('missing' in found) throw new Error(found.missing);
  return found.needed;
};

const SQUARE: Needed = {
  required: [
    {amount: 20, angle: 0},
    {amount: 20, angle: 180},
  ],
  planes: [
    {position: -80, radius: 200},
    {position: 80, radius: 200},
  ],
  step: 5,
  massUnit: 'g',
  lengthUnit: 'mm',
  clockwise: true,
  limits: undefined,
  plusminus: undefined,
};

describe('what is needed', () => {
  test('is read from the record', () => {
    expect(need(records[0])).toMatchObject({
      planes: [
        {position: -85, radius: 205},
        {position: 75, radius: 200},
      ],
      step: 5,
      massUnit: 'g',
      lengthUnit: 'mm',
      limits: undefined,
    });
  });

  test('is said to be missing, in words', () => {
    const without = (over: Partial<Record<string, (string | number)[]>>): LedgerRecord => ({
      ...records[0],
      cells: (role) => over[role] ?? records[0].cells(role),
    });
    expect(needed(without({Unbalance: ['', '', '', '']}))).toEqual({
      missing: 'No unbalance has been measured for this record.',
    });
    expect(needed(without({Unbalance: [10, 'top', 5, 30]}))).toMatchObject({
      missing: expect.stringMatching(/four figures/),
    });
    expect(needed(without({Planes: []}))).toMatchObject({missing: expect.stringMatching(/planes .* not known/)});
    expect(needed(without({Planes: [5, 200, 5, 200]}))).toMatchObject({
      missing: expect.stringMatching(/different positions/),
    });
  });
});

describe('weights', () => {
  test('exact weights in the ledger’s planes are those required and leave nothing', () => {
    const {weights, left} = placeWeights(SQUARE, {...firstChoice(SQUARE), exact: true});
    expect(weights.map(({weight}) => weight)).toEqual(SQUARE.required);
    expect(left.staticMass).toBeCloseTo(0, 12);
    expect(left.coupleMass).toBeCloseTo(0, 12);
  });

  test('exact weights in moved planes leave nothing either', () => {
    const planes = [
      {position: -60, radius: 180},
      {position: 70, radius: 210},
    ] as const;
    const {weights, left} = placeWeights(SQUARE, {...firstChoice(SQUARE), exact: true, planes});
    // The moment 20 · 200 · 160 about the inboard plane, over 130 of separation and 210 of radius.
    expect(weights[1].weight.amount).toBeCloseTo((20 * 200 * 160) / 130 / 210, 9);
    expect(left.staticMass).toBeCloseTo(0, 9);
    expect(left.coupleMass).toBeCloseTo(0, 9);
  });

  test('stock sizes are those of the search, on every wheel of the demo', () => {
    for (const record of records) {
      const found = needed(record);
      if ('missing' in found) continue;
      const {required, planes, step} = found.needed;
      const pair = stockPair(required, planes, step);
      const {weights, left} = placeWeights(found.needed, firstChoice(found.needed));
      expect(weights.map(({weight}) => weight)).toEqual([pair.inboard, pair.outboard]);
      expect(left.static.amount).toBeCloseTo(pair.static, 6);
      expect(left.couple.amount).toBeCloseTo(pair.couple, 3);
    }
  });

  test('one plane takes the static part and leaves the couple', () => {
    const one = {...firstChoice(SQUARE), fitting: 'one plane'} as const;
    const couple = placeWeights(SQUARE, one);
    expect(couple.weights).toHaveLength(1);
    expect(couple.weights[0].weight.amount).toBe(0);
    expect(couple.left.coupleMass).toBeCloseTo(20, 9);
    const statical = {...SQUARE, required: [SQUARE.required[0], {amount: 20, angle: 0}]} as unknown as Needed;
    const {weights, left} = placeWeights(statical, one);
    expect(weights[0].weight).toEqual({amount: 40, angle: 0});
    expect(left.coupleMass).toBeCloseTo(0, 9);
  });

  test('behind spokes: two weights at spokes either side, the inboard one free', () => {
    const choice: WeightChoice = {...firstChoice(SQUARE), fitting: 'behind spokes', spokes: 5, firstSpoke: 10};
    const {weights} = placeWeights(SQUARE, choice);
    expect(weights.map(({weight}) => weight.angle)).toEqual([0, 154, 226]);
    expect(weights.every(({weight}) => weight.amount % 5 === 0)).toBe(true);
    expect(() => placeWeights(SQUARE, {...choice, spokes: 2})).toThrow(/spokes either side/);
  });

  test('two planes at one position are refused', () => {
    const planes = [SQUARE.planes[0], SQUARE.planes[0]] as const;
    expect(() => placeWeights(SQUARE, {...firstChoice(SQUARE), planes})).toThrow(/one position/);
  });

  test('a large correction is remarked on passenger steps only', () => {
    const heavy = {...SQUARE, required: [{amount: 61, angle: 0}, SQUARE.required[1]]} as unknown as Needed;
    expect(largeCorrection(heavy)).toMatch(/^More than 60 g/);
    expect(largeCorrection(SQUARE)).toBeUndefined();
    expect(largeCorrection({...heavy, step: 60})).toBeUndefined();
  });
});

describe('against limits', () => {
  test.each([
    [1, 2, 0.5, 'within'],
    [1.5, 2, 0.5, 'within'],
    [1.6, 2, 0.5, 'too close to tell'],
    [2.4, 2, 0.5, 'too close to tell'],
    [2.6, 2, 0.5, 'exceeds'],
    [2, 2, 0, 'within'],
    [2.1, 2, 0, 'exceeds'],
  ])('%d to %d ± %d: %s', (value, limit, plusminus, expected) =>
    expect(standing(value, limit, plusminus)).toBe(expected),
  );

  test('the verdict names both figures and whether the uncertainty counts', () => {
    const placed = placeWeights(SQUARE, {...firstChoice(SQUARE), fitting: 'one plane'});
    expect(verdict(placed.left, SQUARE)).toMatch(/^No limits/);
    expect(verdict(placed.left, {...SQUARE, limits: {static: 5, couple: 10}})).toBe(
      'Static, 0 g, is within its limit of 5 g; couple, 20 g, exceeds its limit of 10 g. The uncertainty of the measured unbalance is not known and is not counted.',
    );
    expect(verdict(placed.left, {...SQUARE, limits: {static: 5, couple: 21}, plusminus: 2})).toMatch(
      /couple, 20 g, is too close to tell .* ±2 g is counted/,
    );
  });
});

describe('written into the sheet', () => {
  const CHOICES: readonly Partial<WeightChoice>[] = [
    {},
    {exact: true},
    {fitting: 'one plane'},
    {fitting: 'one plane', exact: true},
    {fitting: 'behind spokes', spokes: 7, firstSpoke: 12},
    {fitting: 'behind spokes', exact: true},
    {
      planes: [
        {position: -60, radius: 180},
        {position: 70, radius: 190},
      ],
    },
    {
      fitting: 'behind spokes',
      planes: [
        {position: -60, radius: 180},
        {position: 70, radius: 190},
      ],
    },
  ];
  test.each(CHOICES.map((choice) => [JSON.stringify(choice), choice] as const))(
    'the formulas give the figures of the pane: %s',
    async (_, over) => {
      const record = records[1];
      const found = need(record);
      const choice = {...firstChoice(found), ...over};
      const {weights, left} = placeWeights(found, choice);
      const corner = {row: 9, column: 20};
      const cells = await calculated(
        workbook,
        'Start',
        corner,
        weightsBlock(record, 'Weights', found, choice, corner)!,
      );
      const fit = cells.filter(([name]) => String(name).startsWith('To fit'));
      expect(fit).toHaveLength(weights.length);
      fit.forEach(([, mass, angle, position, radius], i) => {
        expect(mass).toBeCloseTo(weights[i].weight.amount, 9);
        expect(angle).toBeCloseTo(weights[i].weight.angle, 9);
        expect([position, radius]).toEqual([weights[i].position, weights[i].radius]);
      });
      const [statical, couple] = cells.filter(([name]) => String(name).startsWith('Left'));
      expect(statical[1]).toBeCloseTo(left.static.amount, 6);
      expect(couple[1]).toBeCloseTo(left.couple.amount, 4);
      // What a choice before may have left behind is cleared.
      const blank = cells.map((row) => row.map(() => ({content: ''})));
      await calculated(workbook, 'Start', corner, blank);
    },
    30000,
  );
});

describe('after a remount', () => {
  const RAD = Math.PI / 180;
  const turn = (amount: number, angle: number) =>
    Array.from({length: 16}, (_, i) => (amount / 2) * Math.cos((22.5 * i - angle) * RAD) + 0.003 * (-1) ** i);
  const sum = (a: number[], b: number[]) => a.map((v, i) => v + b[i]);
  const record = (assembly: number[]): LedgerRecord => ({
    ledger: demoLedger,
    index: 0,
    place: () => undefined,
    cells: (role) =>
      ({
        'Assembly readings': assembly,
        'Inner bead seat': turn(0.6, 40),
        'Outer bead seat': turn(0.6, 40),
        Limits: [0.46, 0.6, 2],
      })[role as string] ?? [],
  });
  const before = record(sum(turn(0.6, 40), turn(0.5, 100)));
  const asked = askedTurn(wheelModel(before));

  test('turned as asked', () => {
    expect(asked).toBe(120);
    const found = remount(before, record(sum(turn(0.6, 40), turn(0.5, 220))), asked);
    if (typeof found === 'string') throw new Error(found);
    expect(found.verified.finding).toBe('as predicted');
    expect(found.predicted.amount).toBeCloseTo(0.1, 3);
    expect(found.reallyTurned).toBeCloseTo(120, 1);
  });

  test('turned by another angle', () => {
    const found = remount(before, record(sum(turn(0.6, 40), turn(0.5, 190))), asked);
    if (typeof found === 'string') throw new Error(found);
    expect(found.verified.finding).toBe('turned wrong');
    expect(found.reallyTurned).toBeCloseTo(90, 1);
  });

  test('seated otherwise', () => {
    const found = remount(before, record(sum(turn(0.6, 40), turn(0.9, 220))), asked);
    if (typeof found === 'string') throw new Error(found);
    expect(found.verified.finding).toBe('seating or other');
  });

  test('nothing to compare', () => {
    expect(remount(record([]), before, asked)).toMatch(/^The record before has no figures/);
    expect(remount(before, record(new Array(16).fill('')), asked)).toMatch(/readings/);
  });
});
