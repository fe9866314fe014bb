/** Values of cells as office.js reads them, and as the cells show them. */
import {format} from 'numfmt';
import {isError, type CellValue} from '../book/cells';
import {GENERAL} from './entering';

export const plainValue = (value: CellValue): string | number | boolean =>
  value === null ? '' : isError(value) ? value.code : value;

/** What a cell shows. */
export function shownText(value: CellValue, pattern = GENERAL): string {
  if (value === null) return '';
  if (isError(value)) return value.code;
  if (typeof value === 'boolean') return value ? 'TRUE' : 'FALSE';
  return format(pattern, value, {throws: false});
}

export function valueType(value: CellValue): string {
  if (value === null) return 'Empty';
  if (isError(value)) return 'Error';
  if (typeof value === 'boolean') return 'Boolean';
  return typeof value === 'number' ? 'Double' : 'String';
}
