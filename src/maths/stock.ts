import {invalid} from './refusal';

/** Slack that lets 1.15 in steps of 0.1 be the half that it is on paper. */
const SLACK = 1e-9;

/** k steps, without the trailing digits of binary multiplication: 12 × 0.1 is 1.2. */
function steps(k: number, step: number): number {
  const product = k * step;
  // Whole numbers have none, and are spared the way over a text: a fifth of the time of a search for a pair.
  return Number.isInteger(product) && product < 1e15 ? product : Number(product.toPrecision(15));
}

/** Beyond this many steps a number no longer tells neighboring multiples apart. */
const MOST_STEPS = 1e9;

/** @throws Refusal `invalid` for a step that is nothing beside the mass */
function ratio(mass: number, step: number): number {
  const count = mass / step;
  if (count > MOST_STEPS) throw invalid('this step is too small beside the mass to round to', 'step');
  return count;
}

/** The nearest multiple of step, halves up. */
export const nearestStock = (mass: number, step: number): number =>
  steps(Math.floor(ratio(mass, step) + 0.5 + SLACK), step);

/** Mass rounded to stock; 0 below `ignoreBelow`. */
export const stock = (mass: number, step: number, ignoreBelow: number): number =>
  mass < ignoreBelow ? 0 : nearestStock(mass, step);

/** The multiples of step within two steps of a mass, lightest first, 0 always among them. */
export function stockNear(mass: number, step: number): number[] {
  const count = ratio(mass, step);
  const first = Math.max(0, Math.ceil(count - 2 - SLACK));
  const last = Math.floor(count + 2 + SLACK);
  const masses = first > 0 ? [0] : [];
  for (let k = first; k <= last; k++) masses.push(steps(k, step));
  return masses;
}
