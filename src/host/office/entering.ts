/** What Excel makes of something written into a cell. */
import {parseValue} from 'numfmt';
import {cellError} from '../book/cells';
import type {CellContent} from '../book/content';
import {bareFormula, parseFormula} from '../formulas/syntax';
import type {CellLook} from '../files/looks';

export const GENERAL = 'General';
const TEXT_FORMAT = '@';

const ERRORS = new Set(['#N/A', '#DIV/0!', '#VALUE!', '#REF!', '#NAME?', '#NUM!', '#NULL!', '#SPILL!', '#CALC!']);

export interface Entered {
  readonly content: CellContent;
  /** The format that a number such as "5%" brings along. */
  readonly format?: string;
}

/**
 * Takes a text that begins with "=" as a formula, a number or date written as a text as that, and one with an apostrophe
 * before it as it is.
 * @throws FormulaSyntaxError when a formula cannot be read
 */
export function entered(row: number, column: number, given: string | number | boolean, look: CellLook): Entered {
  if (typeof given !== 'string') return {content: {row, column, value: given === 0 ? 0 : given}};
  if (given === '') return {content: {row, column, value: null}};
  if (given.startsWith("'")) return {content: {row, column, value: given.slice(1)}};
  if (look.numberFormat === TEXT_FORMAT) return {content: {row, column, value: given}};
  if (given.startsWith('=') && given.length > 1) {
    parseFormula(given);
    return {content: {row, column, value: null, formula: {text: bareFormula(given), kind: 'dynamic'}}};
  }
  if (ERRORS.has(given.toUpperCase())) return {content: {row, column, value: cellError(given.toUpperCase())}};
  const parsed = parseValue(given);
  const value = parsed?.v;
  if (typeof value !== 'number' && typeof value !== 'boolean') return {content: {row, column, value: given}};
  const format = parsed?.z;
  const isPlain = look.numberFormat === undefined || look.numberFormat === GENERAL;
  return {content: {row, column, value}, ...(format !== undefined && isPlain ? {format} : {})};
}
