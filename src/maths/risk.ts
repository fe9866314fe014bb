import {normalUpper} from './distributions';
import {invalid} from './refusal';

export interface Risk {
  readonly risk: number;
  readonly low: number;
  readonly high: number;
}

/** Logistic regression of an event on one amount: log odds = a + b·(amount − center) ÷ scale. */
export interface Logistic {
  readonly a: number;
  readonly b: number;
  readonly center: number;
  readonly scale: number;
  /** Inverse of the Fisher information of (a, b). */
  readonly covariance: {readonly aa: number; readonly ab: number; readonly bb: number};
}

/**
 * Firth's bias-reduced logistic regression (Firth 1993; Heinze and Schemper 2002, values from memory): the maximum of
 * log likelihood + ½·log of the determinant of the information. It stays finite when a limit parts good from bad.
 */
export function logistic(amounts: readonly number[], events: readonly boolean[]): Logistic {
  const n = amounts.length;
  const center = amounts.reduce((s, v) => s + v, 0) / n;
  const scale = Math.sqrt(amounts.reduce((s, v) => s + (v - center) ** 2, 0) / n);
  if (!(scale > 1e-12 * (Math.abs(center) + scale))) {
    throw invalid('amounts that differ are wanted, found the same throughout', 'amounts');
  }
  const x = amounts.map((v) => (v - center) / scale);
  const y = events.map(Number);
  let [a, b] = [0, 0];
  let {value, step, covariance} = state(x, y, a, b);
  for (let round = 0; round < 2000; round++) {
    // Newton's step on the modified score, halved until it climbs.
    let [da, db] = step;
    const size = Math.abs(da) + Math.abs(db);
    if (size > 5) [da, db] = [(5 * da) / size, (5 * db) / size];
    let next = state(x, y, a + da, b + db);
    for (let halving = 0; halving < 40 && !(next.value >= value - 1e-14 * Math.abs(value)); halving++) {
      [da, db] = [da / 2, db / 2];
      next = state(x, y, a + da, b + db);
    }
    [a, b] = [a + da, b + db];
    ({value, step, covariance} = next);
    if (Math.abs(da) + Math.abs(db) < 1e-13 * (1 + Math.abs(a) + Math.abs(b))) break;
  }
  return {a, b, center, scale, covariance};
}

/** Penalized log likelihood, the step towards its top, and the inverse of the information there. */
function state(x: readonly number[], y: readonly number[], a: number, b: number) {
  let [aa, ab, bb, value] = [0, 0, 0, 0];
  const p = x.map((v) => 1 / (1 + Math.exp(-(a + b * v))));
  p.forEach((pi, i) => {
    const w = pi * (1 - pi);
    aa += w;
    ab += w * x[i];
    bb += w * x[i] * x[i];
    const t = a + b * x[i];
    // log(1 + e^t) without overflow
    value += y[i] * t - (t > 0 ? t + Math.log1p(Math.exp(-t)) : Math.log1p(Math.exp(t)));
  });
  const determinant = aa * bb - ab * ab;
  const covariance = {aa: bb / determinant, ab: -ab / determinant, bb: aa / determinant};
  let [ua, ub] = [0, 0];
  p.forEach((pi, i) => {
    const w = pi * (1 - pi);
    const leverage = w * (covariance.aa + 2 * x[i] * covariance.ab + x[i] * x[i] * covariance.bb);
    const u = y[i] - pi + leverage * (0.5 - pi);
    ua += u;
    ub += u * x[i];
  });
  return {
    value: value + Math.log(determinant) / 2,
    step: [covariance.aa * ua + covariance.ab * ub, covariance.ab * ua + covariance.bb * ub] as const,
    covariance,
  };
}

/** Probability at an amount, with its 95 % Wald interval worked out on the scale of log odds. */
export function riskAt({a, b, center, scale, covariance: {aa, ab, bb}}: Logistic, amount: number): Risk {
  const x = (amount - center) / scale;
  const odds = a + b * x;
  const half = normalUpper(0.025) * Math.sqrt(aa + 2 * x * ab + x * x * bb);
  const probability = (t: number): number => 1 / (1 + Math.exp(-t));
  return {risk: probability(odds), low: probability(odds - half), high: probability(odds + half)};
}
