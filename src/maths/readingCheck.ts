import {turned} from './angles';
import {anyBasis, fittedOrders, WORST_CONDITION, type Basis} from './basis';
import {logTailF, studentUpper} from './distributions';
import {inWords} from './format';
import {shifted, squares} from './harmonics';
import {residuals} from './leastSquares';
import {extremes, type Angles, type Readings} from './readings';

/**
 * "ok", or what is wrong with a set of readings in plain words, worst first. It says in words what a fit would refuse.
 */
export function readingCheck(readings: Readings, maxOrder: number, angles?: Angles): string {
  const missing = readings.positions - readings.present;
  const needed = 2 * maxOrder + 1;
  const found: string[] = [];
  if (readings.present < needed) {
    found.push(`too few readings: ${readings.present} present, order ${maxOrder} needs at least ${needed}`);
  } else {
    const basis = anyBasis(readings, angles, fittedOrders(maxOrder, readings.present));
    const usable = basis.condition <= WORST_CONDITION;
    if (!usable) found.push('angles too close together to tell the harmonics apart');
    else found.push(...outliers(readings, angles, basis));
    found.push(...stuck(readings), ...repeated(basis));
    if (usable) found.push(...spread(basis));
  }
  if (missing > 0) found.push(missing === 1 ? '1 reading missing' : `${missing} readings missing`);
  return found.length === 0 ? 'ok' : found.join('; ');
}

/** Chance, over all readings together, that good ones raise an alarm. */
const ALARM = 0.05;

/**
 * Readings whose deleted Student residual lies beyond t at 0.025/n on either side (Bonferroni), largest first; and
 * zeros that only together are so far off, as blanks that were read as zero hide each other.
 */
function outliers(readings: Readings, angles: Angles | undefined, basis: Basis): string[] {
  const {n, p, index} = basis;
  const freedom = n - p - 1;
  if (freedom < 1) return [];
  const e = residuals(basis, shifted(readings, basis));
  const whole = squares(e);
  const {most, least} = extremes(readings);
  const limit = studentUpper(ALARM / 2 / n, freedom);
  const out: {i: number; off: number; size: number}[] = [];
  for (let i = 0; i < n; i++) {
    const free = 1 - leverage(basis, i);
    if (free < 1e-9) continue;
    const off = e[i] / free;
    const rest = Math.max(0, whole - (e[i] * e[i]) / free);
    const size = Math.abs(e[i]) / Math.sqrt((rest / freedom) * free);
    // Where the readings lie on the curve but for rounding, the ratio of two roundings says nothing.
    if (size > limit && Math.abs(off) > 1e-9 * (most - least)) out.push({i, off, size});
  }
  out.sort((a, b) => b.size - a.size);
  const words = out.map(({i, off}) => {
    const value = readings.values[index[i]];
    const name = `reading ${index[i] + 1}`;
    const by = `${inWords(Math.abs(off))} ${off > 0 ? 'above' : 'below'} the curve of the rest`;
    return value === 0
      ? `${name} is 0 and ${by}: a blank read as zero?`
      : `${name} (${inWords(value)}) is an outlier, ${by}`;
  });
  const zeroNamed = out.some(({i}) => readings.values[index[i]] === 0);
  return zeroNamed ? words : [...words, ...zeros(readings, angles, basis, whole)];
}

function zeros(readings: Readings, angles: Angles | undefined, {n, p, orders}: Basis, whole: number): string[] {
  const values = readings.values.map((v) => (v === 0 ? NaN : v));
  const present = values.subarray(0, readings.positions).filter((v) => !Number.isNaN(v)).length;
  const count = n - present;
  if (count < 2 || present - p < 1) return [];
  const rest: Readings = {...readings, values, present};
  const basis = anyBasis(rest, angles, orders);
  if (!(basis.condition <= WORST_CONDITION)) return [];
  const left = squares(residuals(basis, shifted(rest, basis)));
  if (!(logTailF(left / whole, count, present - p) < Math.log(ALARM / n))) return [];
  return [`${count} readings are 0 and far from the curve of the rest: blanks read as zero?`];
}

function leverage({n, p, q}: Basis, i: number): number {
  let h = 0;
  for (let k = 0; k < p; k++) h += q[k * n + i] ** 2;
  return h;
}

/** An indicator that did not move: a run of equal readings too long for chance, around the turn. */
function stuck({values, positions, present}: Readings): string[] {
  const there = values.subarray(0, positions).filter((v) => !Number.isNaN(v));
  const tooLong = Math.max(5, Math.ceil(present / 3));
  let longest = 0;
  let run = 0;
  // Twice around, so that a run across the first position counts whole.
  for (let i = 1; i < 2 * present; i++) {
    run = there[i % present] === there[(i - 1) % present] ? run + 1 : 0;
    longest = Math.max(longest, run);
  }
  if (longest >= present || longest + 1 < tooLong) return [];
  return [`stuck: ${longest + 1} equal readings in a row (${inWords(value(there, longest))})`];
}

/** The reading that a run of this many repeats consists of. */
function value(there: Float64Array, longest: number): number {
  const n = there.length;
  for (let i = 0; i < n; i++) {
    let run = 0;
    while (run < longest && there[(i + run + 1) % n] === there[i]) run++;
    if (run === longest) return there[i];
  }
  return NaN;
}

function repeated({degrees, index}: Basis): string[] {
  const order = Array.from(index, (_, i) => i).sort((i, j) => turned(degrees[i]) - turned(degrees[j]) || i - j);
  const twice = order.flatMap((i, k) => {
    const j = order[k + 1];
    if (j === undefined || turned(degrees[j]) - turned(degrees[i]) > 1e-9) return [];
    return [`${index[i] + 1} and ${index[j] + 1} at ${inWords(turned(degrees[i]))}°`];
  });
  if (twice.length === 0) return [];
  const more = twice.length > 3 ? ` and ${twice.length - 3} more` : '';
  return [`repeated angles: readings ${twice.slice(0, 3).join(', ')}${more}`];
}

function spread({condition}: Basis): string[] {
  if (!(condition > 10)) return [];
  return [`${condition > 100 ? 'poor' : 'uneven'} spread of the angles (condition number ${inWords(condition)})`];
}
