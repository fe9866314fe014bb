/**
 * The angles of two unbalances of given sizes: within the limit, no worse than a search of the tests' own, and with the
 * slopes of a minimum. Objective 5/4·(e₁² + e₂²) + 3/2·e₁·e₂ = (e₁ + e₂)² + ¼·(e₂ − e₁)².
 */
import {bestAngles} from '../../src/maths/stockPairAngles';
import type {Two} from '../../src/maths/planes';
import {randomFrom} from '../support/random';
import {RAD, add, at, scale, size, xy, type Xy} from '../support/polar';
import {cosines} from '../support/calls';
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

const KINDS = [
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
] as [string, (r: () => number) => Case][];

test.each(KINDS)('%s', (name, make) => {
  const random = randomFrom(name.length);
  const kinds = {none: 0, free: 0, held: 0};
  for (let n = 0; n < 40; n++) {
    const [a, b, rho1, rho2, limit] = make(random);
    kinds[check([xy(a), xy(b)], [rho1, rho2], limit)]++;
  }
  expect(kinds.free + kinds.held).toBeGreaterThan(12);
});

/**
 * The least objective at a first angle. The second one is where both errors draw it, or, where the limit forbids that, at
 * an end of the arc that it leaves; by the law of cosines in the triangle of what is wanted, what is fitted, and the limit.
 */
function leastAt(required: Two<Xy>, rho: Two<number>, limit: number, first: number): number {
  const e1 = add([rho[0] * Math.cos(first), rho[0] * Math.sin(first)], scale(-1, required[0]));
  const drawn = add(scale(5, required[1]), scale(-3, e1));
  const wanted = add(required[1], scale(-1, e1));
  const seconds = [Math.atan2(drawn[1], drawn[0])];
  const half = Math.acos((rho[1] ** 2 + size(wanted) ** 2 - limit ** 2) / (2 * rho[1] * size(wanted)));
  if (half >= 0) for (const side of [-1, 1]) seconds.push(Math.atan2(wanted[1], wanted[0]) + side * half);
  return seconds
    .map((second) => judged(required, rho, [first, second]))
    .filter((left) => left.static <= limit + 1e-12)
    .reduce((least, {objective}) => Math.min(least, objective), Infinity);
}

interface Low {
  readonly first: number;
  readonly objective: number;
}

/** All first angles at which the objective is lower than on either side: half degrees, then thirds of what is left. */
function lowPlaces(required: Two<Xy>, rho: Two<number>, limit: number): Low[] {
  const n = 720;
  const at = (first: number) => leastAt(required, rho, limit, first);
  const around = Array.from({length: n}, (_, i) => at((2 * Math.PI * i) / n));
  return around.flatMap((here, i) => {
    if (here === Infinity || around[(i + n - 1) % n] < here || around[(i + 1) % n] < here) return [];
    let [low, middle, high] = [i - 1, i, i + 1].map((k) => (2 * Math.PI * k) / n);
    let objective = here;
    // The lowest so far stays inside, for beside it may be nothing that the limit allows.
    for (let k = 0; k < 60; k++) {
      for (const [next, isBelow] of [
        [(2 * middle + low) / 3, true],
        [(2 * middle + high) / 3, false],
      ] as const) {
        const value = at(next);
        if (value < objective) {
          if (isBelow) high = middle;
          else low = middle;
          [middle, objective] = [next, value];
        } else if (isBelow) low = next;
        else high = next;
      }
    }
    return [{first: middle, objective}];
  });
}

const away = (a: number, b: number): number => Math.abs(Math.atan2(Math.sin(a - b), Math.cos(a - b)));

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

/** How the angles found stand to all low places: how many there are of each, and how many have no counterpart. */
function compared(required: Two<Xy>, rho: Two<number>, limit: number) {
  const found = find(required, rho, limit).map((angles) => ({first: angles[0], ...judged(required, rho, angles)}));
  const wanted = lowPlaces(required, rho, limit);
  for (const one of found) expect(one.static).toBeLessThan(limit + 1e-9);
  const same = (one: Low, other: Low) =>
    away(one.first, other.first) < 1e-3 && Math.abs(one.objective - other.objective) < 1e-9;
  return {
    lows: wanted.length,
    finds: found.length,
    missed: wanted.filter((low) => !found.some((one) => same(one, low))).length,
    strange: found.filter((one) => !wanted.some((low) => same(one, low))).length,
  };
}

test.each(KINDS)('%s: all angles at which the objective is lower than beside them, and no others', (name, make) => {
  const random = randomFrom(1000 + name.length);
  const sum = {lows: 0, finds: 0, missed: 0, strange: 0};
  for (let n = 0; n < 60; n++) {
    const [a, b, rho1, rho2, limit] = make(random);
    const one = compared([xy(a), xy(b)], [rho1, rho2], limit);
    for (const name of ['lows', 'finds', 'missed', 'strange'] as const) sum[name] += one[name];
  }
  expect(sum.lows).toBeGreaterThan(40);
  // Each is found from the two sides of a sample; one that hardly is one may lie between two samples, or be taken for one.
  expect(sum.finds).toBeLessThanOrEqual(2 * sum.lows);
  expect(sum.missed).toBeLessThan(0.03 * sum.lows);
  expect(sum.strange).toBeLessThan(0.01 * sum.finds);
});

// Invented like the others, and found hard among thousands of them: all digits count.
test.each([
  [
    'one of them next to nothing',
    [-0.3213631565913003, 0.3705803108115252],
    [0.23784998795422901, -1.132198016656341],
    [0.7835066623520106, 0.009317178146447986],
    0.2227829839102924,
    1,
  ],
  [
    'low at the ends of an arc that goes nearly round',
    [0.9488395006027316, 0.6905430970748382],
    [-0.85218656425674, -0.7191287523491449],
    [1.1257501696236432, 1.1787655349820851],
    0.08480757798999548,
    0,
  ],
  [
    'low at an end of an arc, and off it',
    [0.12494508016486508, -0.5200139985434665],
    [-0.40669148470320815, 0.4099123812476928],
    [0.30211112266406415, 0.7421242775395512],
    0.3139762661419809,
    0,
  ],
  [
    'a slope that leads nowhere',
    [0.21795521104480456, 0.3309588109967424],
    [0.2182419580024421, 0.15151133548221443],
    [1.0170971114654095, 0.14926593019627035],
    0.8366054517216981,
    1,
  ],
  [
    'a hill below the place where the search begins',
    [0.3915370008089306, 0.4280633049464308],
    [-1.1609983969916056, -0.12029311248307113],
    [0.9797669038176536, 0.6397695594001561],
    1.0297710275743157,
    1,
  ],
  [
    'the lowest not the last that is looked at',
    [-0.026045152681934757, -0.5285606701138634],
    [-0.07403041066660004, -0.21985564738152216],
    [0.878667367529124, 0.13793671145103872],
    0.8789223248139024,
    1,
  ],
] as [string, Xy, Xy, Two<number>, number, number][])('%s', (_, one, other, rho, limit, samples) => {
  const {lows, finds, missed, strange} = compared([one, other], rho, limit);
  expect(lows).toBeGreaterThan(0);
  expect(missed).toBe(0);
  expect(finds).toBeLessThanOrEqual(2 * lows);
  // On a side without a valley the sample itself is all there is.
  expect(strange).toBe(samples);
});

test('few angles are looked at', () => {
  const random = randomFrom(19);
  const asked = cosines(() => {
    for (let n = 0; n < 100; n++) {
      const [a, b, rho1, rho2, limit] = near(random, some(random), some(random));
      find([xy(a), xy(b)], [rho1, rho2], limit);
    }
  });
  // Four cosines a step of Newton's method, two an angle looked at, in some hundred angles each.
  expect(asked / 100).toBeLessThan(320);
});

describe.each([0.001, 1, 4000])('sizes about %d', (unit) => {
  test('what is fitted can be what is required, but for rounding, where the two are opposite: no angle is ruled out', () => {
    const random = randomFrom(17);
    for (let n = 0; n < 60; n++) {
      const amount = unit * (0.2 + random());
      const required: Two<Xy> = [xy(at(amount, 360 * random())), [0, 0]];
      const hair = () => 1 + Number.EPSILON * Math.floor(5 * random() - 2);
      const opposite: Two<Xy> = [required[0], [-required[0][0] * hair(), -required[0][1] * hair()]];
      const rho: Two<number> = [amount * hair(), amount * hair()];
      const found = find(opposite, rho, n % 2 === 0 ? 0 : 1e-15 * amount);
      const left = ([first, second]: Two<number>) => judged(opposite, rho, [first, second]);
      const best = found.reduce((a, b) => (left(b).objective < left(a).objective ? b : a));
      expect(left(best).static).toBeLessThan(1e-14 * amount);
      best.forEach((angle, i) => {
        expect(away(angle, Math.atan2(opposite[i][1], opposite[i][0]))).toBeLessThan(1e-13);
      });
    }
  });

  test('sizes that the limit just allows, at one pair of angles, and just does not', () => {
    // Opposite unbalances and a whole of nothing: what is left is the difference of the sizes, at any angle.
    const required: Two<Xy> = [xy(at(unit, 20)), xy(at(unit, 200))];
    for (const [limit, places] of [
      [0.1, 1],
      [0.0999999, 0],
    ]) {
      expect(find(required, [unit, 1.1 * unit], limit * unit).length > 0).toBe(places > 0);
      expect(find(required, [1.1 * unit, unit], limit * unit).length > 0).toBe(places > 0);
    }
    // A whole of 2 along 20°: too short and too long sizes come within the limit along that line alone.
    const alike: Two<Xy> = [xy(at(unit, 20)), xy(at(unit, 20))];
    for (const [a, b, limit] of [
      [0.7, 0.8, 0.5],
      [4, 1.5, 0.5],
      [1.5, 4, 0.5],
    ]) {
      expect(find(alike, [a * unit, b * unit], (limit - 1e-7) * unit)).toEqual([]);
      const found = find(alike, [a * unit, b * unit], (limit + 1e-7) * unit);
      expect(found.length).toBeGreaterThan(0);
      for (const [first, second] of found) {
        expect(away(first, (b > a + 2 ? 200 : 20) * RAD)).toBeLessThan(1e-2);
        expect(away(second, (a > b + 2 ? 200 : 20) * RAD)).toBeLessThan(1e-2);
      }
    }
  });

  test('no limit at all: the two make up the whole as a triangle, or along its line', () => {
    const random = randomFrom(20);
    for (let n = 0; n < 60; n++) {
      const [angle, whole] = [360 * random(), 0.5 + random()];
      const required: Two<Xy> = [xy(at(0.7 * whole * unit, angle)), xy(at(0.3 * whole * unit, angle))];
      const share = 0.2 + 0.6 * random();
      const slack = n % 2 === 0 ? 1 : 1.1 + random();
      const rho: Two<number> = [slack * share * whole, slack * (1 - share) * whole];
      if (Math.abs(rho[0] - rho[1]) > whole) continue;
      const found = find(required, [unit * rho[0], unit * rho[1]], n % 3 === 0 ? 1e-11 * unit : 0);
      // By the law of cosines; both mirror images serve alike.
      const cosine = (whole ** 2 + rho[0] ** 2 - rho[1] ** 2) / (2 * whole * rho[0]);
      const off = n % 2 === 0 ? 0 : Math.acos(cosine);
      for (const side of n % 2 === 0 ? [1] : [1, -1]) {
        const nearest = Math.min(...found.map(([first]) => away(first, angle * RAD + side * off)));
        expect(nearest).toBeLessThan(1e-7);
      }
      for (const angles of found)
        expect(judged(required, [unit * rho[0], unit * rho[1]], angles).static).toBeLessThan(1e-10 * unit);
    }
  });

  test('the same angles in any unit', () => {
    const random = randomFrom(18);
    for (let n = 0; n < 40; n++) {
      const [a, b, rho1, rho2, limit] = near(random, some(random), some(random));
      const [one, other] = [1, unit].map((by) =>
        find([scale(by, xy(a)), scale(by, xy(b))], [by * rho1, by * rho2], by * limit),
      );
      expect(other).toHaveLength(one.length);
      one.forEach((angles, i) => angles.forEach((angle, k) => expect(away(angle, other[i][k])).toBeLessThan(1e-10)));
    }
  });
});

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
