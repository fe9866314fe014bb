/** Reading a formula: its text to a tree, or what is wrong with it in words. */
import {isFunction, isLiteral, isReference, parse, tokenize, type AstExpression, type Token} from '@borgar/fx';

export class FormulaSyntaxError extends Error {}

/** A formula without its "=" and without blanks around it; "=" may be missing already. */
export const bareFormula = (text: string): string => text.trim().replace(/^=\s*/, '');

/**
 * The tree of a formula.
 * @throws FormulaSyntaxError that says in words what is wrong and where
 */
export function parseFormula(text: string): AstExpression {
  const formula = bareFormula(text);
  if (formula === '') throw new FormulaSyntaxError('the formula is empty');
  const tokens = tokenize(formula, {withLocation: true, mergeRefs: true});
  try {
    const tree = parse(tokens.map(withoutPrefix));
    const stray = strayOperand(tokens);
    if (stray) throw new FormulaSyntaxError(`the formula cannot be read: unexpected ${inPlace(stray)}`);
    return tree;
  } catch (error) {
    if (error instanceof FormulaSyntaxError) throw error;
    throw new FormulaSyntaxError(`the formula cannot be read: ${inWords(error as ParseError, formula)}`);
  }
}

/** The file format marks functions of later versions, and variables of LET and LAMBDA. */
const withoutPrefix = (token: Token): Token =>
  isFunction(token)
    ? {...token, value: token.value.replace(/^(?:_xlfn\.|_xlws\.|_xludf\.)+/i, '')}
    : isReference(token)
      ? {...token, value: token.value.replace(/^_xlpm\./i, '')}
      : {...token};

interface ParseError extends Error {
  /** Characters up to the end of the token that was refused. */
  readonly sourceOffset?: number;
}

function inWords({message, sourceOffset}: ParseError, formula: string): string {
  if (/unterminated/.test(message)) return 'a quotation mark or a bracket is not closed';
  if (/in array|empty array/.test(message)) {
    return 'braces hold numbers, texts, TRUE, FALSE and errors alone, with commas between columns and semicolons between rows';
  }
  const tokens = visible(tokenize(formula, {withLocation: true, mergeRefs: true}));
  const open = openParentheses(tokens);
  const atEnd = sourceOffset === undefined || sourceOffset >= formula.length;
  if (open < 0 && atEnd) return 'there is a closing parenthesis too many';
  if (isUnfinished(tokens.at(-1)!)) return 'something is missing at its end';
  if (open > 0 && atEnd) return 'a closing parenthesis is missing';
  const at = tokens.findIndex(({loc}) => loc![1] >= (sourceOffset ?? formula.length));
  // The parser is one token further when it finds that one cannot stand where it does.
  const refused = tokens[/Invalid syntax|Missing operator/.test(message) ? at - 1 : at] ?? tokens.at(-1)!;
  return `unexpected ${inPlace(refused)}${refused.value === ';' ? '; arguments are separated by commas' : ''}`;
}

function inPlace({value, loc}: Token): string {
  const text = value.length > 30 ? `${value.slice(0, 30)}…` : value;
  // Counted with the "=" that a formula is shown with.
  return `${text} at character ${loc![0] + 2}`;
}

const visible = (tokens: readonly Token[]): Token[] => tokens.filter(({value}) => value.trim() !== '');

/** An operator that wants something behind it. */
const isUnfinished = ({type, value}: Token): boolean => type === 'operator' && !/^[)}%#]$/.test(value);

/** A value directly behind another one, which the parser takes for the next argument of a function. */
function strayOperand(tokens: readonly Token[]): Token | undefined {
  const shown = visible(tokens);
  return shown.find((token, i) => {
    const before = shown[i - 1];
    if (!before) return false;
    const afterLiteral = isLiteral(before) || before.value === '}';
    const starts = isLiteral(token) || (token.type === 'operator' && token.value === '{');
    if (afterLiteral) {
      return starts || isReference(token) || isFunction(token) || (token.type === 'operator' && token.value === '(');
    }
    return starts && (isReference(before) || (before.type === 'operator' && before.value === ')'));
  });
}

/** Parentheses opened and not closed. */
function openParentheses(tokens: readonly Token[]): number {
  let open = 0;
  for (const {type, value} of tokens) {
    if (type !== 'operator') continue;
    if (value === '(') open++;
    if (value === ')') open--;
  }
  return open;
}
