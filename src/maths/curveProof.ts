/**
 * Why no turn leaves less than the best one. At each turn looked at, the angles at which the curve is highest and lowest
 * are kept: the difference of the heights there is at no turn more than the peak-to-peak, and with the turn it changes
 * smoothly. Its rate there and the most that it can bend bound it at the turns beside.
 */
import {sind, cosd} from './angles';
import {harmonic, type Wave} from './harmonics';
import {slopeOf} from './matchCurve';
import {peakToPeak, swingPlaces, turnedSum, type SwingPlaces} from './swing';

/** A turn looked at, and where the curve is highest and lowest there. */
export interface CurveLine extends SwingPlaces {
  readonly turn: number;
}

/** A bound at a turn: what the difference of heights is there, and its rate, a degree. */
export interface TurnBound {
  readonly left: number;
  readonly rate: number;
}

/** Turns in tenths of a degree. */
const TURNS = 3600;
/** Turns looked at before any other: every 15°. */
const COARSE = 150;

/**
 * Turns that together show that none leaves less than `after`: where two neighbors do not suffice another turn between
 * them is looked at, down to tenths of a degree and up to `most` turns.
 */
export function curveLines(rim: Wave, tire: Wave, maxOrder: number, after: number, most: number): CurveLine[] {
  const sum = {cos: new Float64Array(maxOrder + 1), sin: new Float64Array(maxOrder + 1)};
  const lines = new Map<number, CurveLine & TurnBound>();
  const look = (tenth: number): TurnBound => {
    const known = lines.get(tenth % TURNS);
    if (known !== undefined) return known;
    const turn = (tenth % TURNS) / 10;
    turnedSum(rim, tire, turn, maxOrder, sum);
    const places = swingPlaces(sum, maxOrder);
    const rate = rateAt(tire, maxOrder, places.high - turn) - rateAt(tire, maxOrder, places.low - turn);
    const line = {turn, ...places, left: peakToPeak(sum, maxOrder), rate};
    lines.set(tenth % TURNS, line);
    return line;
  };
  const bend = bendOf(tire, maxOrder);
  // Half of what counts as equal: another order of adding up must not open what is closed here.
  const enough = after - 3e-8 * slopeOf(tire, maxOrder);
  let stretches: [number, number][] = [];
  for (let i = 0; i < TURNS; i += COARSE) stretches.push([i, i + COARSE]);
  while (stretches.length > 0 && lines.size + stretches.length < most) {
    stretches = stretches.flatMap(([from, to]): [number, number][] => {
      const between = leastBetween(look(from), look(to), (to - from) / 10, bend);
      if (to - from < 2 || between >= enough) return [];
      const middle = (from + to) >> 1;
      look(middle);
      return [
        [from, middle],
        [middle, to],
      ];
    });
  }
  return [...lines.values()].map(({turn, high, low}) => ({turn, high, low})).sort((a, b) => a.turn - b.turn);
}

/**
 * No turn between two of them, `width` degrees apart, leaves less than this. Either bound falls along a parabola; the
 * greater of the two is least where they meet, or at an end.
 */
export function leastBetween(first: TurnBound, second: TurnBound, width: number, bend: number): number {
  const closing = bend * width - first.rate + second.rate;
  const meeting = (first.left - second.left + second.rate * width + (bend * width ** 2) / 2) / closing;
  const on = closing === 0 ? 0 : Math.max(0, Math.min(width, meeting));
  const back = width - on;
  return Math.min(
    first.left,
    second.left,
    Math.max(
      first.left + first.rate * on - (bend * on ** 2) / 2,
      second.left - second.rate * back - (bend * back ** 2) / 2,
    ),
  );
}

/** By how much the rate of a difference of two heights may change with a degree of turn. */
export function bendOf(tire: Wave, maxOrder: number): number {
  let bend = 0;
  for (let k = 1; k <= maxOrder; k++) bend += 2 * harmonic(tire, k).amount * ((k * Math.PI) / 180) ** 2;
  return bend;
}

/** By how much the tire's height at an angle of its own changes with a degree of turn. */
function rateAt({cos, sin}: Wave, maxOrder: number, angle: number): number {
  let rate = 0;
  for (let k = 1; k <= maxOrder; k++) rate += k * (cos[k] * sind(k * angle) - sin[k] * cosd(k * angle));
  return (rate * Math.PI) / 180;
}
