/**
 * What the engine's own reading of formulas would change (a text such as "5%" becomes a number, an array of texts is cut
 * at its commas) travels through it packed into letters, digits and underscores.
 */
import type {CellValue} from '../book/cells';

/** Names of the helper functions that the translation uses; the engine gets them next to the worksheet functions. */
export const HELPERS = {
  /** A value or an array, packed. */
  constant: 'HOST.CONSTANT',
  /** An error with its message, packed. */
  fail: 'HOST.FAIL',
  /** The one cell of a reference that belongs to the formula's cell, or the first of an array ("@"). */
  single: 'HOST.SINGLE',
  /** The cells over which the array of a cell spills ("#"). */
  spill: 'HOST.SPILL',
} as const;

export function pack(value: unknown): string {
  const text = JSON.stringify(value);
  return encodeURIComponent(text)
    .replace(/[_.!~*'()-]/g, (c) => `%${c.charCodeAt(0).toString(16).padStart(2, '0')}`)
    .replace(/%/g, '_');
}

export const unpack = (packed: string): unknown => JSON.parse(decodeURIComponent(packed.replace(/_/g, '%')));

/** The call that gives a constant, scalar or array. */
export const packedConstant = (value: CellValue | readonly (readonly CellValue[])[]): string =>
  `${HELPERS.constant}("${pack(value)}")`;

/** The call that gives an error. */
export const packedFailure = (code: string, message: string): string => `${HELPERS.fail}("${pack([code, message])}")`;
