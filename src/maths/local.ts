import {anyBasis, spreadOut, WORST_CONDITION, type Basis} from './basis';
import {logTailF} from './distributions';
import {shifted, squares} from './harmonics';
import {turned} from './angles';
import {residuals} from './leastSquares';
import type {Angles, Readings} from './readings';
import {unavailable} from './refusal';

export interface Local {
  /** Reading − fit to the rest: a dent is negative, a bulge positive. */
  readonly deviation: number;
  readonly angle: number;
  /** Deviation ÷ its standard error of prediction; undefined when the rest fits without scatter. */
  readonly score: number | undefined;
}

const WIDEST = 3;

/** Readings present that are taken out together, and what the fit to the rest says of them. */
interface Removed {
  readonly members: readonly number[];
  /** Natural logarithm of the p-value of the F-test that they belong to the fit. */
  readonly logP: number;
  readonly deviations: readonly number[];
  readonly errors: readonly number[];
}

/**
 * A dent or bulge: for every cyclic window of one to three adjacent positions, harmonics 1 to maxOrder are fitted to
 * the rest; the window with the least p-value of the F-test that it belongs to that fit is the one (equal: the
 * narrower, then the earlier), and its largest member is reported.
 *
 * Nothing is fitted again for a window: with H the hat matrix, leaving it out moves its members by
 * d = (I − H_ww)⁻¹·e_w and every other residual by H_iw·d (Cook and Weisberg, Residuals and Influence in Regression,
 * value from memory).
 */
export function local(readings: Readings, maxOrder: number, angles?: Angles): Local {
  const {basis, removed} = search(readings, maxOrder, angles);
  const best = removed.reduce((least, next) => (next.logP < least.logP ? next : least));
  const at = largest(best);
  return {
    deviation: best.deviations[at],
    angle: turned(basis.degrees[best.members[at]]),
    score: best.errors[at] > 0 ? best.deviations[at] / best.errors[at] : undefined,
  };
}

/** A window of the search: positions of its members, and which of them stands out most. */
export interface LocalWindow {
  readonly positions: readonly number[];
  readonly largest: number;
}

/** The window that local() reports, and after it those that come next by their p-values, `count` in all. */
export function localWindows(readings: Readings, maxOrder: number, count: number, angles?: Angles): LocalWindow[] {
  const {basis, removed} = search(readings, maxOrder, angles);
  // The sort is stable, so that of equal windows the first found stays first.
  return [...removed]
    .sort((a, b) => a.logP - b.logP)
    .slice(0, count)
    .map((r) => ({positions: r.members.map((i) => basis.index[i]), largest: largest(r)}));
}

/** Which member of a window deviates most. */
function largest({deviations}: Removed): number {
  const sizes = deviations.map(Math.abs);
  return sizes.indexOf(Math.max(...sizes));
}

function search(readings: Readings, maxOrder: number, angles: Angles | undefined): {basis: Basis; removed: Removed[]} {
  const p = 2 * maxOrder + 1;
  if (readings.present < p + 2) {
    throw unavailable(
      `${readings.present} readings are present, a deviation from harmonics up to order ${maxOrder} needs at least ${p + 2}`,
      readings.name,
    );
  }
  const basis = spreadOut(anyBasis(readings, angles, maxOrder), angles?.name ?? readings.name);
  const y = shifted(readings, basis);
  const e = residuals(basis, y);
  // Below this a sum of squares is rounding: it must not make one window look better than another.
  const floor = basis.n * (4e-16 * Math.max(...y.map(Math.abs))) ** 2;
  const whole = squares(e);
  const removed: Removed[] = [];
  // There is always one: the leverages add up to p, so that not all readings fix the curve alone.
  for (const members of windows(readings, basis)) {
    const next = remove(basis, e, members, whole, floor);
    if (next !== undefined) removed.push(next);
  }
  return {basis, removed};
}

/** Windows, narrow ones first, as indices among the readings present. */
function* windows(readings: Readings, basis: Basis): Generator<readonly number[]> {
  const slots = around(readings, basis);
  for (let width = 1; width <= WIDEST; width++) {
    for (const start of slots.keys()) {
      const members: number[] = [];
      for (let k = 0; k < width; k++) {
        const member = slots[(start + k) % slots.length];
        if (member !== undefined) members.push(member);
      }
      // A window that starts or ends at a missing reading is a narrower one seen before.
      if (slots[start] !== undefined && slots[(start + width - 1) % slots.length] !== undefined) yield members;
    }
  }
}

/** The positions in the order of their angles, each with its index among the readings present, if it has one. */
function around(readings: Readings, basis: Basis): (number | undefined)[] {
  const slots = new Array<number | undefined>(readings.positions).fill(undefined);
  basis.index.forEach((position, i) => (slots[position] = i));
  const rising = basis.degrees.every((degrees, i) => i === 0 || degrees > basis.degrees[i - 1]);
  const oneTurn = basis.degrees[basis.n - 1] - basis.degrees[0] < 360;
  if (rising && oneTurn) return slots;
  // Angles in no order: a missing reading then has no place, and those present are neighbors by angle.
  return Array.from(basis.index, (_, i) => i).sort((i, j) => turned(basis.degrees[i]) - turned(basis.degrees[j]));
}

function remove(
  basis: Basis,
  e: Float64Array,
  members: readonly number[],
  whole: number,
  floor: number,
): Removed | undefined {
  const {n, p} = basis;
  const freedom = n - members.length - p;
  if (freedom < 1) return undefined;
  const inv = inverseOf(members.map((i) => members.map((j) => (i === j ? 1 : 0) - hat(basis, i, j))));
  if (inv === undefined) return undefined;
  const d = inv.map((row) => row.reduce((sum, c, k) => sum + c * e[members[k]], 0));
  const gain = members.reduce((sum, i, k) => sum + e[i] * d[k], 0);
  // Readings that the fit meets exactly leave nothing to the rest either; thousands of them would take their time.
  const rest = whole <= floor ? 0 : gain < 0.999 * whole ? whole - gain : leftOfRest(basis, e, members, d);
  const ratio = (rest + floor) / (whole + floor);
  const s2 = rest <= floor ? 0 : rest / freedom;
  return {
    members,
    logP: whole <= floor ? 0 : logTailF(ratio, members.length, freedom),
    deviations: whole <= floor ? members.map(() => 0) : d,
    errors: inv.map((row, k) => Math.sqrt(s2 * row[k])),
  };
}

/** Residual sum of squares of the fit to the rest, term by term: the difference of two sums would cancel. */
function leftOfRest(basis: Basis, e: Float64Array, members: readonly number[], d: readonly number[]): number {
  let total = 0;
  for (let i = 0; i < basis.n; i++) {
    if (members.includes(i)) continue;
    total += members.reduce((left, j, k) => left + hat(basis, i, j) * d[k], e[i]) ** 2;
  }
  return total;
}

function hat({n, p, q}: Basis, i: number, j: number): number {
  let h = 0;
  for (let k = 0; k < p; k++) h += q[k * n + i] * q[k * n + j];
  return h;
}

/** Inverse of a symmetric matrix of up to three rows; undefined when the rest cannot carry the fit. */
function inverseOf(m: readonly number[][]): number[][] | undefined {
  const n = m.length;
  const rows = m.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let j = 0; j < n; j++) {
    // I − H is positive semidefinite: pivots on the diagonal serve, and a vanishing one means a lost direction.
    if (rows[j][j] < 1 / WORST_CONDITION) return undefined;
    for (let i = 0; i < n; i++) {
      if (i === j) continue;
      const factor = rows[i][j] / rows[j][j];
      for (let k = j; k < 2 * n; k++) rows[i][k] -= factor * rows[j][k];
    }
  }
  return rows.map((row, j) => row.slice(n).map((v) => v / row[j]));
}
