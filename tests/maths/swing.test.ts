/** Peak-to-peak of curves whose extremes are known in closed form, or found by a search of the tests' own. */
import {gridPoints, peakToPeak, swing, swingPlaces, turnedSum} from '../../src/maths/swing';
import type {Wave} from '../../src/maths/harmonics';
import {randomFrom} from '../support/random';
import {RAD, apart, waveOf} from '../support/polar';

/** Highest and lowest point: 4,000 heights, then ternary search beside the best. */
function searched(wave: Wave, orders: number): {high: number; low: number} {
  const height = (x: number) => {
    let y = 0;
    for (let k = 1; k <= orders; k++) y += wave.cos[k] * Math.cos(k * x) + wave.sin[k] * Math.sin(k * x);
    return y;
  };
  const n = 4000;
  const top = (sign: 1 | -1) => {
    let best = 0;
    let most = -Infinity;
    for (let i = 0; i < n; i++) {
      const y = sign * height((2 * Math.PI * i) / n);
      if (y > most) [best, most] = [i, y];
    }
    let [low, high] = [(2 * Math.PI * (best - 1)) / n, (2 * Math.PI * (best + 1)) / n];
    for (let k = 0; k < 40; k++) {
      const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
      if (sign * height(a) < sign * height(b)) low = a;
      else high = b;
    }
    return sign * Math.max(most, sign * height((low + high) / 2));
  };
  return {high: top(1), low: top(-1)};
}

test('the grid: a degree, finer from order 5 on', () => {
  expect([1, 3, 4, 5, 20].map(gridPoints)).toEqual([360, 360, 360, 450, 1800]);
});

test.each([1, 2, 3, 4, 5, 7, 20])(
  'a pure harmonic of order %d swings by its amount, wherever its high point lies',
  (order) => {
    for (const high of [0, 0.5, 13.3, 17.77, 0.123 / order]) {
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
        let height = 0;
        for (let k = 1; k <= orders; k++) {
          height += wave.cos[k] * Math.cos(k * places[side] * RAD) + wave.sin[k] * Math.sin(k * places[side] * RAD);
        }
        expect(height).toBeCloseTo(found[side], 12);
      }
    }
  });
});

test('a turned curve added: rim(θ) + tire(θ − turn) at every θ', () => {
  const rim = waveOf(3, [1, 0.4, 10], [2, 0.3, 50], [3, 0.2, 5]);
  const tire = waveOf(3, [1, 0.5, 70], [2, 0.1, 20], [3, 0.6, 100]);
  const height = ({cos, sin}: Pick<Wave, 'cos' | 'sin'>, degrees: number) =>
    [1, 2, 3].reduce((y, k) => y + cos[k] * Math.cos(k * degrees * RAD) + sin[k] * Math.sin(k * degrees * RAD), 0);
  const sum = {cos: new Float64Array(4), sin: new Float64Array(4)};
  for (const by of [0, 37.4, 90, 200, 359.9]) {
    turnedSum(rim, tire, by, 3, sum);
    for (const degrees of [0, 41, 123.4, 300]) {
      expect(height(sum, degrees)).toBeCloseTo(height(rim, degrees) + height(tire, degrees - by), 13);
    }
  }
  // Order 1 by 90°: the high point at 70° comes to 160°; order 2 by 90° is reversed.
  turnedSum(waveOf(2), waveOf(2, [1, 2, 70], [2, 2, 20]), 90, 2, sum);
  expect(sum.cos[1]).toBeCloseTo(Math.cos(160 * RAD), 14);
  expect(sum.sin[1]).toBeCloseTo(Math.sin(160 * RAD), 14);
  expect(sum.cos[2]).toBeCloseTo(-Math.cos(40 * RAD), 14);
  expect(sum.sin[2]).toBeCloseTo(-Math.sin(40 * RAD), 14);
});
