/** Seeded calls of a function that it answers. */
import type {Raw} from '../../functions/cells';
import type {Declaration} from '../../functions/declare';
import {Refusal} from '../../maths/refusal';
import {randomFrom} from '../random';
import {Draw} from './draw';
import {INPUTS} from './inputs';

/** Draws that a function refuses are drawn again, so many times for one that it answers. */
const PATIENCE = 50;

/** The same sequence for the same function, whatever others do. */
const seedOf = (name: string): number => [...name].reduce((seed, c) => (seed * 31 + c.codePointAt(0)!) >>> 0, 20250701);

/** @throws Error when there is no recipe for the function, or it refuses nearly all draws */
export function cases(declared: Declaration, count: number): Raw[][] {
  const inputs = INPUTS[declared.name];
  if (inputs === undefined) throw new Error(`there are no random inputs for ${declared.name}`);
  const draw = new Draw(randomFrom(seedOf(declared.name)));
  const calls: Raw[][] = [];
  for (let tries = 0; calls.length < count; tries++) {
    if (tries > PATIENCE * count) throw new Error(`${declared.name} refuses nearly all random inputs`);
    const args = inputs(draw);
    if (answers(declared, args)) calls.push(args);
  }
  return calls;
}

export function answers(declared: Declaration, args: readonly Raw[]): boolean {
  try {
    declared.evaluate(args);
    return true;
  } catch (error) {
    if (error instanceof Refusal) return false;
    throw error;
  }
}
