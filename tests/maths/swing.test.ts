/** Peak-to-peak of curves whose extremes are known in closed form, or found by a search of the tests' own. */
import {gridPoints, peakToPeak, swing, swingPlaces, turnedSum} from '../../src/maths/swing';
import type {Wave} from '../../src/maths/harmonics';
import {randomFrom} from '../support/random';
import {cosines} from '../support/calls';
import {RAD, apart, waveOf} from '../support/polar';

function height({cos, sin}: Pick<Wave, 'cos' | 'sin'>, orders: number, degrees: number): number {
  let y = 0;
  for (let k = 1; k <= orders; k++) y += cos[k] * Math.cos(k * degrees * RAD) + sin[k] * Math.sin(k * degrees * RAD);
  return y;
}

/** Highest and lowest point: 4,000 heights, then ternary search beside each that is an extreme. */
function searched(wave: Wave, orders: number): {high: number; low: number} {
  const n = 4000;
  const heights = Array.from({length: n}, (_, i) => height(wave, orders, (360 * i) / n));
  const top = (sign: 1 | -1): number => {
    const up = (degrees: number) => sign * height(wave, orders, degrees);
    let most = -Infinity;
    heights.forEach((here, i) => {
      if (sign * here < sign * heights[(i + 1) % n] || sign * here < sign * heights[(i + n - 1) % n]) return;
      let [low, high] = [(360 * (i - 1)) / n, (360 * (i + 1)) / n];
      for (let k = 0; k < 40; k++) {
        const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
        if (up(a) < up(b)) low = a;
        else high = b;
      }
      most = Math.max(most, sign * here, up((low + high) / 2));
    });
    return sign * most;
  };
  return {high: top(1), low: top(-1)};
}

test('the grid: a degree, finer from order 5 on', () => {
  expect([1, 3, 4, 5, 20].map(gridPoints)).toEqual([360, 360, 360, 450, 1800]);
});

test.each([1, 2, 3, 4, 5, 7, 20])(
  'a pure harmonic of order %d swings by its amount, wherever its high point lies',
  (order) => {
    for (const high of [0, 0.5, 13.3, 17.77, 0.123 / order, -0.7 / order]) {
      const found = swing(waveOf(order, [order, 0.8, high]), order);
      expect(found.high).toBeCloseTo(0.4, 13);
      expect(found.low).toBeCloseTo(-0.4, 13);
    }
  },
);

test('cos θ + cos 2θ: 2 at the top, −9/8 where cos θ = −1/4', () => {
  for (const from of [0, 0.5, 37.219]) {
    const found = swing(waveOf(2, [1, 2, from], [2, 2, from]), 2);
    expect(found.high).toBeCloseTo(2, 13);
    expect(found.low).toBeCloseTo(-1.125, 13);
    expect(peakToPeak(waveOf(2, [1, 2, from], [2, 2, from]), 2)).toBeCloseTo(3.125, 13);
  }
});

test('a top that is flat to the third order: cos θ − ¼·cos 2θ, ¾ and −5/4', () => {
  for (const from of [0, 0.5, 0.3]) {
    const wave = waveOf(2, [1, 2, from], [2, 0.5, from + 90]);
    expect(swing(wave, 2).high).toBeCloseTo(0.75, 9);
    expect(swing(wave, 2).low).toBeCloseTo(-1.25, 13);
  }
});

test('no curve, no swing', () => {
  expect(swing(waveOf(4), 4)).toEqual({high: 0, low: 0});
});

test('orders above the one asked for, and the mean, stay out', () => {
  const wave = {...waveOf(3, [1, 1, 20], [3, 5, 0]), mean: 100};
  expect(peakToPeak(wave, 2)).toBeCloseTo(1, 13);
  expect(peakToPeak(wave, 3)).toBeGreaterThan(5);
});

test('one length of curve after another, in any order', () => {
  const random = randomFrom(11);
  for (const orders of [4, 1, 8, 2, 4, 20, 3, 12, 1]) {
    const wave = waveOf(orders);
    for (let k = 1; k <= orders; k++) [wave.cos[k], wave.sin[k]] = [random() - 0.5, random() - 0.5];
    const [found, wanted] = [swing(wave, orders), searched(wave, orders)];
    expect(found.high).toBeCloseTo(wanted.high, 12);
    expect(found.low).toBeCloseTo(wanted.low, 12);
  }
});

test.each([2, 4, 6])('%d tops all but equally high: the highest, wherever the grid shows it', (order) => {
  const random = randomFrom(30 + order);
  let hidden = 0;
  for (let n = 0; n < 60; n++) {
    // A curve that is its own mirror image has tops that are equally high, unlike far from the next point of the grid.
    // Half a step off a top the grid is lower by ½·(order·0.5°)²; the tops are made to differ by less than that.
    const [axis, unlike] = [360 * random(), 0.1 * (order * 0.5 * RAD) ** 2 * random()];
    const mirrored = [
      [order, 1, axis + 180 / order],
      [order / 2, 0.5 + 0.5 * random(), axis],
    ] as const;
    const wave = waveOf(order, ...mirrored, [1, unlike, axis + 90]);
    const [found, wanted] = [swing(wave, order), searched(wave, order)];
    expect(found.high).toBeCloseTo(wanted.high, 13);
    expect(found.low).toBeCloseTo(wanted.low, 13);
    const points = gridPoints(order);
    const heights = Array.from({length: points}, (_, i) => height(wave, order, (360 * i) / points));
    const shown = (360 * heights.indexOf(Math.max(...heights))) / points;
    if (apart(shown, swingPlaces(wave, order).high) > 2) hidden++;
  }
  expect(hidden).toBeGreaterThan(10);
});

test('few places are worked out: those that can be the highest or the lowest, and where the curve is an extreme', () => {
  // Four waves round the wheel, of which one top and one bottom stand out, neither at the first point of the grid.
  const [wave, plain] = [waveOf(4, [1, 0.3, 37], [4, 1, 40]), waveOf(3, [1, 0.3, 37])];
  swing(wave, 4);
  // Newton's step and the height, four cosines each, once for the highest and once for the lowest.
  expect(cosines(() => swing(wave, 4))).toBe(16);
  expect(cosines(() => swing(plain, 3))).toBe(12);
  expect(cosines(() => swing(wave, 4))).toBe(16);
  // The curve at 360 points; at each of four tops and four bottoms Newton's step, and its height and the best so far.
  expect(cosines(() => swingPlaces(wave, 4))).toBe(4 * 360 + 8 * 12);
});

describe('where the extremes stand', () => {
  test.each([1, 3, 4, 7])('of a pure harmonic of order %d', (order) => {
    for (const high of [0, 0.4, 13.3, 50]) {
      const places = swingPlaces(waveOf(order, [order, 0.8, high]), order);
      expect(Math.abs(Math.sin((order / 2) * (places.high - high) * RAD))).toBeLessThan(1e-8);
      expect(Math.abs(Math.cos((order / 2) * (places.low - high) * RAD))).toBeLessThan(1e-8);
    }
  });

  test('cos θ + cos 2θ: at 0° and where cos θ = −1/4', () => {
    const places = swingPlaces(waveOf(2, [1, 2, 37.2], [2, 2, 37.2]), 2);
    expect(apart(places.high, 37.2)).toBeLessThan(1e-7);
    expect(apart(places.low, 37.2)).toBeCloseTo(Math.acos(-0.25) / RAD, 7);
  });

  test('no curve, no place', () => {
    expect(swingPlaces(waveOf(4), 4)).toEqual({high: 0, low: 0});
  });

  test('the curve is there as high and as low as it gets', () => {
    const random = randomFrom(21);
    for (let n = 0; n < 40; n++) {
      const orders = 1 + (n % 6);
      const wave = waveOf(
        orders,
        ...Array.from({length: orders}, (_, i) => [i + 1, random(), 360 * random()] as const),
      );
      const [places, found] = [swingPlaces(wave, orders), swing(wave, orders)];
      for (const side of ['high', 'low'] as const) {
        expect(height(wave, orders, places[side])).toBeCloseTo(found[side], 12);
      }
    }
  });
});

test('a turned curve added: rim(θ) + tire(θ − turn) at every θ', () => {
  const rim = waveOf(3, [1, 0.4, 10], [2, 0.3, 50], [3, 0.2, 5]);
  const tire = waveOf(3, [1, 0.5, 70], [2, 0.1, 20], [3, 0.6, 100]);
  const sum = {cos: new Float64Array(4), sin: new Float64Array(4)};
  for (const by of [0, 37.4, 90, 200, 359.9]) {
    turnedSum(rim, tire, by, 3, sum);
    for (const degrees of [0, 41, 123.4, 300]) {
      expect(height(sum, 3, degrees)).toBeCloseTo(height(rim, 3, degrees) + height(tire, 3, degrees - by), 13);
    }
  }
  // Order 1 by 90°: the high point at 70° comes to 160°; order 2 by 90° is reversed.
  turnedSum(waveOf(2), waveOf(2, [1, 2, 70], [2, 2, 20]), 90, 2, sum);
  expect(sum.cos[1]).toBeCloseTo(Math.cos(160 * RAD), 14);
  expect(sum.sin[1]).toBeCloseTo(Math.sin(160 * RAD), 14);
  expect(sum.cos[2]).toBeCloseTo(-Math.cos(40 * RAD), 14);
  expect(sum.sin[2]).toBeCloseTo(-Math.sin(40 * RAD), 14);
});
