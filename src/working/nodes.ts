/** The parts of mathjs's expression trees that a working uses. */
export interface Node {
  readonly type: string;
  readonly isOperatorNode?: boolean;
  readonly op: string;
  readonly fn: {readonly name: string} & string;
  readonly implicit?: boolean;
  readonly args: readonly Node[];
  readonly name: string;
  readonly value: number | string | boolean;
  readonly content: Node;
  readonly condition: Node;
  readonly trueExpr: Node;
  readonly falseExpr: Node;
  compile(): {evaluate(scope: unknown): number | string};
  traverse(visit: (node: Node, path: string, parent: Node | undefined) => void): void;
  toString(): string;
}

/** Symbols that an expression refers to, functions aside. */
export function symbolsOf(tree: Node): Set<string> {
  const found = new Set<string>();
  tree.traverse((node, path, parent) => {
    const called = parent?.type === 'FunctionNode' && path === 'fn';
    if (node.type === 'SymbolNode' && !called && node.name !== 'pi') found.add(node.name);
  });
  return found;
}
