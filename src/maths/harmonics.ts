/**
 * Least-squares harmonics of readings around the turn: y(θ) = mean + Σ aₖ·cos kθ + bₖ·sin kθ.
 * With even angles and no reading missing this is the discrete Fourier sum; otherwise it is solved by QR.
 */
import {direction, sind, cosd} from './angles';
import {basisFor, spreadOf, type Basis} from './basis';
import {student95} from './distributions';
import {coefficients, residuals} from './leastSquares';
import type {Angles, Readings} from './readings';
import type {Vector} from './vectors';

export interface Wave {
  readonly mean: number;
  /** cos[k], sin[k]: coefficients of order k; index 0 is unused. */
  readonly cos: Float64Array;
  readonly sin: Float64Array;
}

export interface Fit extends Wave {
  readonly readings: Readings;
  readonly basis: Basis;
  /** Readings less parameters. */
  readonly freedom: number;
}

/**
 * Fits all the harmonics that `order` and the number of readings call for (see fittedOrders).
 * @throws Refusal as {@link basisFor}
 */
export const fit = (readings: Readings, order: number, angles?: Angles): Fit =>
  fitOn(basisFor(readings, angles, order), readings);

export function fitOn(basis: Basis, readings: Readings): Fit {
  const {n, p, orders} = basis;
  const shift = readings.values[basis.index[0]];
  const c = coefficients(basis, shifted(readings, basis, shift));
  const cos = new Float64Array(orders + 1);
  const sin = new Float64Array(orders + 1);
  for (let k = 1; k <= orders; k++) {
    cos[k] = c[2 * k - 1];
    sin[k] = c[2 * k];
  }
  return {mean: shift + c[0], cos, sin, readings, basis, freedom: n - p};
}

/**
 * The readings less the first of them. The difference is all but exact, so a large common level neither costs digits
 * nor leaves a trace where all readings are equal.
 */
export const shifted = ({values}: Readings, {index}: Basis, shift = values[index[0]]): Float64Array =>
  Float64Array.from(index, (position) => values[position] - shift);

/** One harmonic as peak-to-peak amount and its first high point, in [0, 360/order). */
export function harmonic({cos, sin}: Wave, order: number): Vector {
  const [a, b] = [cos[order], sin[order]];
  return {amount: 2 * Math.sqrt(a * a + b * b), angle: direction(a, b) / order};
}

/** What the fit leaves of each reading present. */
export const leftOver = ({basis, readings}: Fit): Float64Array => residuals(basis, shifted(readings, basis));

/** Sum of squares. */
export function squares(values: ArrayLike<number>): number {
  let total = 0;
  for (let i = 0; i < values.length; i++) total += values[i] ** 2;
  return total;
}

/** Residual variance s², or undefined without a degree of freedom. */
export const variance = (f: Fit): number | undefined => (f.freedom > 0 ? squares(leftOver(f)) / f.freedom : undefined);

/**
 * 95 % half-width of a harmonic's peak-to-peak amount: 2·t·√(gᵀCg), g the unit vector towards its high point; for a
 * zero vector the largest eigenvalue of C stands in. Undefined without a degree of freedom.
 */
export function plusMinus(f: Fit, order: number, s2 = variance(f)): number | undefined {
  if (s2 === undefined) return undefined;
  const {cc, cs, ss} = spreadOf(f.basis, order);
  const [a, b] = [f.cos[order], f.sin[order]];
  const size = a * a + b * b;
  const g =
    size > 0
      ? (a * a * cc + 2 * a * b * cs + b * b * ss) / size
      : (cc + ss) / 2 + Math.sqrt(((cc - ss) / 2) ** 2 + cs * cs);
  return 2 * student95(f.freedom) * Math.sqrt(s2 * g);
}

export interface HarmonicRow extends Vector {
  readonly order: number;
  readonly plusminus: number | undefined;
  readonly share: number | undefined;
}

/** The harmonics 1 to maxOrder, each with its uncertainty and its share of the sum of squares about the mean. */
export function harmonics(readings: Readings, maxOrder: number, angles?: Angles): HarmonicRow[] {
  const f = fit(readings, maxOrder, angles);
  const s2 = variance(f);
  const total = aboutMean(shifted(readings, f.basis));
  return Array.from({length: maxOrder}, (_, i) => {
    const order = i + 1;
    const part = squares(f.basis.degrees.map((degrees) => ripple(f, order, degrees)));
    return {
      order,
      ...harmonic(f, order),
      plusminus: plusMinus(f, order, s2),
      share: total > 0 ? part / total : undefined,
    };
  });
}

function aboutMean(y: Float64Array): number {
  const mean = y.reduce((sum, v) => sum + v, 0) / y.length;
  return squares(y.map((v) => v - mean));
}

/** One harmonic's part of the curve at an angle. */
const ripple = ({cos, sin}: Wave, order: number, degrees: number): number =>
  cos[order] * cosd(order * degrees) + sin[order] * sind(order * degrees);

/** The curve at an angle, harmonics 1 to maxOrder. */
export function curveAt(wave: Wave, maxOrder: number, degrees: number): number {
  let y = wave.mean;
  for (let k = 1; k <= maxOrder; k++) y += ripple(wave, k, degrees);
  return y;
}
