/** Against ml-matrix, an independent implementation, and against what QR promises. */
import {Matrix, SingularValueDecomposition, solve} from 'ml-matrix';
import {
  coefficients,
  condition,
  extremeCombinations,
  factor,
  inverse,
  project,
  residuals,
} from '../../src/maths/leastSquares';
import {randomFrom} from '../support/random';

function problem(seed: number, n: number, p: number) {
  const random = randomFrom(seed);
  const rows = Array.from({length: n}, () => Array.from({length: p}, () => random() - 0.5));
  const y = rows.map(() => random() * 10);
  const x = Float64Array.from({length: n * p}, (_, k) => rows[k % n][Math.floor(k / n)]);
  return {rows: new Matrix(rows), x, y};
}

describe.each([
  [1, 5, 3],
  [2, 16, 9],
  [3, 9, 9],
  [4, 40, 1],
  [5, 7, 2],
])('seed %i, %i × %i', (seed, n, p) => {
  const {rows, x, y} = problem(seed, n, p);
  const factored = factor(x, n, p);
  const q = new Matrix(Array.from({length: n}, (_, i) => Array.from({length: p}, (_, j) => factored.q[j * n + i])));
  const r = new Matrix(Array.from({length: p}, (_, i) => Array.from(factored.r.slice(i * p, (i + 1) * p))));

  /** Largest difference; no number when one is none. */
  const far = (a: Matrix, b: Matrix): number => Math.max(...Matrix.sub(a, b).abs().to1DArray());

  test('Q has orthonormal columns, R is an upper triangle, and Q·R is X', () => {
    expect(far(q.transpose().mmul(q), Matrix.eye(p))).toBeLessThan(1e-14);
    for (let i = 0; i < p; i++) for (let j = 0; j < i; j++) expect(r.get(i, j)).toBe(0);
    expect(far(q.mmul(r), rows)).toBeLessThan(1e-14);
  });

  test('coefficients are those of ml-matrix', () => {
    const expected = solve(rows, Matrix.columnVector(y)).to1DArray();
    coefficients(factored, y).forEach((c, j) => expect(c).toBeCloseTo(expected[j], 9));
  });

  test('residuals are what the fit leaves, and orthogonal to every column', () => {
    const c = coefficients(factored, y);
    const left = residuals(factored, y);
    const fitted = rows.mmul(Matrix.columnVector([...c])).to1DArray();
    left.forEach((e, i) => expect(e).toBeCloseTo(y[i] - fitted[i], 9));
    project(factored, left).forEach((d) => expect(Math.abs(d)).toBeLessThan(1e-13));
  });

  test('R·R⁻¹ is the unit matrix and R⁻¹ an upper triangle', () => {
    const inv = inverse(factored.r, p);
    const matrix = new Matrix(Array.from({length: p}, (_, i) => Array.from(inv.slice(i * p, (i + 1) * p))));
    expect(far(r.mmul(matrix), Matrix.eye(p))).toBeLessThan(1e-12);
    for (let i = 0; i < p; i++) for (let j = 0; j < i; j++) expect(matrix.get(i, j)).toBe(0);
  });

  test('the condition number is that of the singular values', () => {
    expect(condition(factored.r, p)).toBeCloseTo(new SingularValueDecomposition(rows).condition, 8);
  });

  test('nor does the size of the numbers matter to it', () => {
    for (const size of [1e-9, 1e9]) {
      expect(
        condition(
          factored.r.map((v) => size * v),
          p,
        ),
      ).toBeCloseTo(condition(factored.r, p), 8);
    }
  });

  test('the combinations that are stretched most and least are singular vectors', () => {
    const {most, least} = extremeCombinations(factored.r, p);
    const {diagonal, rightSingularVectors} = new SingularValueDecomposition(rows);
    for (const [found, k] of [
      [most, 0],
      [least, p - 1],
    ] as const) {
      const image = rows.mmul(Matrix.columnVector([...found]));
      expect(image.norm()).toBeCloseTo(diagonal[k], 12);
      const along = [...found].reduce((sum, v, j) => sum + v * rightSingularVectors.get(j, k), 0);
      expect(Math.abs(along)).toBeCloseTo(1, 10);
      expect(found).toHaveLength(p);
    }
  });

  test('an array that is longer than needed is filled as far as needed', () => {
    const into = new Float64Array(p + 7).fill(-5);
    expect(project(factored, y, into)).toBe(into);
    expect(into.slice(0, p)).toEqual(project(factored, y));
    expect([...into.slice(p)]).toEqual(new Array(7).fill(-5));
    expect(coefficients(factored, y, into)).toBe(into);
    expect(into.slice(0, p)).toEqual(coefficients(factored, y));
    expect([...into.slice(p)]).toEqual(new Array(7).fill(-5));
  });

  test('the columns given are left as they are', () => expect(x).toEqual(problem(seed, n, p).x));
});

test('condition numbers of known matrices', () => {
  expect(condition(Float64Array.of(3, 0, 0, 0.5), 2)).toBeCloseTo(6, 12);
  expect(condition(Float64Array.of(1, 1, 0, 0), 2)).toBe(Infinity);
  expect(condition(Float64Array.of(7), 1)).toBe(1);
  expect(condition(new Float64Array(4), 2)).toBe(Infinity);
  // Columns as long as each other at 60°: singular values √(1 ± ½), whichever way the angle.
  expect(condition(Float64Array.of(1, 0.5, 0, Math.sqrt(0.75)), 2)).toBeCloseTo(Math.sqrt(3), 12);
  expect(condition(Float64Array.of(1, -0.5, 0, Math.sqrt(0.75)), 2)).toBeCloseTo(Math.sqrt(3), 12);
  // A column that all but repeats another: condition about 2/ε.
  expect(condition(Float64Array.of(1, 1, 0, 1e-9), 2) / 2e9).toBeCloseTo(1, 6);
  expect(condition(Float64Array.of(1e-9, 0, 0, 1), 2) / 1e9).toBeCloseTo(1, 12);
});

test('a column of zeros is carried along and shows in the condition', () => {
  const {r, q} = factor(Float64Array.of(1, 1, 1, 0, 0, 0), 3, 2);
  expect(condition(r, 2)).toBe(Infinity);
  expect([...q].every(Number.isFinite)).toBe(true);
});

test.each([1, -1])('a first column that all but points along the first axis (%i) loses no digits', (sign) => {
  // Reflected the other way, its first element would cancel.
  const x = Float64Array.of(sign, 1e-9, -2e-9, 3e-9, 0.3, 0.1, -0.7, 0.4);
  const {q, r} = factor(x, 4, 2);
  for (let i = 0; i < 4; i++) {
    expect(Math.abs(q[i] * r[0] - x[i])).toBeLessThan(1e-16);
    expect(Math.abs(q[i] * r[1] + q[4 + i] * r[3] - x[4 + i])).toBeLessThan(1e-15);
  }
});

test('what a fit leaves has as many numbers as the readings', () => {
  const {x, y} = problem(2, 16, 9);
  expect(residuals(factor(x, 16, 9), y)).toHaveLength(16);
});

test('sixty columns, which rounding keeps turning, are answered all the same', () => {
  const {rows, x} = problem(6, 70, 60);
  expect(condition(factor(x, 70, 60).r, 60)).toBeCloseTo(new SingularValueDecomposition(rows).condition, 6);
});
