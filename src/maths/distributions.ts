/**
 * The statistics distributions that the functions need, from stdlib (Apache-2.0), behind names that say what is asked.
 */
import betainc from '@stdlib/math-base-special-betainc';
import betaln from '@stdlib/math-base-special-betaln';
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
