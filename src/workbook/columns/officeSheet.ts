/** The sheet that is filled, through Office.js. */
import {asProblem, WorkbookProblem} from '../problems';
import type {Source} from './source';
import type {Block, Formulas, TargetSheet} from './target';

/** One format for a whole range, which Excel takes as a single text. */
export const everywhere = (numberFormat: string): string[][] => numberFormat as unknown as string[][];

/**
 * Finds the sheet and, for a table, the table.
 * @throws WorkbookProblem when it is gone
 */
export async function officeSheet(context: Excel.RequestContext, source: Source): Promise<TargetSheet> {
  const byName = context.workbook.worksheets.getItemOrNullObject(source.sheet);
  byName.load('id');
  const table = source.kind === 'table' ? context.workbook.tables.getItemOrNullObject(source.name) : undefined;
  table?.load('id');
  await context.sync();
  const gone = byName.isNullObject
    ? `The sheet ${source.sheet}`
    : table?.isNullObject
      ? `The table ${source.name}`
      : '';
  if (gone !== '')
    throw new WorkbookProblem(
      `${gone} is no longer in the workbook: it may have been deleted or renamed. Read the workbook again; nothing was written.`,
    );
  // By its id the sheet is found even when it is renamed meanwhile.
  const sheet = context.workbook.worksheets.getItem(byName.id);
  const range = ({row, column, rows, columns}: Block): Excel.Range =>
    sheet.getRangeByIndexes(row, column, rows, columns);
  const tableRow = (columns: number): Excel.Range =>
    sheet.getRangeByIndexes(source.headerRow, source.firstColumn, source.cells.length + 1, columns);
  return {
    state: async () => {
      sheet.protection.load('protected');
      const headings = sheet.getRangeByIndexes(source.headerRow, source.firstColumn, 1, source.headings.length);
      headings.load('values');
      const body = table?.getDataBodyRange();
      const whole = table?.getRange();
      body?.load('rowCount');
      whole?.load('rowIndex,columnIndex,columnCount');
      await context.sync();
      const moved =
        whole !== undefined && (whole.rowIndex !== source.headerRow || whole.columnIndex !== source.firstColumn);
      return {
        isProtected: sheet.protection.protected,
        headings: moved ? [] : headings.values[0].map(String),
        records: body?.rowCount,
        columns: whole?.columnCount,
      };
    },
    read: async (block) => {
      const cells = range(block);
      cells.load('formulas');
      await context.sync();
      return (cells.formulas as unknown[][]).map((row) => row.map(String));
    },
    resizeTable: (columns) => table!.resize(tableRow(columns)),
    write: (block: Block, formulas: Formulas) => {
      range(block).formulas = formulas.map((row) => [...row]);
    },
    format: (block, numberFormat) => {
      range(block).numberFormat = everywhere(numberFormat);
    },
    clear: (block) => {
      range(block).clear('Contents');
    },
    send: async () => {
      try {
        await context.sync();
      } catch (error) {
        throw asProblem(error);
      }
    },
  };
}
