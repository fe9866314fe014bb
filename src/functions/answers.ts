/** How an answer becomes cells. */
import {invalid, Refusal, unavailable} from '../maths/refusal';
import type {OutCell} from './cells';

/** A figure as the mathematics gives it; undefined when it does not exist for these arguments. */
export type Figure = number | string | boolean | undefined;

/** One figure of an answer: what it is, its unit, and why it may be absent. */
export interface Part {
  readonly says: string;
  /** Unit, or "as …" for that of an argument. */
  readonly unit: string;
  readonly absent?: string;
}

export const part = (says: string, unit: string, absent?: string): Part => ({
  says,
  unit,
  ...(absent === undefined ? {} : {absent}),
});

export type Parts = Readonly<Record<string, Part>>;

/** A figure as a cell: never NaN, never infinite, never a lost blank. */
export function outCell(figure: Figure, absent = 'this figure does not exist for these arguments'): OutCell {
  if (typeof figure === 'number') return figure - figure === 0 ? figure : outOfRange();
  return figure === undefined ? unavailable(absent) : figure;
}

const outOfRange = (): Refusal => invalid('the figures are too large, too small or too much alike for an answer');

/** A single figure is refused as a whole where a spill would hold an error in one of its cells. */
export function alone(cell: OutCell): OutCell[][] {
  if (cell instanceof Refusal) throw cell;
  return [[cell]];
}
