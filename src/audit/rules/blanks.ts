/** Blank cells that reach a function as the number 0, where a missing value would be understood. */
import type {AstExpression} from '@borgar/fx';
import {find} from '../../functions/catalogue';
import {areaAddress, sheetPrefix, type Place} from '../../host/book/addresses';
import type {FormulaKind} from '../../host/book/content';
import type {Reference} from '../../host/formulas/references';
import {rawsOf, type ArgumentMade, type CallMade} from '../calls';
import {calls, visit, type Context, type OwnFormula} from '../context';
import {answerOf} from '../evaluate/ours';
import {Beyond, isRange} from '../evaluate/values';
import {finding, shownWords, words, type Finding} from '../findings';

/** Kinds of arguments in which a blank cell is as good as none, or is refused. */
const UNDERSTOOD = new Set(['names', 'record', 'fingerprint', 'text', 'choice', 'flags', 'flags or empty', 'part']);

export function* blankFindings(context: Context): Iterable<Finding> {
  // One blank cell that several formulas read is one finding, at the first of them.
  const told = new Map<string, Finding>();
  for (const {at, call} of calls(context)) {
    const found = call.args.flatMap((argument, i) => {
      if (!argument.node || argument.text === '' || UNDERSTOOD.has(kindOf(call, i))) return [];
      const blanks = blankCells(argument, at, context);
      return blanks.length === 0 ? [] : [{i, blanks}];
    });
    if (found.length === 0) continue;
    const {sheet, row, column} = found[0].blanks[0];
    const name = `${row} ${column} ${sheet}`;
    const known = told.get(name);
    told.set(name, known ? {...known, more: known.more + 1} : describe(at, call, found, context));
  }
  yield* told.values();
}

/** The kind of an argument; EACHROW hands its own on to the function that it names. */
function kindOf({declaration, args}: CallMade, i: number): string {
  const {arguments: declared, name} = declaration;
  const of = declared[i] ?? declared.at(-1)!;
  if (of.kind !== 'anything') return of.kind;
  const inner = find(String(args[0]?.raw ?? ''));
  return name === 'EACHROW' || name === 'WORKING' ? (inner?.arguments[i - 1]?.kind ?? 'text') : of.kind;
}

/** Blank cells that an argument passes on as they are: not those that a condition of the formula looks at first. */
function blankCells(
  {node: argument, reads}: ArgumentMade,
  {formula, ...place}: OwnFormula,
  context: Context,
): readonly Place[] {
  const looked: Reference[] = [];
  const found: Place[] = [];
  const range = (of: AstExpression): Reference | undefined => rangeOf(of, formula.kind, place, context);
  const walk = (part: AstExpression | null): void => {
    if (part === null) return;
    switch (part.type) {
      case 'ReferenceIdentifier': {
        const reference = range(part);
        const isRead = reference && reads.some((read) => covers(read, reference) || covers(reference, read));
        if (isRead && !looked.some((other) => covers(other, reference))) found.push(...blanksOf(reference, context));
        return;
      }
      case 'UnaryExpression':
      case 'BinaryExpression':
        for (const operand of part.arguments) walk(operand);
        return;
      case 'CallExpression': {
        const name = part.callee.type === 'Identifier' ? part.callee.name.toUpperCase() : '';
        const [condition, ...branches] = part.arguments as (AstExpression | null)[];
        if (name === 'INDEX') {
          const reference = range(part);
          if (reference) found.push(...blanksOf(reference, context));
        } else if (name === 'IF') {
          const before = looked.length;
          visit(condition ?? null, (inner) => {
            const reference = inner.type === 'ReferenceIdentifier' ? range(inner) : undefined;
            if (reference) looked.push(reference);
          });
          branches.forEach(walk);
          looked.length = before;
        }
        return;
      }
      default:
    }
  };
  walk(argument);
  return found;
}

function rangeOf(node: AstExpression, kind: FormulaKind, place: Place, {evaluator}: Context): Reference | undefined {
  try {
    const value = evaluator.part(node, kind === 'plain' ? 'dynamic' : kind, place);
    return isRange(value) ? value.reference : undefined;
  } catch (error) {
    if (error instanceof Beyond) return undefined;
    throw error;
  }
}

/** Blank cells within what a sheet uses; a whole column is blank below its last cell without anybody's fault. */
function blanksOf({sheet, top, left, bottom, right}: Reference, {book}: Context): Place[] {
  const found: Place[] = [];
  for (let row = top; row <= bottom; row++)
    for (let column = left; column <= right; column++)
      if (book.isBlank({sheet, row, column})) found.push({sheet, row, column});
  return found;
}

const covers = (a: Reference, b: Reference): boolean =>
  a.sheet === b.sheet && a.top <= b.top && a.left <= b.left && a.bottom >= b.bottom && a.right >= b.right;

type Found = {readonly i: number; readonly blanks: readonly Place[]};

function describe(at: OwnFormula, {declaration, args}: CallMade, found: readonly Found[], context: Context): Finding {
  const first = found[0].blanks[0];
  const count = found.reduce((sum, {blanks}) => sum + blanks.length, 0);
  const where =
    (first.sheet === at.sheet ? '' : sheetPrefix(first.sheet)) +
    areaAddress({top: first.row, bottom: first.row, left: first.column, right: first.column});
  const argument = args[found[0].i];
  const isSingle = !Array.isArray(argument.raw);
  const text = argument.text;
  const wrapped =
    isSingle || declaration.arguments[found[0].i]?.dimension === 'scalar' ? undefined : `IF(${text}="","",${text})`;
  const toDo =
    wrapped === undefined
      ? `${argument.name} reads the blank cell ${where} as 0: type the value there, or leave the argument out.`
      : `${argument.name} reads ${count === 1 ? `the blank cell ${where}` : `${count} blank cells, the first ${where},`} as 0: write ${wrapped} in its place.`;
  const [[computed]] = answerOf(declaration, rawsOf(declaration, corrected(args, found, context)));
  return finding('blank read as zero', at, shownWords(at.shown), `${words(computed)} with blanks as missing`, toDo);
}

/** The arguments with their blank cells as missing values. */
function corrected(args: readonly ArgumentMade[], found: readonly Found[], {book}: Context): readonly ArgumentMade[] {
  return args.map((argument, i) => {
    if (!found.some((one) => one.i === i)) return argument;
    const {raw, from} = argument;
    if (!Array.isArray(raw) || !from) return {...argument, raw: null};
    const grid = raw as readonly (readonly ArgumentMade['raw'][])[];
    return {
      ...argument,
      raw: grid.map((row, r) =>
        row.map((cell, c) => (book.isBlank({sheet: from.sheet, row: from.top + r, column: from.left + c}) ? '' : cell)),
      ) as ArgumentMade['raw'],
    };
  });
}
