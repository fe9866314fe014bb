/** The best turn of the tire by looking at every tenth of a degree. */
import type {Wave} from '../../../maths/harmonics';
import {peakToPeak, turnedSum} from '../../../maths/swing';

export function turnByBruteForce(rim: Wave, tire: Wave, maxOrder: number): {turn: number; after: number} {
  const sum = {cos: new Float64Array(maxOrder + 1), sin: new Float64Array(maxOrder + 1)};
  let best = {turn: 0, after: Infinity};
  for (let tenth = 0; tenth < 3600; tenth++) {
    turnedSum(rim, tire, tenth / 10, maxOrder, sum);
    const after = peakToPeak(sum, maxOrder);
    if (after < best.after) best = {turn: tenth / 10, after};
  }
  return best;
}
