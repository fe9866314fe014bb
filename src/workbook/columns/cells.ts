/** How formulas name the cells of a source: structured references in a table, addresses in a plain range. */
import {columnLetters, sheetPrefix} from '../addresses';
import {columnName} from '../escape';
import type {Span} from './mapping';
import type {Source} from './source';

const tableSpan = (source: Source, {first, last}: Span, item = ''): string => {
  const [from, to] = [first, last].map((i) => `[${columnName(source.headings[i])}]`);
  const columns = first === last ? from : `${from}:${to}`;
  if (item !== '') return `${source.name}[[${item}],${columns}]`;
  return first === last ? `${source.name}${columns}` : `${source.name}[${columns}]`;
};

/** Cells of one record, as a formula in its own row writes them. */
export function ownCells(source: Source, span: Span, record: number): string {
  if (source.kind === 'table') return tableSpan(source, span, '#This Row');
  return area(source, span, record, record, false);
}

/** Cells of several rows of a source, from a formula on `sheet`; rows that move with a copied formula if not fixed. */
export const rowsOfCells = (
  source: Source,
  span: Span,
  first: number,
  last: number,
  sheet: string,
  fixedRows = true,
): string => `${source.sheet === sheet ? '' : sheetPrefix(source.sheet)}${area(source, span, first, last, fixedRows)}`;

/** All records' cells of some columns, from a formula on `sheet`. */
export function allCells(source: Source, span: Span, sheet: string): string {
  if (source.kind === 'table') return tableSpan(source, span);
  return rowsOfCells(source, span, 0, source.cells.length - 1, sheet);
}

function area(source: Source, {first, last}: Span, from: number, to: number, fixedRows: boolean): string {
  const cell = (column: number, row: number): string =>
    `$${columnLetters(source.firstColumn + column)}${fixedRows ? '$' : ''}${source.firstRow + row + 1}`;
  const [a, b] = [cell(first, from), cell(last, to)];
  return a === b ? a : `${a}:${b}`;
}

/** The table's row of headings, from which a record's number within it is counted. */
export const headingCell = (source: Source, column: number): string =>
  source.kind === 'table'
    ? `${source.name}[[#Headers],[${columnName(source.headings[column])}]]`
    : `$${columnLetters(source.firstColumn + column)}$${source.headerRow + 1}`;
