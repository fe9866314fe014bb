/** What a cell holds, as the host hands it over. */

/** An error cell: its code as shown in the cell, and the message of the function that refused, when there is one. */
export interface CellError {
  readonly code: string;
  readonly message?: string;
}

/** Null is a blank cell. Dates are serial numbers. */
export type CellValue = number | string | boolean | CellError | null;

export const isError = (value: CellValue): value is CellError => typeof value === 'object' && value !== null;

export const cellError = (code: string, message?: string): CellError =>
  message === undefined || message === '' ? {code} : {code, message};

/** The same value in the cell: the same type, the same bits, the same error code. Messages are not compared. */
export function sameValue(a: CellValue, b: CellValue): boolean {
  if (isError(a) || isError(b)) return isError(a) && isError(b) && a.code === b.code;
  return Object.is(a === 0 ? 0 : a, b === 0 ? 0 : b);
}

/** A short plain message for an error that came without one. */
export function plainMessage(code: string): string {
  return PLAIN[code] ?? 'the formula has no result';
}

const PLAIN: Readonly<Record<string, string>> = {
  '#DIV/0!': 'a division by zero',
  '#N/A': 'a value is not available',
  '#NAME?': 'a name is unknown',
  '#NULL!': 'two ranges have no cell in common',
  '#NUM!': 'a number is impossible or too large',
  '#REF!': 'a reference to cells that do not exist',
  '#VALUE!': 'a value of the wrong kind',
  '#SPILL!': 'the cells that the result needs are not empty, or end with the sheet',
  '#CALC!': 'an array without a single value',
};
