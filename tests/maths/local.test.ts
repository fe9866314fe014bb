/** Against fitting the rest again for every window, by another library. */
import jStat from 'jstat';
import {Matrix, solve} from 'ml-matrix';
import {local} from '../../src/maths/local';
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

/** The contract, literally: every cyclic window of one to three positions, fitted anew. */
function bruteForce(y: number[], degrees: number[], order: number) {
  const n = y.length;
  const all = fitRest(y, degrees, order, []);
  let best: {p: number; deviation: number; angle: number; score: number} | undefined;
  for (let width = 1; width <= 3; width++) {
    for (let start = 0; start < n; start++) {
      const window = Array.from({length: width}, (_, k) => (start + k) % n).filter((i) => !Number.isNaN(y[i]));
      if (window.length < width && (Number.isNaN(y[start]) || Number.isNaN(y[(start + width - 1) % n]))) continue;
      const {rss, freedom, predict, error} = fitRest(y, degrees, order, window);
      if (freedom < 1) continue;
      const f = (all.rss - rss) / window.length / (rss / freedom);
      const p = 1 - jStat.centralF.cdf(f, window.length, freedom);
      if (best !== undefined && p >= best.p - 1e-9) continue;
      const off = window.map((i) => y[i] - predict(i));
      const at = off.map(Math.abs).indexOf(Math.max(...off.map(Math.abs)));
      best = {p, deviation: off[at], angle: degrees[window[at]], score: off[at] / error(window[at])};
    }
  }
  return best!;
}

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

describe('readings without scatter', () => {
  const curve = (i: number) => 0.4 * Math.cos((22.5 * i - 50) * RAD);

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
