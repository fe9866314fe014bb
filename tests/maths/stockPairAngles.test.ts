/**
 * The angles of two unbalances of given sizes: within the limit, no worse than a search of the tests' own, and with the
 * slopes of a minimum. Objective 5/4·(e₁² + e₂²) + 3/2·e₁·e₂ = (e₁ + e₂)² + ¼·(e₂ − e₁)².
 */
import {bestAngles} from '../../src/maths/stockPairAngles';
import type {Two} from '../../src/maths/planes';
import {randomFrom} from '../support/random';
import {RAD, add, at, scale, size, xy, type Xy} from '../support/polar';
import {leastForSizes} from '../support/stockPairs';

const asPoint = ([x, y]: Xy) => ({x, y});

/** What a pair of angles leaves, and its slopes along both. */
function judged([u1, u2]: Two<Xy>, [rho1, rho2]: Two<number>, [first, second]: Two<number>) {
  const dot = (p: Xy, q: Xy) => p[0] * q[0] + p[1] * q[1];
  const f1: Xy = [rho1 * Math.cos(first), rho1 * Math.sin(first)];
  const f2: Xy = [rho2 * Math.cos(second), rho2 * Math.sin(second)];
  const [e1, e2] = [add(f1, scale(-1, u1)), add(f2, scale(-1, u2))];
  const [t1, t2]: Xy[] = [
    [-f1[1], f1[0]],
    [-f2[1], f2[0]],
  ];
  const sum = add(e1, e2);
  return {
    objective: size(sum) ** 2 + size(add(e2, scale(-1, e1))) ** 2 / 4,
    static: size(sum),
    slope: [dot(add(scale(2.5, e1), scale(1.5, e2)), t1), dot(add(scale(2.5, e2), scale(1.5, e1)), t2)],
    staticSlope: [2 * dot(sum, t1), 2 * dot(sum, t2)],
  };
}

const find = (required: Two<Xy>, rho: Two<number>, limit: number) =>
  bestAngles([asPoint(required[0]), asPoint(required[1])], rho, limit);

/** Sizes about 1, everything relative to that. Returns how the best of the angles stands to the limit. */
function check(required: Two<Xy>, rho: Two<number>, limit: number): 'none' | 'free' | 'held' {
  const found = find(required, rho, limit).map((angles) => judged(required, rho, angles));
  const wanted = leastForSizes(required, rho, limit);
  if (found.length === 0) {
    expect(wanted).toBe(Infinity);
    return 'none';
  }
  for (const each of found) expect(each.static).toBeLessThan(limit + 1e-6);
  const best = found.filter((f) => f.static < limit + 1e-11).reduce((a, b) => (b.objective < a.objective ? b : a));
  expect(best.objective).toBeLessThan(wanted * (1 + 1e-9) + 1e-12);
  // Free: no slope. On the limit: the slope points out of what is allowed.
  const steep = Math.max(...best.slope.map(Math.abs));
  if (best.static < limit - 1e-9) {
    expect(steep).toBeLessThan(1e-11);
    return 'free';
  }
  const [[p, q], [s, t]] = [best.slope, best.staticSlope];
  expect(Math.abs(p * t - q * s)).toBeLessThan(1e-9);
  expect(p * s + q * t).toBeLessThan(1e-9);
  return 'held';
}

test.each([
  ['anything', (r: () => number) => [some(r), some(r), size2(r), size2(r), 0.05 + r()]],
  ['sizes near what is required', (r: () => number) => near(r, some(r), some(r))],
  ['one line', (r: () => number) => near(r, at(0.2 + r(), 30), at(0.2 + r(), r() < 0.5 ? 30 : 210))],
  [
    'all but one line',
    (r: () => number) => near(r, at(0.2 + r(), 30), at(0.2 + r(), (r() < 0.5 ? 30 : 210) + 5 * r())),
  ],
  ['no limit to speak of', (r: () => number) => [some(r), some(r), size2(r), size2(r), 9]],
  ['opposite ones, so that nothing static is wanted', (r: () => number) => against(r)],
  [
    'one of them nothing',
    (r: () => number) =>
      r() < 0.5 ? [at(0), some(r), size2(r) / 3, size2(r), r()] : [some(r), at(0), size2(r), size2(r) / 3, r()],
  ],
] as [string, (r: () => number) => Case][])('%s', (name, make) => {
  const random = randomFrom(name.length);
  const kinds = {none: 0, free: 0, held: 0};
  for (let n = 0; n < 40; n++) {
    const [a, b, rho1, rho2, limit] = make(random);
    kinds[check([xy(a), xy(b)], [rho1, rho2], limit)]++;
  }
  expect(kinds.free + kinds.held).toBeGreaterThan(12);
});

type Case = [ReturnType<typeof at>, ReturnType<typeof at>, number, number, number];
const some = (r: () => number) => at(0.2 + r(), 360 * r());
const size2 = (r: () => number) => 0.1 + r();
function near(r: () => number, a: ReturnType<typeof at>, b: ReturnType<typeof at>): Case {
  const off = () => 0.2 * (r() - 0.5);
  return [a, b, a.amount + off(), b.amount + off(), 0.02 + 0.2 * r()];
}
function against(r: () => number): Case {
  const a = some(r);
  return [a, at(a.amount, a.angle + 180), a.amount * (0.9 + 0.2 * r()), a.amount * (0.9 + 0.2 * r()), 0.3 * r()];
}

describe('by hand', () => {
  test('exact sizes need no turn', () => {
    const required: Two<Xy> = [xy(at(1, 40)), xy(at(0.5, 200))];
    const [[first, second]] = find(required, [1, 0.5], 0.001);
    expect(first / RAD).toBeCloseTo(40, 9);
    expect((second / RAD + 360) % 360).toBeCloseTo(200, 9);
  });

  test('one weight alone goes where both errors pull it', () => {
    // Nothing inboard, where 1 at 0° is wanted; outboard 1 at 90° wanted, 1 to fit: it is pulled along u₂ + 0.6·u₁.
    const required: Two<Xy> = [
      [1, 0],
      [0, 1],
    ];
    const wanted = Math.atan2(1, 0.6);
    const [[, second]] = find(required, [0, 1], 9);
    expect(second).toBeCloseTo(wanted, 12);
    const [[first]] = find([required[1], required[0]], [1, 0], 9);
    expect(first).toBeCloseTo(wanted, 12);
  });

  test('one weight alone, held by the limit', () => {
    // The whole is √2 at 45°. Of size 1 it leaves at least √2 − 1 there; cos of what it may be off: (1 + 2 − L²)/(2·√2).
    const required: Two<Xy> = [
      [1, 0],
      [0, 1],
    ];
    const limit = 0.42;
    const half = Math.acos((3 - limit ** 2) / (2 * Math.SQRT2));
    const [[, second]] = find(required, [0, 1], limit);
    expect(second).toBeCloseTo(Math.PI / 4 + half, 10);
    const [[first]] = find([required[1], required[0]], [1, 0], limit);
    expect(first).toBeCloseTo(Math.PI / 4 + half, 10);
    expect(find(required, [0, 1], 0.41)).toEqual([]);
    expect(find([required[1], required[0]], [1, 0], 0.41)).toEqual([]);
  });

  test('no weights: allowed or not', () => {
    expect(
      find(
        [
          [1, 0],
          [0, 1],
        ],
        [0, 0],
        1.5,
      ),
    ).toHaveLength(1);
    expect(
      find(
        [
          [1, 0],
          [0, 1],
        ],
        [0, 0],
        1.4,
      ),
    ).toEqual([]);
  });

  test('sizes that cannot come near enough to the whole', () => {
    expect(
      find(
        [
          [1, 0],
          [1, 0],
        ],
        [0.5, 0.5],
        0.9,
      ),
    ).toEqual([]);
    expect(
      find(
        [
          [1, 0],
          [1, 0],
        ],
        [0.5, 0.5],
        1.1,
      ).length,
    ).toBeGreaterThan(0);
    expect(
      find(
        [
          [1, 0],
          [-1, 0],
        ],
        [2, 0.5],
        1.4,
      ),
    ).toEqual([]);
    expect(
      find(
        [
          [1, 0],
          [-1, 0],
        ],
        [2, 0.5],
        1.6,
      ).length,
    ).toBeGreaterThan(0);
    expect(
      find(
        [
          [1, 0],
          [-1, 0],
        ],
        [0.5, 2],
        1.4,
      ),
    ).toEqual([]);
    expect(
      find(
        [
          [1, 0],
          [-1, 0],
        ],
        [0.5, 2],
        1.6,
      ).length,
    ).toBeGreaterThan(0);
  });
});
