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

/** Deleted Student residuals of all readings that the others can judge; none without a degree of freedom for it. */
function deleted(basis: Basis, e: Float64Array, whole: number): Deleted[] {
  const freedom = basis.n - basis.p - 1;
  if (freedom < 1) return [];
  return Array.from(e).flatMap((left, i) => {
    const free = 1 - leverage(basis, i);
    if (free < 1e-9) return [];
    const rest = Math.max(0, whole - (left * left) / free);
    return {i, off: left / free, size: Math.abs(left) / Math.sqrt((rest / freedom) * free)};
  });
}

/**
 * Readings whose deleted Student residual lies beyond t at 0.025/n on either side (Bonferroni), largest first; and
 * zeros that only together are so far off, as blanks that were read as zero hide each other.
 */
function outliers(readings: Readings, angles: Angles | undefined, basis: Basis): string[] {
  const {n, p, index} = basis;
  const e = residuals(basis, shifted(readings, basis));
  const whole = squares(e);
  const judged = deleted(basis, e, whole);
  if (judged.length === 0) return [];
  const {most, least} = extremes(readings);
  const limit = studentUpper(ALARM / 2 / n, n - p - 1);
  // Where the readings lie on the curve but for rounding, the ratio of two roundings says nothing.
  const out = judged.filter(({off, size}) => size > limit && Math.abs(off) > 1e-9 * (most - least));
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

function zeros(readings: Readings, angles: Angles | undefined, basis: Basis, whole: number): string[] {
  const others = withoutZeros(readings, angles, basis);
  if (others === undefined) return [];
  const {rest, count, fitted} = others;
  const left = squares(residuals(fitted, shifted(rest, fitted)));
  if (!(logTailF(left / whole, count, fitted.n - fitted.p) < Math.log(ALARM / basis.n))) return [];
  return [`${count} readings are 0 and far from the curve of the rest: blanks read as zero?`];
}

/**
 * The readings other than 0 and how they are fitted, when two or more are 0 and the others leave a degree of freedom at
 * angles that tell the harmonics apart.
 */
function withoutZeros(readings: Readings, angles: Angles | undefined, {n, p, orders}: Basis) {
  const values = readings.values.map((v) => (v === 0 ? NaN : v));
  const present = values.subarray(0, readings.positions).filter((v) => !Number.isNaN(v)).length;
  const count = n - present;
  if (count < 2 || present <= p) return undefined;
  const rest: Readings = {...readings, values, present};
  const fitted = anyBasis(rest, angles, orders);
  return fitted.condition <= WORST_CONDITION ? {rest, count, fitted} : undefined;
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
  if (!(basis.condition <= WORST_CONDITION)) return {basis, usable: false, worst: undefined, zeros: 0};
  const e = residuals(basis, shifted(readings, basis));
  const all = deleted(basis, e, squares(e));
  const worst = all.length > 0 ? basis.index[all.reduce((a, b) => (b.size > a.size ? b : a)).i] : undefined;
  return {basis, usable: true, worst, zeros: withoutZeros(readings, angles, basis)?.count ?? 0};
}

function leverage({n, p, q}: Basis, i: number): number {
  let h = 0;
  for (let k = 0; k < p; k++) h += q[k * n + i] ** 2;
  return h;
}

/** An indicator that did not move: a run of equal readings too long for chance, around the turn. */
function stuck(readings: Readings): string[] {
  const {most, least} = extremes(readings);
  if (most === least) return [];
  const there = readings.values.subarray(0, readings.positions).filter((v) => !Number.isNaN(v));
  let last = NaN;
  let run = 0;
  let [longest, held] = [0, NaN];
  // Twice around, so that a run across the first position counts whole.
  for (const reading of [...there, ...there]) {
    run = reading === last ? run + 1 : 1;
    last = reading;
    if (run > longest) [longest, held] = [run, reading];
  }
  if (longest < Math.max(5, Math.ceil(there.length / 3))) return [];
  return [`stuck: ${longest} equal readings in a row (${inWords(held)})`];
}

function repeated({degrees, index}: Basis): string[] {
  const order = Array.from(index, (_, i) => i).sort((i, j) => turned(degrees[i]) - turned(degrees[j]));
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
