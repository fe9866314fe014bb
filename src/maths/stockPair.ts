import {RADIAN, shortWay, turned} from './angles';
import {unbalances, type Plane, type Two} from './planes';
import {nearestStock, stockNear} from './stock';
import {bestAngles} from './stockPairAngles';
import {length, point, times, type Point, type Vector} from './vectors';

export interface StockPair {
  readonly inboard: Vector;
  readonly outboard: Vector;
  /** What is left, as sizes: mass · length, and mass · length². */
  readonly static: number;
  readonly couple: number;
}

/** Objectives this close, as a share of what rounding alone leaves, are equal. */
const TIE = 1e-9;

interface Candidate extends Omit<StockPair, 'couple'> {
  /** |e₂ − e₁|: twice the couple ÷ separation. */
  readonly apart: number;
  readonly objective: number;
}

/**
 * Two stock masses at free angles instead of two exact weights.
 *
 * With the errors e₁, e₂ (fitted − required, as U = mass · radius), static = |e₁ + e₂| and couple ÷ separation =
 * |e₂ − e₁| / 2, the objective static² + (couple ÷ separation)² is minimized over all pairs of masses within two steps
 * of what is required, 0 included, and over both angles, subject to static ≤ what rounding each plane alone leaves.
 * Rounding alone is always a candidate, so neither the static nor the objective is ever worse than it; the couple may be.
 * Equal objectives: less total mass, less inboard, smaller shifts of the angles.
 */
export function stockPair(weights: Two<Vector>, planes: Two<Plane>, step: number): StockPair {
  const setting = setUp(weights, planes, step);
  const {alone} = setting;
  let best = alone;
  const tie = TIE * alone.objective;
  for (const {masses, floor} of pairs(weights, setting, step)) {
    if (floor > best.objective + tie) break;
    for (const next of candidates(masses, setting)) if (goesBefore(next, best, weights, tie, step)) best = next;
  }
  const half = Math.abs(planes[1].position - planes[0].position) / 2;
  return {inboard: best.inboard, outboard: best.outboard, static: best.static, couple: best.apart * half};
}

type MakeCandidate = (masses: Two<number>, fitted: Two<Point>, angles: Two<number>) => Candidate;

/** What all pairs of masses are judged by: the errors they leave, and those of rounding each plane alone. */
interface Setting {
  readonly candidate: MakeCandidate;
  readonly alone: Candidate;
  readonly required: Two<Point>;
  readonly sizes: readonly number[];
  readonly radii: readonly number[];
  /** Static allowed. */
  readonly allowed: number;
}

function setUp(weights: Two<Vector>, planes: Two<Plane>, step: number): Setting {
  const required = unbalances(weights, planes).map(({at}) => at) as unknown as Two<Point>;
  const radii = planes.map(({radius}) => radius);
  const candidate: MakeCandidate = (masses, fitted, angles) => {
    const [x1, y1] = [fitted[0].x - required[0].x, fitted[0].y - required[0].y];
    const [x2, y2] = [fitted[1].x - required[1].x, fitted[1].y - required[1].y];
    const left = length({x: x1 + x2, y: y1 + y2});
    const apart = length({x: x2 - x1, y: y2 - y1});
    const [inboard, outboard] = masses.map((amount, i) => ({amount, angle: amount === 0 ? 0 : turned(angles[i])}));
    return {inboard, outboard, static: left, apart, objective: left * left + (apart * apart) / 4};
  };

  const rounded = weights.map(({amount}) => nearestStock(amount, step)) as unknown as Two<number>;
  const at = weights.map(({angle}, i) => times(radii[i], point({amount: rounded[i], angle}))) as unknown as Two<Point>;
  const alone = candidate(rounded, at, [weights[0].angle, weights[1].angle]);
  const sizes = required.map(length);
  // The angles come from a search on the limit itself: rounding may put them a hair beyond it.
  const allowed = alone.static + 1e-13 * (sizes[0] + sizes[1] + step * (radii[0] + radii[1]));
  return {candidate, alone, required, sizes, radii, allowed};
}

/** The best that two masses can do at free angles, as far as the limit on the static allows any. */
function candidates(masses: Two<number>, {candidate, alone, required, radii, allowed}: Setting): Candidate[] {
  const rho: Two<number> = [masses[0] * radii[0], masses[1] * radii[1]];
  return bestAngles(required, rho, alone.static)
    .map(([inboard, outboard]) => {
      const fitted: Two<Point> = [
        {x: rho[0] * Math.cos(inboard), y: rho[0] * Math.sin(inboard)},
        {x: rho[1] * Math.cos(outboard), y: rho[1] * Math.sin(outboard)},
      ];
      return candidate(masses, fitted, [inboard * RADIAN, outboard * RADIAN]);
    })
    .filter((found) => found.static <= allowed);
}

/** A pair of stock masses near what is required, and the angles at which it does best, where the limit allows any. */
export interface TriedPair {
  readonly masses: Two<number>;
  readonly angles: Two<number> | undefined;
}

/** All pairs of masses that stockPair() chooses from. */
export function triedPairs(weights: Two<Vector>, planes: Two<Plane>, step: number): TriedPair[] {
  const setting = setUp(weights, planes, step);
  return pairs(weights, setting, step).map(({masses}) => {
    const best = candidates(masses, setting).reduce<Candidate | undefined>(
      (a, b) => (a === undefined || b.objective < a.objective ? b : a),
      undefined,
    );
    return {masses, angles: best && [best.inboard.angle, best.outboard.angle]};
  });
}

interface Pair {
  readonly masses: Two<number>;
  /** The objective cannot be less. */
  readonly floor: number;
}

/** The pairs of stock masses near what is required, those that could do best first. */
function pairs(weights: Two<Vector>, {radii, sizes}: Setting, step: number): Pair[] {
  const [near1, near2] = weights.map(({amount}) => stockNear(amount, step));
  const all = near1.flatMap((inboard) =>
    near2.map((outboard): Pair => {
      const floor = least(Math.abs(inboard * radii[0] - sizes[0]), Math.abs(outboard * radii[1] - sizes[1]));
      return {masses: [inboard, outboard], floor};
    }),
  );
  return all.sort((a, b) => a.floor - b.floor);
}

/**
 * The least that the objective, 5/4·(|e₁|² + |e₂|²) + 3/2·e₁·e₂, can be when the errors are at least a and b long:
 * opposite errors, the smaller one grown to 0.6 of the larger where that helps.
 */
function least(a: number, b: number): number {
  const [more, less] = [Math.max(a, b), Math.min(a, b)];
  return less < 0.6 * more ? 0.8 * more * more : 1.25 * (a * a + b * b) - 1.5 * a * b;
}

function goesBefore(a: Candidate, b: Candidate, required: Two<Vector>, tie: number, step: number): boolean {
  const [one, two] = [shifts(a, required), shifts(b, required)];
  const before =
    unlike(a.objective, b.objective, tie) ||
    unlike(a.inboard.amount + a.outboard.amount, b.inboard.amount + b.outboard.amount, 1e-9 * step) ||
    unlike(a.inboard.amount, b.inboard.amount, 1e-9 * step) ||
    unlike(Math.abs(one[0]) + Math.abs(one[1]), Math.abs(two[0]) + Math.abs(two[1]), 1e-6) ||
    two[0] - one[0];
  return before < 0;
}

const unlike = (a: number, b: number, slack: number): number => (Math.abs(a - b) > slack ? a - b : 0);

/** How far the weights stand from where they are required; one that is not there, at 0°, does so in all that are compared. */
const shifts = ({inboard, outboard}: Candidate, required: Two<Vector>): Two<number> => [
  shortWay(inboard.angle - required[0].angle),
  shortWay(outboard.angle - required[1].angle),
];
