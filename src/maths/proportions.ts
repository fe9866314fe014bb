import {fisherExact, normalUpper} from './distributions';

export interface Interval {
  readonly low: number;
  readonly high: number;
}

export interface Proportion extends Interval {
  readonly share: number;
}

/** Wilson's score interval of a share (Wilson 1927; NIST/SEMATECH e-Handbook 7.2.4.1). */
export function proportion(count: number, total: number, confidence: number): Proportion {
  const z = normalUpper((1 - confidence) / 2);
  const share = count / total;
  const middle = (share + (z * z) / (2 * total)) / (1 + (z * z) / total);
  const half = (z * Math.sqrt((share * (1 - share)) / total + (z * z) / (4 * total * total))) / (1 + (z * z) / total);
  return {share, low: count === 0 ? 0 : middle - half, high: count === total ? 1 : middle + half};
}

export interface Comparison extends Interval {
  readonly difference: number;
  /** Fisher's exact test, two-sided. */
  readonly p: number;
}

/**
 * Share 1 − share 2 with Newcombe's 95 % score interval without continuity correction (Newcombe 1998, method 10), and
 * Fisher's exact p that both shares are the same.
 */
export function compare(count1: number, total1: number, count2: number, total2: number): Comparison {
  const one = proportion(count1, total1, 0.95);
  const two = proportion(count2, total2, 0.95);
  const difference = one.share - two.share;
  return {
    difference,
    low: difference - Math.sqrt((one.share - one.low) ** 2 + (two.high - two.share) ** 2),
    high: difference + Math.sqrt((one.high - one.share) ** 2 + (two.share - two.low) ** 2),
    p: fisherExact(count1, total1, count2, total2),
  };
}

export interface GroupRate extends Proportion {
  readonly name: string;
  readonly count: number;
  readonly total: number;
}

/**
 * Share of flagged records by name, names without regard to case; worst first: by Wilson's low end, then by count,
 * downward, then by name. A name is shown as it first occurs.
 */
export function groupRates(
  records: readonly {readonly name: string; readonly flag: boolean}[],
  confidence: number,
  minTotal: number,
): GroupRate[] {
  const groups = new Map<string, {name: string; count: number; total: number}>();
  for (const {name, flag} of records) {
    const key = name.toLowerCase();
    const group = groups.get(key) ?? {name, count: 0, total: 0};
    group.total++;
    if (flag) group.count++;
    groups.set(key, group);
  }
  return [...groups]
    .filter(([, {total}]) => total >= minTotal)
    .map(([key, group]) => ({key, rate: {...group, ...proportion(group.count, group.total, confidence)}}))
    .sort((a, b) => b.rate.low - a.rate.low || b.rate.count - a.rate.count || (a.key < b.key ? -1 : 1))
    .map(({rate}) => rate);
}
