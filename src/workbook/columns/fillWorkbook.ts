/** Fills the columns of a plan in the open workbook, and keeps the mapping on its visible sheet. */
import {mergesUndo, undoableBatch} from '../batch';
import type {LedgerMap} from '../ledgerMap';
import {MAP_HEADINGS, MAP_SHEET, MAP_TABLE, mapRows} from '../ledgerMap';
import {fill, takeBack, type Filled, type Undo, type Watching} from './fill';
import {everywhere, officeSheet} from './officeSheet';
import type {Plan} from './plan';
import type {Source} from './source';

/** Up to this many cells go in one request, which Excel undoes in one step. */
const ONE_REQUEST = 6000;
/** Beyond, parts of this size show progress and can be cancelled. */
const PART = 2500;

/** Whether Excel's own undo takes the filling back in one step. */
export const undoesInOneStep = (plan: Plan): boolean =>
  mergesUndo() || plan.rows.length * plan.columns.length <= ONE_REQUEST;

export async function fillWorkbook(
  plan: Plan,
  map: LedgerMap | undefined,
  watching: Omit<Watching, 'cellsAtOnce'>,
): Promise<Filled & {readonly mapProblem?: string}> {
  return undoableBatch(async (context) => {
    const sheet = await officeSheet(context, plan.mapping.records);
    const cellsAtOnce = plan.rows.length * plan.columns.length <= ONE_REQUEST ? ONE_REQUEST : PART;
    const keeping = map === undefined ? undefined : await keepMap(context, map);
    let kept = false;
    // With the first part, so that one step undoes the map too.
    const along = (): void => {
      keeping?.write?.();
      kept = true;
    };
    const filled = await fill(plan, sheet, {...watching, cellsAtOnce, along});
    if (filled.kind === 'done' && !kept) {
      along();
      await context.sync();
    }
    return keeping?.problem === undefined ? filled : {...filled, mapProblem: keeping.problem};
  });
}

/** Takes back what a filling wrote. */
export async function takeBackFilling(records: Source, undo: Undo): Promise<void> {
  await undoableBatch(async (context) => takeBack(await officeSheet(context, records), undo));
}

interface Keeping {
  readonly write?: () => void;
  /** Why the map cannot be kept. */
  readonly problem?: string;
}

/** Looks at the sheet of the map, which is made where it is missing; writing only queues what is then sent. */
async function keepMap(context: Excel.RequestContext, map: LedgerMap): Promise<Keeping> {
  const rows = mapRows(map);
  const table = context.workbook.tables.getItemOrNullObject(MAP_TABLE);
  table.load('name');
  table.worksheet.protection.load('protected');
  const named = context.workbook.worksheets.getItemOrNullObject(MAP_SHEET);
  named.load('name');
  await context.sync();
  if (table.isNullObject) {
    if (named.isNullObject) return {write: () => newMapSheet(context, rows)};
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
  };
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
