/** Addresses whose rows and columns stay: "Sheet1!$A$1:$B$2". */
import {stringifyA1Ref} from '@borgar/fx';
import {sheetPrefix, type Area} from '../book/addresses';

export const absoluteAddress = (sheet: string, {top, left, bottom, right}: Area): string =>
  sheetPrefix(sheet) +
  stringifyA1Ref({range: {top, left, bottom, right, $top: true, $left: true, $bottom: true, $right: true}});
