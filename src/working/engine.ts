/**
 * mathjs as the second engine of a working: its parser and its operators on numbers, with our closed vocabulary. It has
 * no matrices here; words over columns see their expression unevaluated and run it row by row.
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
import {countOf, firstRow, meanLike, ranks, sumWhere} from './groups';
import {leastSquares} from './leastSquares';
import {symbolsOf, type Node} from './nodes';
import {VOCABULARY, type OverRows} from './vocabulary';

type Value = number | string;

/** Values of the symbols above a step. Columns stand under "@" + symbol, blocks too. */
export interface Scope {
  get(key: string): unknown;
  has(key: string): boolean;
  keys(): Iterator<string>;
}

export interface ColumnValues {
  readonly rows: string;
  readonly values: readonly Value[];
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

/** Under these keys a scope says which row sets it is within, and in which row of one. */
const WITHIN = '@@within';
const rowKey = (rows: string): string => `@@row ${rows}`;
/** Under this key a row's scope has itself: mathjs hands on scopes within others. */
const ROW = '@@row';

/** The scope of one row: its columns' values over the figures and the rows outside. */
class RowScope implements Scope {
  row = 0;
  /** Sums over all the rows of this set, by what they add up: the same in every row of it. */
  readonly found = new Map<Node, Value>();
  private readonly within: readonly string[];
  private readonly key: string;
  private readonly columns = new Map<string, readonly Value[] | undefined>();

  constructor(
    private readonly outer: Scope,
    readonly rows: string,
  ) {
    this.within = [...withinOf(outer), rows];
    this.key = rowKey(rows);
  }

  get(key: string): unknown {
    if (key === this.key) return this.row;
    if (key === WITHIN) return this.within;
    if (key === ROW) return this;
    const values = this.valuesOf(key);
    return values === undefined ? this.outer.get(key) : values[this.row];
  }

  has(key: string): boolean {
    return this.get(key) !== undefined;
  }

  keys(): Iterator<string> {
    return this.outer.keys();
  }

  /** mathjs takes for a scope what can be written to; no step assigns. */
  set(): never {
    throw new Error('a step assigns to nothing');
  }

  private valuesOf(symbol: string): readonly Value[] | undefined {
    if (!this.columns.has(symbol)) {
      const column = symbol.startsWith('@') ? undefined : columnOf(this.outer, symbol);
      this.columns.set(symbol, column?.rows === this.rows ? column.values : undefined);
    }
    return this.columns.get(symbol);
  }
}

const withinOf = (scope: Scope): readonly string[] => (scope.get(WITHIN) as readonly string[] | undefined) ?? [];

const codes = new WeakMap<Node, ReturnType<Node['compile']>>();

/** Evaluates a tree; each is compiled once. */
export function evaluate(tree: Node, scope: Scope): Value {
  let code = codes.get(tree);
  if (code === undefined) codes.set(tree, (code = tree.compile()));
  return code.evaluate(scope);
}

/**
 * The row set that a sum over an expression runs over: that of its columns; within a row of one set the columns of
 * another, if there are any.
 */
export function rowsOfSum(
  tree: Node,
  rowsOf: (symbol: string) => string | undefined,
  within: readonly string[],
): string {
  const sets = new Set<string>();
  for (const symbol of symbolsOf(tree)) {
    const rows = rowsOf(symbol);
    if (rows !== undefined) sets.add(rows);
  }
  const others = [...sets].filter((rows) => !within.includes(rows));
  const candidates = others.length > 0 ? others : [...sets];
  if (candidates.length === 1) return candidates[0];
  throw new Error(candidates.length === 0 ? `no column in ${tree}` : `columns of several row sets in ${tree}`);
}

/** What becomes of the values of an expression in all rows of a row set. */
function overRows(scope: Scope, tree: Node, of: (values: readonly Value[]) => Value): Value {
  const here = scope.get(ROW) as RowScope | undefined;
  const known = here?.found.get(tree);
  if (known !== undefined) return known;
  const rows = rowsOfSum(tree, (symbol) => columnOf(scope, symbol)?.rows, withinOf(scope));
  const some = [...symbolsOf(tree)].find((symbol) => columnOf(scope, symbol)?.rows === rows)!;
  const value = of(eachRow(scope, tree, rows, columnOf(scope, some)!.values.length, []));
  if (here?.rows === rows) here.found.set(tree, value);
  return value;
}

/** Evaluates the expression of a column, whose own values above are in `values` while it runs. */
export function eachRow(scope: Scope, tree: Node, rows: string, count: number, values: Value[]): Value[] {
  const inner = new RowScope(scope, rows);
  for (; inner.row < count; inner.row++) values.push(evaluate(tree, inner));
  return values;
}

type Raw = (args: readonly Node[], math: unknown, scope: Scope) => Value;

const numbers = (values: readonly Value[]): number[] =>
  values.filter((v): v is number => typeof v === 'number' && !Number.isNaN(v));

/** Of no numbers it is 0, as in a spreadsheet. */
const most = (values: readonly number[], of: (a: number, b: number) => number): number =>
  values.length === 0 ? 0 : values.reduce((a, b) => of(a, b));

/** Values of a column by its name as an argument. */
const valuesOf = (scope: Scope, node: Node): readonly Value[] => columnOf(scope, node.name)!.values;

/** This row's number in the row set of a column. */
const rowIn = (scope: Scope, column: Node): number => scope.get(rowKey(columnOf(scope, column.name)!.rows)) as number;

const words: Readonly<Record<OverRows, Raw>> = {
  sum: ([x], _, scope) => overRows(scope, x, (values) => (values as number[]).reduce((total, v) => total + v, 0)),
  max: ([x], _, scope) => overRows(scope, x, (values) => most(numbers(values), Math.max)),
  min: ([x], _, scope) => overRows(scope, x, (values) => most(numbers(values), Math.min)),
  count: ([x], _, scope) => numbers(valuesOf(scope, x)).length,
  meanby: ([y, ...groups], _, scope) =>
    meanLike(
      valuesOf(scope, y),
      groups.map((g) => valuesOf(scope, g)),
      rowIn(scope, y),
    ),
  countwhere: ([g, x], _, scope) => countOf(valuesOf(scope, g), evaluate(x, scope)),
  sumwhere: ([y, g, x], _, scope) => sumWhere(valuesOf(scope, y), valuesOf(scope, g), evaluate(x, scope)),
  rank: ([y], _, scope) => ranks(valuesOf(scope, y))[rowIn(scope, y)],
  lookup: ([key, keys, values], _, scope) => {
    const row = firstRow(valuesOf(scope, keys), evaluate(key, scope));
    return row === undefined ? NaN : valuesOf(scope, values)[row];
  },
  previous: ([y], _, scope) => around(valuesOf(scope, y), rowIn(scope, y) - 1),
  next: ([y], _, scope) => around(valuesOf(scope, y), rowIn(scope, y) + 1),
  above: ([y, start], _, scope) => {
    const row = rowIn(scope, y);
    return row === 0 ? evaluate(start, scope) : valuesOf(scope, y)[row - 1];
  },
  coefficient: ([j, y, block], _, scope) => fitted(scope, y, block).coefficients[Number(j.value) - 1],
  spread: ([j, y, block], _, scope) => fitted(scope, y, block).spreads[Number(j.value) - 1],
  leftover: ([y, block], _, scope) => fitted(scope, y, block).leftover,
};

const around = (values: readonly Value[], row: number): Value => values[(row + values.length) % values.length];

/** The last fit: a block is asked for one coefficient after another. */
let last:
  {y: readonly Value[]; columns: readonly (readonly number[])[]; fit: ReturnType<typeof leastSquares>} | undefined;

function fitted(scope: Scope, y: Node, block: Node) {
  const values = valuesOf(scope, y);
  const columns = (scope.get(columnKey(block.name)) as readonly string[]).map(
    (symbol) => columnOf(scope, symbol)!.values as readonly number[],
  );
  if (
    last === undefined ||
    last.y !== values ||
    last.columns.some((column, i) => column !== columns[i]) ||
    last.columns.length !== columns.length
  )
    last = {y: values, columns, fit: leastSquares(columns, values as readonly number[])};
  return last.fit;
}

const imports: Record<string, unknown> = {};
for (const [name, {does}] of Object.entries(VOCABULARY))
  imports[name] = (...x: unknown[]) => (does as (...x: unknown[]) => unknown)(...x);
for (const [name, raw] of Object.entries(words)) imports[name] = Object.assign(raw, {rawArgs: true});
// Not overriding: a word that mathjs has for itself, such as the function behind an operator, is refused here.
math.import(imports, {});
