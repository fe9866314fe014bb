/** A plan's formulas in a workbook that is really computed. */
import type {Book, CellContent} from '../../../src/host/book/content';
import type {Workbook} from '../../../src/host/book/workbook';
import {cellAddress} from '../../../src/workbook/addresses';
import type {Plan, PlannedColumn} from '../../../src/workbook/columns/plan';
import type {SheetCells} from '../../../src/workbook/columns/source';
import {open} from '../../host/support/books';

/** The sheets, with a plan's headings and formulas if there is one; a table grows by its new columns. */
export function filledBook(sheets: readonly SheetCells[], plan?: Plan): Book {
  const records = plan?.mapping.records;
  const fresh = plan?.columns.filter(({exists}) => !exists) ?? [];
  return {
    sheets: sheets.map((sheet) => ({
      name: sheet.name,
      cells: [
        ...sheet.cells.flatMap((row, i) =>
          row.flatMap((value, k): CellContent[] =>
            value === '' ? [] : [{row: sheet.row + i, column: sheet.column + k, value}],
          ),
        ),
        ...(plan !== undefined && sheet.name === records?.sheet ? added(plan) : []),
      ],
      arrayValues: [],
      hiddenRows: [],
    })),
    names: [],
    tables: sheets.flatMap((sheet) =>
      sheet.tables.map((table) => {
        const own = records?.kind === 'table' && table.name === records.name;
        const columns = sheet.cells[table.row - sheet.row]
          .slice(table.column - sheet.column, table.column - sheet.column + table.columns)
          .map(String)
          .concat(own ? fresh.map(({heading}) => heading) : []);
        return {
          name: table.name,
          sheet: sheet.name,
          area: {
            top: table.row,
            left: table.column,
            bottom: table.row + table.rows - 1,
            right: table.column + columns.length - 1,
          } as never,
          header: true,
          totals: table.totals,
          columns,
        };
      }),
    ),
    date1904: false,
  };
}

const added = (plan: Plan): CellContent[] =>
  plan.columns.flatMap((column) => [
    {row: plan.mapping.records.headerRow, column: column.column, value: column.heading},
    ...(column.spills ? plan.rows.slice(0, 1) : plan.rows).map((record) => ({
      row: plan.mapping.records.firstRow + record,
      column: column.column,
      value: null,
      formula: {text: plan.formula(column, record).slice(1), kind: 'dynamic' as const},
    })),
  ]);

export const compute = (sheets: readonly SheetCells[], plan: Plan): Promise<Workbook> => open(filledBook(sheets, plan));

export function shown(workbook: Workbook, plan: Plan, column: PlannedColumn, record: number): unknown {
  const {records} = plan.mapping;
  const cell = cellAddress(records.firstRow + record, column.column);
  const value = workbook.value(records.sheet, cell);
  if (typeof value === 'object' && value !== null && 'code' in value)
    return `${value.code} ${workbook.message(records.sheet, cell) ?? ''}`;
  return value;
}
