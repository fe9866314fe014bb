/** MATCHALL against all 36,000 turns: least score, then least sum of squares, then the shorter and the positive turn. */
import {allLines, matchAll, type Limits, type Sides} from '../../src/maths/matchAll';
import type {Vector} from '../../src/maths/vectors';
import {randomFrom} from '../support/random';
import {RAD, add, at, scale, size, turn, xy} from '../support/polar';

const STEPS = 36000;
const COS = Float64Array.from({length: STEPS}, (_, n) => Math.cos((n / 100) * RAD));
const SIN = Float64Array.from({length: STEPS}, (_, n) => Math.sin((n / 100) * RAD));

const sides = (inboard: Vector, outboard: Vector): Sides => ({inboard, outboard});
const NONE = sides(at(0), at(0));
const limits = (runout: number, fixed: number, couple: number): Limits => ({runout, static: fixed, couple});

type Case = [rim: Vector, tire: Vector, rimUnbalance: Sides, tireUnbalance: Sides, limits: Limits];

const fixed = ({inboard, outboard}: Sides) => add(xy(inboard), xy(outboard));
const couple = ({inboard, outboard}: Sides) => scale(0.5, add(xy(outboard), scale(-1, xy(inboard))));

/** The three figures at any turn. */
const figures = ([rim, tire, rimUnbalance, tireUnbalance]: Case, degrees: number): [number, number, number] => [
  size(add(xy(rim), turn(xy(tire), degrees))),
  size(add(fixed(rimUnbalance), turn(fixed(tireUnbalance), degrees))),
  size(add(couple(rimUnbalance), turn(couple(tireUnbalance), degrees))),
];

/** Every hundredth of a degree. Equal within 1E-11: the shorter turn, then the positive one. */
function everyTurn([rim, tire, rimUnbalance, tireUnbalance, most]: Case) {
  const parts = [
    [xy(rim), xy(tire), most.runout],
    [fixed(rimUnbalance), fixed(tireUnbalance), most.static],
    [couple(rimUnbalance), couple(tireUnbalance), most.couple],
  ] as const;
  const [scores, totals] = [new Float64Array(STEPS), new Float64Array(STEPS)];
  for (let n = 0; n < STEPS; n++) {
    for (const [[x, y], [u, v], limit] of parts) {
      const share = Math.sqrt((x + u * COS[n] - v * SIN[n]) ** 2 + (y + u * SIN[n] + v * COS[n]) ** 2) / limit;
      scores[n] = Math.max(scores[n], share);
      totals[n] += share * share;
    }
  }
  const all = Array.from({length: STEPS}, (_, n) => n);
  const score = scores.reduce((a, b) => Math.min(a, b));
  const good = all.filter((n) => scores[n] <= score * (1 + 1e-11));
  const total = good.reduce((least, n) => Math.min(least, totals[n]), Infinity);
  const best = good
    .filter((n) => totals[n] <= total * (1 + 1e-11))
    .reduce((a, b) => (Math.min(b, STEPS - b) < Math.min(a, STEPS - a) ? b : a));
  return {turn: best / 100, score};
}

function check(given: Case): void {
  const found = matchAll(...given);
  const wanted = everyTurn(given);
  expect(found.turn).toBe(wanted.turn);
  expect(found.score).toBeCloseTo(wanted.score, 11);
  const [runout, unbalance, coupled] = figures(given, found.turn);
  expect(found.runout).toBeCloseTo(runout, 11);
  expect(found.static).toBeCloseTo(unbalance, 11);
  expect(found.couple).toBeCloseTo(coupled, 11);
}

test('what the figures are', () => {
  // Tire unbalance 6 at 0° inboard, 8 at 90° outboard: static √(36 + 64) = 10, couple half of the same = 5.
  const found = matchAll(at(0.5, 0), at(0), NONE, sides(at(6, 0), at(8, 90)), limits(0.25, 20, 50));
  expect(found).toMatchObject({turn: 0, runout: 0.5, score: 2});
  expect(found.static).toBeCloseTo(10, 13);
  expect(found.couple).toBeCloseTo(5, 13);
  // Equal weights at equal angles are static alone, opposite ones couple alone.
  const alike = matchAll(at(0), at(0), sides(at(3, 10), at(3, 10)), NONE, limits(1, 4, 1));
  expect(alike.static).toBeCloseTo(6, 13);
  expect(alike.couple).toBeCloseTo(0, 13);
  expect(alike.score).toBeCloseTo(1.5, 13);
  const opposite = matchAll(at(0), at(0), sides(at(3, 10), at(3, 190)), NONE, limits(1, 4, 1));
  expect(opposite.static).toBeCloseTo(0, 13);
  expect(opposite.couple).toBeCloseTo(3, 13);
  expect(opposite.score).toBeCloseTo(3, 13);
});

test.each([
  ['runout', [at(0.5, 20), at(0.4, 50), NONE, NONE, limits(0.5, 1, 1)], 150, {runout: 0.1, score: 0.2}],
  [
    'static',
    [at(0), at(0), sides(at(9, 80), at(0)), sides(at(4, 10), at(0)), limits(1, 5, 99)],
    250,
    {static: 5, score: 1},
  ],
  [
    'couple',
    // Rim couple ½·(2·8) = 8 at 30°, tire couple 2 at 300°: low against high at 180 + 30 − 300 = −90°.
    [at(0), at(0), sides(at(8, 210), at(8, 30)), sides(at(2, 120), at(2, 300)), limits(1, 5, 3)],
    270,
    {couple: 6, score: 2},
  ],
] as [string, Case, number, Record<string, number>][])(
  '%s alone is matched as vectors are',
  (_, given, wanted, parts) => {
    const found = matchAll(...given);
    expect(found.turn).toBe(wanted);
    for (const [name, value] of Object.entries(parts)) expect(found[name as keyof typeof found]).toBeCloseTo(value, 12);
  },
);

test('where two figures pull apart, their shares are level', () => {
  // Runout 2·|cos(t/2)| ÷ 0.5 falls, static 20·|sin(t/2)| ÷ 8 grows: level where tan(t/2) = 4/2.5 = 1.6, t = 115.989°.
  const given: Case = [at(1), at(1), sides(at(5), at(5)), sides(at(5, 180), at(5, 180)), limits(0.5, 8, 1)];
  const found = matchAll(...given);
  expect(found.turn).toBe(Math.round((2 * Math.atan(1.6) * 100) / RAD) / 100);
  expect(found.score).toBeCloseTo(4 * Math.cos(Math.atan(1.6)), 3);
  check(given);
});

test('the sum of squares decides where a figure that no turn changes is the largest', () => {
  // Runout stays at 2 times its limit; static (both sides 5 at 0°) is least at 180°, couple is none.
  const still: Case = [at(1), at(0), sides(at(5), at(5)), sides(at(3), at(3)), limits(0.5, 20, 20)];
  expect(matchAll(...still)).toMatchObject({turn: 180, runout: 1, score: 2});
  // Rim: static 2 at 0°, couple 1 at 0°; tire: static 2 at 0°, couple 1 at 90°. Over limits of 20 and 10 their squares
  // are (2 + 2·cos t)/100 and (2 − 2·sin t)/100: least together at t = 135°.
  const rim = sides(at(0), at(2));
  const tire = sides(at(Math.SQRT2, 315), at(Math.SQRT2, 45));
  const both: Case = [at(1), at(0), rim, tire, limits(0.5, 20, 10)];
  const found = matchAll(...both);
  expect(found.turn).toBe(135);
  expect(found.score).toBe(2);
  expect(found.static).toBeCloseTo(2 * Math.sqrt(2 - Math.SQRT2), 12);
  expect(found.couple).toBeCloseTo(Math.sqrt(2 - Math.SQRT2), 12);
  check(both);
});

test('all 36,000 turns of invented wheels', () => {
  const random = randomFrom(4711);
  const some = (most: number) => at(most * random(), 360 * random());
  for (let n = 0; n < 40; n++) {
    check([
      some(1),
      some(1),
      sides(some(30), some(30)),
      sides(some(30), some(30)),
      limits(0.2 + 0.5 * random(), 5 + 30 * random(), 5 + 30 * random()),
    ]);
  }
});

test('all 36,000 turns with round figures, parts without runout or unbalance, and ties', () => {
  const random = randomFrom(815);
  const some = (most: number) => at((Math.floor(4 * random()) * most) / 4, 45 * Math.floor(8 * random()));
  for (let n = 0; n < 60; n++) {
    check([some(1), some(1), sides(some(32), some(32)), sides(some(32), some(32)), limits(0.5, 16, 8)]);
  }
});

test('turns equally good either way: the positive one', () => {
  const rim = sides(at(10), at(0));
  for (let n = 0; n < 40; n++) {
    // Runout wants half a turn and static none, or the other way about.
    for (const [tire, unbalance] of [
      [0, 180],
      [180, 0],
    ]) {
      const most = limits(0.5 + 0.05 * n, 5, 50);
      const given: Case = [at(1), at(0.8, tire), rim, sides(at(8, unbalance), at(0)), most];
      const found = matchAll(...given);
      expect(found.turn).toBeGreaterThan(0);
      expect(found.turn).toBeLessThan(180);
      if (n % 10 === 0) check(given);
    }
  }
});

test('limits far below what is left change nothing about ties', () => {
  const rim = sides(at(10), at(0));
  for (let n = 0; n < 40; n++) {
    const most = limits(5e-6 * (1 + 0.1 * n), 5e-5, 5e-4);
    const found = matchAll(at(1), at(0.8), rim, sides(at(8, 180), at(0)), most);
    expect(found.turn).toBeGreaterThan(0);
    expect(found.turn).toBeLessThan(180);
  }
});

test('the largest figure and the sum of squares the same at every turn: no turn', () => {
  // Runout stays at 2 times its limit. Static 2 at 0° and at 310°, couple 1 at 90° and at 220°: over limits of 20 and 10
  // their squares are (2 ± 2·cos(turn − 50°))/100, the one low where the other is high.
  const rim = sides(at(Math.SQRT2, 315), at(Math.SQRT2, 45));
  const tire = sides(at(Math.SQRT2, 355), at(Math.SQRT2, 265));
  const given: Case = [at(1), at(0), rim, tire, limits(0.5, 20, 10)];
  expect(matchAll(...given)).toMatchObject({turn: 0, score: 2});
  check(given);
});

test('nothing to turn: no turn', () => {
  expect(matchAll(at(0), at(0), NONE, NONE, limits(1, 1, 1))).toEqual({
    turn: 0,
    runout: 0,
    static: 0,
    couple: 0,
    score: 0,
  });
  const rim: Case = [at(0.4, 70), at(0, 5), sides(at(3, 20), at(4, 110)), NONE, limits(0.5, 10, 10)];
  const found = matchAll(...rim);
  expect(found.turn).toBe(0);
  expect(found.runout).toBeCloseTo(0.4, 14);
  expect(found.static).toBeCloseTo(5, 13);
  expect(found.couple).toBeCloseTo(2.5, 13);
  expect(found.score).toBeCloseTo(0.8, 13);
  // And a tire on a rim that is perfect.
  const tire: Case = [at(0, 5), at(0.4, 70), NONE, sides(at(3, 20), at(4, 110)), limits(0.5, 10, 10)];
  expect(matchAll(...tire).turn).toBe(0);
  check(tire);
});

describe('limits that only a narrow window meets', () => {
  // Runout 2·cos(t/2) is within its limit from t₁ on, static 20·sin(t/2) up to t₂.
  const window = (from: number, to: number): Case => [
    at(1),
    at(1),
    sides(at(5), at(5)),
    sides(at(5, 180), at(5, 180)),
    limits(2 * Math.cos((from / 2) * RAD), 20 * Math.sin((to / 2) * RAD), 1),
  ];

  test.each([
    [100.003, 100.007],
    [100.0049, 100.0051],
    [61.23401, 61.23402],
  ])('between hundredths of a degree (%d°–%d°): the turn within it', (from, to) => {
    const found = matchAll(...window(from, to));
    expect(found.turn).toBeGreaterThanOrEqual(from);
    expect(found.turn).toBeLessThanOrEqual(to);
    expect(found.score).toBeLessThanOrEqual(1);
    const [runout, unbalance] = figures(window(from, to), found.turn);
    expect(found.runout).toBeCloseTo(runout, 13);
    expect(found.static).toBeCloseTo(unbalance, 12);
    expect(everyTurn(window(from, to)).score).toBeGreaterThan(1);
  });

  test('with a hundredth of a degree in it: that turn', () => {
    expect(matchAll(...window(100.007, 100.013)).turn).toBe(100.01);
    expect(matchAll(...window(99.999, 100.013)).score).toBeLessThan(1);
    check(window(99.999, 100.013));
  });

  test('when there is none the turn is a hundredth again', () => {
    const found = matchAll(...window(100.007, 100.003));
    expect(found.score).toBeGreaterThan(1);
    check(window(100.007, 100.003));
  });
});

test('where 0° lies does not matter, and the unit does not either', () => {
  const random = randomFrom(99);
  const some = (most: number) => at(most * random(), 360 * random());
  for (let n = 0; n < 30; n++) {
    const given: Case = [some(1), some(1), sides(some(30), some(30)), sides(some(30), some(30)), limits(0.3, 15, 10)];
    const by = 360 * random();
    const moved = (v: Vector, by2: number) => at(2 * v.amount, v.angle + by2);
    const both = ({inboard, outboard}: Sides, by2: number) => sides(moved(inboard, by2), moved(outboard, by2));
    const found = matchAll(...given);
    const other = matchAll(
      moved(given[0], by),
      moved(given[1], by),
      both(given[2], by),
      both(given[3], by),
      limits(0.6, 30, 20),
    );
    expect(other.turn).toBe(found.turn);
    expect(other.score).toBeCloseTo(found.score, 12);
    // Hundredths of a degree on the rim alone are hundredths on the answer.
    const rimOnly = matchAll(
      at(given[0].amount, given[0].angle + 90.25),
      given[1],
      quarter(given[2]),
      given[3],
      given[4],
    );
    expect(Math.round(rimOnly.turn * 100)).toBe(Math.round((found.turn + 90.25) * 100) % STEPS);
  }
  function quarter({inboard, outboard}: Sides): Sides {
    return sides(at(inboard.amount, inboard.angle + 90.25), at(outboard.amount, outboard.angle + 90.25));
  }
});

describe('what shows that no turn scores less', () => {
  const score = (given: Case, degrees: number) => {
    const [runout, unbalance, coupled] = figures(given, degrees);
    return [runout / given[4].runout, unbalance / given[4].static, coupled / given[4].couple];
  };

  /** What the largest share is at least between two turns: by the slope of each share, and by the bend of its square. */
  function bounded(given: Case) {
    const [rim, tire, rimUnbalance, tireUnbalance, most] = given;
    const [stays, turns] = [
      [xy(rim), fixed(rimUnbalance), couple(rimUnbalance)],
      [xy(tire), fixed(tireUnbalance), couple(tireUnbalance)],
    ].map((parts) => parts.map((part, k) => size(part) / [most.runout, most.static, most.couple][k]));
    return (from: number, to: number, gap: number): number => {
      const [one, two] = [score(given, from), score(given, to)];
      return Math.max(
        ...one.flatMap((share, k) => [
          (share + two[k] - turns[k] * RAD * gap) / 2,
          Math.sqrt(Math.max(0, Math.min(share, two[k]) ** 2 - (stays[k] * turns[k] * (RAD * gap) ** 2) / 4)),
        ]),
      );
    };
  }

  test('no share can fall below what bounds it', () => {
    const random = randomFrom(74);
    const some = (most: number) => at(most * random(), 360 * random());
    for (let n = 0; n < 40; n++) {
      const given: Case = [some(1), some(1), sides(some(30), some(30)), sides(some(30), some(30)), limits(0.3, 15, 10)];
      const [from, gap] = [360 * random(), 8 * random()];
      const least = bounded(given)(from, from + gap, gap);
      for (let i = 0; i <= 100; i++)
        expect(Math.max(...score(given, from + (gap * i) / 100))).toBeGreaterThanOrEqual(least - 1e-12);
    }
  });

  test('turns between which one of the shares cannot fall below the score', () => {
    const random = randomFrom(73);
    const some = (most: number) => at(most * random(), 360 * random());
    for (let n = 0; n < 12; n++) {
      const given: Case = [some(1), some(1), sides(some(30), some(30)), sides(some(30), some(30)), limits(0.3, 15, 10)];
      neededOnly(given);
    }
  });

  test('where two shares fall to nothing at turns beside each other, their slopes say most', () => {
    // Runout is none at 180°, static at 170°; and the other way about.
    for (const angle of [190, 170, 183.3])
      neededOnly([at(1), at(1), sides(at(5), at(5)), sides(at(5, angle - 180), at(5, angle - 180)), limits(0.5, 8, 1)]);
  });

  function neededOnly(given: Case): void {
    const found = matchAll(...given);
    const turns = allLines(...given, found.score, 100000);
    expect(turns.length).toBeGreaterThanOrEqual(72);
    expect(turns).toEqual([...turns].sort((a, b) => a - b));
    const least = bounded(given);
    turns.forEach((turn, i) => {
      const next = turns[(i + 1) % turns.length];
      const gap = Math.round(((next - turn + 360) % 360) * 100) / 100;
      expect(Math.max(...score(given, turn))).toBeGreaterThan(found.score * (1 - 1e-11));
      if (gap > 0.015) expect(least(turn, next, gap)).toBeGreaterThan(found.score * (1 - 1e-11));
    });
    expect(allLines(...given, found.score, 90).length).toBeLessThanOrEqual(90);
    // And no turn is looked at that is not needed: halves, where the larger stretch leaves room for less.
    const wanted = new Set<number>();
    const look = (from: number, to: number): void => {
      if (to - from === 1 || least(from / 100, to / 100, (to - from) / 100) >= found.score * (1 - 1e-12)) return;
      const middle = Math.floor((from + to) / 2);
      wanted.add(middle / 100);
      look(from, middle);
      look(middle, to);
    };
    for (let from = 0; from < 36000; from += 500) {
      wanted.add(from / 100);
      look(from, from + 500);
    }
    expect(turns).toEqual([...wanted].sort((a, b) => a - b));
  }

  test('so many turns and no more', () => {
    const given: Case = [at(1), at(1), sides(at(5), at(5)), sides(at(5, 180), at(5, 180)), limits(0.5, 8, 1)];
    const {score} = matchAll(...given);
    // Every fifth degree and the stretches between them; then halves of those that leave room for less.
    expect(allLines(...given, score, 144)).toHaveLength(72);
    expect(allLines(...given, score, 145).length).toBeGreaterThan(72);
  });

  test('where nothing turns every fifth degree is enough', () => {
    const still: Case = [at(0.4, 70), at(0), sides(at(3), at(4)), NONE, limits(0.5, 10, 10)];
    expect(allLines(...still, matchAll(...still).score, 1000)).toEqual(Array.from({length: 72}, (_, i) => 5 * i));
  });
});
