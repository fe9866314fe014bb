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

/** A reading against the curve of the others: how far off it is, and its deleted Student residual. */
interface Deleted {
  readonly i: number;
  readonly off: number;
  readonly size: number;
}

/** Deleted Student residuals of all readings that the others can judge. */
function deleted(basis: Basis, e: Float64Array, whole: number): Deleted[] {
  const {n, p} = basis;
  const all: Deleted[] = [];
  for (let i = 0; i < n; i++) {
    const free = 1 - leverage(basis, i);
    if (free < 1e-9) continue;
    const rest = Math.max(0, whole - (e[i] * e[i]) / free);
    all.push({i, off: e[i] / free, size: Math.abs(e[i]) / Math.sqrt((rest / (n - p - 1)) * free)});
  }
  return all;
}

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
  // Where the readings lie on the curve but for rounding, the ratio of two roundings says nothing.
  const out = deleted(basis, e, whole).filter(({off, size}) => size > limit && Math.abs(off) > 1e-9 * (most - least));
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
  const rest = withoutZeros(readings);
  const count = n - rest.present;
  if (count < 2 || rest.present - p < 1) return [];
  const basis = anyBasis(rest, angles, orders);
  if (!(basis.condition <= WORST_CONDITION)) return [];
  const left = squares(residuals(basis, shifted(rest, basis)));
  if (!(logTailF(left / whole, count, rest.present - p) < Math.log(ALARM / n))) return [];
  return [`${count} readings are 0 and far from the curve of the rest: blanks read as zero?`];
}

function withoutZeros(readings: Readings): Readings {
  const values = readings.values.map((v) => (v === 0 ? NaN : v));
  const present = values.subarray(0, readings.positions).filter((v) => !Number.isNaN(v)).length;
  return {...readings, values, present};
}

/** What the words of readingCheck rest on, for showing it. */
export interface CheckEvidence {
  /** The basis of the fit; undefined for too few readings. */
  readonly basis: Basis | undefined;
  /** The angles tell the harmonics apart, so that there is a fit to judge by. */
  readonly usable: boolean;
  /** Position of the reading with the largest deleted Student residual, where there is a degree of freedom for it. */
  readonly worst: number | undefined;
  /** How many readings are 0, when the rest of them can be fitted without; else 0. */
  readonly zeros: number;
}

export function checkEvidence(readings: Readings, maxOrder: number, angles?: Angles): CheckEvidence {
  if (readings.present < 2 * maxOrder + 1) return {basis: undefined, usable: false, worst: undefined, zeros: 0};
  const basis = anyBasis(readings, angles, fittedOrders(maxOrder, readings.present));
  const {n, p, orders} = basis;
  if (!(basis.condition <= WORST_CONDITION)) return {basis, usable: false, worst: undefined, zeros: 0};
  if (n - p < 2) return {basis, usable: true, worst: undefined, zeros: 0};
  const e = residuals(basis, shifted(readings, basis));
  const all = deleted(basis, e, squares(e));
  const worst = all.reduce<Deleted | undefined>((a, b) => (a === undefined || b.size > a.size ? b : a), undefined);
  const rest = withoutZeros(readings);
  const apart = n - rest.present >= 2 && rest.present - p >= 1;
  const fits = apart && anyBasis(rest, angles, orders).condition <= WORST_CONDITION;
  return {basis, usable: true, worst: worst && basis.index[worst.i], zeros: fits ? n - rest.present : 0};
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
