import {cosd, shortWay, sind, turned} from './angles';
import {inWords} from './format';
import {invalid} from './refusal';
import {nearestStock} from './stock';
import type {Vector} from './vectors';

/** Angles this close to one line leave the two masses undetermined. */
const LEAST_ANGLE = 1;

export interface Split {
  readonly massA: number;
  readonly massB: number;
}

/**
 * One weight as two at given angles (sine rule).
 * @throws Refusal `invalid` when the angles are within 1° of one line or a mass would have to be negative
 */
export function split({amount, angle}: Vector, angleA: number, angleB: number): Split {
  const between = shortWay(angleB - angleA);
  if (Math.min(Math.abs(between), 180 - Math.abs(between)) < LEAST_ANGLE) {
    throw invalid(
      `the two angles must be at least ${LEAST_ANGLE}° off one line, found ${inWords(turned(angleA))} and ${inWords(turned(angleB))}`,
      'angleB',
    );
  }
  const massA = clean((amount * sind(angleB - angle)) / sind(between), amount);
  const massB = clean((amount * sind(angle - angleA)) / sind(between), amount);
  const [least, argument] = massA < massB ? [massA, 'angleA'] : [massB, 'angleB'];
  if (least < 0) {
    throw invalid(
      `the weight's angle, ${inWords(turned(angle))}, does not lie between the two: this mass would be ${inWords(least)}`,
      argument,
    );
  }
  return {massA, massB};
}

/** A mass that is 0 but for rounding. */
const clean = (mass: number, amount: number): number => (Math.abs(mass) <= 1e-12 * amount ? 0 : mass);

export interface Spoked {
  readonly angleA: number;
  readonly massA: number;
  readonly angleB: number;
  readonly massB: number;
  /** Size of what the two weights leave of the one. */
  readonly left: number;
}

/** Evenly spaced spokes. */
export const evenSpokes = (count: number, firstAngle: number): number[] =>
  Array.from({length: count}, (_, i) => turned(firstAngle + (360 * i) / count));

/**
 * The weight hidden behind the two spokes either side of it; step > 0 rounds both to stock together, so that what is
 * left is least (equal: the lighter pair).
 */
export function behindSpokes(weight: Vector, spokes: readonly number[], step: number): Spoked {
  const around = [...new Set(spokes.map(turned))].sort((a, b) => a - b);
  const angle = turned(weight.angle);
  const after = around.findIndex((spoke) => spoke > angle);
  const b = after < 0 ? 0 : after;
  const [angleA, angleB] = [around[(b + around.length - 1) % around.length], around[b]];
  const gap = around.length < 2 ? 360 : turned(angleB - angleA);
  if (gap < LEAST_ANGLE || gap > 180 - LEAST_ANGLE) {
    throw invalid(
      `the spokes either side of ${inWords(angle)}° must be ${LEAST_ANGLE}° to ${180 - LEAST_ANGLE}° apart, found ${inWords(gap)}°`,
      'spokes',
    );
  }
  const exact = split({amount: weight.amount, angle}, angleA, angleB);
  if (step === 0) return {angleA, angleB, ...exact, left: 0};
  return {angleA, angleB, ...stockPairAt(exact, cosd(gap), step)};
}

/**
 * The stock masses whose sum comes nearest. For a mass A off by d, the best B leaves at least |d|·sin(gap), which
 * bounds how far from the exact mass A has to be looked for, however narrow the gap.
 */
function stockPairAt(exact: Split, cosGap: number, step: number): Split & {left: number} {
  const sinGap = Math.sqrt(1 - cosGap * cosGap);
  const left = (massA: number, massB: number): number => {
    const [a, b] = [massA - exact.massA, massB - exact.massB];
    return Math.sqrt(Math.max(0, a * a + b * b + 2 * a * b * cosGap));
  };
  const start = {massA: nearestStock(exact.massA, step), massB: nearestStock(exact.massB, step)};
  let best = {...start, left: left(start.massA, start.massB)};
  const reach = best.left / sinGap;
  // Rounding must not rule out a tie at the very end of the reach.
  const first = Math.max(0, Math.ceil((exact.massA - reach) / step - 1e-9));
  const last = Math.floor((exact.massA + reach) / step + 1e-9);
  for (let k = first; k <= last; k++) {
    const massA = nearestStock(k * step, step);
    const wanted = exact.massB - (massA - exact.massA) * cosGap;
    for (const shift of [-0.5, 0.5]) {
      const massB = nearestStock(Math.max(0, wanted + shift * step), step);
      const next = {massA, massB, left: left(massA, massB)};
      if (better(next, best, step)) best = next;
    }
  }
  return best;
}

function better(a: Split & {left: number}, b: Split & {left: number}, step: number): boolean {
  if (Math.abs(a.left - b.left) > 1e-9 * step) return a.left < b.left;
  const lighter = a.massA + a.massB - b.massA - b.massB;
  return Math.abs(lighter) > 1e-9 * step ? lighter < 0 : a.massA < b.massA;
}

export interface Strip {
  /** Degrees. */
  readonly arc: number;
  readonly effective: number;
  readonly nominal: number | undefined;
}

/**
 * An adhesive strip bent along a circle acts as less than its mass: mass·sin(α/2)/(α/2) for an arc α. The nominal mass
 * is that of the strip which acts as `mass`; there is none when even half a turn of strip is too weak.
 */
export function strip(mass: number, massPerLength: number, radius: number): Strip {
  const arc = mass / (massPerLength * radius);
  if (arc > 2 * Math.PI) {
    throw invalid(
      `this strip would be longer than the circle, which takes ${inWords(2 * Math.PI * massPerLength * radius)}`,
      'mass',
    );
  }
  const most = 2 * massPerLength * radius;
  return {
    arc: (arc * 180) / Math.PI,
    effective: arc === 0 ? 0 : (mass * Math.sin(arc / 2)) / (arc / 2),
    nominal: mass > most ? undefined : most * Math.asin(mass / most),
  };
}
