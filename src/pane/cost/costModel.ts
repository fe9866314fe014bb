/** Is turning a tire on its rim worth it? For a record or all wheels of a job. No Excel and no screen in here. */
import {matchValue, type MatchCosts, type MatchValue} from '../../maths/money';
import type {Finding} from '../../maths/assess';
import type {CellValue, LedgerRecord} from '../../workbook/ledger';
import type {PriceItem, Prices} from '../../workbook/prices';
import {wheelModel} from '../wheel/model';
import {firstChoice, needed, placeWeights} from '../wheel/weightsModel';

/** A wheel whose tire is turned, with what it weighs in balance weights. */
export interface CostWheel {
  readonly record: LedgerRecord;
  readonly position: string;
  readonly finding: Finding | undefined;
  /** Stock weights that it needs as it is. */
  readonly before: number;
  /** The same wheel measured again after the work, and what it needs then. */
  readonly again: {readonly record: LedgerRecord; readonly weight: number} | undefined;
}

export interface CostCase {
  readonly title: string;
  readonly massUnit: string;
  readonly wheels: readonly CostWheel[];
  /** What the reader should know of the wheels, in words. */
  readonly notes: readonly string[];
}

const text = (cell: CellValue | undefined): string => String(cell ?? '').trim();
const alike = (cell: CellValue | undefined): string => text(cell).toLowerCase();

/** All stock weights of a wheel together; undefined where its unbalance or planes are not known. */
export function stockWeight(record: LedgerRecord): number | undefined {
  const found = needed(record);
  if ('missing' in found) return undefined;
  const {weights} = placeWeights(found.needed, firstChoice(found.needed));
  return weights.reduce((sum, {weight}) => sum + weight.amount, 0);
}

const positionOf = (record: LedgerRecord): string =>
  text(record.cells('Position')[0]) || `row ${record.ledger.body.row + record.index + 1}`;

const findingOf = (record: LedgerRecord): Finding | undefined => wheelModel(record).parts?.assessed?.finding;

function costWheel(record: LedgerRecord, later: readonly LedgerRecord[], notes: string[]): CostWheel | undefined {
  const position = positionOf(record);
  const before = stockWeight(record);
  if (before === undefined) {
    notes.push(`${position}: no unbalance has been measured, so its weights are not counted.`);
    return undefined;
  }
  const again = later.flatMap((next) => {
    const weight = stockWeight(next);
    return weight === undefined ? [] : [{record: next, weight}];
  })[0];
  return {record, position, finding: findingOf(record), before, again};
}

/** One record; records of the same job and position below it are the wheel measured again. */
export function caseOfRecord(record: LedgerRecord, ofJob: readonly LedgerRecord[]): CostCase {
  const notes: string[] = [];
  const position = alike(record.cells('Position')[0]);
  const later = ofJob.filter(
    (other) => position !== '' && other.index > record.index && alike(other.cells('Position')[0]) === position,
  );
  const wheel = costWheel(record, later, notes);
  const finding = findingOf(record);
  if (finding !== 'match mount') {
    notes.push(
      finding === undefined
        ? 'This record has no finding; the figures are those of turning its tire all the same.'
        : `The finding of this wheel is “${finding}”: turning its tire is not what it asks for. The figures are those of turning it all the same.`,
    );
  }
  return {
    title: [text(record.cells('Job')[0]), positionOf(record)].filter((word) => word !== '').join(' · '),
    massUnit: record.ledger.map.weightUnit,
    wheels: wheel === undefined ? [] : [wheel],
    notes,
  };
}

/** All wheels of a job whose finding is to turn the tire. Of a wheel measured again the record before the work counts. */
export function caseOfJob(records: readonly LedgerRecord[]): CostCase {
  const notes: string[] = [];
  const byPosition = new Map<string, LedgerRecord[]>();
  for (const record of records) {
    const key = alike(record.cells('Position')[0]) || `row ${record.index}`;
    byPosition.set(key, [...(byPosition.get(key) ?? []), record]);
  }
  const wheels = [...byPosition.values()].flatMap((list) => {
    const at = list.findIndex((record) => findingOf(record) === 'match mount');
    if (at < 0) return [];
    const wheel = costWheel(list[at], list.slice(at + 1), notes);
    return wheel === undefined ? [] : [wheel];
  });
  if (wheels.length === 0)
    notes.push('No wheel of this job asks for its tire to be turned, or none has its unbalance measured.');
  const [first] = records;
  return {
    title: text(first?.cells('Job')[0]),
    massUnit: first?.ledger.map.weightUnit ?? '',
    wheels,
    notes,
  };
}

/** What the answer rests on besides the measurements. */
export type Assumptions = Readonly<Record<PriceItem, number>>;

/** Weight left after a match when nobody has said: all of it, so that no saving is claimed that was not measured. */
export const WEIGHT_LEFT = 1;

/** Figures of the table, or those typed where it has none; and the items that neither has. */
export function assumptionsOf(
  prices: Prices,
  typed: Partial<Record<PriceItem, number | undefined>>,
): {readonly assumptions: Partial<Assumptions>; readonly missing: readonly PriceItem[]} {
  const items: readonly PriceItem[] = [
    'weightPrice',
    'laborRate',
    'minutes',
    'comebackCost',
    'riskBefore',
    'riskAfter',
    'weightLeft',
  ];
  const assumptions: Partial<Record<PriceItem, number>> = {};
  for (const item of items) {
    const value = prices.get(item)?.value ?? typed[item] ?? (item === 'weightLeft' ? WEIGHT_LEFT : undefined);
    if (value !== undefined) assumptions[item] = value;
  }
  return {assumptions, missing: items.filter((item) => assumptions[item] === undefined)};
}

/** What MATCHVALUE takes, for all wheels together. The risk of a comeback is the vehicle's and counts once. */
export function costsOf({wheels}: CostCase, a: Assumptions): MatchCosts {
  const sum = (of: (wheel: CostWheel) => number): number => wheels.reduce((total, wheel) => total + of(wheel), 0);
  return {
    weightBefore: sum(({before}) => before),
    weightAfter: sum(({before, again}) => again?.weight ?? before * a.weightLeft),
    weightPrice: a.weightPrice,
    minutes: a.minutes * wheels.length,
    laborRate: a.laborRate,
    riskBefore: a.riskBefore,
    riskAfter: a.riskAfter,
    comebackCost: a.comebackCost,
  };
}

export const worth = (of: CostCase, assumptions: Assumptions): MatchValue => matchValue(costsOf(of, assumptions));

/** How the net moves when one assumption moves and the others stay. */
export interface Swing {
  readonly item: PriceItem;
  readonly low: number;
  readonly high: number;
  readonly netAtLow: number;
  readonly netAtHigh: number;
}

const SHARES: readonly PriceItem[] = ['riskBefore', 'riskAfter'];

/** Every assumption moved down and up by a share of itself; the one that moves the net most comes first. */
export function tornado(of: CostCase, assumptions: Assumptions, share: number): Swing[] {
  const {net} = worth(of, assumptions);
  return (Object.keys(assumptions) as PriceItem[])
    .map((item): Swing => {
      const most = SHARES.includes(item) ? 1 : Infinity;
      const [low, high] = [1 - share, 1 + share].map((factor) => Math.min(most, assumptions[item] * factor));
      const at = (value: number): number => worth(of, {...assumptions, [item]: value}).net;
      return {item, low, high, netAtLow: at(low), netAtHigh: at(high)};
    })
    .filter(({netAtLow, netAtHigh}) => netAtLow !== net || netAtHigh !== net)
    .sort((a, b) => Math.abs(b.netAtHigh - b.netAtLow) - Math.abs(a.netAtHigh - a.netAtLow));
}
