/** TRIALWEIGHT and TRIALWEIGHT2 on wheels with known influence coefficients. */
import {complex, divide, lusolve, subtract, unaryMinus, type Complex} from 'mathjs';
import {trialWeight, trialWeights} from '../../src/maths/influence';
import type {Two} from '../../src/maths/planes';
import type {Vector} from '../../src/maths/vectors';
import {randomFrom} from '../support/random';
import {
  add,
  always,
  apart,
  at,
  between,
  expectVector,
  polar,
  refused,
  scale,
  size,
  someVector,
  xy,
  type Xy,
} from '../support/polar';

const times = ([a, b]: Xy, [c, d]: Xy): Xy => [a * c - b * d, a * d + b * c];

describe('one plane', () => {
  test('a trial weight that halves the vibration is half of what is wanted', () => {
    expectVector(trialWeight(at(4), at(2), at(10)), at(20), 12);
  });

  test('a trial weight that makes it worse belongs opposite', () => {
    expectVector(trialWeight(at(4), at(6), at(10, 0)), at(20, 180), 12);
  });

  test('at right angles', () => {
    // Effect (0, 3) of 10 at 0°: 0.3 at 90° each; −4 ÷ that: 13.33 at 180 − 90.
    expectVector(trialWeight(at(4, 0), polar([4, 3]), at(10, 0)), at(40 / 3, 90), 11);
    // The trial weight's own angle is added.
    expectVector(trialWeight(at(4, 0), polar([4, 3]), at(10, 25)), at(40 / 3, 115), 11);
  });

  test('what is fitted cancels the vibration', () => {
    always([someVector(0.1, 10), someVector(0.05, 2), someVector(1, 60)], (before, effect, trial) => {
      const withTrial = polar(add(xy(before), times(xy(effect), xy(trial))));
      const found = trialWeight(before, withTrial, trial);
      expect(size(add(xy(before), times(xy(effect), xy(found))))).toBeLessThan(1e-9);
    });
  });

  test('angles turn with the bench’s mark, masses scale', () => {
    always(
      [someVector(1, 10), someVector(1, 10), someVector(1, 60), between(1, 359)],
      (before, withTrial, trial, by) => {
        if (size(add(xy(before), scale(-1, xy(withTrial)))) < 0.01) return;
        const found = trialWeight(before, withTrial, trial);
        const benchTurned = trialWeight(
          at(2 * before.amount, before.angle + by),
          at(2 * withTrial.amount, withTrial.angle + by),
          trial,
        );
        expectVector(benchTurned, found, 7);
        const wheelTurned = trialWeight(before, withTrial, at(2 * trial.amount, trial.angle + by));
        expectVector(wheelTurned, at(2 * found.amount, found.angle + by), 7);
      },
    );
  });

  test('nothing to cancel: nothing to fit', () => {
    expect(trialWeight(at(0), at(2, 30), at(10, 5)).amount).toBe(0);
  });

  test('a trial weight that changed nothing tells nothing', () => {
    const wanted = {
      reason: 'unavailable',
      argument: 'withTrial',
      message: 'withTrial: the trial weight changed nothing; use a larger one or check the measurement',
    };
    expect(refused(() => trialWeight(at(4, 30), at(4, 30), at(10)))).toEqual(wanted);
    expect(refused(() => trialWeight(at(0), at(0), at(10)))).toEqual(wanted);
    // A share of 1E-12 of both together is the limit: 1e-12 · 8.
    expect(refused(() => trialWeight(at(4), at(4 + 7e-12), at(10)))).toEqual(wanted);
    expect(trialWeight(at(4), at(4 + 9e-12), at(10)).amount).toBeGreaterThan(1e12);
  });

  test('no trial weight at all is refused', () => {
    expect(refused(() => trialWeight(at(4), at(2), at(0, 5)))).toEqual({
      reason: 'invalid',
      argument: 'trial',
      message: 'trial: a trial weight above 0 is wanted, found 0',
    });
  });
});

describe('two planes', () => {
  /** Vibration at one place: before + both effects of both weights. */
  const seen = (before: Vector, effects: Two<Vector>, weights: Two<Vector>): Xy =>
    add(xy(before), times(xy(effects[0]), xy(weights[0])), times(xy(effects[1]), xy(weights[1])));

  test('planes that do not feel each other are two single planes', () => {
    const [one, two] = trialWeights([at(4), at(6, 90)], [at(2), at(6, 90)], [at(4), at(9, 90)], [at(10), at(5, 20)]);
    expectVector(one, trialWeight(at(4), at(2), at(10)), 11);
    expectVector(two, trialWeight(at(6, 90), at(9, 90), at(5, 20)), 11);
  });

  test('what is fitted cancels both vibrations', () => {
    always(
      [
        someVector(1, 10),
        someVector(1, 10),
        someVector(0.5, 1),
        someVector(0.1, 0.4),
        someVector(1, 20),
        someVector(1, 20),
      ],
      (before1, before2, direct, cross, trial1, trial2) => {
        const effects: Two<Two<Vector>> = [
          [direct, cross],
          [at(cross.amount * 0.7, cross.angle + 40), at(direct.amount * 1.3, direct.angle + 75)],
        ];
        const before: Two<Vector> = [before1, before2];
        const none = at(0);
        const run = (weights: Two<Vector>) =>
          before.map((b, i) => polar(seen(b, effects[i], weights))) as unknown as Two<Vector>;
        const fitted = trialWeights(before, run([trial1, none]), run([none, trial2]), [trial1, trial2]);
        before.forEach((b, i) => expect(size(seen(b, effects[i], fitted))).toBeLessThan(1e-8));
      },
    );
  });

  test('as mathjs solves the complex equations', () => {
    const random = randomFrom(22);
    const some = () => at(1 + random(), 360 * random());
    for (let n = 0; n < 20; n++) {
      const pair = (): Two<Vector> => [some(), some()];
      const [before, with1, with2, trials] = [pair(), pair(), pair(), pair()];
      const c = (v: Vector): Complex => complex(...xy(v));
      const effect = (after: Vector, start: Vector, trial: Vector) => divide(subtract(c(after), c(start)), c(trial));
      const coefficients = [0, 1].map((i) => [
        effect(with1[i], before[i], trials[0]),
        effect(with2[i], before[i], trials[1]),
      ]);
      // mathjs solves complex equations, though its types speak of numbers.
      const wanted = lusolve(
        coefficients as unknown as number[][],
        before.map((v) => [unaryMinus(c(v))]) as unknown as number[][],
      ) as unknown as Complex[][];
      const found = trialWeights(before, with1, with2, trials);
      found.forEach((v, i) => expectVector(v, polar([wanted[i][0].re, wanted[i][0].im]), 7));
    }
  });

  test('trials that act alike on both planes are not told apart', () => {
    const wanted = {
      reason: 'unavailable',
      argument: 'withTrial2',
      message: 'withTrial2: the two trial weights act alike on both planes, so their effects cannot be told apart',
    };
    const before: Two<Vector> = [at(4), at(6)];
    expect(refused(() => trialWeights(before, [at(5), at(8)], [at(5), at(8)], [at(10), at(10)]))).toEqual(wanted);
    expect(refused(() => trialWeights(before, before, before, [at(10), at(10)]))).toEqual(wanted);
    // A share of 1E-10 is the limit: determinant 1·2·(1 + d) − 2·1 over 4.
    const nearly = (d: number) => trialWeights(before, [at(5), at(8)], [at(5), at(8 + 2 * d)], [at(10), at(10)]);
    expect(refused(() => nearly(1e-10))).toEqual(wanted);
    expect(nearly(4e-10)[0].amount).toBeGreaterThan(1e9);
  });

  test('no trial weight at all is refused', () => {
    const run: Two<Vector> = [at(4), at(6)];
    for (const trials of [
      [at(0), at(5)],
      [at(5), at(0)],
    ] as Two<Vector>[]) {
      expect(refused(() => trialWeights(run, run, run, trials))).toEqual({
        reason: 'invalid',
        argument: 'trials',
        message: 'trials: a trial weight above 0 is wanted, found 0',
      });
    }
  });

  test('the angles are those of the wheel', () => {
    const [one] = trialWeights([at(4), at(6, 90)], [at(2), at(6, 90)], [at(4), at(9, 90)], [at(10, 33), at(5)]);
    expect(apart(one.angle, 33)).toBeLessThan(1e-9);
  });
});
