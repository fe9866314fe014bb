/** PLACE by its rule, and with a table of allowed positions against every placing. */
import {leveled, place, placeProof} from '../../src/maths/place';
import {randomFrom} from '../support/random';
import {refused} from '../support/polar';

const yes = (wheels: number, positions: number) =>
  Array.from({length: wheels}, () => new Array<boolean>(positions).fill(true));

test('the worst wheel goes to the least sensitive position', () => {
  // Severities 2 5 3 1, sensitivities 3 2 1 1: 5 → position 2 (the first of the equal ones), 3 → 3, 2 → 1, 1 → 0.
  expect(place([2, 5, 3, 1], [3, 2, 1, 1], 0)).toEqual([1, 2, 3, 0]);
  expect(place([1, 2], [9, 1, 5], 0)).toEqual([2, 1]);
  expect(place([], [], 0)).toEqual([]);
});

test('equal wheels keep their row order, equal positions theirs', () => {
  expect(place([4, 4, 4], [1, 2, 3], 0)).toEqual([0, 1, 2]);
  expect(place([1, 2, 3], [7, 7, 7], 0)).toEqual([2, 1, 0]);
});

test('wheels within the tolerance of the worst of them keep their row order', () => {
  // 6 and 7 are within 2 of 8; 5 is not, though within 2 of 6.
  expect(place([6, 5, 8, 7], [1, 2, 3, 4], 2)).toEqual([0, 3, 1, 2]);
  expect(place([6, 5, 8, 7], [1, 2, 3, 4], 0)).toEqual([2, 3, 0, 1]);
  // The next group is measured from its own worst: 5 and 4, then 2.
  expect(place([2, 4, 5, 8], [1, 2, 3, 4], 1)).toEqual([3, 1, 2, 0]);
});

test('the tolerance itself is within, on paper as well as in binary', () => {
  expect(place([0.5, 0.75], [1, 2], 0.25)).toEqual([0, 1]);
  expect(place([0.5, 0.75], [1, 2], 0.2499)).toEqual([1, 0]);
  // 0.8 − 0.6 is more than 0.2 by rounding.
  expect(place([0.6, 0.8], [1, 2], 0.2)).toEqual([0, 1]);
  expect(place([0.6, 0.8 + 1e-10], [1, 2], 0.2)).toEqual([0, 1]);
  expect(place([0.6, 0.8 + 3e-10], [1, 2], 0.2)).toEqual([1, 0]);
});

test('a table that allows everything changes nothing', () => {
  const random = randomFrom(8);
  for (let n = 0; n < 400; n++) {
    const wheels = 1 + Math.floor(random() * 5);
    const positions = wheels + Math.floor(random() * 3);
    const severities = Array.from({length: wheels}, () => Math.floor(random() * 5));
    const sensitivities = Array.from({length: positions}, () => Math.floor(random() * 4));
    const tolerance = Math.floor(random() * 3);
    expect(place(severities, sensitivities, tolerance, yes(wheels, positions))).toEqual(
      place(severities, sensitivities, tolerance),
    );
  }
});

test('a wheel that may not go where it would: the least sum of severity · sensitivity', () => {
  // Wheel 1 (severity 3) may not take position 0. To 2: 3·5 + 2·1 + 1·4 = 21; to 1: 3·4 + 2·1 + 1·5 = 19.
  const allowed = [
    [true, true, true],
    [false, true, true],
    [true, true, true],
  ];
  expect(place([2, 3, 1], [1, 4, 5], 0, allowed)).toEqual([0, 1, 2]);
  expect(place([2, 3, 1], [1, 4, 5], 0)).toEqual([1, 0, 2]);
});

test('every allowed placing', () => {
  const random = randomFrom(31);
  let impossible = 0;
  for (let n = 0; n < 600; n++) {
    const wheels = 1 + Math.floor(random() * 5);
    const positions = wheels + Math.floor(random() * 2);
    const severities = Array.from({length: wheels}, () => Math.floor(random() * 6));
    const sensitivities = Array.from({length: positions}, () => Math.floor(random() * 5));
    const tolerance = n % 2;
    const allowed = severities.map(() => sensitivities.map(() => random() < 0.7));
    const wanted = everyPlacing(severities, sensitivities, tolerance, allowed);
    if (wanted === undefined) {
      impossible++;
      expect(refused(() => place(severities, sensitivities, tolerance, allowed))).toEqual({
        reason: 'unavailable',
        argument: 'allowed',
        message: 'allowed: no placing gives every wheel a position that is allowed for it',
      });
    } else expect(place(severities, sensitivities, tolerance, allowed)).toEqual(wanted);
  }
  expect(impossible).toBeGreaterThan(20);
});

test('no wheels, no levels', () => {
  expect(leveled([], 1)).toEqual([]);
  expect(leveled([3, 5, 4, 1], 1)).toEqual([3, 5, 5, 1]);
});

test('prices that no allowed place undercuts, and that the places taken meet', () => {
  const random = randomFrom(32);
  let proved = 0;
  for (let n = 0; n < 200; n++) {
    const wheels = 1 + Math.floor(random() * 5);
    const positions = wheels + Math.floor(random() * 2);
    const severities = Array.from({length: wheels}, () => Math.floor(random() * 6));
    const sensitivities = Array.from({length: positions}, () => Math.floor(random() * 5));
    const allowed = severities.map(() => sensitivities.map(() => random() < 0.8));
    if (everyPlacing(severities, sensitivities, 1, allowed) === undefined) continue;
    proved++;
    const {placing, wheelPrices, positionPrices} = placeProof(severities, sensitivities, 1, allowed);
    expect(placing).toEqual(place(severities, sensitivities, 1, allowed));
    const levels = leveled(severities, 1);
    expect([wheelPrices.length, positionPrices.length]).toEqual([wheels, positions]);
    levels.forEach((level, i) => {
      sensitivities.forEach((sensitivity, j) => {
        const over = wheelPrices[i] + positionPrices[j] - level * sensitivity;
        if (allowed[i][j]) expect(over).toBeLessThan(1e-12);
        if (placing[i] === j) expect(over).toBeGreaterThan(-1e-12);
      });
    });
    // Positions that stay empty cost nothing, no position more: so nothing can cost less than the prices together.
    for (const [j, price] of positionPrices.entries())
      expect(price).toBeLessThanOrEqual(placing.includes(j) ? 0 : 1e-12);
    const cost = levels.reduce((sum, level, i) => sum + level * sensitivities[placing[i]], 0);
    expect([...wheelPrices, ...positionPrices].reduce((a, b) => a + b)).toBeCloseTo(cost, 12);
  }
  expect(proved).toBeGreaterThan(100);
});

/**
 * Wheels from the worst group down, each group in row order; positions from the least sensitive on. Of the placings with
 * the least sum (a group counting as its worst wheel) the first in that order.
 */
function everyPlacing(
  severities: number[],
  sensitivities: number[],
  tolerance: number,
  allowed: boolean[][],
): number[] | undefined {
  const level = new Map<number, number>();
  for (const value of [...new Set(severities)].sort((a, b) => b - a)) {
    const group = [...level.values()].pop();
    level.set(value, group !== undefined && group - value <= tolerance ? group : value);
  }
  const wheels = severities.map((s, i) => ({i, level: level.get(s)!})).sort((a, b) => b.level - a.level || a.i - b.i);
  const positions = sensitivities.map((s, j) => ({j, s})).sort((a, b) => a.s - b.s || a.j - b.j);
  const used = new Set<number>();
  const answer = new Array<number>(severities.length);
  let [least, best]: [number, number[] | undefined] = [Infinity, undefined];
  const next = (k: number, sum: number): void => {
    if (k === wheels.length) {
      if (sum < least) [least, best] = [sum, [...answer]];
      return;
    }
    for (const {j, s} of positions) {
      if (used.has(j) || !allowed[wheels[k].i][j]) continue;
      used.add(j);
      answer[wheels[k].i] = j;
      next(k + 1, sum + wheels[k].level * s);
      used.delete(j);
    }
  };
  next(0, 0);
  return best;
}

test('a position for each wheel, and 300 at most', () => {
  expect(refused(() => place([1, 2, 3], [1, 2], 0))).toEqual({
    reason: 'invalid',
    argument: 'sensitivities',
    message: 'sensitivities: a position for each of the 3 wheels is wanted, found 2',
  });
  const many = (n: number) => Array.from({length: n}, (_, i) => i);
  expect(place([5], many(300), 0)).toEqual([0]);
  expect(refused(() => place([5], many(301), 0))).toEqual({
    reason: 'invalid',
    argument: 'sensitivities',
    message: 'sensitivities: at most 300 positions are wanted, found 301',
  });
});
