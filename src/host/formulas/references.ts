/** References of a formula: from their text to cells of a sheet, and to text that the engine reads. */
import {addA1RangeBounds, parseA1Ref, stringifyA1Ref, type RangeA1} from '@borgar/fx';
import {COLUMNS, ROWS, sheetPrefix, type Area} from '../book/addresses';

/** Cells that a formula refers to. Sides with $ stay where they are when the formula is filled to other cells. */
export interface Reference extends Area {
  readonly sheet: string;
  readonly $top: boolean;
  readonly $left: boolean;
  readonly $bottom: boolean;
  readonly $right: boolean;
}

/** Several sheets of a "3D" reference come as several references. */
export interface Unresolved {
  readonly code: string;
  readonly message: string;
  /** Nothing is wrong with the formula; it asks for more than this host can do. */
  readonly beyond?: true;
}

/** What a reference is read against. */
export interface SheetList {
  readonly sheets: readonly string[];
  /** Whole rows and columns are read up to here; everything below or to the right is blank. */
  readonly usedRows: number;
  readonly usedColumns: number;
}

export function findSheet(sheets: readonly string[], name: string): string | undefined {
  const wanted = name.toLowerCase();
  return sheets.find((sheet) => sheet === name) ?? sheets.find((sheet) => sheet.toLowerCase() === wanted);
}

/** The cells of a reference such as "A1:B2", "Sheet1!A:A" or "First:Last!A1", for a formula on the sheet `home`. */
export function resolveReference(text: string, home: string, list: SheetList): readonly Reference[] | Unresolved {
  const parsed = parseA1Ref(text);
  if (!parsed || !('range' in parsed)) return {code: '#REF!', message: `${text} is not a reference to cells`};
  const {context = [], range} = parsed;
  if (context.length > 1) return otherWorkbook(text);
  if (range.trim) return {code: '#REF!', message: `${text} trims a range, which is not supported here`, beyond: true};
  const sheets = context.length === 0 ? [home] : sheetsOf(context[0], list.sheets);
  if (!sheets) {
    return context[0].includes('.xls')
      ? otherWorkbook(text)
      : {code: '#REF!', message: `there is no sheet ${context[0]} for ${text}`};
  }
  return sheets.map((sheet) => bounded(sheet, addA1RangeBounds({...range}), list));
}

const otherWorkbook = (text: string): Unresolved => ({
  code: '#REF!',
  message: `${text} is in another workbook, which is not read here`,
  beyond: true,
});

function sheetsOf(name: string, sheets: readonly string[]): readonly string[] | undefined {
  const one = findSheet(sheets, name);
  if (one !== undefined) return [one];
  const [first, last] = name.split(':').map((end) => findSheet(sheets, end));
  if (first === undefined || last === undefined) return undefined;
  const [from, to] = [sheets.indexOf(first), sheets.indexOf(last)].sort((a, b) => a - b);
  return sheets.slice(from, to + 1);
}

function bounded(sheet: string, range: RangeA1, {usedRows, usedColumns}: SheetList): Reference {
  const top = range.top ?? 0;
  const left = range.left ?? 0;
  const bottom = range.bottom ?? top;
  const right = range.right ?? left;
  const wholeColumns = top === 0 && bottom >= ROWS - 1;
  const wholeRows = left === 0 && right >= COLUMNS - 1;
  return {
    sheet,
    top,
    left,
    bottom: wholeColumns ? usedRows - 1 : bottom,
    right: wholeRows ? usedColumns - 1 : right,
    $top: wholeColumns || !!range.$top,
    $left: wholeRows || !!range.$left,
    $bottom: wholeColumns || !!range.$bottom,
    $right: wholeRows || !!range.$right,
  };
}

export const isWhole = (text: string): 'rows' | 'columns' | undefined => {
  const parsed = parseA1Ref(text);
  if (!parsed || !('range' in parsed)) return undefined;
  const {top, left, bottom, right} = addA1RangeBounds({...parsed.range});
  if (top === 0 && (bottom ?? 0) >= ROWS - 1) return 'columns';
  return left === 0 && (right ?? 0) >= COLUMNS - 1 ? 'rows' : undefined;
};

/** The reference as text, without its sheet when that is `home`. */
export function referenceText(reference: Reference, home: string): string {
  const {sheet, ...range} = reference;
  return (sheet === home ? '' : sheetPrefix(sheet)) + stringifyA1Ref({range});
}

export const isOneCell = ({top, left, bottom, right}: Area): boolean => top === bottom && left === right;

/** A reference whose sides all stay. */
export const fixedReference = (sheet: string, area: Area): Reference => ({
  sheet,
  ...area,
  $top: true,
  $left: true,
  $bottom: true,
  $right: true,
});

/** The cells that both have. */
export function intersection(a: Reference, b: Reference): Reference | undefined {
  if (a.sheet !== b.sheet) return undefined;
  const [top, $top] = a.top >= b.top ? [a.top, a.$top] : [b.top, b.$top];
  const [left, $left] = a.left >= b.left ? [a.left, a.$left] : [b.left, b.$left];
  const [bottom, $bottom] = a.bottom <= b.bottom ? [a.bottom, a.$bottom] : [b.bottom, b.$bottom];
  const [right, $right] = a.right <= b.right ? [a.right, a.$right] : [b.right, b.$right];
  return top > bottom || left > right
    ? undefined
    : {sheet: a.sheet, top, left, bottom, right, $top, $left, $bottom, $right};
}

/** The cells as they are for a formula filled from one cell to another that is so many rows and columns away. */
export function shifted(reference: Reference, rows: number, columns: number): Reference {
  const {top, left, bottom, right, $top, $left, $bottom, $right} = reference;
  return {
    ...reference,
    top: $top ? top : top + rows,
    left: $left ? left : left + columns,
    bottom: $bottom ? bottom : bottom + rows,
    right: $right ? right : right + columns,
  };
}
