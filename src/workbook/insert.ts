/** Writing a formula into a cell, and reading what a reference in it holds. */
import {areaAddress, sheetPrefix, type Area} from './addresses';
import {batch} from './batch';
import type {CellValue} from './ledger';
import {asProblem, withSequel, WorkbookProblem} from './problems';

export interface Inserted {
  readonly area: Area;
  /** What the formula gives; several rows where it spills. */
  readonly values: readonly (readonly CellValue[])[];
}

/** What stands in the way of a formula. */
export interface InTheWay {
  readonly address: string;
  readonly content: string;
}

/** The content of a cell, or undefined when it is empty. */
export async function inTheWay(area: Area): Promise<InTheWay | undefined> {
  return batch(async (context) => {
    const cell = context.workbook.worksheets.getItem(area.sheet).getRangeByIndexes(area.row, area.column, 1, 1);
    cell.load('formulas');
    await context.sync();
    const content = String(cell.formulas[0][0]);
    return content === '' ? undefined : {address: areaAddress({...area, rows: 1, columns: 1}), content};
  });
}

/**
 * Writes a formula into one cell and selects it. The caller has asked about what is in the way.
 * @throws WorkbookProblem that says what the cell holds then
 */
export async function insertFormula(area: Area, formula: string): Promise<Inserted> {
  return batch(async (context) => {
    const sheet = context.workbook.worksheets.getItem(area.sheet);
    const cell = sheet.getRangeByIndexes(area.row, area.column, 1, 1);
    const address = areaAddress({...area, rows: 1, columns: 1});
    cell.load('formulas');
    await context.sync();
    const before = cell.formulas as string[][];
    cell.formulas = [[formula]];
    sheet.activate();
    cell.select();
    await context.sync().catch(async (error: unknown) => {
      throw withSequel(error, await restored(context, cell, before, address));
    });
    const spill = cell.getSpillingToRangeOrNullObject();
    spill.load('values,rowIndex,columnIndex,rowCount,columnCount');
    cell.load('values');
    await context.sync().catch((error: unknown) => {
      throw withSequel(error, `The formula is in ${address}; what it gives could not be read.`);
    });
    if (spill.isNullObject) return {area: {...area, rows: 1, columns: 1}, values: cell.values as CellValue[][]};
    return {
      area: {
        sheet: area.sheet,
        row: spill.rowIndex,
        column: spill.columnIndex,
        rows: spill.rowCount,
        columns: spill.columnCount,
      },
      values: spill.values as CellValue[][],
    };
  });
}

/** Puts back what a cell held, and says whether that succeeded. */
async function restored(
  context: Excel.RequestContext,
  cell: Excel.Range,
  before: string[][],
  address: string,
): Promise<string> {
  try {
    cell.load('formulas');
    await context.sync();
    if (cell.formulas[0][0] !== before[0][0]) {
      cell.formulas = before;
      await context.sync();
    }
    return `${address} holds what it held before.`;
  } catch (error) {
    if (asProblem(error).code === 'ItemNotFound') return `There is no cell ${address} any more.`;
    const content = String(before[0][0]);
    return `${address} may hold the formula already; before, it ${content === '' ? 'was empty' : `held “${content}”`}.`;
  }
}

/** Values of a reference as typed, such as "B2:Q2" or "Wheels!A1"; blanks are empty texts. */
export async function readReference(reference: string, sheet: string): Promise<CellValue[][]> {
  const end = reference.lastIndexOf('!');
  const named = reference
    .slice(0, Math.max(end, 0))
    .replace(/^'(.*)'$/, '$1')
    .replace(/''/g, "'");
  return batch(async (context) => {
    const range = context.workbook.worksheets.getItem(end < 0 ? sheet : named).getRange(reference.slice(end + 1));
    range.load('values,cellCount');
    await context.sync();
    if (range.cellCount > 100000) throw new WorkbookProblem('That is more than 100,000 cells; choose fewer.');
    return range.values as CellValue[][];
  });
}

/** An address as a formula in a cell of `from` writes it. */
export const referenceFrom = (area: Area, from: string): string =>
  area.sheet === from ? areaAddress(area) : `${sheetPrefix(area.sheet)}${areaAddress(area)}`;
