/** Commands of the grid that the workbook carries out itself, so that formulas, tables and panes follow; the grid redraws. */
import {COLUMNS, ROWS, type Area} from '../book/addresses';
import type {HostBook} from '../office/hostBook';
import {deleteCells, insertCells, renameSheet} from '../office/structure';
import type {GridCommand} from './grid';

interface Params {
  readonly subUnitId?: string;
  readonly name?: string;
  readonly order?: number;
  readonly index?: number;
  readonly range?: {startRow: number; startColumn: number; endRow: number; endColumn: number};
}

/** What the workbook does in place of the grid; undefined when the grid does it. */
export function ownEdit(book: HostBook, {id, params}: GridCommand): (() => void) | undefined {
  const {subUnitId: sheet = book.activeSheet, name = '', order = 0, index, range} = (params ?? {}) as Params;
  const rows = (): Area => ({top: range!.startRow, left: 0, bottom: range!.endRow, right: COLUMNS - 1});
  const columns = (): Area => ({top: 0, left: range!.startColumn, bottom: ROWS - 1, right: range!.endColumn});
  switch (id) {
    case 'sheet.command.insert-sheet':
      return () => book.activate(book.addSheet(freeName(book), index ?? book.sheets.length));
    case 'sheet.command.remove-sheet':
      return () => book.removeSheet(sheet);
    case 'sheet.command.set-worksheet-name':
      return () => renameSheet(book, sheet, checkedName(book, sheet, name));
    case 'sheet.command.set-worksheet-order':
      return () => book.moveSheet(sheet, order);
    case 'sheet.command.insert-row-by-range':
      return range && (() => insertCells(book, sheet, rows(), 'Down'));
    case 'sheet.command.insert-col-by-range':
      return range && (() => insertCells(book, sheet, columns(), 'Right'));
    case 'sheet.command.remove-row-by-range':
      return range && (() => deleteCells(book, sheet, rows(), 'Up'));
    case 'sheet.command.remove-col-by-range':
      return range && (() => deleteCells(book, sheet, columns(), 'Left'));
    default:
      return undefined;
  }
}

function freeName({sheets}: HostBook): string {
  const taken = new Set(sheets.map(({name}) => name.toLowerCase()));
  let number = sheets.length + 1;
  while (taken.has(`sheet${number}`)) number++;
  return `Sheet${number}`;
}

/** As Excel takes the name of a sheet. */
const NAME = /^(?!')[^\\/?*[\]:]{1,31}(?<!')$/;

function checkedName({sheets}: HostBook, id: string, name: string): string {
  if (!NAME.test(name)) {
    throw new RangeError(
      'The name of a sheet has 1 to 31 characters, none of them \\ / ? * [ ] : and no apostrophe at an end.',
    );
  }
  if (sheets.some((sheet) => sheet.id !== id && sheet.name.toLowerCase() === name.toLowerCase())) {
    throw new RangeError(`There is a sheet ${name} already.`);
  }
  return name;
}
