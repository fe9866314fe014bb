/** A step's expression as plain text, with its symbols or with their figures put in. */
import type {Node} from './nodes';

interface Printable {
  toString(options?: unknown): string;
}

/** Figures in a formula: nine significant digits, enough to follow it by hand. */
export const shown = (value: number | string): string =>
  typeof value === 'number' ? String(Number(value.toPrecision(9))) : `"${value}"`;

/** Words of the vocabulary that a reader knows under another name. */
const SAID: Readonly<Record<string, string>> = {
  cosd: 'cos',
  sind: 'sin',
  asind: 'arcsin',
  greater: 'max',
  lesser: 'min',
  isnumber: 'is a number',
  none: '#N/A',
};

export function plainText(tree: Node, figures?: ReadonlyMap<string, number | string>): string {
  const options = {
    parenthesis: 'keep',
    handler: (node: Node): string | undefined => {
      const said = (part: Node): string => (part as unknown as Printable).toString(options);
      switch (node.type) {
        case 'SymbolNode': {
          const value = figures?.get(node.name);
          if (value === undefined) return node.name === 'pi' ? 'π' : node.name;
          if (typeof value === 'number' && Number.isNaN(value)) return '#N/A';
          return typeof value === 'number' && value < 0 ? `(${shown(value)})` : shown(value);
        }
        case 'ConditionalNode':
          return `IF(${[node.condition, node.trueExpr, node.falseExpr].map(said).join(', ')})`;
        case 'FunctionNode': {
          const name = SAID[node.fn.name] ?? node.fn.name;
          return node.args.length === 0 ? name : `${name}(${node.args.map(said).join(', ')})`;
        }
        default:
          return undefined;
      }
    },
  };
  return (tree as unknown as Printable)
    .toString(options)
    .replace(/ \* /g, ' · ')
    .replace(/ - /g, ' − ')
    .replace(/ == /g, ' = ')
    .replace(/ != /g, ' ≠ ')
    .replace(/ <= /g, ' ≤ ')
    .replace(/ >= /g, ' ≥ ');
}
