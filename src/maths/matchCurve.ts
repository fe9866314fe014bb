import {harmonic, type Wave} from './harmonics';
import {peakToPeak, turnedSum} from './swing';

export interface CurveMatch {
  readonly turn: number;
  readonly after: number;
  readonly before: number;
  readonly worst: number;
}

/** Turns tried: every tenth of a degree. */
const TURNS = 3600;
/** Turns looked at before any is ruled out: every 5°. */
const COARSE = 50;

/**
 * The turn of the tire on the rim, to 0.1°, that gives the least peak-to-peak of rim(θ) + tire(θ − turn), harmonics
 * 1 to maxOrder; with it what is left, what there is now, and the worst that any turn gives. Equal turns (to 1E-9 of
 * the tire's own swing, and to rounding): the shorter one, then the positive one. So a round tire is not turned.
 *
 * All 3,600 turns count, few are computed: the peak-to-peak cannot change faster than `slope` a degree, and it is the
 * largest of many curves that each bend by no more than `bend`, which bounds what lies between two turns looked at.
 * Turning the tire one way is turning the rim the other way, so the bounds are those of the part that is rounder.
 */
export function matchCurve(rim: Wave, tire: Wave, maxOrder: number): CurveMatch {
  const sum = {cos: new Float64Array(maxOrder + 1), sin: new Float64Array(maxOrder + 1)};
  const known = new Float64Array(TURNS + 1).fill(NaN);
  const at = (tenth: number): number => {
    if (Number.isNaN(known[tenth])) {
      turnedSum(rim, tire, (tenth % TURNS) / 10, maxOrder, sum);
      known[tenth] = peakToPeak(sum, maxOrder);
    }
    return known[tenth];
  };

  let rounding = 0;
  for (let k = 1; k <= maxOrder; k++) rounding += 1e-13 * harmonic(rim, k).amount;
  const ofTire = slopeOf(tire, maxOrder);
  const slope = Math.min(ofTire, slopeOf(rim, maxOrder));
  const bend = Math.min(bendOf(tire, maxOrder), bendOf(rim, maxOrder));
  const tie = 1e-9 * (ofTire * 60) + rounding;

  let least = Infinity;
  let worst = -Infinity;
  for (let i = 0; i <= TURNS; i += COARSE) {
    least = Math.min(least, at(i));
    worst = Math.max(worst, at(i));
  }
  const search = (from: number, to: number): void => {
    if (to - from < 2) return;
    const width = (to - from) / 10;
    const mayBeLeast = (at(from) + at(to)) / 2 - (slope * width) / 2 <= least + tie;
    const mayBeWorst = Math.max(at(from), at(to)) + (bend * width ** 2) / 8 > worst;
    if (!mayBeLeast && !mayBeWorst) return;
    const middle = (from + to) >> 1;
    least = Math.min(least, at(middle));
    worst = Math.max(worst, at(middle));
    search(from, middle);
    search(middle, to);
  };
  // A part whose whole swing is rounding leaves all turns equal.
  if (slope * 180 > rounding) for (let i = 0; i < TURNS; i += COARSE) search(i, i + COARSE);

  let best = 0;
  for (let i = 0; i < TURNS; i++) {
    if (known[i] <= least + tie && (known[best] > least + tie || way(i) < way(best))) best = i;
  }
  return {turn: best / 10, after: at(best), before: at(0), worst};
}

/** The turn at which the peak-to-peak is `worst`, looked for among all. */
export function worstTurn(rim: Wave, tire: Wave, maxOrder: number): number {
  const sum = {cos: new Float64Array(maxOrder + 1), sin: new Float64Array(maxOrder + 1)};
  let [worst, at] = [-1, 0];
  for (let tenth = 0; tenth < TURNS; tenth++) {
    turnedSum(rim, tire, tenth / 10, maxOrder, sum);
    const left = peakToPeak(sum, maxOrder);
    if (left > worst) [worst, at] = [left, tenth];
  }
  return at / 10;
}

/** By how much the peak-to-peak may change with a degree of turn. */
export function slopeOf(part: Wave, maxOrder: number): number {
  let slope = 0;
  for (let k = 1; k <= maxOrder; k++) slope += (k * harmonic(part, k).amount * Math.PI) / 180;
  return slope;
}

/** By how much that change may itself change with a degree. */
function bendOf(part: Wave, maxOrder: number): number {
  let bend = 0;
  for (let k = 1; k <= maxOrder; k++) bend += harmonic(part, k).amount * ((k * Math.PI) / 180) ** 2;
  return bend;
}

/** The short way round, in tenths of a degree: whole numbers, so that turns either way are equally long. */
const way = (tenth: number): number => Math.min(tenth, TURNS - tenth);
