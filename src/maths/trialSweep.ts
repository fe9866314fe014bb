import {direction, shortWay, turned} from './angles';
import {inWords} from './format';
import {condition, factor} from './leastSquares';
import {invalid, unavailable} from './refusal';
import {length, plus, product, unit, type Point, type Vector} from './vectors';

export interface Swept extends Vector {
  readonly misfit: number;
}

/**
 * Trial weights without a phase reading: the amplitude with the trial mass at each of three or more angles. Global
 * least squares of |before + effect·e^{i·angle}| to the readings; the correction cancels `before`. The misfit is the
 * root mean square of what is left ÷ before: how badly the circles close.
 *
 * The squared amplitudes give a first answer in closed form. Where they contradict each other there can be a second
 * one with the two lengths exchanged, and more; so a ring of directions at both lengths starts the search as well.
 * Equally good answers: the shorter angle, then the positive one.
 */
export function trialSweep(
  before: number,
  readings: ArrayLike<number>,
  angles: ArrayLike<number>,
  trialMass: number,
): Swept {
  const n = readings.length;
  const units = Array.from(angles, unit);
  const w = search(before, readings, units).best;
  const sse = misfitOf(before, readings, units)(w);
  const effect = length(w);
  if (!(effect > 1e-12 * before)) {
    throw unavailable('the trial weight changed nothing; use a larger one or check the measurement', 'readings');
  }
  return {
    amount: (trialMass * before) / effect,
    angle: angleFor(w),
    misfit: Math.sqrt(sse / n) / before,
  };
}

/** The effect that trialSweep() finds, and all others at which its search has looked: starts, and where they ended. */
export function sweepPlaces(before: number, readings: ArrayLike<number>, angles: ArrayLike<number>) {
  const units = Array.from(angles, unit);
  const {best, ends} = search(before, readings, units);
  return {best, others: [...ends, ...starts(before, readings, units)]};
}

/** Sum of squares that an effect leaves. */
function misfitOf(before: number, readings: ArrayLike<number>, units: readonly Point[]): (w: Point) => number {
  return (w) => {
    let total = 0;
    for (let i = 0; i < units.length; i++) total += (readings[i] - length(reached(before, w, units[i]))) ** 2;
    return total;
  };
}

function search(before: number, readings: ArrayLike<number>, units: readonly Point[]): {best: Point; ends: Point[]} {
  tellApart(units);
  const misses = misfitOf(before, readings, units);
  const ends = starts(before, readings, units)
    .map((w) => ({w, sse: misses(w)}))
    .sort((a, b) => a.sse - b.sse)
    .slice(0, DESCENTS)
    .map(({w}) => descend(before, readings, units, w, misses));
  const least = Math.min(...ends.map(misses));
  const equals = ends.filter((end) => misses(end) <= least * (1 + 1e-12));
  return {best: equals.reduce((a, b) => (goesBefore(angleFor(b), angleFor(a)) ? b : a)), ends};
}

/** Where the weight goes that cancels `before`, given its effect. */
const angleFor = (effect: Point): number => turned(180 - direction(effect.x, effect.y));

/** Of equally good angles the shorter way from 0°, then the positive one: trials that lie in mirror image leave both. */
function goesBefore(angle: number, other: number): boolean {
  const [way, otherWay] = [shortWay(angle), shortWay(other)];
  const further = Math.abs(way) - Math.abs(otherWay);
  return Math.abs(further) > 1e-6 ? further < 0 : way - otherWay > 1e-6;
}

const WORST_CONDITION = 100;

/** How many of the starting points are followed to the bottom, the best ones first. */
const DESCENTS = 8;

/** @throws Refusal `invalid` when the trial angles cannot fix a level and a direction */
function tellApart(units: readonly Point[]): void {
  const n = units.length;
  const columns = [units.map(() => 1), units.map(({x}) => x), units.map(({y}) => y)];
  const spread = n < 3 ? Infinity : condition(factor(Float64Array.from(columns.flat()), n, 3).r, 3);
  if (spread <= WORST_CONDITION) return;
  const found =
    spread < 1e9
      ? `their condition number is ${inWords(spread)}, at most ${WORST_CONDITION} is wanted`
      : 'fewer are given';
  throw invalid(`at least three distinct angles, well spread, are wanted; ${found}`, 'angles');
}

const reached = (before: number, w: Point, unit: Point): Point => plus({x: before, y: 0}, product(w, unit));

function starts(before: number, readings: ArrayLike<number>, units: readonly Point[]): Point[] {
  // The mean square is before² + effect²; the first harmonic of the squares is 2·before·effect.
  const n = units.length;
  let [mean, x, y] = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    const square = readings[i] ** 2;
    mean += square / n;
    x += ((square - before * before) * units[i].x * 2) / n;
    y -= ((square - before * before) * units[i].y * 2) / n;
  }
  const size = Math.sqrt(x * x + y * y);
  const lengths = [Math.sqrt(Math.max(0, mean - before * before)), size / (2 * before), Math.sqrt(mean)];
  const ring = Array.from({length: 24}, (_, i) => (2 * Math.PI * i) / 24);
  const directions = size > 0 ? [Math.atan2(y, x), ...ring] : ring;
  return lengths.flatMap((r) => directions.map((a) => ({x: r * Math.cos(a), y: r * Math.sin(a)})));
}

/**
 * Damped Newton steps in two unknowns, with all second derivatives: where the readings contradict each other and much is
 * left, steps that take the curve for straight creep, or stop short of the bottom.
 */
function descend(
  before: number,
  readings: ArrayLike<number>,
  units: readonly Point[],
  start: Point,
  misses: (w: Point) => number,
): Point {
  let w = start;
  let sse = misses(w);
  let damping = 1e-3;
  for (let step = 0; step < 200 && damping < 1e12; step++) {
    let [xx, xy, yy, gx, gy] = [0, 0, 0, 0, 0];
    for (let i = 0; i < units.length; i++) {
      const z = reached(before, w, units[i]);
      const size = length(z);
      if (size === 0) continue;
      // d|z|/dw: the direction of z, turned back by the trial angle.
      const dx = (z.x * units[i].x + z.y * units[i].y) / size;
      const dy = (z.y * units[i].x - z.x * units[i].y) / size;
      const miss = readings[i] - size;
      // Half the second derivatives of miss²: 1 along that direction, 1 − reading/|z| across it.
      const share = readings[i] / size;
      xx += share * dx * dx + 1 - share;
      xy += share * dx * dy;
      yy += share * dy * dy + 1 - share;
      gx += dx * miss;
      gy += dy * miss;
    }
    // Where they bend down, a step uphill is ruled out by adding twice as much.
    const lowest = (xx + yy) / 2 - Math.sqrt(((xx - yy) / 2) ** 2 + xy * xy);
    const raised = damping * units.length + Math.max(0, -2 * lowest);
    const [a, b] = [xx + raised, yy + raised];
    const determinant = a * b - xy * xy;
    const move = {x: (gx * b - gy * xy) / determinant, y: (gy * a - gx * xy) / determinant};
    const next = plus(w, move);
    const nextSse = misses(next);
    if (nextSse < sse) {
      const small = length(move) <= 1e-15 * (before + length(w));
      [w, sse] = [next, nextSse];
      damping /= 10;
      if (small) break;
    } else {
      damping *= 10;
    }
  }
  return w;
}
