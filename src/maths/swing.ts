/**
 * Peak-to-peak of a fitted curve. The curve is worked out on a fixed grid of the turn; at each local extreme of the
 * grid a parabola through it and its two neighbors shows where between grid points the extreme lies, and one step of
 * Newton's method from there finds it to rounding. A parabola's own height would be off by (order · step)⁴ / 384 of the
 * amplitude, 1E-7 on this grid: enough to tell turns apart that are equally good.
 */
import {cosd, sind} from './angles';
import type {Wave} from './harmonics';

/** Grid points a turn: every degree up to order 4, finer for higher orders. */
export const gridPoints = (maxOrder: number): number => Math.max(360, 90 * maxOrder);

interface Grid {
  readonly points: number;
  /** Cosine and sine of order k at grid point i stand at k · points + i. */
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  /** Room for the curve at the grid's points. */
  readonly heights: Float64Array;
}

let grid: Grid = {points: 0, cos: new Float64Array(0), sin: new Float64Array(0), heights: new Float64Array(0)};

function gridFor(maxOrder: number): Grid {
  const points = gridPoints(maxOrder);
  if (grid.points !== points || grid.cos.length < points * (maxOrder + 1)) {
    const at = (_: unknown, j: number) => (360 * ((Math.floor(j / points) * (j % points)) % points)) / points;
    const degrees = Float64Array.from({length: points * (maxOrder + 1)}, at);
    grid = {points, cos: degrees.map(cosd), sin: degrees.map(sind), heights: new Float64Array(points)};
  }
  return grid;
}

/** Highest and lowest point of harmonics 1 to maxOrder; the mean is left out. */
export interface Swing {
  readonly high: number;
  readonly low: number;
}

export function swing(wave: Pick<Wave, 'cos' | 'sin'>, maxOrder: number): Swing {
  const {cos, sin} = wave;
  const {points, cos: c, sin: s, heights} = gridFor(maxOrder);
  heights.fill(0);
  for (let k = 1; k <= maxOrder; k++) {
    const [a, b, from] = [cos[k], sin[k], k * points];
    for (let i = 0; i < points; i++) heights[i] += a * c[from + i] + b * s[from + i];
  }
  // Between its points a curve rises above the grid by no more than this; lower extremes need no second look.
  let margin = 0;
  for (let k = 1; k <= maxOrder; k++) margin += (Math.abs(cos[k]) + Math.abs(sin[k])) * k * k;
  margin *= ((2 * Math.PI) / points) ** 2 / 2;
  let before = heights[points - 1];
  let here = heights[0];
  let [high, low] = [here, here];
  for (let i = 0; i < points; i++) {
    high = Math.max(high, heights[i]);
    low = Math.min(low, heights[i]);
  }
  const [tops, bottoms] = [high - margin, low + margin];
  for (let i = 0; i < points; i++) {
    const after = heights[i + 1 < points ? i + 1 : 0];
    const top = here >= before && here >= after;
    // A point as high as both its neighbors stands on no wave.
    if (top !== (here <= before && here <= after) && (top ? here >= tops : here <= bottoms)) {
      const height = extreme(wave, maxOrder, i + vertex(before, here, after), points);
      if (top) high = Math.max(high, here, height);
      else low = Math.min(low, here, height);
    }
    before = here;
    here = after;
  }
  return {high, low};
}

/**
 * Where the parabola through three neighboring points has its vertex, in grid steps; the middle one is an extreme and
 * they are not all equal.
 */
const vertex = (before: number, here: number, after: number): number =>
  (after - before) / (2 * (2 * here - before - after));

/** Height of the curve at the extreme near a place on the grid. */
const extreme = (wave: Pick<Wave, 'cos' | 'sin'>, maxOrder: number, place: number, points: number): number =>
  heightAt(wave, maxOrder, extremeAt(wave, maxOrder, place, points));

/** Where the extreme near a place on the grid is, in radians, found by one step of Newton's method. */
function extremeAt({cos, sin}: Pick<Wave, 'cos' | 'sin'>, maxOrder: number, place: number, points: number): number {
  const step = (2 * Math.PI) / points;
  const at = place * step;
  let [slope, bend] = [0, 0];
  for (let k = 1; k <= maxOrder; k++) {
    const [c, s] = [Math.cos(k * at), Math.sin(k * at)];
    slope += k * (sin[k] * c - cos[k] * s);
    bend -= k * k * (cos[k] * c + sin[k] * s);
  }
  // Where the curve is flat the step would lead astray, and there the vertex is good enough.
  const move = -slope / bend;
  return Math.abs(move) < step ? at + move : at;
}

function heightAt({cos, sin}: Pick<Wave, 'cos' | 'sin'>, maxOrder: number, at: number): number {
  let height = 0;
  for (let k = 1; k <= maxOrder; k++) height += cos[k] * Math.cos(k * at) + sin[k] * Math.sin(k * at);
  return height;
}

/** Angles in degrees at which a curve is highest and lowest. */
export interface SwingPlaces {
  readonly high: number;
  readonly low: number;
}

/** Where the extremes of {@link swing} stand. */
export function swingPlaces(wave: Pick<Wave, 'cos' | 'sin'>, maxOrder: number): SwingPlaces {
  const points = gridPoints(maxOrder);
  const step = (2 * Math.PI) / points;
  const heights = Array.from({length: points}, (_, i) => heightAt(wave, maxOrder, i * step));
  const at = (sign: 1 | -1): number => {
    let best = 0;
    heights.forEach((here, i) => {
      const [before, after] = [heights[(i + points - 1) % points], heights[(i + 1) % points]];
      if (sign * (here - before) < 0 || sign * (here - after) < 0) return;
      // A point as high as both its neighbors has no vertex; its place is no number, and higher than none.
      const place = extremeAt(wave, maxOrder, i + vertex(before, here, after), points);
      if (sign * (heightAt(wave, maxOrder, place) - heightAt(wave, maxOrder, best)) > 0) best = place;
    });
    return (best * 180) / Math.PI;
  };
  return {high: at(1), low: at(-1)};
}

/** Peak-to-peak of harmonics 1 to maxOrder. */
export function peakToPeak(wave: Pick<Wave, 'cos' | 'sin'>, maxOrder: number): number {
  const {high, low} = swing(wave, maxOrder);
  return high - low;
}

/** Coefficients to be written. */
export interface Coefficients {
  readonly cos: Float64Array;
  readonly sin: Float64Array;
}

/** Harmonic by harmonic rim(θ) + tire(θ − turn), into `sum`. */
export function turnedSum(rim: Wave, tire: Wave, turn: number, maxOrder: number, sum: Coefficients): void {
  for (let k = 1; k <= maxOrder; k++) {
    const [c, s] = [cosd(k * turn), sind(k * turn)];
    sum.cos[k] = rim.cos[k] + tire.cos[k] * c - tire.sin[k] * s;
    sum.sin[k] = rim.sin[k] + tire.cos[k] * s + tire.sin[k] * c;
  }
}
