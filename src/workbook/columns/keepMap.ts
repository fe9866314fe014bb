/** Keeps a mapping on its visible sheet, the ledger map. */
import {MAP_HEADINGS, MAP_SHEET, MAP_TABLE, mapRows, type LedgerMap} from '../ledgerMap';
import {everywhere} from './officeSheet';

export interface Keeping {
  readonly write?: () => void;
  /** After a failure: makes the sheet what it was, however much was written; says so where that fails. */
  readonly takeBack?: (error: unknown) => Promise<string | undefined>;
  /** Why the map cannot be kept. */
  readonly problem?: string;
}

/** Looks at the sheet of the map, which is made where it is missing; writing only queues what is then sent. */
export async function keepMap(context: Excel.RequestContext, map: LedgerMap): Promise<Keeping> {
  const rows = mapRows(map);
  const table = context.workbook.tables.getItemOrNullObject(MAP_TABLE);
  table.load('name');
  table.worksheet.protection.load('protected');
  const named = context.workbook.worksheets.getItemOrNullObject(MAP_SHEET);
  named.load('name');
  await context.sync();
  if (table.isNullObject) {
    if (named.isNullObject)
      return {write: () => newMapSheet(context, rows), takeBack: (error) => removeMapSheet(context, error)};
    return {
      problem: `The sheet “${MAP_SHEET}” is there without its table ${MAP_TABLE}; the map was not kept. Rename that sheet and fill again.`,
    };
  }
  if (table.worksheet.protection.protected)
    return {problem: `The sheet of the table ${MAP_TABLE} is protected; the map was not kept.`};
  const whole = table.getRange();
  const body = table.getDataBodyRange();
  whole.load('rowIndex,columnIndex,columnCount');
  body.load('rowCount,values');
  await context.sync();
  if (whole.columnCount < MAP_HEADINGS.length)
    return {problem: `The table ${MAP_TABLE} has fewer than ${MAP_HEADINGS.length} columns; the map was not kept.`};
  const height = Math.max(rows.length, body.rowCount);
  const padded = Array.from({length: height}, (_, i) => rows[i] ?? MAP_HEADINGS.map(() => ''));
  if (padded.every((row, i) => row.every((cell, k) => cell === String(body.values[i]?.[k] ?? '')))) return {};
  const below = await filledBelow(table.worksheet, whole, body.rowCount, rows.length);
  if (below) return {problem: `Below the table ${MAP_TABLE} there is no room for more rows; the map was not kept.`};
  return {
    write: () => {
      const sheet = table.worksheet;
      if (rows.length > body.rowCount)
        table.resize(sheet.getRangeByIndexes(whole.rowIndex, whole.columnIndex, height + 1, whole.columnCount));
      const cells = sheet.getRangeByIndexes(whole.rowIndex + 1, whole.columnIndex, height, MAP_HEADINGS.length);
      cells.numberFormat = everywhere('@');
      cells.values = padded;
    },
    takeBack: async () => {
      try {
        const cells = table.worksheet.getRangeByIndexes(
          whole.rowIndex + 1,
          whole.columnIndex,
          height,
          whole.columnCount,
        );
        const empty = new Array<string>(whole.columnCount).fill('');
        cells.values = Array.from({length: height}, (_, i) => (body.values[i] as string[] | undefined) ?? empty);
        if (rows.length > body.rowCount)
          table.resize(
            table.worksheet.getRangeByIndexes(whole.rowIndex, whole.columnIndex, body.rowCount + 1, whole.columnCount),
          );
        await context.sync();
        return undefined;
      } catch {
        return MAY_BE_CHANGED;
      }
    },
  };
}

const MAY_BE_CHANGED = `The map on the sheet “${MAP_SHEET}” may have been changed all the same: look at it before you fill again.`;

/** Takes the new sheet of the map away again, unless somebody else has added one of that name meanwhile. */
async function removeMapSheet(context: Excel.RequestContext, error: unknown): Promise<string | undefined> {
  if ((error as {code?: string}).code === 'ItemAlreadyExists') return undefined;
  try {
    const sheet = context.workbook.worksheets.getItemOrNullObject(MAP_SHEET);
    sheet.load('name');
    await context.sync();
    if (!sheet.isNullObject) sheet.delete();
    await context.sync();
    return undefined;
  } catch {
    return MAY_BE_CHANGED;
  }
}

/** Whether something stands where the map's table would grow. */
async function filledBelow(
  sheet: Excel.Worksheet,
  {rowIndex, columnIndex, columnCount}: Excel.Range,
  has: number,
  needs: number,
): Promise<boolean> {
  if (needs <= has) return false;
  const cells = sheet.getRangeByIndexes(rowIndex + 1 + has, columnIndex, needs - has, columnCount);
  cells.load('values');
  await sheet.context.sync();
  return cells.values.some((row) => row.some((cell) => cell !== ''));
}

function newMapSheet(context: Excel.RequestContext, rows: readonly string[][]): void {
  const sheet = context.workbook.worksheets.add(MAP_SHEET);
  sheet.getRangeByIndexes(0, 0, 2, 1).values = [
    ['Ledger map'],
    ['Which columns hold what. Wheel Ledger reads this table; change it when you rename or move columns.'],
  ];
  const head = sheet.getRangeByIndexes(0, 0, 1, 1);
  head.format.font.bold = true;
  head.format.font.size = 14;
  sheet.getRangeByIndexes(1, 0, 1, 1).format.font.italic = true;
  const range = sheet.getRangeByIndexes(2, 0, rows.length + 1, MAP_HEADINGS.length);
  // Texts such as "1/2" or "= x" stay what they are.
  range.numberFormat = everywhere('@');
  range.values = [[...MAP_HEADINGS], ...rows];
  const made = sheet.tables.add(range, true);
  made.name = MAP_TABLE;
  made.style = 'TableStyleLight1';
  sheet.getRangeByIndexes(2, 0, 1, MAP_HEADINGS.length).format.columnWidth = 140;
}
