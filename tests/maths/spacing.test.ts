/** One order alone, and the angles that are kept from call to call: what is kept must not show in an answer. */
import {fit, harmonic, oneHarmonic, variance} from '../../src/maths/harmonics';
import {firstPresent, presentPositions, readingsOf, type Readings} from '../../src/maths/readings';
import {evenSpacing, unevenSpacing} from '../../src/maths/spacing';
import {normalFrom, randomFrom} from '../support/random';

const angles = (degrees: readonly number[]) => ({name: 'angles', degrees: Float64Array.from(degrees)});

const noise = (seed: number, n: number, level = 0): number[] => {
  const normal = normalFrom(randomFrom(seed));
  return Array.from({length: n}, () => level + normal());
};

/** Angles with gaps, in order, none twice. */
const uneven = (seed: number, n: number): number[] => {
  const random = randomFrom(seed);
  return Array.from({length: n}, (_, i) => (360 * (i + 0.8 * random())) / n);
};

test('one harmonic alone is that of the whole fit: any order, even and odd numbers of readings, any level', () => {
  for (const positions of [3, 4, 5, 8, 9, 15, 16, 24, 36])
    for (const level of [0, -1e6])
      for (let order = 1; 2 * order + 1 <= positions; order++) {
        const readings = readingsOf(noise(positions, positions, level));
        const {amount, angle} = oneHarmonic(readings, order);
        const whole = harmonic(fit(readings, order), order);
        expect(amount).toBeCloseTo(whole.amount, 9);
        expect(Math.cos(((angle - whole.angle) * order * Math.PI) / 180)).toBeCloseTo(1, 12);
      }
});

test('one harmonic of readings with a gap, or at angles of their own, is that of the fit to the last bit', () => {
  const values = noise(3, 16);
  const gap = readingsOf(values.map((v, i) => (i === 5 ? NaN : v)));
  const own = angles(uneven(4, 16));
  for (const order of [1, 2, 3]) {
    expect(oneHarmonic(gap, order)).toEqual(harmonic(fit(gap, order), order));
    expect(oneHarmonic(readingsOf(values), order, own)).toEqual(harmonic(fit(readingsOf(values), order, own), order));
    expect(oneHarmonic(gap, order, own)).toEqual(harmonic(fit(gap, order, own), order));
  }
  // A gap changes the answer; so do other angles.
  expect(oneHarmonic(gap, 1)).not.toEqual(oneHarmonic(readingsOf(values), 1));
  expect(oneHarmonic(readingsOf(values), 1, own)).not.toEqual(oneHarmonic(readingsOf(values), 1));
});

test('even spacings are kept, each for its own number of positions and orders', () => {
  const first = evenSpacing(16, 4);
  expect(evenSpacing(16, 3)).not.toBe(first);
  expect(evenSpacing(15, 4)).not.toBe(first);
  expect([evenSpacing(16, 3).orders, evenSpacing(15, 4).positions]).toEqual([3, 15]);
  expect(evenSpacing(16, 4)).toBe(first);
  // The seventh lets the first one go; it is made anew and no different.
  for (let orders = 1; orders <= 6; orders++) evenSpacing(40, orders);
  const again = evenSpacing(16, 4);
  expect(again).not.toBe(first);
  const solved = [first, again].map((spacing) => {
    const [cos, sin] = [[0], [0]];
    return [spacing.solve(Float64Array.from(noise(1, 16)), 0.5, cos, sin), cos, sin];
  });
  expect(solved[0]).toEqual(solved[1]);
});

test('uneven spacings are kept until angles, positions or orders change', () => {
  const degrees = uneven(1, 16);
  const readings = readingsOf(noise(2, 16));
  const kept = unevenSpacing(readings, angles(degrees), 3)!;
  expect(unevenSpacing(readingsOf(noise(5, 16)), angles(degrees), 3)).toBe(kept);
  const others: readonly [Readings, number[], number][] = [
    [readings, degrees, 2],
    [readings, degrees.map((d, i) => (i === 15 ? d + 1 : d)), 3],
    [readings, degrees.map((d, i) => (i === 0 ? d - 1 : d)), 3],
    [readingsOf(noise(2, 12)), degrees.slice(0, 12), 3],
  ];
  for (const [measured, at, orders] of others) {
    unevenSpacing(readings, angles(degrees), 3);
    const other = unevenSpacing(measured, angles(at), orders)!;
    expect([other.positions, other.orders]).toEqual([measured.positions, orders]);
    expect(other).not.toBe(unevenSpacing(readings, angles(degrees), 3));
  }
});

test('a position without an angle leaves no spacing, wherever it is; nor do angles close together', () => {
  const readings = readingsOf(noise(2, 16));
  for (const none of [0, 7, 15])
    expect(unevenSpacing(readings, angles(uneven(1, 16).map((d, i) => (i === none ? NaN : d))), 3)).toBeUndefined();
  expect(unevenSpacing(readings, angles(uneven(1, 16).map((d) => d / 1e6)), 3)).toBeUndefined();
});

test('what a wave leaves, by spacing, is what each reading less the curve is', () => {
  for (const [positions, orders] of [
    [16, 4],
    [15, 4],
    [12, 5],
    [11, 1],
  ]) {
    const at = uneven(positions, positions);
    for (const own of [undefined, angles(at)]) {
      const readings = readingsOf(noise(orders, positions, 3));
      const whole = fit(readings, orders, own);
      let left = 0;
      for (let i = 0; i < positions; i++) {
        const degrees = own === undefined ? (360 * i) / positions : at[i];
        let y = whole.mean;
        for (let k = 1; k < whole.cos.length; k++) {
          const turned = (k * degrees * Math.PI) / 180;
          y += whole.cos[k] * Math.cos(turned) + whole.sin[k] * Math.sin(turned);
        }
        left += (readings.values[i] - y) ** 2;
      }
      expect(whole.squaresLeft / left).toBeCloseTo(1, 9);
      expect(variance(whole)).toBeCloseTo(left / (positions - 2 * (whole.cos.length - 1) - 1), 9);
    }
  }
});

test('which readings are there', () => {
  const some = readingsOf([NaN, NaN, 4, NaN, 5], 'rim');
  expect(some).toMatchObject({name: 'rim', positions: 5, present: 2, rows: 1, columns: 5});
  expect(readingsOf([1]).name).toBe('readings');
  expect([...presentPositions(some)]).toEqual([2, 4]);
  expect(firstPresent(some)).toBe(4);
  expect(firstPresent(readingsOf([7, NaN]))).toBe(7);
  expect(firstPresent(readingsOf([NaN, NaN]))).toBeNaN();
  // A buffer may be longer than what counts.
  expect(firstPresent({...readingsOf([NaN, NaN, 3]), positions: 2})).toBeNaN();
  expect([...presentPositions({...readingsOf([1, NaN, 3]), positions: 2, present: 1})]).toEqual([0]);
});
