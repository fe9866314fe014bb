/** The columns and what is said of them against ml-matrix; which basis is used again; what is refused, word for word. */
import {Matrix, SingularValueDecomposition, inverse as inverted} from 'ml-matrix';
import {
  anyBasis,
  basisFor,
  conditionBound,
  enough,
  spreadOf,
  spreadOut,
  wellSpread,
  type Basis,
} from '../../src/maths/basis';
import {readingsOf} from '../../src/maths/readings';
import {refused} from '../support/polar';
import {randomFrom} from '../support/random';

const RAD = Math.PI / 180;
const angles = (degrees: readonly number[]) => ({name: 'angles', degrees: Float64Array.from(degrees)});
const even = (n: number) => Array.from({length: n}, (_, i) => (360 * i) / n);
const some = (n: number, ...missing: number[]) =>
  readingsOf(Array.from({length: n}, (_, i) => (missing.includes(i) ? NaN : 1 + (i % 5))));

/** The columns as they are defined. */
const columns = (degrees: readonly number[], orders: number) =>
  new Matrix(
    degrees.map((d) => [
      1,
      ...Array.from({length: orders}, (_, k) => [Math.cos((k + 1) * d * RAD), Math.sin((k + 1) * d * RAD)]).flat(),
    ]),
  );

const product = ({n, p, q, r}: Basis) =>
  new Matrix(Array.from({length: n}, (_, i) => Array.from({length: p}, (_, j) => q[j * n + i]))).mmul(
    new Matrix(Array.from({length: p}, (_, i) => Array.from(r.slice(i * p, (i + 1) * p)))),
  );

/** Largest difference; no number when one is none. */
const far = (a: Matrix, b: Matrix): number => Math.max(...Matrix.sub(a, b).abs().to1DArray());

const uneven = (seed: number, n: number): number[] => {
  const random = randomFrom(seed);
  return Array.from({length: n}, (_, i) => (300 * (i + 0.7 * random())) / n);
};

describe.each<[string, () => Basis, number[], number]>([
  ['even steps', () => anyBasis(some(16), undefined, 4), even(16), 4],
  ['as few as can be', () => anyBasis(some(9), undefined, 4), even(9), 4],
  [
    'some missing',
    () => anyBasis(some(16, 0, 5, 6), undefined, 3),
    even(16).filter((_, i) => ![0, 5, 6].includes(i)),
    3,
  ],
  ['angles given', () => anyBasis(some(14), angles(uneven(1, 14)), 4), uneven(1, 14), 4],
  [
    'angles given, one missing',
    () => anyBasis(some(9, 3), angles(uneven(2, 9)), 2),
    uneven(2, 9).filter((_, i) => i !== 3),
    2,
  ],
])('%s', (_name, build, degrees, orders) => {
  const x = columns(degrees, orders);

  test('Q·R is the columns, those of Q are orthonormal', () => {
    const basis = build();
    expect([basis.n, basis.p, basis.orders]).toEqual([degrees.length, 2 * orders + 1, orders]);
    basis.degrees.forEach((d, i) => expect(d).toBeCloseTo(degrees[i], 12));
    expect(far(product(basis), x)).toBeLessThan(1e-14);
    const {n, p, q} = basis;
    const columnsOfQ = new Matrix(Array.from({length: p}, (_, j) => Array.from(q.slice(j * n, (j + 1) * n))));
    expect(far(columnsOfQ.mmul(columnsOfQ.transpose()), Matrix.eye(p))).toBeLessThan(1e-14);
  });

  test('condition number and its bound', () => {
    const basis = build();
    const {condition} = new SingularValueDecomposition(x);
    expect(basis.condition / condition).toBeCloseTo(1, 10);
    const frobenius = Math.sqrt(x.mmul(inverted(x.transpose().mmul(x))).norm() ** 2) * x.norm();
    expect(conditionBound(basis) / frobenius).toBeCloseTo(1, 10);
    expect(conditionBound(basis)).toBeGreaterThanOrEqual(basis.condition);
  });

  test('(XᵀX)⁻¹ of each harmonic', () => {
    const basis = build();
    const covariance = inverted(x.transpose().mmul(x));
    for (let k = 1; k <= orders; k++) {
      const {cc, cs, ss} = spreadOf(basis, k);
      expect(cc).toBeCloseTo(covariance.get(2 * k - 1, 2 * k - 1), 11);
      expect(cs).toBeCloseTo(covariance.get(2 * k - 1, 2 * k), 11);
      expect(ss).toBeCloseTo(covariance.get(2 * k, 2 * k), 11);
    }
  });
});

test('even steps: whole turns are taken off before anything is rounded', () => {
  for (const n of [7, 9, 13, 48]) {
    const orders = 3;
    const {q} = anyBasis(some(n), undefined, orders);
    for (let k = 2; k <= orders; k++) {
      for (let i = 0; i < n; i++) {
        const same = (k * i) % n;
        expect(q[(2 * k - 1) * n + i]).toBe(q[n + same]);
        expect(q[2 * k * n + i]).toBe(q[2 * n + same]);
      }
    }
  }
});

describe('used again', () => {
  const fresh = () => {
    // Other bases drive all that are kept out.
    for (let n = 20; n < 26; n++) anyBasis(some(n), undefined, 1);
  };

  test('when nothing differs but the readings, once and ever after', () => {
    for (const [readings, given] of [
      [some(16), undefined],
      [some(16, 4), undefined],
      [some(16), angles(uneven(5, 16))],
      [some(16, 2, 9), angles(uneven(5, 16))],
    ] as const) {
      fresh();
      const first = anyBasis(readings, given, 2);
      const others = {...readings, values: readings.values.map((v) => v * 3)};
      const alike = given && angles([...given.degrees]);
      for (let round = 0; round < 4; round++) expect(anyBasis(others, alike, 2) === first).toBe(true);
    }
  });

  test('when it is one of the last six', () => {
    fresh();
    const first = anyBasis(some(16), undefined, 2);
    for (let n = 30; n < 35; n++) anyBasis(some(n), undefined, 1);
    expect(anyBasis(some(16), undefined, 2) === first).toBe(true);
    // Asked for over and over it takes no more room.
    for (let round = 0; round < 7; round++) anyBasis(some(35), undefined, 1);
    expect(anyBasis(some(16), undefined, 2) === first).toBe(true);
    // It is the newest again, and what was asked for before it still is there.
    const second = anyBasis(some(34), undefined, 1);
    for (let n = 40; n < 44; n++) anyBasis(some(n), undefined, 1);
    expect(anyBasis(some(34), undefined, 1) === second).toBe(true);
    expect(anyBasis(some(16), undefined, 2) === first).toBe(true);
    for (let n = 50; n < 56; n++) anyBasis(some(n), undefined, 1);
    expect(anyBasis(some(16), undefined, 2) === first).toBe(false);
  });

  test('never when it is another', () => {
    const at = uneven(6, 12);
    const cases = [
      [some(12), undefined, 2],
      [some(12), undefined, 3],
      [some(13), undefined, 2],
      [some(13, 12), undefined, 2],
      [some(13, 0), undefined, 2],
      [some(14, 0, 7), undefined, 2],
      [some(14, 0, 8), undefined, 2],
      // The angles that are meant without, given.
      [some(12), angles(even(12)), 2],
      [some(13, 12), angles(even(13)), 2],
      [some(12), angles(at), 2],
      [some(12), angles(at.map((a, i) => (i === 11 ? a + 1e-9 : a))), 2],
      [some(12), angles(at.map((a, i) => (i === 0 ? a + 1e-9 : a))), 2],
    ] as const;
    for (const [readings, given, orders] of cases) {
      for (const [before, other, theirs] of cases) {
        fresh();
        const wanted = anyBasis(readings, given, orders);
        fresh();
        anyBasis(before, other, theirs);
        const found = anyBasis(readings, given, orders);
        expect(found.q).toEqual(wanted.q);
        expect(found.degrees).toEqual(wanted.degrees);
        expect([found.steps, found.even]).toEqual([
          given === undefined,
          given === undefined && !readings.values.some(Number.isNaN),
        ]);
      }
    }
  });
});

describe('refused', () => {
  const crowded = (n: number) => angles(Array.from({length: n}, (_, i) => i / 1000));
  const tooClose = (argument: string, orders: number) => ({
    reason: 'invalid',
    argument,
    message: `${argument}: the angles lie too close together to tell ${orders} harmonics apart (condition number above 1E+8); spread the readings around the turn or lower the order`,
  });

  test('angles too close together', () => {
    expect(refused(() => basisFor(some(7), crowded(7), 1))).toEqual(tooClose('angles', 2));
    const narrow = anyBasis(some(7), crowded(7), 2);
    expect(refused(() => spreadOut(narrow, 'readings'))).toEqual(tooClose('readings', 2));
    expect(wellSpread(narrow)).toBe(false);
    const wide = anyBasis(some(7), undefined, 2);
    expect([spreadOut(wide, 'readings') === wide, wellSpread(wide)]).toEqual([true, true]);
  });

  test('the condition number decides, where its bound is beyond', () => {
    const within = (sector: number) => anyBasis(some(9), angles(even(9).map((a) => (a * sector) / 360)), 4);
    let between = 0;
    for (let sector = 30; sector < 90; sector++) {
      const basis = within(sector);
      expect(wellSpread(basis)).toBe(basis.condition <= 1e8);
      if (basis.condition <= 1e8 && conditionBound(basis) > 1e8) between++;
    }
    expect(between).toBeGreaterThan(0);
  });

  test('what would keep a sheet waiting: 1920 · 125² is just what is allowed', () => {
    const around = (n: number) => angles(Array.from({length: n}, (_, i) => (360 * i) / n + (i % 3) / 1000));
    expect(anyBasis(some(1920), around(1920), 62).n).toBe(1920);
    expect(refused(() => anyBasis(some(1921), around(1921), 62)).message).toBe(
      'readings: 1921 readings with gaps or at angles of their own allow harmonics up to order 61, not 62',
    );
  });

  test('too few readings, in words for one and for several', () => {
    const few = (n: number, order: number) =>
      refused(() => enough(readingsOf(new Array<number>(n).fill(1), 'rim'), order));
    expect(few(1, 1)).toEqual({
      reason: 'unavailable',
      argument: 'rim',
      message: 'rim: 1 reading is present, order 1 needs at least 3',
    });
    expect(few(0, 1).message).toBe('rim: 0 readings are present, order 1 needs at least 3');
    expect(few(8, 4).message).toBe('rim: 8 readings are present, order 4 needs at least 9');
    expect(() => enough(some(9), 4)).not.toThrow();
    expect(refused(() => basisFor(some(8), undefined, 4)).reason).toBe('unavailable');
    expect(basisFor(some(9), undefined, 1).orders).toBe(3);
  });
});
