/** Evaluates a declaration by the formula text of an example, with array constants as arguments. */
import {find} from '../../src/functions/catalogue';
import type {Cell, OutCell, Raw} from '../../src/functions/cells';
import {Refusal} from '../../src/maths/refusal';

/** `=WHEEL.MATCH({0.8,40},{0.6,100})` → name and arguments. Only literals and array constants are understood. */
export function parseCall(formula: string): {name: string; args: Raw[]} {
  const [, name, inner] = /^=WHEEL\.([A-Z0-9]+)\((.*)\)$/s.exec(formula)!;
  const args: string[] = [];
  let depth = 0;
  let quoted = false;
  let current = '';
  for (const char of inner) {
    if (char === '"') quoted = !quoted;
    if (!quoted && char === '{') depth++;
    if (!quoted && char === '}') depth--;
    if (char === ',' && depth === 0 && !quoted) {
      args.push(current);
      current = '';
    } else current += char;
  }
  if (inner !== '') args.push(current);
  return {name, args: args.map(argument)};
}

function argument(text: string): Raw {
  if (!text.startsWith('{')) return literal(text);
  return text
    .slice(1, -1)
    .split(';')
    .map((row) => row.split(',').map(literal));
}

function literal(text: string): Cell {
  const trimmed = text.trim();
  if (trimmed === '') return null;
  if (trimmed === 'TRUE' || trimmed === 'FALSE') return trimmed === 'TRUE';
  return trimmed.startsWith('"') ? trimmed.slice(1, -1) : Number(trimmed);
}

/** Calls a function of the catalogue with cells; EACHROW's further arguments are gathered as Excel gathers them. */
export function call(name: string, ...args: unknown[]): OutCell[][] {
  const declared = find(name)!;
  const repeating = declared.arguments.findIndex(({repeating}) => repeating);
  const given = repeating < 0 ? args : [...args.slice(0, repeating), args.slice(repeating)];
  return declared.evaluate(given as Raw[]);
}

/** The single row of an answer, as numbers. */
export const figures = (name: string, ...args: unknown[]): number[] => call(name, ...args)[0] as number[];

/** The refusal that a call ends with. */
export function refusal(name: string, ...args: unknown[]): Refusal {
  try {
    const answer = call(name, ...args);
    throw new Error(`WHEEL.${name} answered ${JSON.stringify(answer)} where a refusal was wanted`);
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
}
