/** Reads what the visible sheets hold, for the guess and for planning. */
import type {Area} from '../addresses';
import {batch} from '../batch';
import type {CellValue} from '../ledger';
import {MAP_TABLE, parseMap, type LedgerMap} from '../ledgerMap';
import type {SheetCells, TableArea} from './source';

export interface ReadWorkbook {
  readonly sheets: readonly SheetCells[];
  readonly selection: Area;
  readonly map: LedgerMap | undefined;
  /** Sheets that hold too much to be read. */
  readonly passedOver: readonly string[];
}

/** Cells read in one request: an answer may not exceed a few megabytes. */
const CELLS_AT_ONCE = 40000;
/** Beyond this a sheet is no shop's list; reading it would take minutes. */
const MOST_CELLS = 2000000;

export async function readWorkbook(onProgress: (share: number) => void = () => {}): Promise<ReadWorkbook> {
  return batch(async (context) => {
    const {workbook} = context;
    const selected = workbook.getSelectedRange();
    selected.load('rowIndex,columnIndex,rowCount,columnCount');
    selected.worksheet.load('name');
    workbook.worksheets.load('items/name,items/visibility');
    workbook.tables.load('items/name,items/showHeaders,items/showTotals');
    await context.sync();
    const visible = workbook.worksheets.items.filter(({visibility}) => visibility === 'Visible');
    const used = visible.map((sheet) => {
      const range = sheet.getUsedRangeOrNullObject(true);
      range.load('rowIndex,columnIndex,rowCount,columnCount');
      return {sheet, range};
    });
    const tables = workbook.tables.items
      .filter(({showHeaders}) => showHeaders)
      .map((table) => {
        const range = table.getRange();
        range.load('rowIndex,columnIndex,rowCount,columnCount');
        table.worksheet.load('name');
        return {table, range};
      });
    await context.sync();
    const filled = used.filter(({range}) => !range.isNullObject);
    const small = filled.filter(({range}) => range.rowCount * range.columnCount <= MOST_CELLS);
    const all = small.reduce((sum, {range}) => sum + range.rowCount * range.columnCount, 0);
    let read = 0;
    const sheets: SheetCells[] = [];
    for (const {sheet, range} of small) {
      const {rowIndex: row, columnIndex: column, rowCount, columnCount} = range;
      const step = Math.max(1, Math.floor(CELLS_AT_ONCE / columnCount));
      const cells: CellValue[][] = [];
      for (let first = 0; first < rowCount; first += step) {
        const part = sheet.getRangeByIndexes(row + first, column, Math.min(step, rowCount - first), columnCount);
        part.load('values');
        await context.sync();
        // One by one: a spread of many thousand arguments would overflow the stack.
        for (const line of part.values) cells.push(line as CellValue[]);
        read += part.values.length * columnCount;
        onProgress(read / all);
      }
      const own: TableArea[] = tables
        .filter(({table}) => table.worksheet.name === sheet.name)
        .map(({table, range: area}) => ({
          name: table.name,
          row: area.rowIndex,
          column: area.columnIndex,
          rows: area.rowCount,
          columns: area.columnCount,
          totals: table.showTotals,
        }));
      sheets.push({name: sheet.name, row, column, cells, tables: own});
    }
    return {
      sheets,
      selection: {
        sheet: selected.worksheet.name,
        row: selected.rowIndex,
        column: selected.columnIndex,
        rows: selected.rowCount,
        columns: selected.columnCount,
      },
      map: mapOf(sheets),
      passedOver: filled.filter((one) => !small.includes(one)).map(({sheet}) => sheet.name),
    };
  });
}

function mapOf(sheets: readonly SheetCells[]): LedgerMap | undefined {
  for (const {row, column, cells, tables} of sheets) {
    const table = tables.find(({name}) => name === MAP_TABLE);
    if (table === undefined) continue;
    const first = table.row - row + 1;
    const left = table.column - column;
    return parseMap(cells.slice(first, first + table.rows - 1).map((line) => line.slice(left, left + table.columns)));
  }
  return undefined;
}
