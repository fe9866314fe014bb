/** Parses a step and refuses what mathjs, Excel and the reader would not all read in one way. */
import {math} from './engine';
import type {Node} from './nodes';
import {isOverRows, VOCABULARY} from './vocabulary';

const OPERATORS = ['+', '-', '*', '/', '^', '<', '<=', '>', '>=', '==', '!=', 'and', 'or', 'not'];
const COMPARISONS = ['<', '<=', '>', '>=', '==', '!='];
const NODES = ['OperatorNode', 'ConstantNode', 'SymbolNode', 'FunctionNode', 'ParenthesisNode', 'ConditionalNode'];

/** Excel keeps 15 digits of a constant. */
const DIGITS = 15;

/**
 * @param known whether a symbol stands above the step
 * @throws Error that quotes the step
 */
export function parseStep(expression: string, known: (symbol: string) => boolean): Node {
  const tree = math.parse(expression) as unknown as Node;
  const refuse = (why: string): never => {
    throw new Error(`${why}, in the step "${expression}"`);
  };
  tree.traverse((node, path, parent) => {
    if (!NODES.includes(node.type)) refuse(`${node.type} is not in the vocabulary`);
    if (node.type === 'OperatorNode') {
      if (node.implicit) refuse('a multiplication sign is missing');
      if (!OPERATORS.includes(node.op)) refuse(`the operator ${node.op} is not in the vocabulary`);
      const powers = node.args.filter((a) => a.type === 'OperatorNode' && a.op === '^').length;
      if (powers > 0 && node.args.length === 1) refuse('-a^b reads differently in Excel');
      if (powers > 0 && node.op === '^') refuse('a^b^c reads differently in Excel');
      if (COMPARISONS.includes(node.op) && !isCondition(path, parent)) refuse('a comparison outside a condition');
    }
    if (node.type === 'ConstantNode' && typeof node.value === 'number') {
      const digits = String(node.value).replace(/e.*$/i, '').replace(/[.-]/g, '').replace(/^0+/, '');
      if (digits.length > DIGITS) refuse('a constant of more than 15 digits');
    }
    if (node.type === 'SymbolNode' && !(parent?.type === 'FunctionNode' && path === 'fn')) {
      if (node.name !== 'pi' && !known(node.name)) refuse(`the symbol ${node.name} is not known`);
    }
    if (node.type === 'FunctionNode') {
      const {name} = node.fn;
      if (!isOverRows(name) && VOCABULARY[name] === undefined) refuse(`the function ${name} is not in the vocabulary`);
      if (!isOverRows(name) && node.args.length !== VOCABULARY[name].arguments)
        refuse(`${name} with ${node.args.length} arguments`);
    }
  });
  return tree;
}

/** A comparison may stand as the condition of ? :, or among the terms of one. */
function isCondition(path: string, parent: Node | undefined): boolean {
  if (parent?.type === 'ConditionalNode') return path === 'condition';
  return parent?.type === 'OperatorNode' && ['and', 'or', 'not'].includes(parent.op);
}
