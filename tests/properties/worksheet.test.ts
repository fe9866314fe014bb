/**
 * What holds whatever the figures, at the worksheet: where 0° lies does not matter, nor which unit is used, nor the order
 * of what has none; a pairing beats pairings by chance. Properties of a single piece of mathematics stand with it.
 */
import fc from 'fast-check';
import {find} from '../../src/functions/catalogue';
import type {OutCell} from '../../src/functions/cells';
import {Refusal} from '../../src/maths/refusal';
import {
  GRAMS_PER_OUNCE,
  KILOGRAMS_PER_POUND,
  METERS_PER_MILE,
  MILLIMETERS_PER_INCH,
  NEWTONS_PER_POUND_FORCE,
} from '../../src/maths/units';
import {call, figures} from '../support/formula';
import {always, between, someVector} from '../support/polar';
import {randomFrom} from '../support/random';

type Pair = readonly [number, number];

const vector = someVector(0.05, 50).map(({amount, angle}): Pair => [amount, angle]);
const planes = [[-80, 190, 95, 205]];
const elsewhere = [[-40, 170, 120, 180]];

/** How far two angles are apart, at most 180. */
const apart = (a: number, b: number): number => Math.abs(((((a - b) % 360) + 540) % 360) - 180);

describe('all angles turned by φ', () => {
  const turn = (phi: number, ...vectors: readonly Pair[]): number[][] => vectors.map(([a, angle]) => [a, angle + phi]);
  const row = (rows: number[][]): number[][] => [rows.flat()];

  /** The function, its arguments from five vectors turned by φ, and the parts whose angles turn along. */
  const cases: [string, (v: readonly Pair[], phi: number) => unknown[], readonly string[]][] = [
    ['RESULTANT', (v, phi) => [turn(phi, ...v)], ['angle']],
    ['AVERAGE', (v, phi) => [turn(phi, ...v)], ['angle']],
    ['DIFFERENCE', (v, phi) => [turn(phi, v[0]), turn(phi, v[1])], ['angle']],
    ['BEADSEATS', (v, phi) => [turn(phi, v[0]), turn(phi, v[1])], ['angle', 'tiltangle']],
    ['REMOUNT', (v, phi) => [turn(phi, v[0]), turn(phi, v[1]), 144], ['angle', 'errorangle']],
    ['SEPARATE', (v, phi) => [turn(phi, v[0]), turn(phi, v[1]), 110], ['rimangle', 'tireangle']],
    ['MATCH', (v, phi) => [turn(phi, v[0]), turn(phi, v[1])], []],
    // Measured so large that it is not the rim alone, whose tire's angle nobody could tell.
    ['TURNED', (v, phi) => [turn(phi, v[0]), turn(phi, v[1]), turn(phi, [v[2][0] + 60, v[2][1]])], []],
    ['TURNWINDOW', (v, phi) => [turn(phi, v[0]), turn(phi, v[1]), 0.9 * (v[0][0] + v[1][0])], []],
    [
      'MATCHALL',
      (v, phi) => [
        turn(phi, v[0]),
        turn(phi, v[1]),
        row(turn(phi, v[2], v[3])),
        row(turn(phi, v[4], v[0])),
        [[1, 20, 10]],
      ],
      [],
    ],
    [
      'UNTANGLE',
      (v, phi) => [turn(phi, ...v), [[0, 180, 0, 90, 180]], [[0, 0, 144, 216, 72]]],
      ['rimangle', 'tireangle', 'clampingangle'],
    ],
    ['STATICCOUPLE', (v, phi) => [turn(phi, v[0], v[1]), planes], ['staticangle', 'coupleangle']],
    ['TRANSFER', (v, phi) => [turn(phi, v[0], v[1]), planes, elsewhere], ['inboardangle', 'outboardangle']],
    ['ONEPLANE', (v, phi) => [turn(phi, v[0], v[1]), planes, [[10, 200]]], ['angle']],
    ['RESIDUAL', (v, phi) => [turn(phi, v[0], v[1]), turn(phi, v[2], v[3]), planes], ['staticangle', 'coupleangle']],
    ['SPLIT', (v, phi) => [turn(phi, v[0]), v[0][1] + phi - 20, v[0][1] + phi + 55], []],
    ['TRIALWEIGHT', (v, phi) => [turn(phi, v[0]), turn(phi, v[1]), turn(0, v[2])], []],
    ['TRIALWEIGHT', (v, phi) => [turn(0, v[0]), turn(0, v[1]), turn(phi, v[2])], ['angle']],
  ];

  /** The row of an answer, or the reason of its refusal. */
  const answer = (name: string, args: readonly unknown[]): OutCell[] | string => {
    try {
      return call(name, ...args)[0];
    } catch (error) {
      if (error instanceof Refusal) return error.reason;
      throw error;
    }
  };

  test.each(cases)('%s', (name, args, turning) => {
    const parts = Object.entries(find(name)!.parts);
    let compared = 0;
    always([fc.array(vector, {minLength: 5, maxLength: 5}), between(-720, 720)], (v, phi) => {
      const [before, after] = [answer(name, args(v, 0)), answer(name, args(v, phi))];
      // What is refused is refused wherever 0° lies.
      if (typeof before === 'string' || typeof after === 'string') return expect(after).toBe(before);
      const sizes = before.filter((cell): cell is number => typeof cell === 'number');
      const scale = Math.max(1, ...sizes.map(Math.abs));
      parts.forEach(([part, {unit}], i) => {
        const [was, is] = [before[i], after[i]];
        if (typeof was !== 'number' || typeof is !== 'number') return expect(typeof is).toBe(typeof was);
        compared++;
        // An angle is no better known than the smallest of what it comes from allows.
        if (unit !== '°') return expect(Math.abs(is - was)).toBeLessThan(1e-9 * scale);
        return expect(apart(is, was + (turning.includes(part) ? phi : 0))).toBeLessThan(1e-5);
      });
    });
    expect(compared).toBeGreaterThan(100);
  });

  // Limits of its own do not scale along.
  test.each(cases.filter(([name]) => name !== 'MATCHALL'))('%s: sizes scale, angles stay', (name, args) => {
    const parts = Object.entries(find(name)!.parts);
    let compared = 0;
    // Powers of two scale without rounding: what cancels to a rest of rounding has the same rest.
    const factors = fc.constantFrom(...[-9, -5, -1, 1, 2, 6].map((k) => 2 ** k));
    always([fc.array(vector, {minLength: 5, maxLength: 5}), factors], (v, factor) => {
      const scaled = v.map(([amount, angle]): Pair => [factor * amount, angle]);
      const [before, after] = [answer(name, args(v, 0)), answer(name, args(scaled, 0))];
      // A measurement that is said to be 60 larger than others is so only as it stands.
      if (name === 'TURNED') return expect(typeof after).toBe(typeof before);
      if (typeof before === 'string' || typeof after === 'string') return expect(after).toBe(before);
      const sizes = before.filter((cell): cell is number => typeof cell === 'number');
      const scale = Math.max(1, ...sizes.map(Math.abs));
      parts.forEach(([, {unit}], i) => {
        const [was, is] = [before[i], after[i]];
        if (typeof was !== 'number' || typeof is !== 'number') return expect(typeof is).toBe(typeof was);
        compared++;
        if (unit === '°') return expect(apart(is, was)).toBeLessThan(1e-5);
        return expect(Math.abs(is - (unit === '' ? 1 : factor) * was)).toBeLessThan(1e-9 * scale * Math.max(1, factor));
      });
    });
    if (name !== 'TURNED') expect(compared).toBeGreaterThan(100);
  });

  test('readings at angles given', () => {
    always([fc.array(between(-1, 1), {minLength: 8, maxLength: 8}), between(0, 360)], (values, phi) => {
      const angles = values.map((_, i) => 45 * i + (i % 3));
      const [amount, angle] = figures('HARMONIC', [values], 1, [angles]);
      const [same, turned] = figures('HARMONIC', [values], 1, [angles.map((a) => a + phi)]);
      expect(same).toBeCloseTo(amount, 9);
      expect(apart(turned, angle + phi)).toBeLessThan(1e-4);
    });
  });
});

describe('units', () => {
  const speed = between(20, 150);
  const length = between(50, 120);
  const toKmh = METERS_PER_MILE / 1000;
  const one = (name: string, ...args: unknown[]): number => figures(name, ...args)[0];
  const close = (a: number, b: number): void => expect(Math.abs(a - b)).toBeLessThan(1e-12 * Math.abs(b));

  test('speeds and circumferences: turns a second and orders are the same', () => {
    always([speed, length], (mph, inches) => {
      const [kmh, mm] = [mph * toKmh, inches * MILLIMETERS_PER_INCH];
      close(one('SPINRATE', mph, inches, 'us'), one('SPINRATE', kmh, mm, 'metric'));
      close(one('ORDER', 30, mph, inches, 'us'), one('ORDER', 30, kmh, mm));
    });
  });

  test('forces, tolerances and equivalent weights convert', () => {
    always([speed, length, between(0.1, 5), between(5, 12)], (mph, inches, amount, radius) => {
      const [kmh, mm, radiusMm] = [mph * toKmh, inches * MILLIMETERS_PER_INCH, radius * MILLIMETERS_PER_INCH];
      close(
        one('FORCE', amount, radius, mph, inches, 'us') * NEWTONS_PER_POUND_FORCE,
        one('FORCE', amount * GRAMS_PER_OUNCE, radiusMm, kmh, mm),
      );
      close(
        one('TOLERANCE', 40, 10 * amount, mph, inches, 'us') * GRAMS_PER_OUNCE * MILLIMETERS_PER_INCH,
        one('TOLERANCE', 40, 10 * amount * KILOGRAMS_PER_POUND, kmh, mm),
      );
      close(
        one('EQUIVALENT', amount / 100, 1000, radius, mph, inches, 'us') * GRAMS_PER_OUNCE,
        one(
          'EQUIVALENT',
          (amount / 100) * MILLIMETERS_PER_INCH,
          (1000 * NEWTONS_PER_POUND_FORCE) / MILLIMETERS_PER_INCH,
          radiusMm,
          kmh,
          mm,
        ),
      );
    });
  });
});

describe('order', () => {
  const shuffled = <T>(list: readonly T[], seed: number): T[] => {
    const random = randomFrom(seed);
    return list
      .map((each) => [random(), each] as const)
      .sort(([a], [b]) => a - b)
      .map(([, each]) => each);
  };
  const many = fc.array(vector, {minLength: 3, maxLength: 12});

  test('of vectors in a sum', () => {
    always([many, fc.nat()], (vectors, seed) => {
      const [amount, angle] = figures('RESULTANT', vectors);
      const [again, at] = figures('RESULTANT', shuffled(vectors, seed));
      expect(Math.abs(again - amount)).toBeLessThan(1e-12 * 50 * vectors.length);
      if (amount > 0.01) expect(apart(at, angle)).toBeLessThan(1e-7);
    });
  });

  test('of rims and tires in a pairing: the worst and the total stay', () => {
    always([many, many, fc.nat(), fc.constantFrom('worst', 'total')], (rims, tires, seed, goal) => {
      const left = (table: unknown[][]): [number, number] => {
        const after = table.map((row) => row[3]).filter((cell): cell is number => typeof cell === 'number');
        return [Math.max(...after), after.reduce((a, b) => a + b, 0)];
      };
      const [worst, total] = left(call('PAIR', rims, tires, goal));
      const [again, sum] = left(call('PAIR', shuffled(rims, seed), shuffled(tires, seed + 1), goal));
      if (goal === 'worst') expect(again).toBeCloseTo(worst, 10);
      expect(sum).toBeCloseTo(total, 9);
    });
  });

  test('no pairing of a thousand by chance leaves less', () => {
    const left = (rims: readonly Pair[], tires: readonly Pair[]): number[] =>
      tires.map(([tire], i) => Math.abs(rims[i][0] - tire));
    for (const count of [4, 9, 30]) {
      const random = randomFrom(count);
      const drawn = (): Pair[] => Array.from({length: count}, () => [random(), 360 * random()] as const);
      const [rims, tires] = [drawn(), drawn()];
      const figuresOf = (goal: string) => call('PAIR', rims, tires, goal).map((row) => row[3] as number);
      const worst = Math.max(...figuresOf('worst'));
      const total = figuresOf('total').reduce((a, b) => a + b, 0);
      for (let n = 0; n < 1000; n++) {
        const after = left(shuffled(rims, n), tires);
        expect(Math.max(...after)).toBeGreaterThanOrEqual(worst - 1e-12);
        expect(after.reduce((a, b) => a + b, 0)).toBeGreaterThanOrEqual(total - 1e-9);
      }
    }
  });
});

test('a known curve is found again, whatever its harmonics and wherever it was read', () => {
  const harmonic = fc.tuple(between(0.01, 5), between(0, 359.9));
  always(
    [between(-3, 3), harmonic, harmonic, harmonic, fc.integer({min: 12, max: 40}), between(0, 4)],
    (mean, a, b, c, n, scatter) => {
      const random = randomFrom(n);
      const degrees = Array.from({length: n}, (_, i) => (360 * i) / n + scatter * random());
      const at = (theta: number): number =>
        [a, b, c].reduce(
          (y, [amount, high], k) => y + (amount / 2) * Math.cos(((k + 1) * (theta - high) * Math.PI) / 180),
          mean,
        );
      const table = call('HARMONICS', [degrees.map(at)], 3, [degrees]) as number[][];
      [a, b, c].forEach(([amount, high], k) => {
        expect(table[k][1]).toBeCloseTo(amount, 9);
        expect(apart((k + 1) * table[k][2], (k + 1) * high)).toBeLessThan(1e-5);
      });
      const [curve] = call('CURVE', [degrees.map(at)], 3, [degrees], [[17, 200.5]]) as number[][];
      [17, 200.5].forEach((theta, i) => expect(curve[i]).toBeCloseTo(at(theta), 9));
    },
  );
});

test('no plane rounded for itself leaves less than the pair from stock', () => {
  const residual = (required: readonly Pair[], fitted: unknown[][]): number => {
    const [fixed, , couple] = figures('RESIDUAL', required, fitted, planes);
    const separation = planes[0][2] - planes[0][0];
    return fixed ** 2 + (couple / separation) ** 2;
  };
  always([fc.tuple(vector, vector), fc.constantFrom(2.5, 5, 7)], (required, step) => {
    const [inboard, inboardAt, outboard, outboardAt] = figures('STOCKPAIR', required, planes, step);
    const alone = required.map(([mass, angle]) => [figures('STOCK', mass, step)[0], angle]);
    const pair = [
      [inboard, inboardAt],
      [outboard, outboardAt],
    ];
    expect(residual(required, pair)).toBeLessThanOrEqual(residual(required, alone) * (1 + 1e-9) + 1e-6);
  });
});

describe('ASSESS is monotone in its limits', () => {
  /** How much is to be done; undefined where it is to be measured again. */
  const effort = (finding: unknown): number | undefined =>
    ({accept: 0, 'match mount': 1, 'replace rim': 2, 'replace tire': 2, 'replace both': 3})[finding as string];

  const limit = between(0.01, 3);
  const rise = fc.oneof(fc.constant(0), between(0, 2));
  const assess = (assembly: Pair, rim: Pair, limits: Pair, plusminus: number): unknown =>
    call('ASSESS', [assembly], [rim], [limits], plusminus, 'finding')[0][0];
  const runout = someVector(0.05, 3).map(({amount, angle}): Pair => [amount, angle]);

  test('without uncertainty: a wider limit of either kind never asks for more', () => {
    const seen = new Set<unknown>();
    always([runout, runout, limit, limit, rise, rise], (assembly, rim, l, lr, dl, dlr) => {
      const [tight, wide] = [assess(assembly, rim, [l, lr], 0), assess(assembly, rim, [l + dl, lr + dlr], 0)];
      seen.add(tight);
      expect(effort(wide)).toBeLessThanOrEqual(effort(tight)!);
    });
    expect([...seen].sort()).toEqual(['accept', 'match mount', 'replace both', 'replace rim', 'replace tire']);
  });

  test('with uncertainty: so it is where both are decided, and what is accepted stays accepted', () => {
    always([runout, runout, limit, limit, rise, rise, between(0, 0.3)], (assembly, rim, l, lr, dl, dlr, plusminus) => {
      const tight = assess(assembly, rim, [l, lr], plusminus);
      const wide = assess(assembly, rim, [l + dl, lr + dlr], plusminus);
      if (tight === 'accept') expect(wide).toBe('accept');
      const [before, after] = [effort(tight), effort(wide)];
      if (before !== undefined && after !== undefined) expect(after).toBeLessThanOrEqual(before);
      // Measured again only near the limit.
      if (after === undefined) expect(Math.abs(assembly[0] - l - dl)).toBeLessThan(plusminus);
    });
  });
});
