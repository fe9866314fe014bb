import {RADIAN, shortWay, turned} from './angles';
import {inWords} from './format';
import {invalid, unavailable} from './refusal';
import {difference, length, minus, plus, point, quotient, unit, vector, type Vector} from './vectors';

export interface Match {
  readonly turn: number;
  readonly after: number;
  readonly before: number;
  readonly gain: number;
}

/** Turn the tire so that its high point meets the rim's low point, and what that leaves. A round part needs no turn. */
export const bestTurn = (rim: Vector, tire: Vector): Pick<Match, 'turn' | 'after'> => ({
  turn: rim.amount === 0 || tire.amount === 0 ? 0 : turned(180 + rim.angle - tire.angle),
  after: Math.abs(rim.amount - tire.amount),
});

/** The best turn, and what it gains. */
export function match(rim: Vector, tire: Vector): Match {
  const {turn, after} = bestTurn(rim, tire);
  // Never less than after; held to that so that rounding cannot show a gain below 0.
  const before = Math.max(after, length(plus(point(rim), point(tire))));
  return {turn, after, before, gain: before - after};
}

export interface Window {
  readonly from: number;
  readonly to: number;
  readonly width: number;
}

/** Share of the amounts that is rounding: 0.8 − 0.6 meets a limit of 0.2, as it does on paper. */
const ROUNDING = 1e-12;

/** All turns after which rim and tire together stay within the limit less the uncertainty. */
export function turnWindow(rim: Vector, tire: Vector, limit: number, plusminus: number): Window {
  const within = limit - plusminus;
  const {turn, after} = match(rim, tire);
  if (after - within > ROUNDING * (rim.amount + tire.amount)) {
    throw unavailable(
      `no turn meets it: the best leaves ${inWords(after)}, the limit less the uncertainty is ${inWords(within)}`,
      'limit',
    );
  }
  const share = Math.max(0, within * within - after * after) / (4 * rim.amount * tire.amount);
  if (!(share < 1 - ROUNDING)) return {from: 0, to: 360, width: 360};
  const half = 2 * Math.asin(Math.sqrt(share)) * RADIAN;
  return {from: turned(turn - half), to: turned(turn + half), width: 2 * half};
}

/** How far rim and tire were really turned, and by how much the size of the tire's part departs from the known one. */
export function turnDone(rim: Vector, tire: Vector, measured: Vector): {turn: number | undefined; misfit: number} {
  const part = difference(measured, rim);
  const turn = part.amount === 0 || tire.amount === 0 ? undefined : turned(part.angle - tire.angle);
  return {turn, misfit: Math.abs(part.amount - tire.amount)};
}

/** Length along a circle to where a turn brings its mark, the short way round, + in numbering direction. */
export const arcLength = (turn: number, diameter: number): number => (Math.PI * diameter * shortWay(turn)) / 360;

const LEAST_TURN = 1;

/**
 * Two measurements, the tire turned on the rim between them: what stays is the rim, what turned is the tire.
 * @throws Refusal `invalid` within 1° of a whole turn, where both measurements are one and the same
 */
export function separate(first: Vector, second: Vector, turn: number): {rim: Vector; tire: Vector} {
  const {stays, turns} = partsOf(first, second, turn, 'turned');
  return {rim: stays, tire: turns};
}

/**
 * The same wheel clamped twice, turned on the shaft between, both in wheel coordinates: the wheel stays, the error of
 * the clamping turns back (index method, ISO 21940-14).
 * @throws Refusal as {@link separate}
 */
export function remount(first: Vector, second: Vector, turn: number): {wheel: Vector; error: Vector} {
  const {stays, turns} = partsOf(first, second, turn, 'turn', -1);
  return {wheel: stays, error: turns};
}

function partsOf(first: Vector, second: Vector, turn: number, argument: string, sense: 1 | -1 = 1) {
  if (Math.abs(shortWay(turn)) < LEAST_TURN) {
    throw invalid(`a turn at least ${LEAST_TURN}° away from whole turns is wanted, found ${inWords(turn)}`, argument);
  }
  const [one, two] = [point(first), point(second)];
  const part = quotient(minus(two, one), minus(unit(sense * turn), {x: 1, y: 0}));
  return {stays: vector(minus(one, part)), turns: vector(part)};
}
