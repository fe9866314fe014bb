/** Seeded calls of a function that it answers. */
import type {Cell, Raw} from '../../functions/cells';
import type {Declaration} from '../../functions/declare';
import {Refusal} from '../../maths/refusal';
import {exampleArguments} from '../fuzz/examples';
import {randomFrom} from '../random';
import {Draw} from './draw';
import {INPUTS, type Inputs} from './inputs';

/** Draws that a function refuses are drawn again, so many times for one that it answers. */
const PATIENCE = 50;

/** The same sequence for the same function, whatever others do. */
const seedOf = (name: string): number => [...name].reduce((seed, c) => (seed * 31 + c.codePointAt(0)!) >>> 0, 20250701);

/**
 * Where nothing better is known: the example with other figures in its ranges. What is typed as a whole number, such as
 * an order, stays, and so do texts.
 */
function nearExample(declared: Declaration): Inputs {
  const args = exampleArguments(declared);
  return (d) => {
    const near = (cell: Cell): Cell =>
      typeof cell === 'number' ? Number((cell * d.number(0.7, 1.3)).toFixed(4)) : cell;
    return args.map((raw): Raw => {
      if (Array.isArray(raw)) return raw.map((row: readonly Cell[]) => row.map(near));
      return Number.isInteger(raw) ? raw : near(raw as Cell);
    });
  };
}

/** @throws Error when the function refuses nearly all draws */
export function cases(declared: Declaration, count: number): Raw[][] {
  const inputs = INPUTS[declared.name] ?? nearExample(declared);
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
