/** Against published tables and closed forms. */
import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import {fisherExact, logTailF, normalUpper, student95, studentUpper, tailF} from '../../src/maths/distributions';

test('Student t at 97.5 %: W. S. Gosset’s table as in any handbook (value from memory)', () => {
  expect(student95(1)).toBeCloseTo(12.7062, 4);
  expect(student95(2)).toBeCloseTo(4.30265, 5);
  expect(student95(7)).toBeCloseTo(2.36462, 5);
  expect(student95(10)).toBeCloseTo(2.22814, 5);
  expect(student95(30)).toBeCloseTo(2.04227, 5);
  expect(student95(1e6)).toBeCloseTo(1.95997, 5);
  expect(student95(7)).toBe(student95(7));
});

test('closed forms: t with one and two degrees of freedom', () => {
  expect(student95(1)).toBeCloseTo(Math.tan(Math.PI * 0.475), 11);
  expect(student95(2)).toBeCloseTo(0.95 * Math.sqrt(2 / (1 - 0.95 ** 2)), 12);
  expect(studentUpper(0.005, 1)).toBeCloseTo(Math.tan(Math.PI * 0.495), 9);
  expect(studentUpper(0.1, 2)).toBeCloseTo(0.8 * Math.sqrt(2 / (1 - 0.8 ** 2)), 12);
});

test('Student t as another search inverts the distribution', () => {
  for (const tail of [0.25, 0.1, 0.025, 1e-3, 0.05 / 2 / 48, 1e-5, 1e-8, 1e-12]) {
    for (const freedom of [1, 2, 3, 4, 5, 7, 8, 11, 15, 23, 28, 39, 60, 100, 299, 1000, 1e4, 1e5, 1e6]) {
      expect(studentUpper(tail, freedom) / -tQuantile(tail, freedom)).toBeCloseTo(1, 13);
    }
  }
});

test('one half of all t are above 0, and fewer above more', () => {
  expect(studentUpper(0.4999999, 5)).toBeLessThan(1e-6);
  expect(studentUpper(0.01, 5)).toBeGreaterThan(studentUpper(0.02, 5));
  expect(studentUpper(0.01, 5)).toBeGreaterThan(studentUpper(0.01, 6));
});

describe('upper tail of F by the ratio of sums of squares', () => {
  test('two extra parameters: ratio^(freedom/2)', () => {
    for (const [ratio, freedom] of [
      [0.5, 8],
      [0.01, 3],
      [0.999, 20],
    ]) {
      expect(logTailF(ratio, 2, freedom)).toBeCloseTo((freedom / 2) * Math.log(ratio), 10);
    }
  });

  test('one extra parameter is a two-sided t-test', () => {
    // t = 2.22814 with 10 degrees of freedom leaves 5 %; ratio = 1/(1 + t²/10).
    const t = student95(10);
    expect(Math.exp(logTailF(1 / (1 + (t * t) / 10), 1, 10))).toBeCloseTo(0.05, 12);
  });

  test('F(3, 10) = 3.70826 leaves 5 % (table of F, value from memory)', () => {
    expect(Math.exp(logTailF(1 / (1 + (3 * 3.70826) / 10), 3, 10))).toBeCloseTo(0.05, 5);
  });

  test('goes on where the probability itself underflows, without a jump', () => {
    const at = (exponent: number) => logTailF(10 ** exponent, 1, 20);
    expect(at(-26) - at(-25)).toBeCloseTo(-10 * Math.LN10, 8);
    expect(at(-24) - at(-25)).toBeCloseTo(10 * Math.LN10, 8);
    expect(at(-60)).toBeGreaterThan(-1500);
    expect(at(-60)).toBeLessThan(-1350);
  });

  test('a ratio above 1 by rounding is 1', () => expect(logTailF(1 + 1e-15, 2, 5)).toBeCloseTo(0, 12));
});

test('closed form far out and in the middle', () => {
  for (const tail of [1e-12, 1e-9, 1e-4, 0.2, 0.25, 0.3, 0.49]) {
    expect(studentUpper(tail, 1) * Math.tan(Math.PI * tail)).toBeCloseTo(1, 9);
    const inside = 1 - 2 * tail;
    const t = inside * Math.sqrt(2 / (4 * tail * (1 - tail)));
    expect(studentUpper(tail, 2) / t).toBeCloseTo(1, 9);
  }
  expect(studentUpper(1e-12, 1) * Math.tan(Math.PI * 1e-12)).toBeCloseTo(1, 13);
});

describe('upper tail of F', () => {
  test('two parameters: (1 + 2f/freedom)^(−freedom/2)', () => {
    for (const f of [0, 0.1, 1, 7, 300]) {
      for (const freedom of [1, 4, 30]) {
        expect(tailF(f, 2, freedom) / (1 + (2 * f) / freedom) ** (-freedom / 2)).toBeCloseTo(1, 12);
      }
    }
  });

  test('one parameter: both tails of t', () => {
    for (const freedom of [1, 5, 40]) expect(tailF(student95(freedom) ** 2, 1, freedom)).toBeCloseTo(0.05, 12);
  });

  test('a statistic below 0 by rounding is 0', () => expect(tailF(-1e-12, 3, 5)).toBe(1));

  test('the same as by the ratio of sums of squares', () => {
    for (const [f, extra, freedom] of [
      [2.5, 3, 9],
      [0.3, 5, 2],
    ]) {
      expect(Math.log(tailF(f, extra, freedom))).toBeCloseTo(
        logTailF(1 / (1 + (extra * f) / freedom), extra, freedom),
        12,
      );
    }
  });
});

test('a probability that all but underflows, and one that does: the same logarithm as in closed form', () => {
  // Two parameters: ratio^(freedom / 2). The change of formula lies at 1E-250.
  for (const exponent of [-20, -24.9, -25, -25.1, -40, -300]) {
    expect(logTailF(10 ** exponent, 2, 20)).toBeCloseTo(10 * exponent * Math.LN10, 8);
    expect(logTailF(10 ** exponent, 2, 7)).toBeCloseTo(3.5 * exponent * Math.LN10, 8);
  }
});

test('the normal value that is exceeded with a probability (table, value from memory)', () => {
  expect(normalUpper(0.025)).toBeCloseTo(1.959963984540054, 13);
  expect(normalUpper(0.5)).toBeCloseTo(0, 15);
  expect(normalUpper(0.9)).toBeCloseTo(-1.2815515655446004, 13);
});

test('Fisher’s exact test: all small tables in whole numbers', () => {
  const choose = (n: number, k: number): bigint => {
    if (k < 0 || k > n) return 0n;
    let ways = 1n;
    for (let i = 1; i <= k; i++) ways = (ways * BigInt(n - i + 1)) / BigInt(i);
    return ways;
  };
  for (let m = 1; m <= 7; m++) {
    for (let n = 1; n <= 7; n++) {
      for (let a = 0; a <= m; a++) {
        for (let b = 0; b <= n; b++) {
          const ways = (x: number) => choose(m, x) * choose(n, a + b - x);
          let sum = 0n;
          for (let x = 0; x <= m; x++) if (ways(x) <= ways(a)) sum += ways(x);
          const p = fisherExact(a, m, b, n);
          expect(p).toBeCloseTo(Number(sum) / Number(choose(m + n, a + b)), 12);
          expect(p).toBeLessThanOrEqual(1);
        }
      }
    }
  }
});
