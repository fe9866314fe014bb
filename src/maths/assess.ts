import {inWords} from './format';
import {bestTurn} from './match';
import {difference, type Vector} from './vectors';

export type Finding = 'remeasure' | 'accept' | 'match mount' | 'replace both' | 'replace rim' | 'replace tire';

export interface Limits {
  readonly assembly: number;
  readonly rim: number;
}

/** 95 % half-widths of the assembly's runout and of what the best match leaves. */
export interface PlusMinus {
  readonly assembly: number;
  readonly after: number;
}

export interface Assessed {
  readonly finding: Finding;
  readonly after: number;
  readonly turn: number;
  readonly reason: string;
}

/**
 * What to do with an assembly: measure again, accept, turn the tire on the rim, or replace the part at fault. The guard
 * band is that of ISO 14253-1: within its own uncertainty of the limit, an assembly is neither good nor bad.
 */
export function assess(
  assembly: Vector,
  rim: Vector,
  limits: Limits,
  plusminus: PlusMinus,
  tire = difference(assembly, rim),
): Assessed {
  const {after, turn} = bestTurn(rim, tire);
  const {amount: a} = assembly;
  const {amount: r} = rim;
  const {amount: t} = tire;
  const l = limits.assembly;
  const done = (finding: Finding, reason: string): Assessed => ({finding, after, turn, reason});

  if (Math.abs(a - l) < plusminus.assembly) {
    const found = `${inWords(a)} ± ${inWords(plusminus.assembly)}`;
    return done('remeasure', `Assembly ${found} is too close to the limit ${inWords(l)} to decide.`);
  }
  if (a <= l) return done('accept', `Assembly ${inWords(a)} is within the limit ${inWords(l)}.`);
  const exceeds = `Assembly ${inWords(a)} exceeds the limit ${inWords(l)}`;
  const best = `the best match leaves ${inWords(after)} ± ${inWords(plusminus.after)}`;
  if (after + plusminus.after <= l) return done('match mount', `${exceeds}; ${best}, within it.`);
  const fails = `${exceeds} and ${best}, not surely within it`;
  const rimExceeds = `rim ${inWords(r)} exceeds ${inWords(limits.rim)}`;
  const tireExceeds = `tire ${inWords(t)} exceeds ${inWords(l)}`;
  if (r > limits.rim && t > l) return done('replace both', `${fails}; ${rimExceeds} and ${tireExceeds}.`);
  if (r > limits.rim) return done('replace rim', `${fails}; ${rimExceeds}.`);
  if (t > l) return done('replace tire', `${fails}; ${tireExceeds}.`);
  const neither = `${fails}; neither part exceeds its limit`;
  return r > t
    ? done('replace rim', `${neither}, the rim, ${inWords(r)}, is further out than the tire, ${inWords(t)}.`)
    : done('replace tire', `${neither}, the tire, ${inWords(t)}, is no better than the rim, ${inWords(r)}.`);
}

/**
 * Readings needed in all to tell an amount from a limit, if the half-width shrinks with the square root of their
 * number. Undefined when the amount is the limit: no number is enough.
 */
export function readingsEnough(amount: number, limit: number, plusminus: number, readings: number): number | undefined {
  if (amount === limit) return plusminus === 0 ? readings : undefined;
  const wanted = readings * (plusminus / (amount - limit)) ** 2;
  // Slack so that a quotient that is whole on paper is not rounded up.
  return Math.max(readings, Math.ceil(wanted * (1 - 1e-12)));
}
