/** A step's expression as a native Excel formula that Excel 2016 and LibreOffice both know, in plain cells. */
import {rowsOfSum} from './engine';
import type {Node} from './nodes';
import {isOverRows, VOCABULARY, type OverRows} from './vocabulary';

/** Where the symbols of a working stand in its sheet. */
export interface Places {
  /** Cell of a figure, or of a column in the row that is printed; undefined for a column where no row is. */
  cell(symbol: string): string | undefined;
  /** Range of a column. */
  range(symbol: string): string | undefined;
  /** Range of a column from its first row to the one that is printed. */
  rangeToHere(symbol: string): string;
  /** Cell of a column in a row before or after the one that is printed, around the turn or, if not, undefined beyond the ends. */
  neighbor(symbol: string, rows: number, around: boolean): string | undefined;
  /** Row set of a column. */
  rowsOf(symbol: string): string | undefined;
  /** Range of a block and how many columns it has. */
  block(symbol: string): {readonly range: string; readonly columns: number} | undefined;
  /** The row set whose row is printed. */
  readonly within: readonly string[];
}

const LEVEL: Readonly<Record<string, number>> = {
  '<': 1,
  '<=': 1,
  '>': 1,
  '>=': 1,
  '==': 1,
  '!=': 1,
  '+': 2,
  '-': 2,
  '*': 3,
  '/': 3,
  '^': 4,
};
const SAID: Readonly<Record<string, string>> = {'==': '=', '!=': '<>'};

/** The formula without its equals sign. @param over the row set over whose whole columns it is worked out */
export function excelFormula(tree: Node, places: Places, over?: string): string {
  const print = (node: Node): string => excelFormula(node, places, over);
  switch (tree.type) {
    case 'ConstantNode':
      return constant(tree.value);
    case 'SymbolNode':
      return symbol(tree.name, places, over);
    case 'ParenthesisNode':
      return tree.content.type === 'ParenthesisNode' ? print(tree.content) : `(${print(tree.content)})`;
    case 'ConditionalNode':
      if (over !== undefined)
        throw new Error('a condition inside a sum needs a column of its own: SUMPRODUCT does not run IF over an array');
      return `IF(${print(tree.condition)},${print(tree.trueExpr)},${print(tree.falseExpr)})`;
    case 'OperatorNode':
      return operator(tree, print);
    default:
      return call(tree, places, over, print);
  }
}

function constant(value: number | string | boolean): string {
  if (typeof value === 'string') return `"${value.replace(/"/g, '""')}"`;
  return String(value).toUpperCase();
}

function symbol(name: string, places: Places, over: string | undefined): string {
  if (name === 'pi') return 'PI()';
  const place = over !== undefined && places.rowsOf(name) === over ? places.range(name) : places.cell(name);
  if (place === undefined) throw new Error(`the column ${name} stands outside a sum`);
  return place;
}

function operator(tree: Node, print: (node: Node) => string): string {
  if (tree.op === 'not') return `NOT(${print(tree.args[0])})`;
  if (tree.op === 'and' || tree.op === 'or') return `${tree.op.toUpperCase()}(${tree.args.map(print).join(',')})`;
  // Excel binds a unary minus tighter than a power, so whatever is not one term goes into parentheses.
  if (tree.args.length === 1) return `-${atom(tree.args[0], print)}`;
  const [left, right] = tree.args;
  return `${side(tree, left, false, print)}${SAID[tree.op] ?? tree.op}${side(tree, right, true, print)}`;
}

function side(tree: Node, node: Node, isRight: boolean, print: (node: Node) => string): string {
  if (node.type !== 'OperatorNode') return isLoose(node) ? `(${print(node)})` : print(node);
  if (node.op === 'and' || node.op === 'or' || node.op === 'not') return print(node);
  if (node.args.length === 1 || tree.op === '^') return `(${print(node)})`;
  const [inner, outer] = [LEVEL[node.op], LEVEL[tree.op]];
  return inner > outer || (inner === outer && !isRight) ? print(node) : `(${print(node)})`;
}

/** An expression as one term. */
function atom(node: Node, print: (node: Node) => string): string {
  const single = ['ConstantNode', 'SymbolNode', 'FunctionNode', 'ParenthesisNode', 'ConditionalNode'].includes(
    node.type,
  );
  return single && !isLoose(node) ? print(node) : `(${print(node)})`;
}

const LOOSE: readonly string[] = ['spread', 'meanby', 'rank'];

const isLoose = (node: Node): boolean =>
  node.type === 'FunctionNode' && (LOOSE.includes(node.fn.name) || (VOCABULARY[node.fn.name]?.loose ?? false));

function call(tree: Node, places: Places, over: string | undefined, print: (node: Node) => string): string {
  const {name} = tree.fn;
  if (!isOverRows(name)) {
    const word = VOCABULARY[name];
    if (over !== undefined && word.alone) throw new Error(`${name} inside a sum needs a column of its own`);
    return word.excel(...tree.args.map((a) => (word.loose || name === 'present' ? atom(a, print) : print(a))));
  }
  if (over !== undefined) throw new Error(`${name} inside a sum`);
  return overRows(name, tree.args, places, print);
}

/** Words over columns, each in plain cells: SUMPRODUCT works an expression out over the rows without array entry. */
function overRows(name: OverRows, args: readonly Node[], places: Places, print: (node: Node) => string): string {
  const range = (node: Node): string => places.range(node.name)!;
  const [first, second, third] = args;
  switch (name) {
    case 'sum':
    case 'max':
    case 'min':
      return overColumns(name, first, places);
    case 'count':
      return `COUNT(${range(first)})`;
    case 'meanby': {
      const same = args.slice(1).map((g) => `(${range(g)}=${places.cell(g.name)})`);
      const members = same.length === 1 ? `${same[0]}*1` : same.join('*');
      return `SUMPRODUCT(${same.join('*')}*${range(first)})/SUMPRODUCT(${members})`;
    }
    case 'countwhere':
      return `SUMPRODUCT((${range(first)}=${atom(second, print)})*1)`;
    case 'sumwhere':
      return `SUMPRODUCT((${range(second)}=${atom(third, print)})*${range(first)})`;
    case 'rank': {
      const here = places.cell(first.name)!;
      return `SUMPRODUCT((${range(first)}<${here})*1)+SUMPRODUCT((${places.rangeToHere(first.name)}=${here})*1)`;
    }
    case 'lookup':
      return `INDEX(${range(third)},MATCH(${print(first)},${range(second)},0))`;
    case 'previous':
      return places.neighbor(first.name, -1, true)!;
    case 'next':
      return places.neighbor(first.name, 1, true)!;
    case 'above':
      return places.neighbor(first.name, -1, false) ?? atom(second, print);
    case 'coefficient': {
      const block = places.block(third.name)!;
      return `INDEX(LINEST(${range(second)},${block.range},FALSE),1,${block.columns + 1 - Number(first.value)})`;
    }
    case 'spread': {
      // The ratio to the residual standard deviation cancels LINEST's degrees of freedom, which count empty rows.
      const block = places.block(third.name)!;
      const fit = `LINEST(${range(second)},${block.range},FALSE,TRUE)`;
      return `INDEX(${fit},2,${block.columns + 1 - Number(first.value)})/INDEX(${fit},3,2)`;
    }
    case 'leftover':
      return `INDEX(LINEST(${range(first)},${places.block(second.name)!.range},FALSE,TRUE),5,2)`;
  }
}

function overColumns(name: 'sum' | 'max' | 'min', inner: Node, places: Places): string {
  const over = rowsOfSum(inner, (s) => places.rowsOf(s), places.within);
  const text = excelFormula(inner, places, over);
  const said = name.toUpperCase();
  if (inner.type === 'SymbolNode') return `${said}(${text})`;
  return name === 'sum' ? `SUMPRODUCT(${text})` : `SUMPRODUCT(${said}(${text}))`;
}
