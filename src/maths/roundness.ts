import {cosd, direction, sind, turned} from './angles';
import {fit} from './harmonics';
import {angleAt, firstPresent, presentPositions, type Angles, type Readings} from './readings';
import {enough} from './basis';
import {invalid} from './refusal';

export type Method = 'LS' | 'MZ';

export interface Roundness {
  /** Peak to valley about the reference circle, RONt. */
  readonly deviation: number;
  /** Eccentricity of the reference circle, not peak-to-peak. */
  readonly offset: number;
  readonly angle: number;
}

/** A reference circle seen from the axle: r(θ) = mean + a·cos θ + b·sin θ (limaçon). */
interface Circle {
  readonly mean: number;
  readonly a: number;
  readonly b: number;
}

/**
 * Out-of-roundness about the least-squares or the minimum-zone reference circle (terms of ISO 12181-1). The
 * least-squares circle is mean and first harmonic of the same fit as everywhere else.
 */
export function roundness(readings: Readings, method: Method, angles?: Angles): Roundness {
  const {values, degrees} = present(readings, angles);
  const {mean, a, b} =
    method === 'LS' ? leastSquaresCircle(readings, angles) : minimumZone(readings, values, degrees).circle;
  const rest = values.map((y, i) => y - mean - a * cosd(degrees[i]) - b * sind(degrees[i]));
  return {deviation: Math.max(...rest) - Math.min(...rest), offset: Math.sqrt(a * a + b * b), angle: direction(a, b)};
}

/**
 * Positions of the readings that hold the minimum-zone circle, in the order of their angles: four that depart from it
 * by the same amount, alternately out and in, or, of three readings, all.
 */
export function minimumZonePoints(readings: Readings, angles?: Angles): number[] {
  const {index, values, degrees} = present(readings, angles);
  return minimumZone(readings, values, degrees).chosen.map((i) => index[i]);
}

/** The readings present, counted from the first of them, so that equal readings leave exactly nothing; their angles. */
function present(readings: Readings, angles: Angles | undefined) {
  const index = presentPositions(readings);
  return {
    index,
    values: Array.from(index, (i) => readings.values[i] - readings.values[index[0]]),
    degrees: Array.from(index, (i) => angleAt(readings, angles, i)),
  };
}

function leastSquaresCircle(readings: Readings, angles: Angles | undefined): Circle {
  const {mean, cos, sin} = fit(readings, 1, angles);
  return {mean: mean - firstPresent(readings), a: cos[1], b: sin[1]};
}

/**
 * The circle whose largest deviation either way is least. 1, cos θ and sin θ satisfy the Haar condition on the circle,
 * so at the answer four readings deviate by the same amount, alternately out and in; they are found by exchanging one
 * point at a time (Stiefel's exchange method; Watson, Approximation Theory and Numerical Methods, value from memory).
 */
function minimumZone(readings: Readings, values: readonly number[], degrees: readonly number[]) {
  enough(readings, 1);
  const order = degrees.map((_, i) => i).sort((i, j) => turned(degrees[i]) - turned(degrees[j]));
  for (const [k, i] of order.entries()) {
    const j = order[(k + 1) % order.length];
    if (turned(degrees[j] - degrees[i]) < 1e-9) {
      throw invalid(
        `the minimum zone needs angles that all differ, ${turned(degrees[i])}° occurs twice`,
        readings.name,
      );
    }
  }
  if (order.length === 3) return {circle: level(values, degrees, order).circle, chosen: order};

  const step = order.length / 4;
  let chosen = [0, 1, 2, 3].map((k) => order[Math.floor(k * step)]);
  // Each exchange raises the height, so no four come twice; the bound is for rounding alone.
  for (let rounds = 50 * order.length; ; rounds--) {
    const {circle, height} = level(values, degrees, chosen);
    const rest = values.map((y, i) => y - circle.mean - circle.a * cosd(degrees[i]) - circle.b * sind(degrees[i]));
    const far = rest.reduce((most, left, i) => (Math.abs(left) > Math.abs(rest[most]) ? i : most), 0);
    if (Math.abs(rest[far]) <= Math.abs(height) * (1 + 1e-14) || chosen.includes(far) || rounds === 0)
      return {circle, chosen};
    chosen = exchange(chosen, far, Math.sign(rest[far]) * (height < 0 ? -1 : 1), degrees);
  }
}

/** Side on which the k-th of four alternating readings lies. */
const side = (k: number): number => (k % 2 === 0 ? 1 : -1);

/**
 * The circle from which readings, in the order of their angles, deviate by ±height alternately; through three of them
 * there is one from which they do not deviate.
 */
function level(values: readonly number[], degrees: readonly number[], chosen: readonly number[]) {
  const rows = chosen.map((i, k) => [1, cosd(degrees[i]), sind(degrees[i]), side(k), values[i]]);
  if (rows.length === 3) rows.push([0, 0, 0, 1, 0]);
  const [mean, a, b, height] = solve(rows);
  return {circle: {mean, a, b}, height};
}

/** Gaussian elimination with row pivoting; each row ends with its right-hand side. */
function solve(rows: number[][]): number[] {
  const n = rows.length;
  for (let j = 0; j < n; j++) {
    let pivot = j;
    for (let i = j + 1; i < n; i++) if (Math.abs(rows[i][j]) > Math.abs(rows[pivot][j])) pivot = i;
    [rows[j], rows[pivot]] = [rows[pivot], rows[j]];
    for (let i = 0; i < n; i++) {
      if (i === j) continue;
      const factor = rows[i][j] / rows[j][j];
      for (let k = j; k <= n; k++) rows[i][k] -= factor * rows[j][k];
    }
  }
  return rows.map((row, j) => row[n] / row[j]);
}

/** Takes the farthest reading in for the neighbor on its own side, so that the sides go on alternating. */
function exchange(chosen: readonly number[], far: number, farSide: number, degrees: readonly number[]): number[] {
  const at = turned(degrees[far]);
  // Behind the last of them comes the first.
  const after = Math.max(
    0,
    chosen.findIndex((i) => turned(degrees[i]) > at),
  );
  const next = [...chosen];
  next[side(after) === farSide ? after : (after + 3) % 4] = far;
  return next.sort((i, j) => turned(degrees[i]) - turned(degrees[j]));
}
