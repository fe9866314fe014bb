/** STOCKPAIR against every pair of stock masses on a grid of angles, and against a search of the tests' own. */
import {stockPair, triedPairs} from '../../src/maths/stockPair';
import type {Plane, Two} from '../../src/maths/planes';
import {randomFrom} from '../support/random';
import {cosines} from '../support/calls';
import {apart, at, refused} from '../support/polar';
import {
  atBest,
  candidates,
  leastForMasses,
  leastOfAll,
  leastOnGrid,
  leftBy,
  roundedAlone,
  type Problem,
} from '../support/stockPairs';

const BENCH: Two<Plane> = [
  {position: -80, radius: 200},
  {position: 80, radius: 200},
];
const solve = ({weights, planes, step}: Problem) => stockPair(weights, planes, step);
const problem = (weights: Problem['weights'], step: number, planes = BENCH): Problem => ({weights, planes, step});

/** What every answer must keep: stock masses near the requirement, figures that are its own, never worse than alone. */
function keepsItsWord(given: Problem): number {
  const found = solve(given);
  const {planes, step, weights} = given;
  const alone = roundedAlone(given);
  const left = leftBy(given, found.inboard, found.outboard);
  const scale = alone.objective + (step * (planes[0].radius + planes[1].radius)) ** 2;
  for (const [i, fitted] of [found.inboard, found.outboard].entries()) {
    const near = candidates(weights[i].amount, step);
    expect(Math.min(...near.map((mass) => Math.abs(mass - fitted.amount)))).toBeLessThan(1e-9 * step);
    expect(fitted.angle).toBeGreaterThanOrEqual(0);
    expect(fitted.angle).toBeLessThan(360);
    if (fitted.amount === 0) expect(fitted.angle).toBe(0);
  }
  const separation = Math.abs(planes[1].position - planes[0].position);
  expect(Math.abs(found.static - left.static)).toBeLessThan(1e-9 * Math.sqrt(scale));
  expect(Math.abs(found.couple / separation - left.share)).toBeLessThan(1e-9 * Math.sqrt(scale));
  expect(found.static).toBeLessThanOrEqual(alone.static + 1e-9 * Math.sqrt(scale));
  const objective = found.static ** 2 + (found.couple / separation) ** 2;
  expect(objective).toBeLessThanOrEqual(alone.objective * (1 + 1e-9) + 1e-12 * scale);
  return objective;
}

/** A seeded problem of a kind. */
function invented(kind: string, random: () => number): Problem {
  const angle = 360 * random();
  const some = (least: number, most: number, a = 360 * random()) => at(least + (most - least) * random(), a);
  const unequal: Two<Plane> = [
    {position: 100 * random(), radius: 120 + 100 * random()},
    {position: 150 + 100 * random(), radius: 120 + 100 * random()},
  ];
  switch (kind) {
    case 'equal radii':
      return problem([some(5, 60), some(5, 60)], 5);
    case 'unequal radii':
      return problem([some(5, 60), some(5, 60)], 5, unequal);
    case 'inboard plane beyond the outboard one':
      return problem([some(5, 60), some(5, 60)], 5, [unequal[1], unequal[0]]);
    case 'below one step':
      return problem([some(0, 5), some(0, 5)], 5, random() < 0.5 ? BENCH : unequal);
    case 'nothing in one plane':
      return problem(random() < 0.5 ? [at(0), some(0, 30)] : [some(0, 30), at(0)], 5, random() < 0.5 ? BENCH : unequal);
    case 'equal angles':
      return problem([some(1, 40, angle), some(1, 40, angle)], 5, random() < 0.5 ? BENCH : unequal);
    case 'opposite angles':
      return problem([some(1, 40, angle), some(1, 40, angle + 180)], 5, random() < 0.5 ? BENCH : unequal);
    case 'nearly equal angles':
      return problem([some(1, 40, angle), some(1, 40, angle + 3 * random())], 5, random() < 0.5 ? BENCH : unequal);
    case 'nearly opposite angles':
      return problem(
        [some(1, 40, angle), some(1, 40, angle + 175 + 10 * random())],
        5,
        random() < 0.5 ? BENCH : unequal,
      );
    case 'a large step':
      return problem([some(1, 60), some(1, 60)], 40, random() < 0.5 ? BENCH : unequal);
    default:
      return problem([some(0.1, 3), some(0.1, 3)], 0.25, unequal);
  }
}

const KINDS = [
  'equal radii',
  'unequal radii',
  'inboard plane beyond the outboard one',
  'below one step',
  'nothing in one plane',
  'equal angles',
  'opposite angles',
  'nearly equal angles',
  'nearly opposite angles',
  'a large step',
  'ounces',
];

test.each(KINDS)('%s: as good as the best pair of masses and angles', (kind) => {
  const random = randomFrom(1 + KINDS.indexOf(kind));
  let asLow = 0;
  for (let n = 0; n < 8; n++) {
    const given = invented(kind, random);
    const objective = keepsItsWord(given);
    const tiny = 1e-12 * (given.step * (given.planes[0].radius + given.planes[1].radius)) ** 2;
    const wanted = leastOfAll(given, objective);
    expect(objective).toBeLessThanOrEqual(wanted * (1 + 1e-9) + tiny);
    if (wanted <= objective * (1 + 1e-6) + tiny) asLow++;
  }
  // The search of the tests' own comes as low; but where the angles are all but one line it has thin slivers to find.
  expect(asLow).toBeGreaterThanOrEqual(kind.startsWith('nearly') ? 4 : 7);
});

test.each(KINDS)('%s: no worse than any pair of masses at whole angles', (kind) => {
  const random = randomFrom(1 + KINDS.indexOf(kind));
  for (let n = 0; n < 7; n++) {
    const given = invented(kind, random);
    const found = keepsItsWord(given);
    expect(found).toBeLessThanOrEqual(leastOnGrid(given, n === 0 ? 1 : 3) * (1 + 1e-9));
  }
});

describe('by hand', () => {
  test('what is in stock already stays as it is', () => {
    expect(solve(problem([at(20, 0), at(20, 180)], 5))).toEqual({
      inboard: at(20, 0),
      outboard: at(20, 180),
      static: 0,
      couple: 0,
    });
    const turnedOn = solve(problem([at(15, 400), at(10, -20)], 5));
    expect(turnedOn.inboard).toEqual(at(15, 40));
    expect(turnedOn.outboard).toEqual(at(10, 340));
  });

  test('nothing required, nothing fitted', () => {
    expect(solve(problem([at(0, 77), at(0, 5)], 5))).toEqual({inboard: at(0), outboard: at(0), static: 0, couple: 0});
  });

  test('the errors of two planes are set against each other', () => {
    // 12.4 and 12.4 at 0° in steps of 5: alone 10 and 10 leave a static of 2·2.4·200 = 960 and no couple.
    // 10 and 15 leave −2.4 and +2.6: static 0.2·200 = 40, couple ½·5·200·160 = 80,000; 40² + 500² < 960².
    const found = solve(problem([at(12.4), at(12.4)], 5));
    expect([found.inboard.amount, found.outboard.amount]).toEqual([10, 15]);
    expect(found.static ** 2 + (found.couple / 160) ** 2).toBeLessThanOrEqual(40 ** 2 + 500 ** 2);
    expect(found.static).toBeLessThanOrEqual(960);
  });
});

describe('ties', () => {
  test('less total mass: 2½ steps inboard and nothing outboard', () => {
    // 10 and 15 leave 2.5·200 either way.
    const found = solve(problem([at(12.5, 30), at(0)], 5));
    expect(found.inboard.amount).toBe(10);
    expect(found.outboard).toEqual(at(0));
    expect(apart(found.inboard.angle, 30)).toBeLessThan(1e-6);
    expect(found.static).toBeCloseTo(500, 8);
    expect(found.couple).toBeCloseTo(40000, 6);
  });

  test('less total mass: nothing inboard and 2½ steps outboard', () => {
    const found = solve(problem([at(0), at(12.5, 30)], 5));
    expect(found.inboard).toEqual(at(0));
    expect(found.outboard.amount).toBe(10);
    expect(apart(found.outboard.angle, 30)).toBeLessThan(1e-6);
  });

  // A step of 5 g, and one in kilograms, whose millionths must not pass for equal.
  test.each([5, 5e-6])(
    'less total mass: half a step off in both planes or in one, wherever 0° lies, step %d',
    (step) => {
      const random = randomFrom(303);
      for (let n = 0; n < 40; n++) {
        const [angle, steps] = [360 * random(), n % 5];
        const amount = (steps + 0.5) * step;
        const couple = solve(problem([at(amount, angle), at(amount, angle + 180)], step));
        // Nothing static is allowed, for rounding alone leaves none: the two stay opposite.
        for (const [i, {amount: found, angle: where}] of [couple.inboard, couple.outboard].entries()) {
          expect(found / step).toBeCloseTo(steps, 9);
          if (steps > 0) expect(apart(where, angle + 180 * i)).toBeLessThan(1e-10);
        }
        expect(couple.static / step).toBeLessThan(1e-10);
        expect(couple.couple / step).toBeCloseTo(0.5 * 200 * 160, 6);
        const outboard = solve(problem([at(0), at(amount, angle)], step));
        expect(outboard.inboard.amount).toBe(0);
        expect(outboard.outboard.amount / step).toBeCloseTo(steps, 9);
        const inboard = solve(problem([at(amount, angle), at(0)], step));
        expect(inboard.inboard.amount / step).toBeCloseTo(steps, 9);
        expect(inboard.outboard.amount).toBe(0);
      }
    },
  );

  test('smaller shifts: opposite weights that may leave nothing static stay on their line', () => {
    const random = randomFrom(306);
    for (let n = 0; n < 60; n++) {
      const [angle, steps] = [360 * random(), 1 + Math.floor(6 * random())];
      const {inboard, outboard} = solve(problem([at(5 * steps + 2.5, angle), at(5 * steps + 7.5, angle + 180)], 5));
      expect([inboard.amount, outboard.amount]).toEqual([5 * steps, 5 * steps + 5]);
      expect(apart(inboard.angle, angle) + apart(outboard.angle, angle + 180)).toBeLessThan(2e-5);
    }
  });

  test.each([5, 5e-6])('less inboard mass: equal amounts at any two angles, step %d', (step) => {
    const random = randomFrom(304);
    let unlike = 0;
    for (let n = 0; n < 120; n++) {
      const amount = 8 * step * random();
      const {inboard, outboard} = solve(problem([at(amount, 360 * random()), at(amount, 360 * random())], step));
      expect(inboard.amount).toBeLessThan(outboard.amount + 1e-9 * step);
      if (inboard.amount < outboard.amount - 1e-9 * step) unlike++;
    }
    expect(unlike).toBeGreaterThan(10);
  });

  test('less inboard mass: both planes alike', () => {
    // Whatever m and n at either angles leave, n and m leave with the planes exchanged.
    for (const [amount, angle] of [
      [12.4, 0],
      [12.5, 70],
      [17.6, 200],
      [7.4, 340],
    ]) {
      const found = solve(problem([at(amount, angle), at(amount, angle)], 5));
      expect(found.inboard.amount).toBeLessThan(found.outboard.amount);
    }
  });

  test('mirror image: the inboard weight moves the positive way', () => {
    // 39.5 and 20.4 at 315° in steps of 40: 40 and 40, drawn apart to either side of 315°. The couple is the same when
    // both angles are mirrored.
    const weights: Problem['weights'] = [at(39.474407725036144, 315), at(20.391452863812447, 315)];
    const found = solve(problem(weights, 40));
    expect([found.inboard.amount, found.outboard.amount]).toEqual([40, 40]);
    expect(found.inboard.angle).toBeCloseTo(315 + 6.92785467, 6);
    expect(found.outboard.angle).toBeCloseTo(315 - 8.13514983, 6);
    const random = randomFrom(55);
    let moved = 0;
    for (let n = 0; n < 1000; n++) {
      const angle = 15 * Math.floor(24 * random());
      const given = problem([at(15 + 30 * random(), angle), at(15 + 30 * random(), angle)], 40);
      const {inboard, outboard} = solve(given);
      const shift = ((inboard.angle - angle + 540) % 360) - 180;
      if (inboard.amount === 0 || outboard.amount === 0 || Math.abs(shift) < 1e-4) continue;
      moved++;
      expect(shift).toBeGreaterThan(0);
    }
    expect(moved).toBeGreaterThan(20);
  });
});

test('turning the wheel turns both weights; units of mass and length do not matter', () => {
  const random = randomFrom(66);
  for (let n = 0; n < 25; n++) {
    const given = invented(n % 2 === 0 ? 'equal radii' : 'unequal radii', random);
    const by = 360 * random();
    const turned = {
      ...given,
      weights: given.weights.map(({amount, angle}) => at(amount, angle + by)) as unknown as Two<ReturnType<typeof at>>,
    };
    const [one, other] = [solve(given), solve(turned)];
    for (const side of ['inboard', 'outboard'] as const) {
      expect(other[side].amount).toBe(one[side].amount);
      if (one[side].amount > 0) expect(apart(other[side].angle, one[side].angle + by)).toBeLessThan(1e-4);
    }
    const scaled: Problem = {
      weights: given.weights.map(({amount, angle}) => at(amount * 3, angle)) as unknown as Problem['weights'],
      planes: given.planes.map(({position, radius}) => ({
        position: position / 2 + 9,
        radius: radius / 2,
      })) as unknown as Two<Plane>,
      step: given.step * 3,
    };
    const larger = solve(scaled);
    expect(larger.inboard.amount).toBeCloseTo(3 * one.inboard.amount, 9);
    expect(larger.static).toBeCloseTo(1.5 * one.static, 3);
    expect(larger.couple / (0.75 * one.couple + 1e-9)).toBeCloseTo(1, 4);
  }
});

test('where rounding alone leaves next to no static, no more of it is left', () => {
  const random = randomFrom(305);
  for (let n = 0; n < 150; n++) {
    const [amount, angle, hair] = [40 * random(), 360 * random(), 10 ** (-8 + 4 * random())];
    const given = problem([at(amount, angle), at(amount * (1 + hair * random()), angle + 180 + hair * random())], 5);
    const found = solve(given);
    expect(found.static).toBeLessThan(roundedAlone(given).static * (1 + 1e-9) + 1e-11 * 200 * amount);
    keepsItsWord(given);
    for (const {masses, angles} of triedPairs(given.weights, given.planes, given.step)) {
      if (angles === undefined) continue;
      const left = leftBy(given, at(masses[0], angles[0]), at(masses[1], angles[1]));
      expect(left.static).toBeLessThan(roundedAlone(given).static * (1 + 1e-9) + 1e-11 * 200 * (amount + 10));
    }
  }
});

test('nothing required: two equal unbalances opposite each other leave nothing static, unequal ones do', () => {
  // Nothing, or as good as nothing.
  const tried = triedPairs([at(1e-6, 50), at(1e-6, 230)], BENCH, 5);
  expect(triedPairs([at(0, 50), at(0, 90)], BENCH, 5).map(({masses}) => masses)).toEqual(
    tried.map(({masses}) => masses),
  );
  expect(tried.map(({masses}) => masses.join(' ')).sort()).toEqual([
    '0 0',
    '0 10',
    '0 5',
    '10 0',
    '10 10',
    '10 5',
    '5 0',
    '5 10',
    '5 5',
  ]);
  for (const {masses, angles} of tried) {
    expect(angles === undefined).toBe(masses[0] !== masses[1]);
    if (angles && masses[0] > 0) expect(apart(angles[0], angles[1])).toBeCloseTo(180, 9);
  }
});

test('few pairs of masses are tried: those that could still do better', () => {
  const random = randomFrom(307);
  const asked = cosines(() => {
    for (let n = 0; n < 100; n++) solve(invented('unequal radii', random));
  });
  expect(asked / 100).toBeLessThan(490);
});

test('a step that is nothing beside the masses is refused', () => {
  expect(refused(() => solve(problem([at(20), at(20)], 1e-9)))).toEqual({
    reason: 'invalid',
    argument: 'step',
    message: 'step: this step is too small beside the mass to round to',
  });
});

test('all pairs that are chosen from, each at its best angles', () => {
  const random = randomFrom(88);
  for (let n = 0; n < 6; n++) {
    const given = invented(KINDS[n], random);
    const {weights, planes, step} = given;
    const alone = roundedAlone(given);
    const objective = keepsItsWord(given);
    const tiny = 1e-9 * (step * 200) ** 2;
    const tried = triedPairs(weights, planes, step);
    const wanted = candidates(weights[0].amount, step).flatMap((a) =>
      candidates(weights[1].amount, step).map((b) => `${a} ${b}`),
    );
    expect(tried.map(({masses}) => masses.join(' ')).sort()).toEqual(wanted.sort());
    // Those that could do best come first.
    const floors = tried.map(({masses}) => atBest(given, masses));
    for (let i = 1; i < floors.length; i++) expect(floors[i]).toBeGreaterThan(floors[i - 1] - tiny);
    let least = alone.objective;
    for (const {masses, angles} of tried) {
      const byOwnSearch = leastForMasses(given, masses);
      if (angles === undefined) {
        expect(byOwnSearch).toBe(Infinity);
        continue;
      }
      const left = leftBy(given, at(masses[0], angles[0]), at(masses[1], angles[1]));
      expect(left.static).toBeLessThan(alone.static * (1 + 1e-9) + 1e-9 * step * 200);
      expect(left.objective).toBeLessThan(byOwnSearch * (1 + 1e-9) + tiny);
      least = Math.min(least, left.objective);
    }
    expect(Math.abs(objective - least)).toBeLessThan(1e-9 * alone.objective + tiny);
  }
});
