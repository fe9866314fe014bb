/**
 * The statistics distributions that the functions need, from stdlib (Apache-2.0), behind names that say what is asked.
 */
import betainc from '@stdlib/math-base-special-betainc';
import betaln from '@stdlib/math-base-special-betaln';
import hypergeometric from '@stdlib/stats-base-dists-hypergeometric-pmf';
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import tQuantile from '@stdlib/stats-base-dists-t-quantile';

const cache = new Map<number, number>();

/** Student t with `freedom` degrees of freedom that holds 95 % between −t and +t. */
export function student95(freedom: number): number {
  let t = cache.get(freedom);
  if (t === undefined) {
    t = tQuantile(0.975, freedom);
    cache.set(freedom, t);
  }
  return t;
}

/** Student t that is exceeded, on that side alone, with probability `tail`. */
export const studentUpper = (tail: number, freedom: number): number => -tQuantile(tail, freedom);

/**
 * Natural logarithm of the upper-tail probability of an F statistic, given as the ratio of the residual sums of
 * squares: `ratio` = smaller ÷ larger sum, `extra` parameters more in the larger model, `freedom` left in it.
 * P(F) = I_ratio(freedom / 2, extra / 2). The logarithm tells apart what would both underflow to 0.
 */
export function logTailF(ratio: number, extra: number, freedom: number): number {
  const a = freedom / 2;
  const b = extra / 2;
  const p = betainc(Math.min(1, ratio), a, b, true, false);
  // Leading term of the power series, exact to a relative error of about ratio·a.
  return p > 1e-250 ? Math.log(p) : a * Math.log(ratio) - Math.log(a) - betaln(a, b);
}

/** Upper-tail probability of an F statistic. */
export const tailF = (f: number, extra: number, freedom: number): number =>
  betainc(freedom / (freedom + extra * Math.max(0, f)), freedom / 2, extra / 2, true, false);

/** The standard normal value that is exceeded with probability `tail`. */
export const normalUpper = (tail: number): number => -normalQuantile(tail, 0, 1);

/** Tables this much more probable than the one found count as equally probable: rounding must not decide. */
const EQUALLY = 1 + 1e-7;

/**
 * Fisher's exact test of two shares, two-sided: the probability of all tables with the same margins that are no more
 * probable than the one found.
 */
export function fisherExact(count1: number, total1: number, count2: number, total2: number): number {
  const all = total1 + total2;
  const counts = count1 + count2;
  const probability = (x: number): number => hypergeometric(x, all, counts, total1);
  const found = probability(count1) * EQUALLY;
  let p = 0;
  for (let x = Math.max(0, counts - total2); x <= Math.min(counts, total1); x++) {
    const next = probability(x);
    if (next <= found) p += next;
  }
  return Math.min(1, p);
}
