/** Calls of the worksheet functions, as Excel makes them. */
import {find, NAMESPACE} from '../../functions/catalogue';
import type {Raw} from '../../functions/cells';
import type {Declaration} from '../../functions/declare';
import {Refusal} from '../../maths/refusal';
import type {CellError, CellValue} from '../../host/book/cells';
import {ownFunction} from '../../host/formulas/functionNames';
import type {Grid} from './values';

/** An argument as the function gets it; null when it was left out. */
export const rawOf = (value: Grid | CellValue | undefined): Raw => {
  if (value === undefined) return null;
  // A blank cell reaches a function as 0.
  return Array.isArray(value) ? value.map((row: readonly CellValue[]) => row.map((cell) => cell ?? 0)) : (value ?? 0);
};

/** What a function refuses shows as an error with its message. */
const refused = ({reason, message}: Refusal): CellError => ({
  code: reason === 'invalid' ? '#VALUE!' : '#N/A',
  message,
});

function once({evaluate}: Declaration, args: readonly Raw[]): Grid {
  try {
    return evaluate(args).map((row) => row.map((cell) => (cell instanceof Refusal ? refused(cell) : cell)));
  } catch (error) {
    if (error instanceof Refusal) return [[refused(error)]];
    throw error;
  }
}

/** The answer of a function. A range in place of a single value makes Excel call once for each of its cells. */
export function answerOf(declaration: Declaration, args: readonly Raw[]): Grid {
  const several = args.map((raw, i) => isScalar(declaration, i) && isSeveral(raw));
  if (!several.includes(true)) return once(declaration, args);
  const grids = args.filter((_, i) => several[i]) as readonly (readonly (readonly Raw[])[])[];
  const rows = Math.max(...grids.map((grid) => grid.length));
  const columns = Math.max(...grids.map((grid) => grid[0].length));
  return Array.from({length: rows}, (_, r) =>
    Array.from({length: columns}, (__, c) => {
      const call = args.map((raw, i) => {
        if (!several[i]) return raw;
        const grid = raw as readonly (readonly Raw[])[];
        const row = grid[grid.length === 1 ? 0 : r] ?? [];
        return row[row.length === 1 ? 0 : c] ?? null;
      });
      return once(declaration, call)[0][0];
    }),
  );
}

export const isScalar = (declaration: Declaration, argument: number): boolean =>
  (declaration.arguments[argument] ?? declaration.arguments.at(-1))?.dimension === 'scalar';

const isSeveral = (raw: Raw): boolean => Array.isArray(raw) && (raw.length > 1 || raw[0].length > 1);

/** "WHEEL.MATCH" for a call of ours, as written or as a file stores it; undefined for any other function. */
export const ownCall = (name: string): string | undefined =>
  ownFunction(name.toUpperCase(), {namespace: NAMESPACE, parameters: (rest) => (find(rest) ? [] : undefined)});
