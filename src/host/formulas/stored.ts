/** From a formula as a user writes it to one as a file stores it. */
import {parseStructRef, stringifyStructRef, tokenize, parse, type AstExpression} from '@borgar/fx';
import {within, type Place} from '../book/addresses';
import type {Table} from '../book/content';
import {bareFormula} from './syntax';
import {findTable} from './tables';

export interface StoringContext {
  readonly namespace: string;
  readonly at: Place;
  readonly tables: readonly Table[];
}

/**
 * The formula in the words of the file format, without "=": "WHEEL.MATCH" is stored as "_xldudf_WHEEL_MATCH", functions
 * of later versions of Excel get their prefix, "@" and "#" become functions, and the own row of a table is written out.
 * @throws Error when the formula cannot be read
 */
export function storedFormula(formula: string, context: StoringContext): string {
  const text = bareFormula(formula);
  const changes: Change[] = [];
  const tokens = tokenize(text, {withLocation: true, mergeRefs: true});
  const tree = parse(tokens.map((token) => ({...token, loc: [...token.loc!]})));
  const variables = new Set<string>();
  visit(tree, (node) => {
    if (node.type === 'LetExpression') node.declarations.forEach(({id}) => variables.add(id.name.toLowerCase()));
    if (node.type === 'LambdaExpression') node.params.forEach(({name}) => variables.add(name.toLowerCase()));
    if (node.type !== 'UnaryExpression' || (node.operator !== '@' && node.operator !== '#')) return;
    const [operand] = node.arguments as unknown as AstExpression[];
    const [start, end] = operand.loc!;
    const name = node.operator === '@' ? '_xlfn.SINGLE(' : '_xlfn.ANCHORARRAY(';
    changes.push({start: node.operator === '@' ? start - 1 : start, end: start, text: name, order: -end});
    changes.push({start: end, end: node.operator === '#' ? end + 1 : end, text: ')', order: start});
  });
  tokens.forEach(({type, value, loc}) => {
    const [start, end] = loc!;
    const replaced =
      type === 'func'
        ? storedName(value, context.namespace)
        : type === 'range_named' && variables.has(value.toLowerCase())
          ? `_xlpm.${value}`
          : type === 'structured'
            ? storedTable(value, context)
            : value;
    if (replaced !== value) changes.push({start, end, text: replaced, order: 0});
  });
  return applied(text, changes);
}

interface Change {
  readonly start: number;
  readonly end: number;
  readonly text: string;
  /** Of several at one position. */
  readonly order: number;
}

function applied(text: string, changes: readonly Change[]): string {
  const sorted = [...changes].sort((a, b) => a.start - b.start || a.end - b.end || a.order - b.order);
  let made = '';
  let from = 0;
  for (const {start, end, text: replaced} of sorted) {
    made += text.slice(from, start) + replaced;
    from = end;
  }
  return made + text.slice(from);
}

function visit(node: AstExpression | null, look: (node: AstExpression) => void): void {
  if (node === null) return;
  look(node);
  const inner: (AstExpression | null)[] =
    node.type === 'LetExpression'
      ? [...node.declarations.map(({init}) => init), node.body]
      : node.type === 'LambdaExpression'
        ? [node.body]
        : 'arguments' in node
          ? (node.arguments as unknown as AstExpression[])
          : [];
  for (const part of inner) visit(part, look);
}

function storedName(name: string, namespace: string): string {
  const upper = name.toUpperCase();
  if (upper.startsWith(`${namespace}.`)) return `_xldudf_${upper.replace(/\./g, '_')}`;
  if (WORKSHEET_SERVICE.has(upper)) return `_xlfn._xlws.${upper}`;
  return LATER.has(upper) ? `_xlfn.${upper}` : name;
}

/** "[@Rim]" → "Readings[[#This Row],[Rim]]". */
function storedTable(text: string, {at, tables}: StoringContext): string {
  const parsed = parseStructRef(text);
  if (!parsed) return text;
  const table = parsed.table
    ? findTable(tables, parsed.table)
    : tables.find(({sheet, area}) => sheet === at.sheet && within(area, at.row, at.column));
  return stringifyStructRef({...parsed, ...(table ? {table: table.name} : {})}, {thisRow: true});
}

const list = (names: string): ReadonlySet<string> => new Set(names.split(' '));

const WORKSHEET_SERVICE = list('FILTER SORT');

/** Functions that Excel got after 2007. */
const LATER = list(
  'ACOT ACOTH AGGREGATE ANCHORARRAY ARABIC ARRAYTOTEXT BASE BETA.DIST BETA.INV BINOM.DIST BINOM.DIST.RANGE BINOM.INV BITAND BITLSHIFT ' +
    'BITOR BITRSHIFT BITXOR BYCOL BYROW CEILING.MATH CHISQ.DIST CHISQ.DIST.RT CHISQ.INV CHISQ.INV.RT CHISQ.TEST CHOOSECOLS CHOOSEROWS ' +
    'COMBINA CONCAT CONFIDENCE.NORM CONFIDENCE.T COT COTH COVARIANCE.P COVARIANCE.S CSC CSCH DAYS DECIMAL DROP ENCODEURL ERF.PRECISE ' +
    'ERFC.PRECISE EXPAND EXPON.DIST F.DIST F.DIST.RT F.INV F.INV.RT F.TEST FLOOR.MATH FORECAST.LINEAR FORMULATEXT GAMMA GAMMA.DIST ' +
    'GAMMA.INV GAMMALN.PRECISE GAUSS HSTACK HYPGEOM.DIST IFNA IFS IMCOSH IMCOT IMCSC IMCSCH IMSEC IMSECH IMSINH IMTAN ISFORMULA ' +
    'ISOMITTED ISOWEEKNUM LAMBDA LET LOGNORM.DIST LOGNORM.INV MAKEARRAY MAP MAXIFS MINIFS MODE.MULT MODE.SNGL MUNIT NEGBINOM.DIST ' +
    'NORM.DIST NORM.INV NORM.S.DIST NORM.S.INV NUMBERVALUE PDURATION PERCENTILE.EXC PERCENTILE.INC PERCENTRANK.EXC PERCENTRANK.INC ' +
    'PERMUTATIONA PHI POISSON.DIST QUARTILE.EXC QUARTILE.INC RANDARRAY RANK.AVG RANK.EQ REDUCE RRI SCAN SEC SECH SEQUENCE SHEET SHEETS ' +
    'SINGLE SKEW.P SORTBY STDEV.P STDEV.S SWITCH T.DIST T.DIST.2T T.DIST.RT T.INV T.INV.2T T.TEST TAKE TEXTAFTER TEXTBEFORE TEXTJOIN ' +
    'TEXTSPLIT TOCOL TOROW UNICHAR UNICODE UNIQUE VALUETOTEXT VAR.P VAR.S VSTACK WEIBULL.DIST WRAPCOLS WRAPROWS XLOOKUP XMATCH XOR Z.TEST',
);
