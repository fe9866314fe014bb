/** Parses a step and refuses what mathjs, Excel and the reader would not all read in one way. */
import {math} from './engine';
import {symbolsOf, type Node} from './nodes';
import {isOverRows, OVER_ROWS, SUMS, VOCABULARY} from './vocabulary';

const OPERATORS = ['+', '-', '*', '/', '^', '<', '<=', '>', '>=', '==', '!=', 'and', 'or', 'not'];
const COMPARISONS = ['<', '<=', '>', '>=', '==', '!='];
const NODES = ['OperatorNode', 'ConstantNode', 'SymbolNode', 'FunctionNode', 'ParenthesisNode', 'ConditionalNode'];

/** Excel keeps 15 digits of a constant. */
const DIGITS = 15;

/** Trees of expressions that have been looked at; the same texts come back call after call. */
const parsed = new Map<string, Node>();
const KEPT = 5000;

/**
 * @param known whether a symbol stands above the step
 * @param self the symbol of the step's own column, which `above` may look at
 * @throws Error that quotes the step
 */
export function parseStep(expression: string, known: (symbol: string) => boolean, self?: string): Node {
  let tree = parsed.get(expression);
  if (tree === undefined) {
    tree = math.parse(expression) as unknown as Node;
    checkTree(tree, expression);
    if (parsed.size >= KEPT) parsed.clear();
    parsed.set(expression, tree);
  }
  for (const symbol of symbolsOf(tree)) {
    if (!known(symbol) && !(symbol === self && onlyAbove(tree, symbol)))
      throw new Error(`the symbol ${symbol} is not known, in the step "${expression}"`);
  }
  return tree;
}

function checkTree(tree: Node, expression: string): void {
  const refuse = (why: string): never => {
    throw new Error(`${why}, in the step "${expression}"`);
  };
  const parents: Parents = new Map();
  tree.traverse((node, path, parent) => {
    parents.set(node, {path, parent});
    if (!NODES.includes(node.type)) refuse(`${node.type} is not in the vocabulary`);
    if (node.type === 'OperatorNode') {
      if (node.implicit) refuse('a multiplication sign is missing');
      if (!OPERATORS.includes(node.op)) refuse(`the operator ${node.op} is not in the vocabulary`);
      const powers = node.args.filter((a) => a.type === 'OperatorNode' && a.op === '^').length;
      if (powers > 0 && node.args.length === 1) refuse('-a^b reads differently in Excel');
      if (powers > 0 && node.op === '^') refuse('a^b^c reads differently in Excel');
      if (COMPARISONS.includes(node.op) && !isCondition(node, parents)) refuse('a comparison outside a condition');
    }
    if (node.type === 'ConstantNode' && typeof node.value === 'number') {
      const digits = String(node.value).replace(/e.*$/i, '').replace(/[.-]/g, '').replace(/^0+/, '');
      if (digits.length > DIGITS) refuse('a constant of more than 15 digits');
    }
    if (node.type === 'FunctionNode') checkCall(node, parents, refuse);
  });
}

/** Where each node of a tree hangs. */
type Parents = Map<Node, {readonly path: string; readonly parent: Node | undefined}>;

function checkCall(node: Node, parents: Parents, refuse: (why: string) => never): void {
  const {name} = node.fn;
  if (isOverRows(name)) {
    const {arguments: wanted, plain} = OVER_ROWS[name];
    if (!([wanted].flat() as number[]).includes(node.args.length)) refuse(`${name} with ${node.args.length} arguments`);
    for (const i of plain as readonly number[]) {
      const argument = node.args[i];
      if (argument !== undefined && argument.type !== 'SymbolNode' && argument.type !== 'ConstantNode')
        refuse(`${name} takes a column, not an expression`);
    }
    if (SUMS.includes(name)) checkInside(name, node.args[0], refuse);
    return;
  }
  const word = VOCABULARY[name];
  if (word === undefined) refuse(`the function ${name} is not in the vocabulary`);
  if (node.args.length !== word.arguments) refuse(`${name} with ${node.args.length} arguments`);
  if (word.asks && !isCondition(node, parents)) refuse(`${name} outside a condition`);
}

/** What SUMPRODUCT does not work out row by row needs a column of its own. */
function checkInside(sum: string, inner: Node, refuse: (why: string) => never): void {
  inner.traverse((node) => {
    if (node.type === 'ConditionalNode') refuse(`a condition inside ${sum}`);
    if (node.type !== 'FunctionNode') return;
    if (isOverRows(node.fn.name) || VOCABULARY[node.fn.name]?.alone) refuse(`${node.fn.name} inside ${sum}`);
  });
}

/** A comparison may stand as the condition of ? :, or among the terms of one. */
function isCondition(node: Node, parents: Parents): boolean {
  const {path, parent} = parents.get(node)!;
  if (parent?.type === 'ConditionalNode') return path === 'condition';
  if (parent?.type === 'ParenthesisNode') return isCondition(parent, parents);
  return parent?.type === 'OperatorNode' && ['and', 'or', 'not'].includes(parent.op) && isCondition(parent, parents);
}

/** Whether a symbol stands nowhere but as the column of `above`. */
function onlyAbove(tree: Node, symbol: string): boolean {
  let only = true;
  tree.traverse((node, path, parent) => {
    const called = parent?.type === 'FunctionNode' && path === 'fn';
    if (node.type !== 'SymbolNode' || node.name !== symbol || called) return;
    if (!(parent?.type === 'FunctionNode' && parent.fn.name === 'above' && path === 'args[0]')) only = false;
  });
  return only;
}
