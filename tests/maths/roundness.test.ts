/** Minimum zone against brute force, least squares against its definition. */
import {fit} from '../../src/maths/harmonics';
import {readingsOf} from '../../src/maths/readings';
import {minimumZonePoints, roundness} from '../../src/maths/roundness';
import {refusal} from '../support/formula';
import {randomFrom} from '../support/random';

const RAD = Math.PI / 180;
const angles = (degrees: number[]) => ({name: 'angles', degrees: Float64Array.from(degrees)});

const zone = (y: number[], degrees: number[], a: number, b: number): number => {
  const rest = y.map((v, i) => v - a * Math.cos(degrees[i] * RAD) - b * Math.sin(degrees[i] * RAD));
  return Math.max(...rest) - Math.min(...rest);
};

/** The least zone by looking everywhere, ever closer: the zone is convex in (a, b). */
function bruteForce(y: number[], degrees: number[]): number {
  let [a, b, size] = [0, 0, 2 * (Math.max(...y) - Math.min(...y)) + 1e-9];
  let best = zone(y, degrees, a, b);
  while (size > 1e-12) {
    const before = best;
    const [a0, b0] = [a, b];
    for (let i = 0; i < 36; i++) {
      const [p, q] = [a0 + size * Math.cos((i * Math.PI) / 18), b0 + size * Math.sin((i * Math.PI) / 18)];
      const next = zone(y, degrees, p, q);
      if (next < best) [best, a, b] = [next, p, q];
    }
    if (best === before) size *= 0.7;
  }
  return best;
}

describe('minimum zone', () => {
  test.each(Array.from({length: 40}, (_, seed) => seed))('is the least there is, seed %i', (seed) => {
    const random = randomFrom(seed);
    const n = 4 + (seed % 17);
    const degrees = Array.from({length: n}, (_, i) => (360 * (i + 0.8 * random())) / n);
    const y = degrees.map((d) => 2 + Math.cos(d * RAD) + random());
    const {deviation, offset, angle} = roundness(readingsOf(y), 'MZ', angles(degrees));
    const least = bruteForce(y, degrees);
    expect(deviation).toBeLessThanOrEqual(least + 1e-12);
    expect(deviation).toBeGreaterThan(least - 1e-7);
    expect(zone(y, degrees, offset * Math.cos(angle * RAD), offset * Math.sin(angle * RAD))).toBeCloseTo(deviation, 12);
    const [ls] = [roundness(readingsOf(y), 'LS', angles(degrees)).deviation];
    expect(deviation).toBeLessThanOrEqual(ls + 1e-12);
  });

  test('an ellipse on even angles: half of it either side, no offset', () => {
    const y = Array.from({length: 16}, (_, i) => 7 + 0.5 * Math.cos(2 * 22.5 * i * RAD));
    const {deviation, offset} = roundness(readingsOf(y), 'MZ');
    expect(deviation).toBeCloseTo(1, 12);
    expect(offset).toBeCloseTo(0, 12);
  });

  test('three readings lie on a circle', () => {
    expect(roundness(readingsOf([1, 2, 4]), 'MZ').deviation).toBeCloseTo(0, 14);
    expect(roundness(readingsOf([1, 2, NaN, 4]), 'MZ', angles([10, 100, 150, 290])).deviation).toBeCloseTo(0, 14);
  });

  test('readings on a circle leave nothing', () => {
    const y = Array.from({length: 12}, (_, i) => 3 + 0.4 * Math.cos((30 * i - 77) * RAD));
    const {deviation, offset, angle} = roundness(readingsOf(y), 'MZ');
    expect(deviation).toBeLessThan(1e-14);
    expect(offset).toBeCloseTo(0.4, 13);
    expect(angle).toBeCloseTo(77, 11);
    expect(roundness(readingsOf(new Array(9).fill(0.3)), 'MZ')).toEqual({deviation: 0, offset: 0, angle: 0});
  });

  test('one high reading among many is split between both sides', () => {
    const y = new Array(360).fill(0);
    y[90] = 1;
    const {deviation} = roundness(readingsOf(y), 'MZ');
    expect(deviation).toBeLessThanOrEqual(
      bruteForce(
        y,
        y.map((_, i) => i),
      ) + 1e-12,
    );
  });

  test.each([
    [[100, 260, 300, 340]],
    [[20, 60, 100, 260, 300, 340]],
    [[45, 135, 225, 315]],
    [[0, 90, 180, 270]],
    [[10, 20, 90, 270]],
  ])('angles in mirror image, %p', (degrees) => {
    for (let seed = 0; seed < 8; seed++) {
      const random = randomFrom(seed);
      const y = degrees.map(() => random());
      const {deviation} = roundness(readingsOf(y), 'MZ', angles(degrees));
      const least = bruteForce(y, degrees);
      expect(deviation).toBeLessThanOrEqual(least + 1e-12);
      expect(deviation).toBeGreaterThan(least - 1e-7);
    }
  });

  test('is held by four readings, alternately out and in by half of it', () => {
    for (let seed = 0; seed < 60; seed++) {
      const random = randomFrom(500 + seed);
      const n = 4 + (seed % 30);
      const first = 400 * random();
      // In any order of the angles, and with readings missing.
      const degrees = Array.from({length: n}, (_, i) => first + (360 * (((i * 7) % n) + 0.8 * random())) / n);
      if (new Set(degrees.map((d) => d % 360)).size < n || n % 7 === 0) continue;
      const y = degrees.map((d) => 2 + Math.cos(d * RAD) + random());
      const gap = seed % (n + 1);
      const readings = readingsOf([...y.slice(0, gap), NaN, ...y.slice(gap)]);
      const at = [...degrees.slice(0, gap), NaN, ...degrees.slice(gap)];
      const {deviation, offset, angle} = roundness(readings, 'MZ', angles(at));
      const rest = at.map((d, i) => readings.values[i] - offset * Math.cos((d - angle) * RAD));
      const there = rest.filter((v) => !Number.isNaN(v));
      const middle = (Math.max(...there) + Math.min(...there)) / 2;
      const points = minimumZonePoints(readings, angles(at));
      expect(points).toHaveLength(4);
      points.forEach((i, k) => {
        const out = Math.sign(rest[points[0]] - middle) * (k % 2 === 0 ? 1 : -1);
        expect(rest[i] - middle).toBeCloseTo((out * deviation) / 2, 12);
        if (k > 0) expect(at[i] % 360).toBeGreaterThan(at[points[k - 1]] % 360);
      });
    }
  });

  test('of three readings all hold it', () => {
    expect(minimumZonePoints(readingsOf([1, 2, NaN, 4]), angles([290, 10, 50, 130]))).toEqual([1, 3, 0]);
    expect(minimumZonePoints(readingsOf([1, 2, 4]))).toEqual([0, 1, 2]);
  });

  test('repeated angles are refused, across the turn too', () => {
    const y = [[1, 2, 3, 4, 5]];
    expect(refusal('ROUNDNESS', y, 'MZ', [[0, 90, 90, 180, 270]]).message).toBe(
      'readings: the minimum zone needs angles that all differ, 90° occurs twice',
    );
    expect(refusal('ROUNDNESS', y, 'mz', [[0, 90, 360, 180, 270]]).message).toContain('0° occurs twice');
    expect(refusal('ROUNDNESS', y, 'MZ', [[90, 0, 180, 270, 450]]).message).toContain('90° occurs twice');
    // Closer than 1E-9 is the same; and no further apart is enough.
    expect(refusal('ROUNDNESS', y, 'MZ', [[0, 90, 180, 270, 180 + 1e-10]]).message).toContain('180° occurs twice');
    expect(refusal('ROUNDNESS', y, 'MZ', [[0, 90, 180, 270, -1e-10]]).message).toContain('° occurs twice');
    expect(roundness(readingsOf(y[0]), 'MZ', angles([0, 1e-9, 90, 180, 270])).deviation).toBeGreaterThan(0.99);
    const near = roundness(readingsOf(y[0]), 'MZ', angles([0, 90, 180, 270, 180 + 1e-8]));
    expect(near.deviation).toBeGreaterThan(1.99);
    expect(refusal('ROUNDNESS', [[1, 2, 3]], 'MZ', [[0, 5, 365]]).message).toContain('5° occurs twice');
    expect(refusal('ROUNDNESS', [[1, 2]], 'MZ').message).toBe(
      'readings: 2 readings are present, order 1 needs at least 3',
    );
  });
});

describe('least squares', () => {
  test('is mean and first harmonic of the same fit as everywhere else', () => {
    const y = [0.5, 0.9, 0.2, -0.4, -0.6, NaN, 0.1, 0.3, 0.7, 0.2, 0.4, 0.1];
    const {deviation, offset, angle} = roundness(readingsOf(y), 'LS');
    const f = fit(readingsOf(y), 1);
    expect(offset).toBeCloseTo(Math.hypot(f.cos[1], f.sin[1]), 14);
    expect(angle).toBeCloseTo((Math.atan2(f.sin[1], f.cos[1]) / RAD + 360) % 360, 11);
    const there = y.flatMap((v, i) =>
      Number.isNaN(v) ? [] : [v - f.cos[1] * Math.cos(30 * i * RAD) - f.sin[1] * Math.sin(30 * i * RAD)],
    );
    expect(deviation).toBeCloseTo(Math.max(...there) - Math.min(...there), 13);
  });

  test('nor does a level cost digits', () => {
    // Multiples of 1/64, so that the level is added exactly.
    const y = [0.5, 0.921875, 0.25, -0.40625, -0.609375, 0.109375, 0.125, 0.3125];
    const high = readingsOf(y.map((v) => v + 2 ** 40));
    for (const method of ['LS', 'MZ'] as const) {
      const [there, here] = [roundness(high, method), roundness(readingsOf(y), method)];
      expect(there.deviation).toBeCloseTo(here.deviation, 13);
      expect(there.offset).toBeCloseTo(here.offset, 13);
    }
  });

  test('a level does not matter', () => {
    const y = [0.5, 0.9, 0.2, -0.4, -0.6, 0.1, 0.1, 0.3];
    expect(roundness(readingsOf(y.map((v) => v + 100)), 'LS').deviation).toBeCloseTo(
      roundness(readingsOf(y), 'LS').deviation,
      12,
    );
  });
});
