/** Filling missing readings in gives the curve that factoring the readings present gives. */
import {Matrix, determinant, inverse} from 'ml-matrix';
import {anyBasis} from '../../src/maths/basis';
import {fit, shifted} from '../../src/maths/harmonics';
import {coefficients} from '../../src/maths/leastSquares';
import {filledUp} from '../../src/maths/missing';
import {readingsOf, type Angles} from '../../src/maths/readings';
import {evenSpacing, unevenSpacing, type Spacing} from '../../src/maths/spacing';
import {normalFrom, randomFrom} from '../support/random';

const random = randomFrom(41);
const normal = normalFrom(random);

/** Readings with a share of them missing; `present` at least. */
function withGaps(positions: number, share: number, present: number): number[] {
  for (;;) {
    const y = Array.from({length: positions}, () => (random() < share ? NaN : 5 + normal()));
    if (y.filter((v) => !Number.isNaN(v)).length >= present) return y;
  }
}

const uneven = (positions: number): Angles => ({
  name: 'angles',
  degrees: Float64Array.from({length: positions}, (_, i) => (360 * (i + 0.6 * random())) / positions),
});

test.each([
  [12, 0.1, false],
  [16, 0.1, false],
  [16, 0.3, false],
  [36, 0.3, false],
  [15, 0.2, false],
  [12, 0.1, true],
  [16, 0.2, true],
  [16, 0.3, true],
  [40, 0.25, true],
])('%i positions, a share of %f missing, angles given: %s', (positions, share, given) => {
  let worst = 0;
  let filled = 0;
  for (let round = 0; round < 300; round++) {
    const readings = readingsOf(withGaps(positions, share, 10));
    const angles = given ? uneven(positions) : undefined;
    const f = fit(readings, 4, angles);
    const spacing = angles === undefined ? evenSpacing(positions, 4) : unevenSpacing(readings, angles, 4)!;
    if (filledUp(readings, spacing, 5) !== undefined) filled++;
    const basis = anyBasis(readings, angles, 4);
    const expected = coefficients(basis, shifted(readings, basis));
    worst = Math.max(worst, Math.abs(f.mean - readings.values[basis.index[0]] - expected[0]));
    for (let k = 1; k <= 4; k++) {
      worst = Math.max(worst, Math.abs(f.cos[k] - expected[2 * k - 1]), Math.abs(f.sin[k] - expected[2 * k]));
    }
    expect(f.freedom).toBe(readings.present - 9);
    expect(f.basis.n).toBe(readings.present);
  }
  expect(worst).toBeLessThan(1e-12);
  // Where many are missing some sets are factored anew; both ways are taken.
  expect(filled).toBeGreaterThan(200);
  if (share === 0.3 && positions === 16) expect(filled).toBeLessThan(300);
});

test('angles well spread with all readings, too close together without those missing', () => {
  const angles = {name: 'angles', degrees: Float64Array.of(0, 0.001, 0.002, 120, 240)};
  expect(fit(readingsOf([1, 2, 4, 3, 2]), 1, angles).freedom).toBe(2);
  expect(() => fit(readingsOf([1, 2, 4, NaN, NaN]), 1, angles)).toThrow(/too close together to tell 1 harmonics apart/);
});

test('equal readings leave exactly nothing with some missing', () => {
  const f = fit(readingsOf([0.1, 0.1, NaN, 0.1, 0.1, NaN, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1]), 1);
  expect([f.mean, ...Array.from(f.cos), ...Array.from(f.sin)]).toEqual([0.1, ...new Array<number>(10).fill(0)]);
});

/** H of all positions, by its definition. */
function hat(degrees: readonly number[], orders: number): Matrix {
  const x = new Matrix(
    degrees.map((d) => [
      1,
      ...Array.from({length: orders}, (_, k) => [
        Math.cos(((k + 1) * d * Math.PI) / 180),
        Math.sin(((k + 1) * d * Math.PI) / 180),
      ]).flat(),
    ]),
  );
  return x.mmul(inverse(x.transpose().mmul(x))).mmul(x.transpose());
}

describe('filling in', () => {
  const even = (n: number) => Array.from({length: n}, (_, i) => (360 * i) / n);

  test('as long as the others say enough: a determinant of I − H of the missing of at least 1/1000', () => {
    const met = {filled: 0, not: 0};
    for (let round = 0; round < 150; round++) {
      const n = [12, 16, 70, 40][round % 4];
      const h = hat(even(n), 4);
      // Neighbors that are missing together leave least.
      const first = Math.floor(n * random());
      const count = Math.min(n - 9, 2 + Math.floor(6 * random()));
      const gone = Array.from({length: count}, (_, k) => (first + k * (1 + (round % 3))) % n).filter(
        (i, k, all) => all.indexOf(i) === k,
      );
      const y = Array.from({length: n}, (_, i) => (gone.includes(i) ? NaN : 5 + normal()));
      const left = Matrix.sub(Matrix.eye(gone.length), h.selection(gone, gone));
      const filled = filledUp(readingsOf(y), evenSpacing(n, 4), 5);
      const size = determinant(left);
      expect(filled !== undefined).toBe(size >= 1e-3);
      met[filled === undefined ? 'not' : 'filled']++;
      if (filled === undefined) continue;
      // What is there is kept, less the level; what is missing lies on the curve through all.
      const whole = Array.from(filled.subarray(0, n));
      y.forEach((v, i) => {
        if (!Number.isNaN(v)) expect(whole[i]).toBe(v - 5);
      });
      const curve = h.mmul(Matrix.columnVector(whole)).to1DArray();
      for (const i of gone) expect(whole[i]).toBeCloseTo(curve[i], 11);
    }
    expect([met.filled > 30, met.not > 10]).toEqual([true, true]);
  });

  test('of up to sixteen missing readings', () => {
    const without = (count: number) =>
      readingsOf(Array.from({length: 600}, (_, i) => (i % 37 === 0 && i / 37 < count ? NaN : Math.cos(i / 95.5) + 2)));
    const spacing = evenSpacing(600, 1);
    expect(without(17).present).toBe(583);
    const filled = filledUp(without(16), spacing, 2)!;
    for (let i = 0; i < 600; i += 37) if (i / 37 < 16) expect(filled[i]).toBeCloseTo(Math.cos(i / 95.5), 2);
    expect(filledUp(without(17), spacing, 2)).toBeUndefined();
    expect(filledUp(without(0), spacing, 2)!.subarray(0, 600)).toEqual(without(0).values.map((v) => v - 2));
  });

  test('where the condition number of all positions is at most 1E+5', () => {
    const y = readingsOf([1, 2, NaN, 4, 3, 2, 1, 5, 3]);
    const spacing = evenSpacing(9, 1);
    const conditioned = (condition: number): Spacing =>
      new Proxy(spacing, {
        get: (of, name) => {
          const value: unknown = name === 'condition' ? condition : Reflect.get(of, name, of);
          return typeof value === 'function' ? (value.bind(of) as unknown) : value;
        },
      });
    expect(filledUp(y, conditioned(1e5), 0)).toBeDefined();
    expect(filledUp(y, conditioned(1.00001e5), 0)).toBeUndefined();
  });
});
