/** Addresses whose rows and columns stay: "Sheet1!$A$1:$B$2". */
import {stringifyA1Ref} from '@borgar/fx';
import {COLUMNS, ROWS, sheetPrefix, type Area} from '../book/addresses';

export const absoluteAddress = (sheet: string, {top, left, bottom, right}: Area): string =>
  sheetPrefix(sheet) +
  stringifyA1Ref({range: {top, left, bottom, right, $top: true, $left: true, $bottom: true, $right: true}});

/** The same where whole rows are written as "Sheet1!$1:$2" and whole columns as "Sheet1!$A:$B". */
export function shortAbsoluteAddress(sheet: string, {top, left, bottom, right}: Area): string {
  const rows = {top, bottom, $top: true, $bottom: true, left: null, right: null};
  const columns = {left, right, $left: true, $right: true, top: null, bottom: null};
  const range =
    left === 0 && right >= COLUMNS - 1
      ? rows
      : top === 0 && bottom >= ROWS - 1
        ? columns
        : {...rows, ...columns, top, bottom};
  return sheetPrefix(sheet) + stringifyA1Ref({range});
}
