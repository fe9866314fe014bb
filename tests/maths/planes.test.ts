/** STATICCOUPLE, TRANSFER, ONEPLANE and RESIDUAL: by hand, there and back, and by forces and moments about any point. */
import fc from 'fast-check';
import {
  middle,
  onePlane,
  residual,
  resultants,
  staticCouple,
  transfer,
  unbalances,
  type Fitted,
  type Plane,
  type Two,
} from '../../src/maths/planes';
import type {Vector} from '../../src/maths/vectors';
import {
  add,
  always,
  apart,
  at,
  between,
  expectVector,
  polar,
  scale,
  size,
  someVector,
  xy,
  type Xy,
} from '../support/polar';

const plane = (position: number, radius: number): Plane => ({position, radius});
const BENCH: Two<Plane> = [plane(-80, 200), plane(80, 200)];

const somePlanes: fc.Arbitrary<Two<Plane>> = fc
  .tuple(between(-200, 200), between(20, 200), between(50, 300), between(50, 300), fc.boolean())
  .map(([z, apart, r1, r2, inward]) => [plane(z, r1), plane(inward ? z - apart : z + apart, r2)]);

const someWeights = fc.tuple(someVector(1, 60), someVector(1, 60)) as fc.Arbitrary<Two<Vector>>;

/** Sum and moment of weights about a point, worked out apart from the code. */
function pull(weights: readonly Vector[], planes: readonly Plane[], datum: number): {sum: Xy; moment: Xy} {
  const forces = weights.map((w, i) => scale(planes[i].radius, xy(w)));
  return {sum: add(...forces), moment: add(...forces.map((f, i) => scale(planes[i].position - datum, f)))};
}

function expectXy([x, y]: Xy, [u, v]: Xy, digits: number): void {
  expect(x).toBeCloseTo(u, digits);
  expect(y).toBeCloseTo(v, digits);
}

test('unbalances and their resultants', () => {
  const all = unbalances([at(2, 0), at(1, 90)], [plane(-10, 100), plane(30, 50)]);
  expect(all).toEqual([
    {position: -10, at: {x: 200, y: 0}},
    {position: 30, at: {x: 0, y: 50}},
  ]);
  // About 10: (−10 − 10)·200 along x, (30 − 10)·50 along y.
  expect(resultants(all, 10)).toEqual({sum: {x: 200, y: 50}, moment: {x: -4000, y: 1000}});
  expect(resultants([], 3)).toEqual({sum: {x: 0, y: 0}, moment: {x: 0, y: 0}});
  expect(middle([plane(-10, 1), plane(40, 2)])).toBe(15);
});

describe('static and couple', () => {
  test('opposite weights are couple alone: 160 · 20 · 200 towards the outboard one', () => {
    const {static: s, couple} = staticCouple([at(20, 0), at(20, 180)], BENCH);
    expect(s).toEqual({amount: 0, angle: 0});
    // (80·(−4000) + (−80)·4000) = −640,000 along 0°.
    expect(couple).toEqual({amount: 640000, angle: 180});
  });

  test('equal weights are static alone', () => {
    const {static: s, couple} = staticCouple([at(20, 90), at(20, 90)], BENCH);
    expect(s).toEqual({amount: 8000, angle: 90});
    expect(couple.amount).toBe(0);
  });

  test('planes anywhere, at radii of their own', () => {
    // 10·150 at 0° and 20·100 at 90°: static 2500 at atan(2000/1500); middle at 100, so ±50: (−75,000, 100,000).
    const {static: s, couple} = staticCouple([at(10, 0), at(20, 90)], [plane(50, 150), plane(150, 100)]);
    expectVector(s, at(2500, 53.13010235415598), 8);
    expectVector(couple, at(125000, 126.86989764584402), 6);
  });

  test('positions growing inboard turn the couple by 180°', () => {
    always([someWeights, somePlanes], (weights, planes) => {
      const turnedRound = planes.map(({position, radius}) => plane(-position, radius)) as unknown as Two<Plane>;
      const [one, other] = [staticCouple(weights, planes), staticCouple(weights, turnedRound)];
      expectVector(other.static, one.static, 7);
      expect(other.couple.amount).toBeCloseTo(one.couple.amount, 5);
      if (one.couple.amount > 1) expect(apart(other.couple.angle, one.couple.angle + 180)).toBeLessThan(1e-7);
    });
  });
});

describe('transfer', () => {
  test('half of a weight in the middle goes to either side', () => {
    const {inboard, outboard} = transfer(
      [at(20), at(0)],
      [plane(0, 200), plane(100, 200)],
      [plane(-50, 200), plane(50, 200)],
    );
    expectVector(inboard, at(10), 12);
    expectVector(outboard, at(10), 12);
  });

  test('by the lever, at other radii', () => {
    // 40·100 = 4000 at z = 0, planes at −25 (radius 80) and 75 (radius 50): ¾ of it, 3000 ÷ 80, and ¼, 1000 ÷ 50.
    const {inboard, outboard} = transfer(
      [at(40, 30), at(0)],
      [plane(0, 100), plane(9, 1)],
      [plane(-25, 80), plane(75, 50)],
    );
    expectVector(inboard, at(37.5, 30), 10);
    expectVector(outboard, at(20, 30), 10);
    // Beyond both planes: −25 and 75 carry a weight at 100 as −¼ and 1¼.
    const beyond = transfer([at(0), at(40, 30)], [plane(0, 1), plane(100, 100)], [plane(-25, 80), plane(75, 50)]);
    expectVector(beyond.inboard, at(12.5, 210), 10);
    expectVector(beyond.outboard, at(100, 30), 10);
  });

  test('same resultant, same moment about any point; there and back is where it started', () => {
    always([someWeights, somePlanes, somePlanes, between(-300, 300)], (weights, from, to, datum) => {
      const {inboard, outboard} = transfer(weights, from, to);
      const [before, after] = [pull(weights, from, datum), pull([inboard, outboard], to, datum)];
      expectXy(after.sum, before.sum, 6);
      expectXy(after.moment, before.moment, 4);
      const back = transfer([inboard, outboard], to, from);
      expectVector(back.inboard, weights[0], 7);
      expectVector(back.outboard, weights[1], 7);
    });
  });
});

describe('one plane', () => {
  test('by hand', () => {
    // (20 + 10)·200 ÷ 200 in the middle; moment 80·(10 − 20)·200.
    expect(onePlane([at(20), at(10)], BENCH, plane(0, 200))).toEqual({amount: 30, angle: 0, coupleleft: 160000});
    // At radius 150 the mass is 40; about its plane at −80 the inboard weight has no lever: 160·10·200.
    expect(onePlane([at(20), at(10)], BENCH, plane(-80, 150))).toEqual({amount: 40, angle: 0, coupleleft: 320000});
  });

  test('the couple it leaves is that of what it does not balance', () => {
    always([someWeights, somePlanes, somePlanes], (weights, from, [to]) => {
      const {amount, angle, coupleleft} = onePlane(weights, from, to);
      const wanted = pull(weights, from, to.position);
      expectXy(scale(to.radius, xy({amount, angle})), wanted.sum, 7);
      expect(coupleleft).toBeCloseTo(size(wanted.moment), 4);
    });
  });
});

describe('residual', () => {
  const fitted = (weight: Vector, position: number, radius: number): Fitted => ({weight, position, radius});

  test('5 short inboard', () => {
    const {static: s, couple} = residual(
      [at(20), at(20, 180)],
      [fitted(at(15), -80, 200), fitted(at(20, 180), 80, 200)],
      BENCH,
    );
    expect(s).toEqual({amount: 1000, angle: 0});
    // (−80)·1000
    expect(couple).toEqual({amount: 80000, angle: 180});
  });

  test('nothing fitted leaves what is required, and too much is to be taken off again', () => {
    const none = residual([at(20), at(20, 180)], [], BENCH);
    expect(none).toEqual(staticCouple([at(20), at(20, 180)], BENCH));
    expect(residual([at(20), at(0)], [fitted(at(25), -80, 200)], BENCH)).toEqual({
      static: {amount: 1000, angle: 180},
      couple: {amount: 80000, angle: 0},
    });
  });

  test('the exact correction leaves nothing, in the planes themselves, transferred, or in pieces', () => {
    always([someWeights, somePlanes, somePlanes], (weights, planes, others) => {
      const exact = weights.map((w, i) => fitted(w, planes[i].position, planes[i].radius));
      expect(residual(weights, exact, planes).static.amount).toBeLessThan(1e-9);
      expect(residual(weights, exact, planes).couple.amount).toBeLessThan(1e-6);
      const {inboard, outboard} = transfer(weights, planes, others);
      const moved = [inboard, outboard].map((w, i) => fitted(w, others[i].position, others[i].radius));
      expect(residual(weights, moved, planes).static.amount).toBeLessThan(1e-7);
      expect(residual(weights, moved, planes).couple.amount).toBeLessThan(1e-5);
      const pieces = exact.flatMap(({weight, position, radius}) => [
        fitted(at(weight.amount / 4, weight.angle), position, radius),
        fitted(at((3 * weight.amount) / 4, weight.angle), position, radius),
      ]);
      expect(residual(weights, [...pieces].reverse(), planes).static.amount).toBeLessThan(1e-9);
    });
  });

  test('static and couple about the middle of the required planes', () => {
    always(
      [someWeights, somePlanes, someVector(1, 50), between(-100, 100), between(50, 300)],
      (weights, planes, w, z, r) => {
        const found = residual(weights, [fitted(w, z, r)], planes);
        const datum = (planes[0].position + planes[1].position) / 2;
        const wanted = pull(weights, planes, datum);
        const given = pull([w], [plane(z, r)], datum);
        expectVector(found.static, polar(add(wanted.sum, scale(-1, given.sum))), 6);
        expect(found.couple.amount).toBeCloseTo(size(add(wanted.moment, scale(-1, given.moment))), 4);
      },
    );
  });
});

test('turning all angles turns the answers, scaling the masses scales them', () => {
  always([someWeights, somePlanes, somePlanes, between(0, 360)], (weights, from, to, by) => {
    const moved = weights.map(({amount, angle}) => at(3 * amount, angle + by)) as unknown as Two<Vector>;
    const [one, other] = [transfer(weights, from, to), transfer(moved, from, to)];
    expectVector(other.inboard, at(3 * one.inboard.amount, one.inboard.angle + by), 6);
    const [a, b] = [staticCouple(weights, from), staticCouple(moved, from)];
    expectVector(b.static, at(3 * a.static.amount, a.static.angle + by), 6);
    expect(b.couple.amount).toBeCloseTo(3 * a.couple.amount, 4);
  });
});
