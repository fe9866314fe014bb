/**
 * mathjs as the second engine of a working: its parser and its operators on numbers, with our closed vocabulary. It has
 * no matrices here; sums over columns see their expression unevaluated and run it row by row.
 */
import {
  addDependencies,
  andDependencies,
  create,
  divideDependencies,
  equalDependencies,
  largerDependencies,
  largerEqDependencies,
  multiplyDependencies,
  notDependencies,
  orDependencies,
  parseDependencies,
  piDependencies,
  powDependencies,
  smallerDependencies,
  smallerEqDependencies,
  subtractDependencies,
  unaryMinusDependencies,
  unequalDependencies,
  type MathJsInstance,
} from 'mathjs/number';
import {leastSquares} from './leastSquares';
import {symbolsOf, type Node} from './nodes';
import {VOCABULARY, type OverRows} from './vocabulary';

/** Values of the symbols above a step. Columns stand under "@" + symbol, blocks too. */
export type Scope = Map<string, unknown>;

export interface ColumnValues {
  readonly rows: string;
  readonly values: readonly (number | string)[];
}

export const math: MathJsInstance = create(
  {
    parseDependencies,
    addDependencies,
    subtractDependencies,
    multiplyDependencies,
    divideDependencies,
    powDependencies,
    unaryMinusDependencies,
    smallerDependencies,
    smallerEqDependencies,
    largerDependencies,
    largerEqDependencies,
    equalDependencies,
    unequalDependencies,
    andDependencies,
    orDependencies,
    notDependencies,
    piDependencies,
  } as never,
  {relTol: 1e-15, absTol: 0} as never,
);

export const columnKey = (symbol: string): string => `@${symbol}`;

const columnOf = (scope: Scope, symbol: string): ColumnValues | undefined =>
  scope.get(columnKey(symbol)) as ColumnValues | undefined;

/** Scope of one row: its columns' values over the single figures. */
export function rowScope(scope: Scope, rows: string, row: number): Scope {
  const inner: Scope = new Map(scope);
  for (const [key, value] of scope) {
    const column = value as ColumnValues;
    if (key.startsWith('@') && column.rows === rows && Array.isArray(column.values))
      inner.set(key.slice(1), column.values[row]);
  }
  inner.set('@row', row);
  return inner;
}

/** The row set of the columns in an expression. */
function rowsOf(scope: Scope, tree: Node): {rows: string; count: number} {
  for (const symbol of symbolsOf(tree)) {
    const column = columnOf(scope, symbol);
    if (column !== undefined) return {rows: column.rows, count: column.values.length};
  }
  throw new Error(`no column in ${tree}`);
}

/** Evaluates an expression for every row. */
export function overRows(scope: Scope, tree: Node): (number | string)[] {
  const {rows, count} = rowsOf(scope, tree);
  const code = tree.compile();
  return Array.from({length: count}, (_, row) => code.evaluate(rowScope(scope, rows, row)));
}

type Raw = (args: readonly Node[], math: unknown, scope: Scope) => number;

const numbers = (values: readonly (number | string)[]): number[] => values as number[];

const words: Readonly<Record<OverRows, Raw>> = {
  sum: ([x], _, scope) => numbers(overRows(scope, x)).reduce((total, v) => total + v, 0),
  max: ([x], _, scope) => Math.max(...numbers(overRows(scope, x)).filter((v) => !Number.isNaN(v))),
  min: ([x], _, scope) => Math.min(...numbers(overRows(scope, x)).filter((v) => !Number.isNaN(v))),
  count: ([x], _, scope) => overRows(scope, x).filter((v) => typeof v === 'number' && !Number.isNaN(v)).length,
  /** Mean of y over the rows that share this row's values in the other columns. */
  meanby: ([y, ...groups], _, scope) => {
    const here = scope.get('@row') as number;
    const column = (node: Node) => columnOf(scope, node.name)!.values;
    const same = numbers(column(y)).filter((_v, row) => groups.every((g) => column(g)[row] === column(g)[here]));
    return same.reduce((total, v) => total + v, 0) / same.length;
  },
  /** The j-th least-squares coefficient of column y on a block of columns. */
  coefficient: ([j, y, block], _, scope) => fitted(scope, y, block).coefficients[Number(j.value) - 1],
  /** Standard error of the j-th coefficient ÷ residual standard deviation. */
  spread: ([j, y, block], _, scope) => fitted(scope, y, block).spreads[Number(j.value) - 1],
};

function fitted(scope: Scope, y: Node, block: Node) {
  const columns = (scope.get(columnKey(block.name)) as readonly string[]).map((symbol) =>
    numbers(columnOf(scope, symbol)!.values),
  );
  return leastSquares(columns, numbers(columnOf(scope, y.name)!.values));
}

const imports: Record<string, unknown> = {};
for (const [name, {does}] of Object.entries(VOCABULARY)) imports[name] = (...x: number[]) => does(...x);
for (const [name, raw] of Object.entries(words)) imports[name] = Object.assign(raw, {rawArgs: true});
math.import(imports, {override: true});
