/** TRIALSWEEP: exact circles by hand, and readings that contradict each other against a polar grid. */
import {Matrix, SingularValueDecomposition} from 'ml-matrix';
import {sweepPlaces, trialSweep} from '../../src/maths/trialSweep';
import {Refusal} from '../../src/maths/refusal';
import {randomFrom} from '../support/random';
import {
  RAD,
  add,
  always,
  apart,
  at,
  between,
  refused,
  scale,
  someVector,
  turn,
  xy,
  size,
  type Xy,
} from '../support/polar';

/** Amplitude with the trial weight at an angle: |O + effect turned there|. */
const seen = (before: number, [x, y]: Xy, degrees: number) => size(add([before, 0], turn([x, y], degrees)));

const sseAt = (before: number, readings: number[], angles: number[], w: Xy) =>
  readings.reduce((sum, r, i) => sum + (r - seen(before, w, angles[i])) ** 2, 0);

/** Least sum of squares over effects: a polar grid, then smaller and smaller steps from its best points. */
function gridSearch(before: number, readings: number[], angles: number[]): {sse: number; effect: Xy} {
  const trig = angles.map((a) => [Math.cos(a * RAD), Math.sin(a * RAD)]);
  const sse = (x: number, y: number) => {
    let sum = 0;
    for (let i = 0; i < readings.length; i++) {
      const [c, s] = trig[i];
      sum += (readings[i] - Math.sqrt((before + x * c - y * s) ** 2 + (x * s + y * c) ** 2)) ** 2;
    }
    return sum;
  };
  const most = before + 2 * Math.max(...readings);
  // The three best, best first.
  const points = [0, 1, 2].map(() => ({x: 0, y: 0, sum: Infinity}));
  for (let radius = before / 200; radius < most; radius *= 1.1) {
    for (let angle = 0; angle < 360; angle += 6) {
      const [x, y] = [radius * Math.cos(angle * RAD), radius * Math.sin(angle * RAD)];
      const sum = sse(x, y);
      if (sum >= points[2].sum) continue;
      points[2] = {x, y, sum};
      points.sort((p, q) => p.sum - q.sum);
    }
  }
  let best = {x: 0, y: 0, sum: Infinity};
  for (const start of points) {
    let {x, y, sum} = start;
    for (let step = before / 10; step > 1e-10 * before;) {
      const next = [0, 1, 2, 3, 4, 5, 6, 7]
        .map((k) => ({x: x + step * Math.cos((k * Math.PI) / 4), y: y + step * Math.sin((k * Math.PI) / 4)}))
        .map((p) => ({...p, sum: sse(p.x, p.y)}))
        .reduce((a, b) => (b.sum < a.sum ? b : a));
      if (next.sum < sum) ({x, y, sum} = next);
      else step /= 2;
    }
    if (sum < best.sum) best = {x, y, sum};
  }
  return {sse: best.sum, effect: [best.x, best.y]};
}

test('circles that close, by hand', () => {
  // Before 10, effect 5 along 0°: 15 at 0°, √(100 + 25 ± 0) at 90° and 270°, 5 at 180°. 10/5 of 40 g, opposite.
  const found = trialSweep(10, [15, Math.sqrt(125), 5, Math.sqrt(125)], [0, 90, 180, 270], 40);
  expect(found.amount).toBeCloseTo(80, 6);
  expect(apart(found.angle, 180)).toBeLessThan(1e-6);
  expect(found.misfit).toBeLessThan(1e-9);
});

test('an effect at an angle: the weight goes where it turns that to 180°', () => {
  // Effect 4 at 30°: the correction must turn it by 150°, and be 10/4 of the trial.
  const effect = xy(at(4, 30));
  const angles = [0, 100, 220];
  const found = trialSweep(
    10,
    angles.map((a) => seen(10, effect, a)),
    angles,
    20,
  );
  expect(found.amount).toBeCloseTo(50, 6);
  expect(found.angle).toBeCloseTo(150, 6);
  expect(
    size(add([10, 0], turn(effect, found.angle).map((c) => (c * found.amount) / 20) as unknown as Xy)),
  ).toBeLessThan(1e-6);
});

test('recovers the correction from any three angles that are spread', () => {
  always([someVector(0.5, 30), between(0, 359), between(70, 150), between(70, 150)], (effect, first, gap1, gap2) => {
    const angles = [first, first + gap1, first + gap1 + gap2];
    const found = trialSweep(
      10,
      angles.map((a) => seen(10, xy(effect), a)),
      angles,
      50,
    );
    expect(found.amount * effect.amount).toBeCloseTo(500, 3);
    expect(apart(found.angle, 180 - effect.angle)).toBeLessThan(1e-4);
    expect(found.misfit).toBeLessThan(1e-7);
  });
});

test('four runs that do not close: the misfit is the root mean square over before', () => {
  const [readings, angles] = [
    [7, 12, 18],
    [0, 120, 240],
  ];
  const found = trialSweep(10, readings, angles, 50);
  const wanted = gridSearch(10, readings, angles);
  expect(found.misfit).toBeCloseTo(Math.sqrt(wanted.sse / 3) / 10, 10);
  expect(found.amount).toBeCloseTo(500 / size(wanted.effect), 5);
  expect(found.amount).toBeCloseTo(59.25861641, 6);
  expect(found.angle).toBeCloseTo(41.66387763, 6);
  expect(found.misfit).toBeCloseTo(0.02624078787, 9);
});

test('never worse than a polar grid, however the readings contradict each other', () => {
  const random = randomFrom(404);
  let answered = 0;
  for (let n = 0; n < 90; n++) {
    const runs = 3 + (n % 4);
    const angles = Array.from(
      {length: runs},
      (_, i) => (360 * i) / runs + (n % 2 === 0 ? 0 : (90 / runs) * (random() - 0.5)),
    );
    const effect = xy(at(15 * random(), 360 * random()));
    const readings = angles.map((a) =>
      n % 3 === 0 ? 25 * random() : Math.abs(seen(10, effect, a) + (n % 3 === 1 ? 2 : 8) * (random() - 0.5)),
    );
    const wanted = gridSearch(10, readings, angles);
    if (size(wanted.effect) < 0.06) continue;
    const found = trialSweep(10, readings, angles, 1);
    answered++;
    const sse = found.misfit ** 2 * runs * 100;
    expect(sse).toBeLessThanOrEqual(wanted.sse * (1 + 1e-9) + 1e-12);
    // And the answer has that sum of squares.
    const correction = xy(at(10 / found.amount, 180 - found.angle));
    expect(sseAt(10, readings, angles, correction)).toBeCloseTo(sse, 8);
  }
  expect(answered).toBeGreaterThan(80);
});

test('readings that agree with no circle at all: the search goes down to the bottom', () => {
  const random = randomFrom(405);
  const drawn = Array.from({length: 400}, (_, n) => {
    const runs = 3 + (n % 5);
    const angles = Array.from({length: runs}, (__, i) => Math.round((360 * i) / runs + 20 * random()));
    return [angles.map(() => [25, 5, 15, 60][n % 4] * random()), angles] as const;
  });
  const hard = [
    [[22.55, 11.9, 56.31], [1, 131, 256]],
    [[0.55, 1.73, 3.72], [7, 137, 254]],
    [[2.39, 3.26, 3.31, 0.01], [5, 102, 186, 283]],
  ] as const; // prettier-ignore
  for (const [readings, angles] of [...hard, ...drawn]) {
    const {best, others} = sweepPlaces(10, readings, angles);
    const sse = (x: number, y: number) => sseAt(10, [...readings], [...angles], [x, y]);
    const least = sse(best.x, best.y);
    expect(Math.min(...others.map(({x, y}) => sse(x, y)))).toBeGreaterThan(least - 1e-9);
    const around = [1e-2, 1e-4, 1e-6].flatMap((step) =>
      Array.from({length: 12}, (_, k) =>
        sse(best.x + step * Math.cos(30 * k * RAD), best.y + step * Math.sin(30 * k * RAD)),
      ),
    );
    expect(Math.min(...around)).toBeGreaterThan(least - 1e-11);
  }
});

test('every one of the eight descents ends at a place that is flat', () => {
  const random = randomFrom(406);
  for (let n = 0; n < 120; n++) {
    const runs = 3 + (n % 5);
    const angles = Array.from({length: runs}, (_, i) => (360 * i) / runs + 20 * random());
    const readings = angles.map(() => [25, 5, 15, 60][n % 4] * random());
    const ends = sweepPlaces(10, readings, angles).others.slice(0, 8);
    for (const w of ends) {
      // Half the derivative of Σ(reading − |z|)²: each miss along the direction of z, turned back by the trial's angle.
      let gradient: Xy = [0, 0];
      angles.forEach((a, i) => {
        const z = add([10, 0], turn([w.x, w.y], a));
        gradient = add(gradient, scale((size(z) - readings[i]) / size(z), turn(z, -a)));
      });
      expect(size(gradient)).toBeLessThan(1e-5);
    }
  }
});

test('trials in mirror image can leave two answers, one either way: the positive one', () => {
  const angles = [0, 150, 210];
  const found = trialSweep(10, [23, 19, 19], angles, 1);
  expect(found.angle).toBeCloseTo(97.3405923, 5);
  // The trials turned by 30°, the answers are 127.3° and −67.3°: the shorter one. By −30°: 67.3° and −127.3°.
  expect(trialSweep(10, [23, 19, 19], [30, 180, 240], 1).angle).toBeCloseTo(330 - 37.3405923, 5);
  expect(trialSweep(10, [23, 19, 19], [-30, 120, 180], 1).angle).toBeCloseTo(67.3405923, 5);
  const random = randomFrom(13);
  let two = 0;
  for (let n = 0; n < 300; n++) {
    const [a, b] = [20 + Math.floor(140 * random()), 20 + Math.floor(140 * random())];
    const [r, s, t] = [0, 1, 2].map(() => Math.floor(25 * random()));
    const mirrored = [0, a, 360 - a, b, 360 - b];
    let answer;
    try {
      answer = trialSweep(10, [r, s, s, t, t], mirrored, 1);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      continue;
    }
    // On the axis, or else at one of two angles: the one below 180°.
    if (apart(answer.angle, 0) < 1e-3 || apart(answer.angle, 180) < 1e-3) continue;
    two++;
    expect(answer.angle).toBeLessThan(180);
  }
  expect(two).toBeGreaterThan(30);
});

test('where the mark is does not matter: angles shift the answer, sizes and the trial mass scale', () => {
  const angles = [0, 100, 190, 300];
  always([someVector(2, 20), between(1, 359), between(0.1, 9)], (effect, by, factor) => {
    const readings = angles.map((a, i) => seen(10, xy(effect), a) + 0.2 * (i % 2));
    const found = trialSweep(10, readings, angles, 30);
    const shifted = trialSweep(
      10,
      readings,
      angles.map((a) => a + by),
      30,
    );
    expect(shifted.amount).toBeCloseTo(found.amount, 3);
    expect(apart(shifted.angle, found.angle + by)).toBeLessThan(1e-4);
    const scaled = trialSweep(
      10 * factor,
      readings.map((r) => r * factor),
      angles,
      60,
    );
    expect(scaled.amount).toBeCloseTo(2 * found.amount, 3);
    expect(scaled.misfit).toBeCloseTo(found.misfit, 8);
  });
});

test.each([1e-9, 1e9])('the unit of the readings does not matter: %p', (unit) => {
  const [readings, angles] = [
    [7, 12, 18, 11],
    [0, 120, 240, 60],
  ];
  const found = trialSweep(10, readings, angles, 50);
  const scaled = trialSweep(
    10 * unit,
    readings.map((r) => r * unit),
    angles,
    50,
  );
  expect(scaled.amount).toBeCloseTo(found.amount, 5);
  expect(scaled.angle).toBeCloseTo(found.angle, 5);
  expect(scaled.misfit).toBeCloseTo(found.misfit, 12);
});

test('the order of the runs does not matter', () => {
  const [readings, angles] = [
    [7, 12, 18, 11],
    [0, 120, 240, 60],
  ];
  const [one, other] = [
    trialSweep(10, readings, angles, 50),
    trialSweep(10, [...readings].reverse(), [...angles].reverse(), 50),
  ];
  expect(other.amount).toBeCloseTo(one.amount, 5);
  expect(other.angle).toBeCloseTo(one.angle, 5);
});

describe('refusals', () => {
  const spread = (found: string) => ({
    reason: 'invalid',
    argument: 'angles',
    message: `angles: at least three distinct angles, well spread, are wanted; ${found}`,
  });

  test('fewer than three distinct angles', () => {
    expect(refused(() => trialSweep(10, [8, 12], [0, 120], 5))).toEqual(spread('fewer are given'));
    expect(refused(() => trialSweep(10, [8, 12, 11], [0, 120, 120], 5))).toEqual(spread('fewer are given'));
    expect(refused(() => trialSweep(10, [8, 12, 11, 10], [0, 120, 360, 480], 5))).toEqual(spread('fewer are given'));
  });

  test('angles close together: condition 100 is the limit', () => {
    const condition = (gap: number) =>
      new SingularValueDecomposition(
        new Matrix([0, gap, 2 * gap].map((a) => [1, Math.cos(a * RAD), Math.sin(a * RAD)])),
      ).condition;
    let [low, high] = [1, 120];
    for (let n = 0; n < 60; n++) {
      const middle = (low + high) / 2;
      if (condition(middle) > 100) low = middle;
      else high = middle;
    }
    const sweep = (gap: number) => {
      const angles = [0, gap, 2 * gap];
      return trialSweep(
        10,
        angles.map((a) => seen(10, [4, 0], a)),
        angles,
        10,
      );
    };
    expect(sweep(high * 1.000001).amount).toBeCloseTo(25, 3);
    expect(refused(() => sweep(low * 0.999999))).toEqual(
      spread('their condition number is 100, at most 100 is wanted'),
    );
    expect(refused(() => sweep(2)).message).toContain(
      `their condition number is ${Number(condition(2).toPrecision(4))},`,
    );
  });

  test('a trial weight that changed nothing', () => {
    expect(refused(() => trialSweep(10, [10, 10, 10], [0, 120, 240], 5))).toEqual({
      reason: 'unavailable',
      argument: 'readings',
      message: 'readings: the trial weight changed nothing; use a larger one or check the measurement',
    });
  });
});

test('the best effect, and all others that were looked at', () => {
  const [readings, angles] = [
    [7, 12, 18, 4],
    [0, 120, 240, 60],
  ];
  const {best, others} = sweepPlaces(10, readings, angles);
  const least = sseAt(10, readings, angles, [best.x, best.y]);
  const {amount, angle, misfit} = trialSweep(10, readings, angles, 30);
  expect(Math.hypot(best.x, best.y)).toBeCloseTo(300 / amount, 9);
  expect(apart(Math.atan2(best.y, best.x) / RAD, 180 - angle)).toBeLessThan(1e-9);
  expect(least).toBeCloseTo(misfit ** 2 * 4 * 100, 9);
  expect(others.length).toBeGreaterThan(72);
  for (const {x, y} of others) expect(sseAt(10, readings, angles, [x, y])).toBeGreaterThan(least - 1e-12);
});

test('where the search starts: three lengths in 25 directions', () => {
  // Squares 49, 144 and 324: mean square 172.333; less 100 for `before`, 8.505² for the effect. First harmonic of the
  // squares less 100: ⅔·(−51 − 22 − 112, −(38.105 − 193.990)) = (−123.333, 103.923), 161.28 in size, ÷ 20 = 8.064.
  const {others} = sweepPlaces(10, [7, 12, 18], [0, 120, 240]);
  const lengths = [Math.sqrt(72 + 1 / 3), Math.hypot(-370 / 3, 180 / Math.sqrt(3)) / 20, Math.sqrt(172 + 1 / 3)];
  const directions = [
    Math.atan2(180 / Math.sqrt(3), -370 / 3),
    ...Array.from({length: 24}, (_, i) => (i * Math.PI) / 12),
  ];
  const starts = others.slice(-75);
  lengths.forEach((length, i) =>
    directions.forEach((direction, j) => {
      expect(starts[25 * i + j].x).toBeCloseTo(length * Math.cos(direction), 11);
      expect(starts[25 * i + j].y).toBeCloseTo(length * Math.sin(direction), 11);
    }),
  );
  // Readings that say nothing of a direction leave the ring alone; and less than `before` all round, no length.
  const {others: all} = sweepPlaces(10, [6, 6, 6, 6], [0, 90, 180, 270]);
  expect(all).toHaveLength(8 + 72);
  const round = all.slice(-72);
  expect(round[0]).toEqual({x: 0, y: 0});
  expect(round[48].x).toBeCloseTo(6, 12);
});

test('at uneven angles the squares count by what they exceed that of `before`', () => {
  // Squares less 100: 21, −36 and 44; the first harmonic of that is 2·before·effect.
  const {others} = sweepPlaces(10, [11, 8, 12], [0, 90, 90 + 360 / 7]);
  const trig = [0, 90, 90 + 360 / 7].map((a) => [Math.cos(a * RAD), Math.sin(a * RAD)]);
  const [x, y] = [0, 1].map((k) => (2 / 3) * (21 * trig[0][k] - 36 * trig[1][k] + 44 * trig[2][k]));
  const second = others[others.length - 50];
  expect(second.x).toBeCloseTo(x / 20, 11);
  expect(second.y).toBeCloseTo(-y / 20, 11);
});

test('squares that close give the effect at the first start', () => {
  always([someVector(0.5, 30)], (effect) => {
    const angles = [0, 60, 120, 180, 240, 300];
    const readings = angles.map((a) => seen(10, xy(effect), a));
    const {others} = sweepPlaces(10, readings, angles);
    const [first, exchanged] = [others[others.length - 75], others[others.length - 50]];
    for (const {x, y} of [first, exchanged]) {
      expect(size(add([x, y], scale(-1, xy(effect))))).toBeLessThan(1e-8);
    }
  });
});
