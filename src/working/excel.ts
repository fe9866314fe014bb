/** A step's expression as a native Excel formula that Excel 2016 and LibreOffice both know, in plain cells. */
import type {Node} from './nodes';
import {isOverRows, VOCABULARY} from './vocabulary';

/** Where the symbols of a working stand in its sheet. */
export interface Places {
  /** Cell of a figure, or of a column in the row that is printed; undefined for a column where no row is. */
  cell(symbol: string): string | undefined;
  /** Range of a column. */
  range(symbol: string): string | undefined;
  /** Range of a block and how many columns it has. */
  block(symbol: string): {readonly range: string; readonly columns: number} | undefined;
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

/** The formula without its equals sign. @param over the expression is worked out over whole columns */
export function excelFormula(tree: Node, places: Places, over = false): string {
  const print = (node: Node): string => excelFormula(node, places, over);
  switch (tree.type) {
    case 'ConstantNode':
      return constant(tree.value);
    case 'SymbolNode':
      return symbol(tree.name, places, over);
    case 'ParenthesisNode':
      return `(${print(tree.content)})`;
    case 'ConditionalNode':
      if (over)
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

function symbol(name: string, places: Places, over: boolean): string {
  if (name === 'pi') return 'PI()';
  const place = over ? (places.range(name) ?? places.cell(name)) : places.cell(name);
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

const isLoose = (node: Node): boolean =>
  node.type === 'FunctionNode' &&
  (node.fn.name === 'spread' || node.fn.name === 'meanby' || (VOCABULARY[node.fn.name]?.loose ?? false));

function call(tree: Node, places: Places, over: boolean, print: (node: Node) => string): string {
  const {name} = tree.fn;
  if (!isOverRows(name)) {
    const word = VOCABULARY[name];
    if (over && word.branches) throw new Error(`${name} inside a sum needs a column of its own: it prints an IF`);
    return word.excel(...tree.args.map((a) => (word.branches || word.loose ? atom(a, print) : print(a))));
  }
  if (over) throw new Error('a sum inside a sum');
  const [first, second, third] = tree.args;
  switch (name) {
    case 'sum':
    case 'count':
    case 'max':
    case 'min':
      return overColumns(name, first, places);
    case 'meanby': {
      const same = tree.args.slice(1).map((g) => `(${places.range(g.name)}=${places.cell(g.name)})`);
      const members = same.length === 1 ? `${same[0]}*1` : same.join('*');
      return `SUMPRODUCT(${same.join('*')}*${places.range(first.name)})/SUMPRODUCT(${members})`;
    }
    case 'coefficient': {
      const {range, columns} = places.block(third.name)!;
      return `INDEX(LINEST(${places.range(second.name)},${range},FALSE),1,${columns + 1 - Number(first.value)})`;
    }
    case 'spread': {
      // The ratio to the residual standard deviation cancels LINEST's degrees of freedom, which count empty rows.
      const {range, columns} = places.block(third.name)!;
      const fit = `LINEST(${places.range(second.name)},${range},FALSE,TRUE)`;
      return `INDEX(${fit},2,${columns + 1 - Number(first.value)})/INDEX(${fit},3,2)`;
    }
  }
}

function overColumns(name: 'sum' | 'count' | 'max' | 'min', inner: Node, places: Places): string {
  const text = excelFormula(inner, places, true);
  const plain = inner.type === 'SymbolNode';
  if (name === 'count') return `COUNT(${text})`;
  const said = name.toUpperCase();
  if (plain) return `${said}(${text})`;
  // SUMPRODUCT makes Excel 2016 work the expression out over the rows without array entry.
  return name === 'sum' ? `SUMPRODUCT(${text})` : `SUMPRODUCT(${said}(${text}))`;
}
