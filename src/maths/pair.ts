import {assign} from './assign';
import {match} from './match';
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
  for (const [list, name] of [
    [rims, 'rims'],
    [tires, 'tires'],
  ] as const) {
    if (list.length > MOST)
      throw invalid(`at most ${MOST} vectors are wanted in one pairing, found ${list.length}`, name);
  }
  // A tire may also go to "nowhere" when there are more tires than rims; that costs nothing and comes last.
  const spare = Math.max(0, tires.length - rims.length);
  const costs = tires.map((tire) => [
    ...rims.map((rim) => Math.abs(rim.amount - tire.amount)),
    ...new Array<number>(spare).fill(0),
  ]);
  const columns = goal === 'total' ? assign(costs)!.columns : leastWorst(costs);
  return tires.map((tire, i) => {
    const rim = columns[i];
    if (rim >= rims.length) return {rim: undefined, turn: undefined, after: undefined};
    const {turn, after} = match(rims[rim], tire);
    return {rim, turn, after};
  });
}

/**
 * Bisection over the costs that occur: the least one under which everybody can still be assigned. Costs that differ by
 * rounding alone, such as 0.5 − 0.3 and 0.8 − 0.6, are one level.
 */
function leastWorst(costs: readonly number[][]): number[] {
  const levels = [...new Set(costs.flat())].sort((a, b) => a - b);
  const near = 1e-12 * levels[levels.length - 1];
  const under = (level: number) => assign(costs.map((row) => row.map((c) => (c <= level + near ? c : Infinity))));
  let [low, high] = [0, levels.length - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (under(levels[middle])) high = middle;
    else low = middle + 1;
  }
  return under(levels[high])!.columns;
}
