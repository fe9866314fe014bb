import {assign} from './assign';
import {assignFew, FEW} from './assignFew';
import {bestTurn} from './match';
import {invalid} from './refusal';
import type {Vector} from './vectors';

export type Goal = 'worst' | 'total';

export interface Paired {
  /** From 0, as in the lists given; undefined for a tire left over. */
  readonly rim: number | undefined;
  readonly turn: number | undefined;
  readonly after: number | undefined;
}

/** A fleet's whole tire store is far below this; above it the exact search would keep the worksheet waiting. */
const MOST = 300;

/**
 * Which tire on which rim at which turn: the least total of what is left, or the least worst and then the least total.
 * Rims or tires may be left over. One entry a tire. Equally good pairings: the lower rim for the earlier tire.
 */
export function pair(rims: readonly Vector[], tires: readonly Vector[], goal: Goal): Paired[] {
  notTooMany(rims, 'rims');
  notTooMany(tires, 'tires');
  const columns = goal === 'total' ? leastTotal(rims, tires) : leastWorst(costsOf(rims, tires), columnsOf)!;
  const paired = new Array<Paired>(tires.length);
  for (let i = 0; i < tires.length; i++) {
    const rim = columns[i];
    if (rim >= rims.length) paired[i] = {rim: undefined, turn: undefined, after: undefined};
    else {
      const {turn, after} = bestTurn(rims[rim], tires[i]);
      paired[i] = {rim, turn, after};
    }
  }
  return paired;
}

function notTooMany(list: readonly Vector[], name: string): void {
  if (list.length > MOST)
    throw invalid(`at most ${MOST} vectors are wanted in one pairing, found ${list.length}`, name);
}

/** Costs of few; again for every call. */
const table = new Float64Array(FEW * FEW);

function leastTotal(rims: readonly Vector[], tires: readonly Vector[]): number[] {
  const width = Math.max(rims.length, tires.length);
  if (width > FEW) return assign(costsOf(rims, tires))!.columns;
  for (let i = 0; i < tires.length; i++)
    for (let j = 0; j < width; j++)
      table[FEW * i + j] = j < rims.length ? Math.abs(rims[j].amount - tires[i].amount) : 0;
  return assignFew(table, tires.length, width)!;
}

function columnsOf(costs: readonly number[][]): number[] | undefined {
  const width = costs.length === 0 ? 0 : costs[0].length;
  if (width > FEW) return assign(costs)?.columns;
  costs.forEach((row, i) => table.set(row, FEW * i));
  return assignFew(table, costs.length, width);
}

/**
 * What each pair leaves. A tire may also go to "nowhere" when there are more tires than rims; that costs nothing and
 * comes last.
 */
function costsOf(rims: readonly Vector[], tires: readonly Vector[]): number[][] {
  const width = Math.max(rims.length, tires.length);
  const costs = new Array<number[]>(tires.length);
  for (let i = 0; i < tires.length; i++) {
    const row = new Array<number>(width);
    for (let j = 0; j < width; j++) row[j] = j < rims.length ? Math.abs(rims[j].amount - tires[i].amount) : 0;
    costs[i] = row;
  }
  return costs;
}

/** What proves a pairing: prices, and for the least worst a set of tires. */
export interface PairProof {
  /** A price for each tire, each rim, and each place for a tire left over; no pair costs less than its two prices. */
  readonly tirePrices: readonly number[];
  readonly rimPrices: readonly number[];
  readonly sparePrices: readonly number[];
  /** Tires that together have too few rims to choose from when all must stay below the worst. */
  readonly crowded: readonly boolean[];
}

export function pairProof(rims: readonly Vector[], tires: readonly Vector[], goal: Goal): PairProof {
  const costs = costsOf(rims, tires);
  const {columns, rowPrices, columnPrices} = goal === 'total' ? assign(costs)! : leastWorst(costs, assign);
  const worst = columns.reduce((most, j, i) => Math.max(most, costs[i][j]), 0);
  return {
    tirePrices: Array.from(rowPrices),
    rimPrices: Array.from(columnPrices.subarray(0, rims.length)),
    sparePrices: Array.from(columnPrices.subarray(rims.length)),
    crowded: crowded(costs.map((row) => row.map((c, j) => j >= rims.length || c < worst * (1 - 1e-9)))),
  };
}

/**
 * Rows that together have fewer columns to choose from than they are (König, Hall): the rows that alternating paths
 * reach from one that a largest matching leaves out. None when every row can be matched.
 */
function crowded(allowed: readonly boolean[][]): boolean[] {
  const owner = new Map<number, number>();
  const match = (i: number, seen: Set<number>): boolean =>
    allowed[i].some((may, j) => {
      if (!may || seen.has(j)) return false;
      seen.add(j);
      if (owner.has(j) && !match(owner.get(j)!, seen)) return false;
      owner.set(j, i);
      return true;
    });
  for (let i = 0; i < allowed.length; i++) {
    const seen = new Set<number>();
    if (match(i, seen)) continue;
    const reached = new Set([i, ...[...seen].map((j) => owner.get(j)!)]);
    return allowed.map((_, k) => reached.has(k));
  }
  return allowed.map(() => false);
}

/**
 * Bisection over the costs that occur: the least one under which everybody can still be assigned. Costs that differ by
 * rounding alone, such as 0.5 − 0.3 and 0.8 − 0.6, are one level.
 */
function leastWorst<A>(costs: readonly number[][], least: (costs: readonly number[][]) => A | undefined): A {
  const levels = [...new Set(costs.flat())].sort((a, b) => a - b);
  const near = 1e-12 * levels[levels.length - 1];
  const under = (level: number) => least(costs.map((row) => row.map((c) => (c <= level + near ? c : Infinity))));
  let [low, high] = [0, levels.length - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (under(levels[middle])) high = middle;
    else low = middle + 1;
  }
  return under(levels[high])!;
}
