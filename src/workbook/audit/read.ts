/** Reading a workbook as a whole, for a check: in pieces, so that Excel stays at hand, with a way to leave off. */
import type {Book, CellContent, CellValue, DefinedName, SheetContent, Table} from '../../audit/trace';
import {batch} from '../batch';

/** Thrown when the person has had enough. */
export class Cancelled extends Error {}

export interface Reading {
  /** Told how far it is, as a share of 1, and what is read. */
  readonly onProgress: (share: number, what: string) => void;
  readonly signal: AbortSignal;
}

/** Cells read in one go. Excel answers about five megabytes at most. */
const CELLS_AT_ONCE = 20_000;
/** Cells asked at once for what they spill over. */
const SPILLS_AT_ONCE = 200;

export function stopWhenAsked(signal: AbortSignal): void {
  if (signal.aborted) throw new Cancelled('left off');
}

interface Frame {
  readonly sheets: readonly {
    readonly name: string;
    readonly rows: number;
    readonly columns: number;
    readonly top: number;
    readonly left: number;
  }[];
  readonly tables: readonly Table[];
  readonly names: readonly DefinedName[];
}

/** Sheets, tables and names, without what is in the cells. */
export async function readFrame(): Promise<Frame> {
  return batch(async (context) => {
    const {worksheets, tables, names} = context.workbook;
    worksheets.load('items/name');
    tables.load('items/name,items/showHeaders,items/showTotals');
    names.load('items/name,items/formula');
    await context.sync();
    const used = worksheets.items.map((sheet) => {
      const range = sheet.getUsedRangeOrNullObject(true);
      range.load('rowIndex,columnIndex,rowCount,columnCount');
      sheet.names.load('items/name,items/formula');
      return {sheet, range};
    });
    const parts = tables.items.map((table) => {
      const range = table.getRange();
      range.load('rowIndex,columnIndex,rowCount,columnCount');
      table.worksheet.load('name');
      table.columns.load('items/name');
      return {table, range};
    });
    await context.sync();
    const definition = (formula: unknown): string => String(formula).replace(/^=/, '');
    return {
      sheets: used.map(({sheet, range}) => ({
        name: sheet.name,
        rows: range.isNullObject ? 0 : range.rowCount,
        columns: range.isNullObject ? 0 : range.columnCount,
        top: range.isNullObject ? 0 : range.rowIndex,
        left: range.isNullObject ? 0 : range.columnIndex,
      })),
      tables: parts.map(({table, range}) => ({
        name: table.name,
        sheet: table.worksheet.name,
        area: {
          top: range.rowIndex,
          left: range.columnIndex,
          bottom: range.rowIndex + range.rowCount - 1,
          right: range.columnIndex + range.columnCount - 1,
        },
        header: table.showHeaders,
        totals: table.showTotals,
        columns: table.columns.items.map(({name}) => name),
      })),
      names: [
        ...names.items.map(({name, formula}) => ({name, formula: definition(formula)})),
        ...used.flatMap(({sheet}) =>
          sheet.names.items.map(({name, formula}) => ({name, sheet: sheet.name, formula: definition(formula)})),
        ),
      ],
    };
  });
}

/** What a cell shows, as Excel hands it over. Blanks are empty texts. */
export function shownValue(value: unknown, hasFormula: boolean): CellValue {
  if (value === '' && !hasFormula) return null;
  if (typeof value === 'string' && /^#[A-Z_/0]+[!?A]?$/.test(value) && hasFormula) return {code: value};
  return value as CellValue;
}

/**
 * The content of the workbook.
 * @throws Cancelled when it was asked to leave off
 */
export async function readBook({onProgress, signal}: Reading): Promise<Book> {
  const {sheets, tables, names} = await readFrame();
  const all = sheets.reduce((sum, {rows, columns}) => sum + rows * columns, 0);
  let done = 0;
  const groups = new Map<string, number>();
  const read: SheetContent[] = [];
  for (const {name, rows, columns, top, left} of sheets) {
    const cells: CellContent[] = [];
    const height = Math.max(1, Math.floor(CELLS_AT_ONCE / Math.max(1, columns)));
    for (let from = 0; from < rows; from += height) {
      stopWhenAsked(signal);
      onProgress(all === 0 ? 1 : done / all, name);
      const count = Math.min(height, rows - from);
      cells.push(...(await readCells(name, top + from, left, count, columns, groups)));
      done += count * columns;
    }
    read.push(await withSpills(name, cells, tables, signal));
  }
  onProgress(1, '');
  return {sheets: read, tables, names, date1904: false};
}

async function readCells(
  sheet: string,
  row: number,
  column: number,
  rows: number,
  columns: number,
  groups: Map<string, number>,
): Promise<CellContent[]> {
  return batch(async (context) => {
    const range = context.workbook.worksheets.getItem(sheet).getRangeByIndexes(row, column, rows, columns);
    range.load('formulas,formulasR1C1,values');
    await context.sync();
    const {formulas, formulasR1C1, values} = range;
    const found: CellContent[] = [];
    for (let r = 0; r < rows; r++) {
      for (let c = 0; c < columns; c++) {
        const text: unknown = formulas[r][c];
        const hasFormula = typeof text === 'string' && text.startsWith('=') && text.length > 1;
        const value = shownValue(values[r][c], hasFormula);
        if (value === null && !hasFormula) continue;
        const at = {row: row + r, column: column + c, value};
        if (!hasFormula) {
          found.push(at);
          continue;
        }
        const relative = String(formulasR1C1[r][c]);
        const group = groups.get(relative) ?? groups.size;
        groups.set(relative, group);
        found.push({...at, formula: {text: text.slice(1), kind: 'dynamic', group}});
      }
    }
    return found;
  });
}

/** Tells cells that show a part of an array from those with a content of their own. */
async function withSpills(
  sheet: string,
  cells: readonly CellContent[],
  tables: readonly Table[],
  signal: AbortSignal,
): Promise<SheetContent> {
  const byPlace = new Map(cells.map((cell) => [`${cell.row} ${cell.column}`, cell]));
  const inTable = ({row, column}: CellContent): boolean =>
    tables.some(
      ({sheet: its, area}) =>
        its === sheet && row >= area.top && row <= area.bottom && column >= area.left && column <= area.right,
    );
  // A cell of an array is next to it and has no formula of its own, or that of the array.
  const mayBePart = (cell: CellContent | undefined, {formula}: CellContent): boolean =>
    cell !== undefined && (!cell.formula || cell.formula.text === formula!.text);
  const anchors = cells.filter(
    (cell) =>
      cell.formula &&
      !inTable(cell) &&
      (mayBePart(byPlace.get(`${cell.row} ${cell.column + 1}`), cell) ||
        mayBePart(byPlace.get(`${cell.row + 1} ${cell.column}`), cell)),
  );
  const own = new Map(byPlace);
  const arrayValues: CellContent[] = [];
  for (let from = 0; from < anchors.length; from += SPILLS_AT_ONCE) {
    stopWhenAsked(signal);
    const some = anchors.slice(from, from + SPILLS_AT_ONCE);
    const areas = await spills(sheet, some);
    some.forEach((anchor, i) => {
      const area = areas[i];
      if (!area) return;
      own.set(`${anchor.row} ${anchor.column}`, {...anchor, formula: {...anchor.formula!, area}});
      for (let row = area.top; row <= area.bottom; row++)
        for (let column = area.left; column <= area.right; column++) {
          const part = own.get(`${row} ${column}`);
          if (!part || (row === anchor.row && column === anchor.column)) continue;
          own.delete(`${row} ${column}`);
          arrayValues.push({row, column, value: part.value});
        }
    });
  }
  return {name: sheet, cells: [...own.values()], arrayValues, hiddenRows: []};
}

type SpillArea = {top: number; left: number; bottom: number; right: number};

async function spills(sheet: string, anchors: readonly CellContent[]): Promise<(SpillArea | undefined)[]> {
  return batch(async (context) => {
    const worksheet = context.workbook.worksheets.getItem(sheet);
    const ranges = anchors.map(({row, column}) => {
      const range = worksheet.getRangeByIndexes(row, column, 1, 1).getSpillingToRangeOrNullObject();
      range.load('rowIndex,columnIndex,rowCount,columnCount');
      return range;
    });
    await context.sync();
    return ranges.map((range) =>
      range.isNullObject
        ? undefined
        : {
            top: range.rowIndex,
            left: range.columnIndex,
            bottom: range.rowIndex + range.rowCount - 1,
            right: range.columnIndex + range.columnCount - 1,
          },
    );
  });
}
