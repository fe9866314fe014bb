/** A step's expression as MathML. */
import type {Node} from './nodes';
import {isOverRows, VOCABULARY, type OverRows} from './vocabulary';
import {shown} from './words';

export const escapeXml = (text: string): string =>
  text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;');

const SIGNS: Readonly<Record<string, string>> = {
  '-': '−',
  '*': '·',
  '<=': '≤',
  '>=': '≥',
  '==': '=',
  '!=': '≠',
  and: ' and ',
  or: ' or ',
};

/** `a_1` as a with index 1, `pi` as π, anything else as it is. */
export function typesetSymbol(name: string): string {
  const [base, ...indices] = (name === 'pi' ? 'π' : name).split('_');
  const main = `<mi>${escapeXml(base)}</mi>`;
  return indices.length === 0 ? main : `<msub>${main}<mi>${escapeXml(indices.join(' '))}</mi></msub>`;
}

/** @param label MathML of a symbol: itself, or its figure */
export function typeset(tree: Node, label: (symbol: string) => string = typesetSymbol): string {
  const set = (node: Node): string => typeset(node, label);
  const bare = (node: Node): string => (node.type === 'ParenthesisNode' ? set(node.content) : set(node));
  switch (tree.type) {
    case 'ConstantNode':
      return typeof tree.value === 'string' ? `<mtext>${escapeXml(tree.value)}</mtext>` : `<mn>${tree.value}</mn>`;
    case 'SymbolNode':
      return label(tree.name);
    case 'ParenthesisNode':
      return `<mrow><mo>(</mo>${set(tree.content)}<mo>)</mo></mrow>`;
    case 'ConditionalNode': {
      const row = (value: Node, when: string) => `<mtr><mtd>${set(value)}</mtd><mtd>${when}</mtd></mtr>`;
      const rows =
        row(tree.trueExpr, `<mtext>if\u00a0</mtext>${set(tree.condition)}`) +
        row(tree.falseExpr, '<mtext>otherwise</mtext>');
      return `<mrow><mo>{</mo><mtable columnalign="left">${rows}</mtable></mrow>`;
    }
    case 'OperatorNode': {
      const [left, right] = tree.args;
      if (tree.args.length === 1) return `<mrow><mo>${tree.op === '-' ? '−' : tree.op}</mo>${set(left)}</mrow>`;
      if (tree.op === '/') return `<mfrac><mrow>${bare(left)}</mrow><mrow>${bare(right)}</mrow></mfrac>`;
      if (tree.op === '^') return `<msup><mrow>${set(left)}</mrow><mrow>${bare(right)}</mrow></msup>`;
      return `<mrow>${set(left)}<mo>${SIGNS[tree.op] ?? escapeXml(tree.op)}</mo>${set(right)}</mrow>`;
    }
    default: {
      const {name} = tree.fn;
      const args = tree.args.map(set);
      if (isOverRows(name)) return overRows(name, args);
      return `<mrow>${VOCABULARY[name].typeset(...args)}</mrow>`;
    }
  }
}

/** Words over columns: a row is an index, a fit names its regressors. */
function overRows(name: OverRows, args: readonly string[]): string {
  const [first, second, third] = args;
  const called = `<mrow><mi>${name}</mi><mo>(</mo>${args.join('<mo>,</mo>')}<mo>)</mo></mrow>`;
  switch (name) {
    case 'sum':
      return `<mrow><mo>∑</mo>${first}</mrow>`;
    case 'previous':
    case 'above':
      return `<msub><mrow>${first}</mrow><mrow><mi>i</mi><mo>−</mo><mn>1</mn></mrow></msub>`;
    case 'next':
      return `<msub><mrow>${first}</mrow><mrow><mi>i</mi><mo>+</mo><mn>1</mn></mrow></msub>`;
    case 'lookup':
      return `<msub><mrow>${third}</mrow><mrow>${second}<mo>=</mo>${first}</mrow></msub>`;
    default:
      return called;
  }
}

/** "symbol = formula", with the figures put in where they are given. */
export function typesetStep(symbol: string, tree: Node, figures?: ReadonlyMap<string, number | string>): string {
  const label = (name: string): string => {
    const value = figures?.get(name);
    if (value === undefined) return typesetSymbol(name);
    if (typeof value === 'string') return `<mtext>${escapeXml(value)}</mtext>`;
    return value < 0 ? `<mrow><mo>(</mo>${signed(value)}<mo>)</mo></mrow>` : signed(value);
  };
  return `<mrow>${typesetSymbol(symbol)}<mo>=</mo>${typeset(tree, label)}</mrow>`;
}

const signed = (value: number): string =>
  value < 0 ? `<mo>−</mo><mn>${shown(-value)}</mn>` : `<mn>${Number.isNaN(value) ? '#N/A' : shown(value)}</mn>`;
