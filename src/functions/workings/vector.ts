/** Steps with vectors, shared by the workings of all functions that add, turn or divide them. */
import {ROUNDING, type Steps} from './steps';

/** A vector that has been written down: symbols of its parts and of its size. */
export interface Parts {
  readonly x: string;
  readonly y: string;
}

/** A vector of an argument: amount, angle, and its parts under `name` with the indices x and y. */
export function vectorSteps(
  s: Steps,
  name: string,
  angle: string,
  argument: string,
  index = 0,
  says = argument,
): Parts {
  s.vector(name, angle, argument, index, says);
  return partsSteps(s, name, name, angle, `as ${argument}`);
}

/** x and y of an amount at an angle, as `name`_x and `name`_y. */
export function partsSteps(s: Steps, name: string, amount: string, angle: string, unit: string): Parts {
  const [x, y] = [`${name}_x`, `${name}_y`];
  s.figure(x, `${amount}*cosd(${angle})`, {unit, says: 'towards the valve hole'}).figure(
    y,
    `${amount}*sind(${angle})`,
    {
      unit,
      says: 'a quarter turn on',
    },
  );
  return {x, y};
}

/** A vector written down in parts, each as an expression. */
export function sumSteps(s: Steps, name: string, x: string, y: string, unit: string, says = ''): Parts {
  s.figure(`${name}_x`, x, {unit, says}).figure(`${name}_y`, y, {unit, says});
  return {x: `${name}_x`, y: `${name}_y`};
}

export interface PolarOptions {
  /** Symbols to give amount and angle. */
  readonly amount: string;
  readonly angle: string;
  readonly unit: string;
  /** A figure with the sizes of all that was added up: a sum far below it is rounding and has no direction. */
  readonly whole: string;
  readonly amountPart?: string;
  readonly anglePart?: string;
  /** By what the length is divided, such as a radius. */
  readonly divided?: string;
  readonly says?: string;
}

/** Amount and angle of a vector from its parts. */
export function polarSteps(s: Steps, {x, y}: Parts, o: PolarOptions): void {
  const length = `sqrt(${x}^2 + ${y}^2)`;
  const size = o.divided === undefined ? length : `${length}/${o.divided}`;
  s.figure(o.amount, size, {unit: o.unit, says: o.says ?? 'amount', part: o.amountPart});
  s.figure(o.angle, `${o.amount} <= ${ROUNDING}*${o.whole} ? 0 : direction(${x}, ${y})`, {
    unit: '°',
    says: 'its angle',
    part: o.anglePart,
    around: 360,
    vanishing: {size: o.amount, whole: o.whole},
  });
}

/** Parts of the quotient of two vectors read as complex numbers, under `name`. */
export function quotientSteps(s: Steps, name: string, p: Parts, q: Parts, unit: string, says = ''): Parts {
  const square = `(${q.x}^2 + ${q.y}^2)`;
  return sumSteps(
    s,
    name,
    `(${p.x}*${q.x} + ${p.y}*${q.y})/${square}`,
    `(${p.y}*${q.x} - ${p.x}*${q.y})/${square}`,
    unit,
    says,
  );
}

/** Parts of the product of two vectors read as complex numbers, as expressions. */
export const productText = (p: Parts, q: Parts): Parts => ({
  x: `(${p.x}*${q.x} - ${p.y}*${q.y})`,
  y: `(${p.x}*${q.y} + ${p.y}*${q.x})`,
});

/** Two vectors, inboard and outboard, of one argument: `name`_1 at `angle`_1 and `name`_2 at `angle`_2. */
export function twoVectorSteps(s: Steps, name: string, angle: string, argument: string): void {
  s.vector(`${name}_1`, `${angle}_1`, argument, 0, `${argument}, first`);
  s.vector(`${name}_2`, `${angle}_2`, argument, 1, `${argument}, second`);
}
