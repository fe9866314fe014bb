/** @jest-environment ./tests/host/support/environment.cjs */
import type {Workbook} from '../../src/host/book/workbook';
import {costBlock} from '../../src/pane/cost/costBlock';
import {
  assumptionsOf,
  caseOfJob,
  caseOfRecord,
  costsOf,
  stockWeight,
  tornado,
  worth,
  type Assumptions,
} from '../../src/pane/cost/costModel';
import type {LedgerRecord} from '../../src/workbook/ledger';
import {parsePrices, type Prices} from '../../src/workbook/prices';
import {openWorkbook} from '../host/support/books';
import {calculated, demoBytes, demoPrices, demoRecords} from '../support/demoLedger';

let workbook: Workbook;
let records: LedgerRecord[];
let prices: Prices;
beforeAll(async () => {
  workbook = await openWorkbook(demoBytes);
  records = demoRecords(workbook);
  const table = demoPrices(workbook);
  prices = parsePrices(table.headings, table.rows);
}, 60000);
afterAll(() => workbook.dispose());

const ofJob = (job: string): LedgerRecord[] => records.filter((record) => record.cells('Job')[0] === job);
const complete = (over: Partial<Assumptions> = {}): Assumptions => ({
  ...(assumptionsOf(prices, {}).assumptions as Assumptions),
  ...over,
});
/** The record again, further down, with other unbalance. */
const again = (record: LedgerRecord, index: number, unbalance: number[]): LedgerRecord => ({
  ...record,
  index,
  cells: (role) => (role === 'Unbalance' ? unbalance : record.cells(role)),
});
const matched = (): LedgerRecord =>
  records.find((record) => {
    const job = caseOfJob([record]);
    return job.wheels.length === 1;
  })!;

describe('prices', () => {
  test('are read from the table', () => {
    expect([...prices].map(([item, {value}]) => [item, value])).toEqual([
      ['weightPrice', 0.06],
      ['laborRate', 72],
      ['minutes', 18],
      ['comebackCost', 160],
      ['riskBefore', 0.12],
      ['riskAfter', 0.03],
    ]);
  });

  test('letter case and blanks do not matter; what is no figure is no price', () => {
    const read = parsePrices(
      ['item ', 'VALUE'],
      [
        [' labor', 60],
        ['Balance weight', 'dear'],
        ['Vehicle that comes back', -1],
      ],
    );
    expect([...read]).toEqual([['laborRate', {value: 60, unit: ''}]]);
    expect(parsePrices(['What', 'Price'], [['Labor', 60]]).size).toBe(0);
  });

  test('what is missing can be typed, and is named; no saving of weight is assumed', () => {
    expect(assumptionsOf(new Map(), {}).missing).toHaveLength(6);
    const {assumptions, missing} = assumptionsOf(prices, {laborRate: 1, weightLeft: 0.5});
    expect(missing).toEqual([]);
    expect(assumptions).toMatchObject({laborRate: 72, weightLeft: 0.5});
    expect(complete().weightLeft).toBe(1);
  });
});

describe('cases', () => {
  test('a job counts the wheels whose finding is to turn the tire', () => {
    const job = caseOfJob(ofJob('J-401'));
    expect(job.wheels.map(({position, finding}) => [position, finding])).toEqual([['RR', 'match mount']]);
    expect(job.wheels[0].before).toBe(stockWeight(job.wheels[0].record));
    expect(caseOfJob([]).notes).toEqual([
      'No wheel of this job asks for its tire to be turned, or none has its unbalance measured.',
    ]);
  });

  test('a record is counted whatever its finding, and it is said', () => {
    const accepted = caseOfRecord(records[0], ofJob('J-401'));
    expect(accepted.wheels).toHaveLength(1);
    expect(accepted.notes[0]).toMatch(/^The finding of this wheel is “accept”/);
    expect(caseOfRecord(matched(), []).notes).toEqual([]);
  });

  test('a wheel without unbalance is left out, and it is said', () => {
    const bare = again(matched(), 3, []);
    expect(caseOfRecord(bare, []).wheels).toEqual([]);
    expect(caseOfRecord(bare, []).notes[0]).toMatch(/no unbalance has been measured/);
  });

  test('a wheel measured again brings its own weight after', () => {
    const before = matched();
    const after = again(before, 90, [5, 0, 5, 0]);
    for (const of of [caseOfRecord(before, [before, after]), caseOfJob([before, after])]) {
      expect(of.wheels[0].again).toMatchObject({weight: 10});
      expect(costsOf(of, complete({weightLeft: 0.9})).weightAfter).toBe(10);
    }
    expect(caseOfRecord(after, [before, after]).wheels[0].again).toBeUndefined();
  });
});

describe('the answer', () => {
  test('by hand', () => {
    const of = caseOfJob(ofJob('J-401'));
    const {before} = of.wheels[0];
    const value = worth(of, complete({weightLeft: 0.4}));
    expect(value.saved).toBeCloseTo(0.6 * before, 12);
    expect(value.labor).toBeCloseTo(21.6, 12);
    expect(value.riskaverted).toBeCloseTo(14.4, 12);
    expect(value.net).toBeCloseTo(0.6 * before * 0.06 + 14.4 - 21.6, 12);
  });

  test('the risk of a comeback counts once for a vehicle, minutes for every tire', () => {
    const of = caseOfJob(ofJob('J-401'));
    const two = {...of, wheels: [of.wheels[0], of.wheels[0]]};
    expect(worth(two, complete()).riskaverted).toBe(worth(of, complete()).riskaverted);
    expect(worth(two, complete()).labor).toBeCloseTo(2 * worth(of, complete()).labor, 12);
  });

  test('tornado: sorted by how far the net moves, ends by moving one figure alone', () => {
    const of = caseOfJob(ofJob('J-401'));
    const assumptions = complete({weightLeft: 0.5});
    const swings = tornado(of, assumptions, 0.2);
    const widths = swings.map(({netAtLow, netAtHigh}) => Math.abs(netAtHigh - netAtLow));
    expect(widths).toEqual([...widths].sort((a, b) => b - a));
    const labor = swings.find(({item}) => item === 'laborRate')!;
    expect(labor.netAtLow - labor.netAtHigh).toBeCloseTo(2 * 0.2 * 21.6, 9);
    expect(labor.low).toBeCloseTo(57.6, 12);
    // The share of weight left cannot be told from a comeback's cost of 0: what moves nothing is left out.
    expect(tornado(of, {...assumptions, comebackCost: 0}, 0.2).map(({item}) => item)).not.toContain('riskBefore');
    expect(tornado(of, {...assumptions, riskBefore: 0.95}, 0.2).find(({item}) => item === 'riskBefore')!.high).toBe(1);
  });
});

test.each([
  ['all prices', {}],
  ['a share typed', {weightLeft: 0.4}],
])(
  'the block’s formulas give the figures of the pane: %s',
  async (_, typed) => {
    const of = caseOfJob(ofJob('J-401'));
    const {assumptions} = assumptionsOf(prices, typed);
    const value = worth(of, assumptions as Assumptions);
    const corner = {row: 4, column: 12};
    const cells = await calculated(
      workbook,
      'Start',
      corner,
      costBlock(of, prices, assumptions as Assumptions, corner)!,
    );
    const found = new Map(cells.map(([name, figure]) => [name, figure]));
    expect(found.get('Labor')).toBe(72);
    expect(found.get('What the labor costs')).toBeCloseTo(value.labor, 9);
    expect(found.get('Weight saved g')).toBeCloseTo(value.saved, 9);
    expect(found.get('Net')).toBeCloseTo(value.net, 9);
    expect(found.get('Minutes at which net is 0')).toBeCloseTo(value.breakeven!, 9);
    expect(cells.find(([name]) => name === 'Share of weight left after a match')![2]).toBe('share, assumed');
    expect(costBlock({...of, wheels: []}, prices, assumptions as Assumptions, corner)).toBeUndefined();
  },
  30000,
);

test('a wheel measured again is named by its own cells', async () => {
  const before = records.findIndex((record) => caseOfJob([record]).wheels.length === 1);
  const later = records.findIndex((record, i) => i > before && stockWeight(record) !== undefined);
  const second: LedgerRecord = {
    ...records[later],
    cells: (role) => (role === 'Position' ? records[before] : records[later]).cells(role),
  };
  const of = caseOfRecord(records[before], [records[before], second]);
  const assumptions = complete();
  const corner = {row: 40, column: 12};
  const cells = await calculated(workbook, 'Start', corner, costBlock(of, prices, assumptions, corner)!);
  expect(cells.find(([name]) => name === 'Together')!.slice(1, 3)).toEqual([
    expect.closeTo(stockWeight(records[before])!, 9),
    expect.closeTo(stockWeight(records[later])!, 9),
  ]);
}, 30000);
