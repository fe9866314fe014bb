import {inWords} from './format';
import {match} from './match';
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
export function assess(assembly: Vector, rim: Vector, limits: Limits, plusminus: PlusMinus): Assessed {
  const tire = difference(assembly, rim);
  const {after, turn} = match(rim, tire);
  const [a, r, t, l] = [assembly.amount, rim.amount, tire.amount, limits.assembly];
  const done = (finding: Finding, reason: string): Assessed => ({finding, after, turn, reason});
  const [A, L, R, T, LR] = [a, l, r, t, limits.rim].map(inWords);
  const best = `the best match leaves ${inWords(after)} ± ${inWords(plusminus.after)}`;

  if (Math.abs(a - l) < plusminus.assembly) {
    return done(
      'remeasure',
      `Assembly ${A} ± ${inWords(plusminus.assembly)} is too close to the limit ${L} to decide.`,
    );
  }
  if (a <= l) return done('accept', `Assembly ${A} is within the limit ${L}.`);
  if (after + plusminus.after <= l) {
    return done('match mount', `Assembly ${A} exceeds the limit ${L}; ${best}, within it.`);
  }
  const fails = `Assembly ${A} exceeds the limit ${L} and ${best}, not surely within it`;
  if (r > limits.rim && t > l)
    return done('replace both', `${fails}; rim ${R} exceeds ${LR} and tire ${T} exceeds ${L}.`);
  if (r > limits.rim) return done('replace rim', `${fails}; rim ${R} exceeds ${LR}.`);
  if (t > l) return done('replace tire', `${fails}; tire ${T} exceeds ${L}.`);
  return r > t
    ? done(
        'replace rim',
        `${fails}; neither part exceeds its limit, the rim, ${R}, is further out than the tire, ${T}.`,
      )
    : done(
        'replace tire',
        `${fails}; neither part exceeds its limit, the tire, ${T}, is no better than the rim, ${R}.`,
      );
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
