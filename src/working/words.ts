/** A step's expression as plain text, with its symbols or with their figures put in. */
import type {Node} from './nodes';

interface Printable {
  toString(options?: unknown): string;
}

/** Figures in a formula: nine significant digits, enough to follow it by hand. */
export const shown = (value: number | string): string =>
  typeof value === 'number' ? String(Number(value.toPrecision(9))) : `"${value}"`;

export function plainText(tree: Node, figures?: ReadonlyMap<string, number | string>): string {
  const handler = (node: Node): string | undefined => {
    if (node.type !== 'SymbolNode') return undefined;
    const value = figures?.get(node.name);
    if (value === undefined) return node.name === 'pi' ? 'π' : node.name;
    return typeof value === 'number' && value < 0 ? `(${shown(value)})` : shown(value);
  };
  return (tree as unknown as Printable)
    .toString({handler, parenthesis: 'keep'})
    .replace(/ \* /g, ' · ')
    .replace(/ - /g, ' − ')
    .replace(/ == /g, ' = ')
    .replace(/ != /g, ' ≠ ')
    .replace(/ <= /g, ' ≤ ')
    .replace(/ >= /g, ' ≥ ');
}
