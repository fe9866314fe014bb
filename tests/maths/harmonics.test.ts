/** Against ml-matrix's least squares and fft.js, and by what must not change. */
import fc from 'fast-check';
import FFT from 'fft.js';
import {Matrix, solve} from 'ml-matrix';
import {fittedOrders} from '../../src/maths/basis';
import {curveAt, fit, harmonic, harmonics, plusMinus, variance} from '../../src/maths/harmonics';
import {readingsOf} from '../../src/maths/readings';
import {Refusal} from '../../src/maths/refusal';
import {normalFrom, randomFrom} from '../support/random';

const RAD = Math.PI / 180;
const angles = (degrees: number[]) => ({name: 'angles', degrees: Float64Array.from(degrees)});

/** Least squares by another library: mean, a1, b1, … at the angles of the readings present. */
function reference(y: number[], degrees: number[], orders: number) {
  const there = y.map((_, i) => i).filter((i) => !Number.isNaN(y[i]));
  const rows = there.map((i) => [
    1,
    ...Array.from({length: orders}, (_, k) => [
      Math.cos((k + 1) * degrees[i] * RAD),
      Math.sin((k + 1) * degrees[i] * RAD),
    ]).flat(),
  ]);
  const x = new Matrix(rows);
  const target = Matrix.columnVector(there.map((i) => y[i]));
  const c = solve(x, target);
  const left = Matrix.sub(target, x.mmul(c)).to1DArray();
  const freedom = there.length - rows[0].length;
  const s2 = left.reduce((s, e) => s + e * e, 0) / freedom;
  const covariance = solve(x.transpose().mmul(x), Matrix.eye(rows[0].length)).mul(s2);
  return {c: c.to1DArray(), s2, covariance, freedom};
}

const noisy = (seed: number, n: number): number[] => {
  const normal = normalFrom(randomFrom(seed));
  return Array.from(
    {length: n},
    (_, i) => 3 + Math.cos(((360 * i) / n) * RAD) + 0.3 * Math.sin(((720 * i) / n) * RAD) + 0.1 * normal(),
  );
};

test.each([
  [1, 3, 1],
  [1, 4, 1],
  [1, 6, 2],
  [1, 8, 3],
  [1, 10, 4],
  [1, 400, 4],
  [3, 8, 3],
  [3, 7, 3],
  [6, 16, 6],
  [2, 5, 2],
])('order %i of %i readings: %i harmonics are fitted', (order, n, expected) =>
  expect(fittedOrders(order, n)).toBe(expected),
);

describe('even and complete', () => {
  const y = noisy(1, 16);
  const f = fit(readingsOf(y), 1);

  test('the coefficients are those of a fast Fourier transform', () => {
    const fft = new FFT(16);
    const spectrum = fft.createComplexArray();
    fft.realTransform(spectrum, y);
    for (let k = 1; k <= 4; k++) {
      expect(f.cos[k]).toBeCloseTo(spectrum[2 * k] / 8, 13);
      expect(f.sin[k]).toBeCloseTo(-spectrum[2 * k + 1] / 8, 13);
    }
    expect(f.mean).toBeCloseTo(spectrum[0] / 16, 13);
    expect(f.freedom).toBe(7);
  });

  test('variance and half-widths are those of the covariance', () => {
    const {s2, covariance} = reference(
      y,
      y.map((_, i) => 22.5 * i),
      4,
    );
    expect(variance(f)).toBeCloseTo(s2, 12);
    // t(0.975, 7) = 2.364624; even angles: the same variance in every direction.
    expect(plusMinus(f, 1)).toBeCloseTo(2 * 2.3646242515927858 * Math.sqrt(covariance.get(1, 1)), 12);
  });
});

describe('missing and uneven', () => {
  const y = noisy(2, 16);
  y[3] = NaN;
  y[12] = NaN;
  const degrees = [0, 20, 47, 70, 95, 111, 140, 160, 185, 207, 230, 251, 275, 300, 318, 340];

  test.each([
    ['even steps', undefined, y.map((_, i) => 22.5 * i)],
    ['angles given', angles(degrees), degrees],
  ] as const)('%s: coefficients, variance and half-widths are those of ml-matrix', (_, given, at) => {
    const f = fit(readingsOf(y), 2, given);
    const {c, s2, covariance, freedom} = reference(y, [...at], 4);
    expect(f.freedom).toBe(freedom);
    expect(f.mean).toBeCloseTo(c[0], 12);
    for (let k = 1; k <= 4; k++) {
      expect(f.cos[k]).toBeCloseTo(c[2 * k - 1], 12);
      expect(f.sin[k]).toBeCloseTo(c[2 * k], 12);
    }
    expect(variance(f)).toBeCloseTo(s2, 12);
    for (let k = 1; k <= 4; k++) {
      const [a, b] = [c[2 * k - 1], c[2 * k]];
      const g = new Matrix([[a / Math.hypot(a, b), b / Math.hypot(a, b)]]);
      const block = covariance.subMatrix(2 * k - 1, 2 * k, 2 * k - 1, 2 * k);
      const expected = 2 * 2.570581835636314 * Math.sqrt(g.mmul(block).mmul(g.transpose()).get(0, 0));
      expect(plusMinus(f, k)).toBeCloseTo(expected, 10);
    }
  });

  test('the angle of a missing reading is not looked at', () => {
    const other = angles(degrees.map((d, i) => (Number.isNaN(y[i]) ? NaN : d)));
    const [without, withIt] = [other, angles(degrees)].map((given) => harmonic(fit(readingsOf(y), 1, given), 1));
    expect(without.amount).toBeCloseTo(withIt.amount, 13);
    expect(without.angle).toBeCloseTo(withIt.angle, 11);
  });
});

describe('harmonics as vectors', () => {
  test.each([
    [1, 200],
    [2, 100],
    [3, 110],
    [4, 85],
  ])('order %i: its first high point', (order, high) => {
    const y = Array.from({length: 24}, (_, i) => 5 + 0.25 * Math.cos(order * (15 * i - high) * RAD));
    const v = harmonic(fit(readingsOf(y), order), order);
    expect(v.amount).toBeCloseTo(0.5, 13);
    expect(v.angle).toBeCloseTo(high, 11);
    expect(v.angle).toBeLessThan(360 / order);
  });

  test('the table: amounts, shares of the sum of squares, and what does not exist', () => {
    const y = Array.from({length: 16}, (_, i) => Math.cos(22.5 * i * RAD) + 2 * Math.cos(2 * 22.5 * i * RAD));
    const table = harmonics(readingsOf(y), 3);
    expect(table.map(({order}) => order)).toEqual([1, 2, 3]);
    expect(table.map(({amount}) => Math.round(amount * 1e12) / 1e12)).toEqual([2, 4, 0]);
    expect(table[0].share).toBeCloseTo(0.2, 12);
    expect(table[1].share).toBeCloseTo(0.8, 12);
    expect(table[2].share).toBeCloseTo(0, 12);
    const exact = harmonics(readingsOf([1, 2, 4]), 1);
    expect(exact[0].plusminus).toBeUndefined();
    expect(exact[0].share).toBeCloseTo(1, 12);
    const level = harmonics(readingsOf([0.3, 0.3, 0.3, 0.3, 0.3]), 1);
    expect(level[0]).toEqual({order: 1, amount: 0, angle: 0, plusminus: 0, share: undefined});
  });

  test('shares at uneven angles are sums over the readings', () => {
    const degrees = [0, 10, 30, 90, 150, 180, 260, 300];
    const y = degrees.map((d) => Math.cos(d * RAD));
    const [row] = harmonics(readingsOf(y), 1, angles(degrees));
    const mean = y.reduce((s, v) => s + v) / 8;
    expect(row.share).toBeCloseTo(y.reduce((s, v) => s + v * v, 0) / y.reduce((s, v) => s + (v - mean) ** 2, 0), 10);
  });

  test('a zero vector is uncertain by the worst direction', () => {
    // Angles symmetrical about 0: cosine and sine coefficients are uncorrelated and unequally sure.
    const degrees = [0, 20, -20, 160, -160, 180, 90, -90, 10, -10];
    const f = fit(readingsOf(degrees.map((_, i) => (i < 9 ? (-1) ** i : 0))), 1, angles(degrees));
    const withFirst = (a: number, b: number) => ({
      ...f,
      basis: f.basis,
      squaresLeft: f.squaresLeft,
      cos: Array.from(f.cos, (v, k) => (k === 1 ? a : v)),
      sin: Array.from(f.sin, (v, k) => (k === 1 ? b : v)),
    });
    const zero = withFirst(0, 0);
    const tiny = (a: number, b: number) => plusMinus(withFirst(a, b), 1)!;
    let worst = 0;
    for (let d = 0; d < 360; d += 0.5) worst = Math.max(worst, tiny(Math.cos(d * RAD), Math.sin(d * RAD)));
    expect(plusMinus(zero, 1)! / worst).toBeCloseTo(1, 5);
    expect(worst).toBeGreaterThan(1.05 * Math.min(tiny(1, 0), tiny(0, 1)));
  });
});

describe('the curve', () => {
  test('passes through readings that it can follow, at every angle', () => {
    const at = (d: number) => 1 + 0.4 * Math.cos((d - 30) * RAD) + 0.2 * Math.cos(3 * (d - 50) * RAD);
    const f = fit(readingsOf(Array.from({length: 12}, (_, i) => at(30 * i))), 3);
    for (let d = 0; d < 360; d += 7) expect(curveAt(f, 3, d)).toBeCloseTo(at(d), 12);
    for (let d = 0; d < 360; d += 7) expect(curveAt(f, 1, d)).toBeCloseTo(1 + 0.4 * Math.cos((d - 30) * RAD), 12);
  });
});

describe('refused', () => {
  const refused = (run: () => unknown): Refusal => {
    try {
      run();
    } catch (error) {
      return error as Refusal;
    }
    throw new Error('answered');
  };

  test('fewer than 2·order + 1 readings cannot be answered yet', () => {
    const {reason, message} = refused(() => fit(readingsOf([1, 2, 3, 4], 'assembly'), 2));
    expect([reason, message]).toEqual(['unavailable', 'assembly: 4 readings are present, order 2 needs at least 5']);
    expect(refused(() => fit(readingsOf([1, NaN, NaN]), 1)).message).toBe(
      'readings: 1 reading is present, order 1 needs at least 3',
    );
    expect(fit(readingsOf([1, 2, 3, 4, 5]), 2).freedom).toBe(0);
  });

  test('angles within a narrow sector are invalid', () => {
    const y = Array.from({length: 12}, (_, i) => i);
    const {reason, message} = refused(() => fit(readingsOf(y), 4, angles(y.map((i) => i / 100))));
    expect(reason).toBe('invalid');
    expect(message).toMatch(/^angles: the angles lie too close together to tell 4 harmonics apart/);
    expect(refused(() => fit(readingsOf([1, 2, 3, 4, 5]), 1, angles([0, 360, 720, 0, 0]))).reason).toBe('invalid');
    expect(fit(readingsOf(y), 4, angles(y.map((i) => 8 * i))).basis.condition).toBeLessThan(1e8);
  });
});

describe('what must not change', () => {
  const waves = fc.array(fc.double({min: -2, max: 2, noNaN: true}), {minLength: 9, maxLength: 40});

  test('moving the readings on by one position turns the high point by one step', () => {
    fc.assert(
      fc.property(waves, (y) => {
        const n = y.length;
        const a = harmonic(fit(readingsOf(y), 1), 1);
        const b = harmonic(fit(readingsOf([y[n - 1], ...y.slice(0, -1)]), 1), 1);
        expect(b.amount).toBeCloseTo(a.amount, 12);
        if (a.amount > 1e-6) expect(Math.cos((b.angle - a.angle - 360 / n) * RAD)).toBeCloseTo(1, 8);
      }),
      {seed: 11},
    );
  });

  test('a common level changes nothing, a factor multiplies amounts and half-widths', () => {
    fc.assert(
      fc.property(waves, fc.double({min: -1e3, max: 1e3, noNaN: true}), (y, level) => {
        const f = fit(readingsOf(y), 1);
        const g = fit(readingsOf(y.map((v) => -3 * v + level)), 1);
        expect(g.cos[1]).toBeCloseTo(-3 * f.cos[1], 10);
        expect(g.sin[2]).toBeCloseTo(-3 * f.sin[2], 10);
        if (f.freedom > 0) expect(plusMinus(g, 1)).toBeCloseTo(3 * plusMinus(f, 1)!, 9);
      }),
      {seed: 12},
    );
  });

  test('the order of readings does not matter when their angles go with them', () => {
    const y = noisy(5, 11);
    const degrees = y.map((_, i) => (i * i * 17) % 360);
    const order = [3, 0, 10, 7, 2, 9, 1, 4, 8, 5, 6];
    const f = fit(readingsOf(y), 2, angles(degrees));
    const g = fit(readingsOf(order.map((i) => y[i])), 2, angles(order.map((i) => degrees[i])));
    expect(harmonic(g, 2).amount).toBeCloseTo(harmonic(f, 2).amount, 12);
    expect(plusMinus(g, 1)).toBeCloseTo(plusMinus(f, 1)!, 10);
  });

  test('a basis kept from another set of readings is not mistaken for this one', () => {
    const y = noisy(6, 16);
    const gap = y.map((v, i) => (i === 5 ? NaN : v));
    const first = harmonic(fit(readingsOf(y), 1), 1);
    for (let i = 0; i < 20; i++) {
      fit(readingsOf(y.slice(0, 9 + (i % 7))), 1);
      fit(readingsOf(gap), 1);
      fit(readingsOf(y), 1, angles(y.map((_, k) => 22.5 * k + i)));
      expect(harmonic(fit(readingsOf(y), 1), 1)).toEqual(first);
    }
    const turned = harmonic(fit(readingsOf(y), 1, angles(y.map((_, k) => 22.5 * k + 5))), 1);
    expect((turned.angle - first.angle + 360) % 360).toBeCloseTo(5, 9);
  });
});

test('equal readings leave exactly nothing, whatever their level', () => {
  for (const level of [0.1, 1e6 + 0.1, -7]) {
    const f = fit(readingsOf(new Array(16).fill(level)), 1);
    expect(harmonic(f, 1)).toEqual({amount: 0, angle: 0});
    expect(variance(f)).toBe(0);
    expect(f.mean).toBe(level);
  }
});

describe('an answer does not depend on the calls before it', () => {
  const random = randomFrom(16);
  const even = Array.from({length: 16}, (_, i) => (360 * i) / 16);
  const complete = Array.from({length: 16}, () => random() - 0.5);
  const gaps = complete.map((y, i) => (i % 5 === 2 ? NaN : y));
  const twice = complete.flatMap((y) => [y, NaN]);
  /** So many other angles that what is kept of earlier calls is gone. */
  const forget = () => {
    for (let n = 20; n < 30; n++) fit(readingsOf(Array.from({length: n}, random)), 1);
  };
  const figures = (y: readonly number[], degrees?: number[]) => {
    const wave = fit(readingsOf(y), 1, degrees && angles(degrees));
    return [wave.mean, ...Array.from(wave.cos), ...Array.from(wave.sin)];
  };

  test.each<[string, [readonly number[], number[]?], [readonly number[], number[]?]]>([
    ['even steps after the same angles given', [complete], [complete, even]],
    ['angles given after the same even steps', [complete, even], [complete]],
    ['even steps after every other one of a finer turn', [complete], [twice]],
    ['every other one of a finer turn after even steps', [twice], [complete]],
    ['steps with gaps after the same angles given', [gaps], [gaps, even]],
    ['angles given after the same steps with gaps', [gaps, even], [gaps]],
  ])('%s', (_, asked, before) => {
    forget();
    const alone = figures(...asked);
    forget();
    figures(...before);
    expect(figures(...asked)).toEqual(alone);
  });
});
