import {invalid, unavailable} from './refusal';
import {length, minus, point, product, quotient, times, vector, type Point, type Vector} from './vectors';
import type {Two} from './planes';

/** A change smaller than this share of what was measured is rounding. */
const UNCHANGED = 1e-12;

function usable(trial: Vector, argument: string): Point {
  if (trial.amount > 0) return point(trial);
  throw invalid('a trial weight above 0 is wanted, found 0', argument);
}

/**
 * Single-plane influence coefficient α = (withTrial − before) ÷ trial; the correction is −before ÷ α, to be fitted
 * after the trial weight is removed.
 * @throws Refusal `unavailable` when the trial weight changed nothing
 */
export function trialWeight(before: Vector, withTrial: Vector, trial: Vector): Vector {
  const [b, t] = [point(before), usable(trial, 'trial')];
  const effect = minus(point(withTrial), b);
  if (length(effect) <= UNCHANGED * (before.amount + withTrial.amount)) {
    throw unavailable('the trial weight changed nothing; use a larger one or check the measurement', 'withTrial');
  }
  return vector(times(-1, quotient(product(b, t), effect)));
}

/** Beyond this ratio the two trials tell the same story. */
const SINGULAR = 1e-10;

/**
 * Two planes by 2 × 2 complex influence coefficients, each trial weight removed before the next.
 * @throws Refusal `unavailable` when the trials do not tell the planes apart
 */
export function trialWeights(
  before: Two<Vector>,
  withTrial1: Two<Vector>,
  withTrial2: Two<Vector>,
  trials: Two<Vector>,
): Two<Vector> {
  const b = before.map(point);
  const column = (after: Two<Vector>, trial: Vector): Point[] =>
    after.map((v, i) => quotient(minus(point(v), b[i]), usable(trial, 'trials')));
  const [a11, a21] = column(withTrial1, trials[0]);
  const [a12, a22] = column(withTrial2, trials[1]);
  const main = product(a11, a22);
  const side = product(a12, a21);
  const determinant = minus(main, side);
  if (!(length(determinant) > SINGULAR * (length(main) + length(side)))) {
    throw unavailable(
      'the two trial weights act alike on both planes, so their effects cannot be told apart',
      'withTrial2',
    );
  }
  const one = quotient(minus(product(a12, b[1]), product(a22, b[0])), determinant);
  const two = quotient(minus(product(a21, b[0]), product(a11, b[1])), determinant);
  return [vector(one), vector(two)];
}
