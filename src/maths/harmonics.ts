/**
 * Least-squares harmonics of readings around the turn: y(θ) = mean + Σ aₖ·cos kθ + bₖ·sin kθ.
 * With even angles and no reading missing this is the discrete Fourier sum; otherwise it is solved by QR.
 */
import {direction, sind, cosd} from './angles';
import {anyBasis, basisFor, enough, fittedOrders, spreadOf, type Basis} from './basis';
import {student95} from './distributions';
import {coefficients, residuals} from './leastSquares';
import {filledUp} from './missing';
import {firstPresent, type Angles, type Readings} from './readings';
import {evenSpacing, unevenSpacing, type Spacing} from './spacing';
import type {Vector} from './vectors';

export interface Wave {
  readonly mean: number;
  /** cos[k], sin[k]: coefficients of order k; index 0 is unused. */
  readonly cos: ArrayLike<number>;
  readonly sin: ArrayLike<number>;
}

export interface Fit extends Wave {
  readonly readings: Readings;
  readonly basis: Basis;
  /** Readings less parameters. */
  readonly freedom: number;
  /** Sum of squares of what it leaves of the readings. */
  readonly squaresLeft: number;
}

/** What only an uncertainty asks for is worked out when it is asked for. */
class FittedWave implements Fit {
  constructor(
    readonly mean: number,
    readonly cos: ArrayLike<number>,
    readonly sin: ArrayLike<number>,
    readonly readings: Readings,
    readonly freedom: number,
    private readonly angles: Angles | undefined,
    private readonly spacing: Spacing | undefined,
    private knownBasis: Basis | undefined,
    private knownSquares: number | undefined,
  ) {}

  get basis(): Basis {
    return (this.knownBasis ??= anyBasis(this.readings, this.angles, this.cos.length - 1));
  }

  get squaresLeft(): number {
    return (this.knownSquares ??= this.spacing?.squaresLeft(this.readings.values, this) ?? squares(leftOver(this)));
  }
}

/**
 * Fits all the harmonics that `order` and the number of readings call for (see fittedOrders).
 * @throws Refusal as {@link basisFor}
 */
export function fit(readings: Readings, order: number, angles?: Angles): Fit {
  enough(readings, order);
  const {values, present, positions} = readings;
  const orders = fittedOrders(order, present);
  const spacing = angles === undefined ? evenSpacing(positions, orders) : unevenSpacing(readings, angles, orders);
  if (spacing === undefined) return fitOn(basisFor(readings, angles, order), readings, angles);
  const complete = present === positions;
  const level = complete ? values[0] : firstPresent(readings);
  const y = complete ? values : filledUp(readings, spacing, level);
  if (y === undefined) return fitOn(basisFor(readings, angles, order), readings, angles);
  const cos = new Array<number>(orders + 1);
  const sin = new Array<number>(orders + 1);
  cos[0] = sin[0] = 0;
  const mean = complete ? spacing.solve(y, level, cos, sin) : level + spacing.solve(y, 0, cos, sin);
  return new FittedWave(mean, cos, sin, readings, present - 2 * orders - 1, angles, spacing, undefined, undefined);
}

function fitOn(basis: Basis, readings: Readings, angles: Angles | undefined): Fit {
  const {n, p, orders} = basis;
  const shift = readings.values[basis.index[0]];
  const c = coefficients(basis, shifted(readings, basis, shift));
  const cos = new Array<number>(orders + 1).fill(0);
  const sin = new Array<number>(orders + 1).fill(0);
  for (let k = 1; k <= orders; k++) {
    cos[k] = c[2 * k - 1];
    sin[k] = c[2 * k];
  }
  return new FittedWave(shift + c[0], cos, sin, readings, n - p, angles, undefined, basis, undefined);
}

/**
 * The readings less the first of them. The difference is all but exact, so a large common level neither costs digits
 * nor leaves a trace where all readings are equal.
 */
export const shifted = ({values}: Readings, {index}: Basis, shift = values[index[0]]): Float64Array =>
  Float64Array.from(index, (position) => values[position] - shift);

/** One harmonic as peak-to-peak amount and its first high point, in [0, 360/order). */
export const harmonic = ({cos, sin}: Wave, order: number): Vector => highPoint(cos[order], sin[order], order);

const highPoint = (a: number, b: number, order: number): Vector => ({
  amount: 2 * Math.sqrt(a * a + b * b),
  angle: direction(a, b) / order,
});

/**
 * The harmonic of one order of a fit of that order. At even angles without a gap each order is a sum of its own, and
 * only that one is worked out.
 * @throws Refusal as {@link fit}
 */
export function oneHarmonic(readings: Readings, order: number, angles?: Angles): Vector {
  const {values, present, positions} = readings;
  if (angles !== undefined || present < positions) return harmonic(fit(readings, order, angles), order);
  enough(readings, order);
  const {x, y} = evenSpacing(positions, fittedOrders(order, present)).one(order, values, values[0]);
  return highPoint(x, y, order);
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
export const variance = (f: Fit): number | undefined => (f.freedom > 0 ? f.squaresLeft / f.freedom : undefined);

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
