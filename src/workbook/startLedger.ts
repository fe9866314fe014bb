/** A ready ledger in the workbook at hand: sheets with tables, formulas and starter values. */
import {batch} from './batch';
import {ledgerColumns, TABLE, type LedgerUnits} from './ledgerColumns';
import {MAP_HEADINGS, MAP_SHEET, MAP_TABLE, mapRows} from './ledgerMap';
import {settingsTables, startedMap, type SettingsTable} from './ledgerSettings';
import {withNewSheets} from './newSheets';
import {WorkbookProblem} from './problems';

/** Empty rows of a new ledger: one vehicle. */
const FIRST_ROWS = 4;
/** Row of the table's headings, from 0; title and note stand above. */
const HEADER_ROW = 2;
/** Excel's columns are about this many points a character wide. */
const POINTS = 5.6;

type Cells = (string | number)[][];

/**
 * Adds the sheets of a new ledger and shows it. Nothing that is there is touched; when it fails nothing is left.
 * @throws WorkbookProblem when a name is taken
 */
export async function startLedger(units: LedgerUnits): Promise<void> {
  await batch(async (context) => {
    const settings = settingsTables(units);
    await refuseTakenNames(context, [TABLE, ...settings.map(({name}) => name)], MAP_SHEET, MAP_TABLE);
    await withNewSheets(context, [TABLE, ...settings.map(({name}) => name), MAP_SHEET], (sheets) =>
      fillLedger(context, sheets, units, settings),
    );
  });
}

async function fillLedger(
  context: Excel.RequestContext,
  sheets: readonly Excel.Worksheet[],
  units: LedgerUnits,
  settings: readonly SettingsTable[],
): Promise<void> {
  const columns = ledgerColumns(units);
  const [wheels, mapSheet] = [sheets[0], sheets[sheets.length - 1]];
  title(
    wheels,
    'Wheels',
    `Readings in ${units === 'metric' ? 'mm' : 'in'} at sixteen even positions from the valve hole: A assembly, I inboard bead seat, O outboard bead seat. Unbalance as what to add, and where.`,
  );
  settings.forEach((one, i) => settingsSheet(sheets[i + 1], one));
  title(
    mapSheet,
    'Ledger map',
    'Which columns hold what. Wheel Ledger reads this table; change it when you rename or move columns.',
  );
  table(mapSheet, MAP_TABLE, MAP_HEADINGS, mapRows(startedMap(units)));
  mapSheet.getRangeByIndexes(HEADER_ROW, 0, 1, MAP_HEADINGS.length).format.columnWidth = 22 * POINTS;
  // Settings first: the formulas of the ledger refer to their tables.
  await context.sync();

  table(
    wheels,
    TABLE,
    columns.map(({name}) => name),
    Array.from({length: FIRST_ROWS}, () => columns.map(() => '')),
  );
  await context.sync();
  columns.forEach(({width, format, formula}, i) => {
    const cells = wheels.getRangeByIndexes(HEADER_ROW + 1, i, FIRST_ROWS, 1);
    wheels.getRangeByIndexes(HEADER_ROW, i, 1, 1).format.columnWidth = width * POINTS;
    if (format !== undefined) cells.numberFormat = Array.from({length: FIRST_ROWS}, () => [format]);
    if (formula !== undefined) cells.formulas = Array.from({length: FIRST_ROWS}, () => [`=${formula}`]);
  });
  wheels.freezePanes.freezeAt(wheels.getRangeByIndexes(0, 0, HEADER_ROW + 1, 5));
  wheels.activate();
  wheels.getRangeByIndexes(HEADER_ROW + 1, 0, 1, 1).select();
  await context.sync();
}

/**
 * Adds the sheets of limits, prices, positions and planes that the workbook does not have, with starter values.
 * @returns the names of what was added
 * @throws WorkbookProblem when a sheet of that name is there without its table
 */
export async function addSettings(units: LedgerUnits): Promise<string[]> {
  return batch(async (context) => {
    const settings = settingsTables(units);
    const tables = settings.map(({name}) => context.workbook.tables.getItemOrNullObject(name));
    for (const item of tables) item.load('name');
    await context.sync();
    const missing = settings.filter((_, i) => tables[i].isNullObject);
    const sheets = missing.map(({name}) => context.workbook.worksheets.getItemOrNullObject(name));
    for (const item of sheets) item.load('name');
    const active = context.workbook.worksheets.getActiveWorksheet();
    await context.sync();
    const taken = missing.filter((_, i) => !sheets[i].isNullObject).map(({name}) => name);
    if (taken.length > 0) {
      throw new WorkbookProblem(
        `This workbook already has sheets named ${taken.join(', ')}, without tables of that name. Rename them; nothing was changed.`,
      );
    }
    const names = missing.map(({name}) => name);
    await withNewSheets(context, names, async (added) => {
      added.forEach((sheet, i) => settingsSheet(sheet, missing[i]));
      active.activate();
      await context.sync();
    });
    return names;
  });
}

function settingsSheet(sheet: Excel.Worksheet, {name, note, headings, rows}: SettingsTable): void {
  title(sheet, name, note);
  table(
    sheet,
    name,
    headings,
    rows.map((row) => [...row]),
  );
  sheet.getRangeByIndexes(HEADER_ROW, 0, 1, headings.length).format.columnWidth = 18 * POINTS;
}

async function refuseTakenNames(
  context: Excel.RequestContext,
  tables: readonly string[],
  mapSheet: string,
  mapTable: string,
): Promise<void> {
  const sheets = [...tables, mapSheet].map((name) => context.workbook.worksheets.getItemOrNullObject(name));
  const taken = [...tables, mapTable].map((name) => context.workbook.tables.getItemOrNullObject(name));
  for (const item of [...sheets, ...taken]) item.load('name');
  await context.sync();
  const names = [...new Set([...sheets, ...taken].filter((item) => !item.isNullObject).map(({name}) => name))];
  if (names.length === 0) return;
  throw new WorkbookProblem(
    `This workbook already has ${names.join(', ')}. Rename what is there, or start the ledger in a new workbook; nothing was changed.`,
  );
}

function title(sheet: Excel.Worksheet, text: string, note: string): void {
  const head = sheet.getRangeByIndexes(0, 0, 2, 1);
  head.values = [[text], [note]];
  const first = sheet.getRangeByIndexes(0, 0, 1, 1);
  first.format.font.bold = true;
  first.format.font.size = 14;
  sheet.getRangeByIndexes(1, 0, 1, 1).format.font.italic = true;
}

function table(sheet: Excel.Worksheet, name: string, headings: readonly string[], rows: Cells): void {
  const range = sheet.getRangeByIndexes(HEADER_ROW, 0, rows.length + 1, headings.length);
  range.values = [[...headings], ...rows];
  const made = sheet.tables.add(range, true);
  made.name = name;
  made.style = 'TableStyleLight1';
}
