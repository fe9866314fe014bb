/** Vectors of the tests' own: plain Math.cos and Math.sin, so that nothing of the code under test judges itself. */
import fc from 'fast-check';
import {Refusal} from '../../src/maths/refusal';
import type {Wave} from '../../src/maths/harmonics';
import type {Coefficients} from '../../src/maths/swing';
import type {Vector} from '../../src/maths/vectors';

export const RAD = Math.PI / 180;

/** Amount and angle as a vector. */
export const at = (amount: number, angle = 0): Vector => ({amount, angle});

export type Xy = readonly [number, number];

export const xy = ({amount, angle}: Vector): Xy => [amount * Math.cos(angle * RAD), amount * Math.sin(angle * RAD)];

export const add = (...points: Xy[]): Xy => [
  points.reduce((s, [x]) => s + x, 0),
  points.reduce((s, [, y]) => s + y, 0),
];

export const scale = (factor: number, [x, y]: Xy): Xy => [factor * x, factor * y];

export const size = ([x, y]: Xy): number => Math.hypot(x, y);

/** A point turned by an angle in degrees. */
export const turn = ([x, y]: Xy, degrees: number): Xy => {
  const [c, s] = [Math.cos(degrees * RAD), Math.sin(degrees * RAD)];
  return [x * c - y * s, x * s + y * c];
};

export const polar = ([x, y]: Xy): Vector => ({amount: Math.hypot(x, y), angle: (Math.atan2(y, x) / RAD + 360) % 360});

/** How far two angles lie apart, the short way round. */
export const apart = (a: number, b: number): number => Math.abs(((((a - b) % 360) + 540) % 360) - 180);

/** Both cells of a vector, the angle round the circle and within [0, 360). */
export function expectVector(found: Vector, wanted: Vector, digits = 10): void {
  expect(found.amount).toBeCloseTo(wanted.amount, digits);
  expect(found.angle).toBeGreaterThanOrEqual(0);
  expect(found.angle).toBeLessThan(360);
  if (wanted.amount > 0) expect(apart(found.angle, wanted.angle)).toBeLessThan(0.5 * 10 ** -(digits - 2));
}

/** A curve from [order, peak-to-peak, high point] of its harmonics. */
export function waveOf(orders: number, ...terms: (readonly [number, number, number])[]): Wave & Coefficients {
  const [cos, sin] = [new Float64Array(orders + 1), new Float64Array(orders + 1)];
  for (const [order, amount, high] of terms) {
    cos[order] += (amount / 2) * Math.cos(order * high * RAD);
    sin[order] += (amount / 2) * Math.sin(order * high * RAD);
  }
  return {mean: 0, cos, sin};
}

/** The refusal that something ends with. */
export function refused(does: () => unknown): Pick<Refusal, 'reason' | 'message' | 'argument'> {
  let answer: unknown;
  try {
    answer = does();
  } catch (error) {
    if (error instanceof Refusal) return {reason: error.reason, message: error.message, argument: error.argument};
    throw error;
  }
  throw new Error(`${JSON.stringify(answer)} where a refusal was wanted`);
}

/** A number for fast-check, without NaN or infinities. */
export const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({min, max, noNaN: true});

/** A vector for fast-check: an amount in a range, any angle. */
export const someVector = (min: number, max: number): fc.Arbitrary<Vector> =>
  fc.record({amount: between(min, max), angle: between(0, 359.999)});

/** fast-check with the same cases every time. */
export function always<T extends [unknown, ...unknown[]]>(
  arbitraries: {[K in keyof T]: fc.Arbitrary<T[K]>},
  holds: (...values: T) => void,
  runs = 100,
): void {
  fc.assert(fc.property(...(arbitraries as [fc.Arbitrary<unknown>]), holds as (...values: unknown[]) => void), {
    seed: 20260611,
    numRuns: runs,
  });
}
