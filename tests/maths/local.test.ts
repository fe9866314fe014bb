/** Against fitting the rest again for every window, by another library. */
import jStat from 'jstat';
import {Matrix, solve} from 'ml-matrix';
import {local, localWindows} from '../../src/maths/local';
import {readingsOf} from '../../src/maths/readings';
import {refusal} from '../support/formula';
import {normalFrom, randomFrom} from '../support/random';

const RAD = Math.PI / 180;
const angles = (degrees: number[]) => ({name: 'angles', degrees: Float64Array.from(degrees)});

function fitRest(y: number[], degrees: number[], order: number, out: number[]) {
  const rest = y.map((_, i) => i).filter((i) => !out.includes(i) && !Number.isNaN(y[i]));
  const row = (i: number) => [
    1,
    ...Array.from({length: order}, (_, k) => [
      Math.cos((k + 1) * degrees[i] * RAD),
      Math.sin((k + 1) * degrees[i] * RAD),
    ]).flat(),
  ];
  const x = new Matrix(rest.map(row));
  const c = solve(x, Matrix.columnVector(rest.map((i) => y[i])));
  const predict = (i: number) => new Matrix([row(i)]).mmul(c).get(0, 0);
  const rss = rest.reduce((s, i) => s + (y[i] - predict(i)) ** 2, 0);
  const freedom = rest.length - (2 * order + 1);
  const inv = solve(x.transpose().mmul(x), Matrix.eye(2 * order + 1));
  const error = (i: number) =>
    Math.sqrt(
      (rss / freedom) *
        (1 +
          new Matrix([row(i)])
            .mmul(inv)
            .mmul(new Matrix([row(i)]).transpose())
            .get(0, 0)),
    );
  return {rss, freedom, predict, error};
}

/** The contract, literally: every cyclic window of one to three positions, fitted anew; those that can be judged. */
function allWindows(y: number[], degrees: number[], order: number) {
  const n = y.length;
  const all = fitRest(y, degrees, order, []);
  const found: {p: number; deviation: number; angle: number; score: number; window: number[]; at: number}[] = [];
  for (let width = 1; width <= 3; width++) {
    for (let start = 0; start < n; start++) {
      const window = Array.from({length: width}, (_, k) => (start + k) % n).filter((i) => !Number.isNaN(y[i]));
      if (window.length < width && (Number.isNaN(y[start]) || Number.isNaN(y[(start + width - 1) % n]))) continue;
      if (y.filter((v) => !Number.isNaN(v)).length - window.length <= 2 * order + 1) continue;
      const {rss, freedom, predict, error} = fitRest(y, degrees, order, window);
      const f = (all.rss - rss) / window.length / (rss / freedom);
      const p = 1 - jStat.centralF.cdf(f, window.length, freedom);
      const off = window.map((i) => y[i] - predict(i));
      const at = off.map(Math.abs).indexOf(Math.max(...off.map(Math.abs)));
      found.push({p, deviation: off[at], angle: degrees[window[at]], score: off[at] / error(window[at]), window, at});
    }
  }
  return found;
}

const bruteForce = (y: number[], degrees: number[], order: number) =>
  allWindows(y, degrees, order).reduce((best, next) => (next.p < best.p - 1e-9 ? next : best));

function wheel(seed: number, n: number, degrees: number[]): number[] {
  const random = randomFrom(seed);
  const normal = normalFrom(random);
  const y = degrees.map((d) => 0.4 * Math.cos((d - 30) * RAD) + 0.1 * Math.cos(2 * d * RAD) + 0.02 * normal());
  const at = Math.floor(random() * n);
  const width = 1 + Math.floor(random() * 3);
  // Moderate, so that the p-values stay within what the other library resolves.
  for (let k = 0; k < width; k++) y[(at + k) % n] += (random() < 0.5 ? -0.12 : 0.12) * (k === 0 ? 1 : 0.7);
  return y;
}

test.each(Array.from({length: 25}, (_, seed) => seed))('even angles, seed %i', (seed) => {
  const degrees = Array.from({length: 16}, (_, i) => 22.5 * i);
  const y = wheel(seed, 16, degrees);
  const expected = bruteForce(y, degrees, 2);
  const found = local(readingsOf(y), 2);
  expect(found.angle).toBe(expected.angle);
  expect(found.deviation).toBeCloseTo(expected.deviation, 10);
  expect(found.score).toBeCloseTo(expected.score, 7);
});

test.each(Array.from({length: 15}, (_, seed) => seed))('missing readings, seed %i', (seed) => {
  const degrees = Array.from({length: 18}, (_, i) => 20 * i);
  const y = wheel(100 + seed, 18, degrees);
  y[(seed * 5) % 18] = NaN;
  y[(seed * 5 + 2) % 18] = NaN;
  const expected = bruteForce(y, degrees, 2);
  const found = local(readingsOf(y), 2);
  expect(found.angle).toBe(expected.angle);
  expect(found.deviation).toBeCloseTo(expected.deviation, 10);
  expect(found.score).toBeCloseTo(expected.score, 7);
});

test.each([1, 3])('uneven angles that rise, order %i', (order) => {
  const degrees = [0, 20, 47, 70, 95, 111, 140, 160, 185, 207, 230, 251, 275, 300, 318, 340];
  const y = wheel(77, 16, degrees);
  const expected = bruteForce(y, degrees, order);
  const found = local(readingsOf(y), order, angles(degrees));
  expect(found.angle).toBe(expected.angle);
  expect(found.score).toBeCloseTo(expected.score, 7);
});

test('angles in any order: neighbors are neighbors by angle', () => {
  const degrees = Array.from({length: 16}, (_, i) => 22.5 * i);
  const y = wheel(5, 16, degrees);
  const order = [4, 0, 15, 8, 2, 9, 1, 12, 3, 11, 5, 6, 14, 7, 10, 13];
  const shuffled = local(readingsOf(order.map((i) => y[i])), 2, angles(order.map((i) => degrees[i] + 360)));
  const straight = local(readingsOf(y), 2);
  expect(shuffled.angle).toBeCloseTo(straight.angle, 12);
  expect(shuffled.deviation).toBeCloseTo(straight.deviation, 12);
  expect(shuffled.score).toBeCloseTo(straight.score!, 8);
});

test('two turns that interleave: neighbors by angle, not in the order of the readings', () => {
  // Every other position on the first turn, those between on the second.
  const degrees = Array.from({length: 16}, (_, i) => 22.5 * i);
  const order = [0, 2, 4, 6, 8, 10, 12, 14, 1, 3, 5, 7, 9, 11, 13, 15];
  const given = angles(order.map((i, k) => degrees[i] + (k < 8 ? 0 : 360)));
  for (let seed = 0; seed < 6; seed++) {
    const y = wheel(seed, 16, degrees);
    const straight = local(readingsOf(y), 2);
    const interleaved = local(readingsOf(order.map((i) => y[i])), 2, given);
    expect(interleaved.angle).toBeCloseTo(straight.angle, 12);
    expect(interleaved.score).toBeCloseTo(straight.score!, 8);
  }
});

describe('windows, best first', () => {
  const even = (n: number) => Array.from({length: n}, (_, i) => (360 * i) / n);
  const named = (positions: readonly number[]) => [...positions].sort((a, b) => a - b).join(' ');

  test.each([
    [16, 2, []],
    [16, 2, [4, 6]],
    [18, 3, [0, 1, 9]],
    [18, 3, [9, 17]],
    // Degrees of freedom for windows of one, of two, of three.
    [7, 2, []],
    [8, 2, []],
    [9, 2, []],
  ])('%i positions, order %i, without %p: each once, in the order of their p-values', (n, order, missing) => {
    for (const seed of [1, 2, 3]) {
      const y = wheel(seed, n, even(n)).map((v, i) => (missing.includes(i as never) ? NaN : v));
      const expected = new Map(allWindows(y, even(n), order).map((w) => [named(w.window), w]));
      const found = localWindows(readingsOf(y), order, 1000);
      expect(found.map(({positions}) => named(positions)).sort()).toEqual([...expected.keys()].sort());
      const p = found.map(({positions}) => expected.get(named(positions))!.p);
      for (let k = 1; k < p.length; k++) expect(p[k]).toBeGreaterThan(p[k - 1] - 1e-9);
      for (const {positions, largest} of found) {
        const {window, at} = expected.get(named(positions))!;
        expect(positions[largest]).toBe(window[at]);
      }
      const {angle} = local(readingsOf(y), order);
      expect(even(n)[found[0].positions[found[0].largest]]).toBe(angle);
      expect(localWindows(readingsOf(y), order, 4)).toEqual(found.slice(0, 4));
    }
  });

  test('of equally good ones the narrower first, then the earlier', () => {
    const alike = localWindows(readingsOf(new Array(8).fill(3)), 1, 100);
    expect(alike.map(({positions}) => positions)).toEqual(
      [1, 2, 3].flatMap((width) => even(8).map((_, i) => Array.from({length: width}, (__, k) => (i + k) % 8))),
    );
  });

  test('a reading that alone fixes the curve is in no window, nor is what would leave too few angles', () => {
    // Nine readings at six angles, three of them two readings each.
    const degrees = [0, 0, 50, 120, 120, 170, 240, 240, 300];
    const y = wheel(3, 9, degrees);
    const found = localWindows(readingsOf(y), 2, 100, angles(degrees)).map(({positions}) => named(positions));
    const apart = (out: number[]) => new Set(degrees.filter((_, i) => !out.includes(i))).size;
    expect(found).toContain('0');
    expect(found).toContain('2');
    expect(found).not.toContain('0 1 2');
    for (const window of found) expect(apart(window.split(' ').map(Number))).toBeGreaterThanOrEqual(5);
  });
});

describe('little scatter', () => {
  test.each([1e-3, 1e3])('a dent ten million times as large, readings of size %p: deviation and score', (size) => {
    const degrees = Array.from({length: 16}, (_, i) => 22.5 * i);
    for (let seed = 0; seed < 8; seed++) {
      const normal = normalFrom(randomFrom(seed));
      const at = 2 * seed;
      const y = degrees.map((d) => size * (0.4 * Math.cos((d - 30) * RAD) + 1e-7 * normal()));
      for (let k = 0; k <= seed % 3; k++) y[(at + k) % 16] -= size * (1 + 0.2 * k);
      const window = Array.from({length: 1 + (seed % 3)}, (_, k) => (at + k) % 16);
      const {predict, error} = fitRest(y, degrees, 2, window);
      const last = window[window.length - 1];
      const found = local(readingsOf(y), 2);
      expect(found.angle).toBe(degrees[last]);
      expect(found.deviation / (y[last] - predict(last))).toBeCloseTo(1, 12);
      expect(found.score! / ((y[last] - predict(last)) / error(last))).toBeCloseTo(1, 5);
    }
  });
});

describe('readings without scatter', () => {
  const curve = (i: number) => 0.4 * Math.cos((22.5 * i - 50) * RAD);

  test.each([1e-9, 1e-3, 1e3, 1e9])('the size of the readings does not matter: %p', (size) => {
    for (let seed = 0; seed < 40; seed++) {
      const random = randomFrom(seed);
      const [phase, level] = [360 * random(), 3 * random()];
      const y = Array.from({length: 16}, (_, i) => size * (level + Math.cos((22.5 * i - phase) * RAD)));
      expect(local(readingsOf(y), 2)).toEqual({deviation: 0, angle: 0, score: undefined});
      y[9] += size;
      const {deviation, angle, score} = local(readingsOf(y), 2);
      expect(deviation / size).toBeCloseTo(1, 13);
      expect([angle, score]).toEqual([202.5, undefined]);
    }
  });

  test.each([1, 2, 3])('a dent %i wide is found where it is, with its size', (width) => {
    const y = Array.from({length: 16}, (_, i) => curve(i));
    for (let k = 0; k < width; k++) y[6 + k] -= 0.3 + 0.01 * k;
    const found = local(readingsOf(y), 2);
    expect(found.angle).toBe(22.5 * (5 + width));
    expect(found.deviation).toBeCloseTo(-0.29 - 0.01 * width, 12);
  });

  test('a round part has no deviation to speak of, and no score', () => {
    expect(local(readingsOf(new Array(16).fill(2)), 2)).toEqual({deviation: 0, angle: 0, score: undefined});
    expect(Math.abs(local(readingsOf(Array.from({length: 16}, (_, i) => curve(i))), 2).deviation)).toBeLessThan(1e-14);
  });
});

test('refused: too few readings, angles too close together', () => {
  const y = [0.1, 0.3, 0.2, 0, -0.3, -0.2, 0.4];
  expect(call7(y).angle).toBeGreaterThanOrEqual(0);
  expect(refusal('LOCAL', [y.slice(0, 6)]).message).toBe(
    'readings: 6 readings are present, a deviation from harmonics up to order 2 needs at least 7',
  );
  expect(refusal('LOCAL', [y.slice(0, 6)]).reason).toBe('unavailable');
  expect(refusal('LOCAL', [y], 2, [y.map((_, i) => i / 1000)]).reason).toBe('invalid');
});

const call7 = (y: number[]) => local(readingsOf(y), 2);

test('a thousand readings are judged too', () => {
  const normal = normalFrom(randomFrom(9));
  const y = Array.from({length: 1000}, (_, i) => Math.cos(0.36 * i * RAD) + 0.01 * normal());
  y[321] -= 0.2;
  const found = local(readingsOf(y), 2);
  expect(found.angle).toBeCloseTo(0.36 * 321, 9);
  expect(found.deviation).toBeCloseTo(-0.2, 1);
});

test('ten thousand readings that are all alike are judged as eight are', () => {
  const alike = (n: number) => local(readingsOf(new Array<number>(n).fill(0.25)), 2);
  expect(alike(10000)).toEqual(alike(8));
  expect(alike(8)).toEqual({deviation: 0, angle: 0, score: undefined});
});
