/** Which members of the classes of office.js a program uses, by its types. */
import path from 'node:path';
import ts from 'typescript';

export interface UsedMember {
  readonly className: string;
  readonly member: string;
  readonly use: 'read' | 'write' | 'call';
  readonly place: string;
}

const ROOT = path.join(__dirname, '..', '..', '..', '..');

function options(): ts.CompilerOptions {
  const file = path.join(ROOT, 'tsconfig.json');
  const {config} = ts.readConfigFile(file, ts.sys.readFile) as {config: unknown};
  return {...ts.parseJsonConfigFileContent(config, ts.sys, ROOT).options, noEmit: true};
}

/** The source files of some folders of src/. */
export const sourceFiles = (...folders: string[]): string[] =>
  folders.flatMap((folder) => ts.sys.readDirectory(path.join(ROOT, 'src', folder), ['.ts', '.tsx']));

/** @param extra the text of a further file, by its path below the root */
export function usedMembers(files: readonly string[], extra: Readonly<Record<string, string>> = {}): UsedMember[] {
  const texts = new Map(Object.entries(extra).map(([name, text]) => [path.join(ROOT, name), text]));
  const settings = options();
  const host = ts.createCompilerHost(settings);
  const {getSourceFile, fileExists} = host;
  host.fileExists = (name) => texts.has(path.normalize(name)) || fileExists.call(host, name);
  host.getSourceFile = (name, version, ...rest) => {
    const text = texts.get(path.normalize(name));
    return text === undefined
      ? getSourceFile.call(host, name, version, ...rest)
      : ts.createSourceFile(name, text, version, true);
  };
  const program = ts.createProgram([...files, ...texts.keys()], settings, host);
  const checker = program.getTypeChecker();
  const used: UsedMember[] = [];
  const look = (node: ts.Node): void => {
    const name = ts.isPropertyAccessExpression(node)
      ? node.name
      : ts.isElementAccessExpression(node)
        ? node.argumentExpression
        : ts.isBindingElement(node) && ts.isObjectBindingPattern(node.parent)
          ? (node.propertyName ?? node.name)
          : undefined;
    if (name) {
      const symbol = ts.isBindingElement(node)
        ? checker.getTypeAtLocation(node.parent).getProperty(name.getText())
        : checker.getSymbolAtLocation(name);
      for (const className of classesOf(symbol)) {
        const source = node.getSourceFile();
        const {line} = source.getLineAndCharacterOfPosition(node.getStart());
        used.push({
          className,
          member: symbol!.name,
          use: useOf(node),
          place: `${path.relative(ROOT, source.fileName)}:${line + 1}`,
        });
      }
    }
    ts.forEachChild(node, look);
  };
  for (const source of program.getSourceFiles()) {
    if (files.some((file) => path.normalize(file) === path.normalize(source.fileName)) || texts.has(source.fileName)) {
      look(source);
    }
  }
  return used;
}

/** The classes of the namespace Excel to which a symbol belongs. */
function classesOf(symbol: ts.Symbol | undefined): string[] {
  const classes = (symbol?.declarations ?? []).flatMap(({parent}) => {
    if (!ts.isClassDeclaration(parent) || !parent.name) return [];
    const block = parent.parent;
    const isExcel = ts.isModuleBlock(block) && block.parent.name.text === 'Excel';
    return isExcel ? [parent.name.text] : [];
  });
  // Each of several signatures of a method is a declaration.
  return [...new Set(classes)];
}

function useOf(node: ts.Node): UsedMember['use'] {
  const {parent} = node;
  if (ts.isCallExpression(parent) && parent.expression === node) return 'call';
  const isTarget =
    ts.isBinaryExpression(parent) && parent.left === node && parent.operatorToken.kind === ts.SyntaxKind.EqualsToken;
  return isTarget ? 'write' : 'read';
}
