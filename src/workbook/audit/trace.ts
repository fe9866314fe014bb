/** The selected cell taken apart. */
import {cellsReadBy, trace, type Book, type CellContent, type CellValue, type Traced} from '../../audit/trace';
import type {Area} from '../addresses';
import {batch} from '../batch';
import {readFrame, shownValue} from './read';

export interface TracedCell extends Traced {
  /** The cell with the formula; where only a part of its array was selected, that of the array. */
  readonly cell: Area;
  /** With its equals sign; undefined when the cell has none. */
  readonly formula: string | undefined;
  readonly shown: CellValue;
}

/** More cells than these are not read for one cell. */
const MOST_CELLS = 200_000;

/** What is in a cell, and how its formula comes to it. */
export async function traceCell({sheet, row, column}: Area): Promise<TracedCell> {
  const cell = await readCell(sheet, row, column);
  const {formula} = cell;
  if (formula === undefined) return {...cell, calls: [], isWhole: false, unknown: undefined};
  const frame = await readFrame();
  const content = {text: formula.slice(1), kind: 'dynamic'} as const;
  const place = {sheet, row: cell.cell.row, column: cell.cell.column};
  const empty: Book = {
    sheets: frame.sheets.map(({name, rows, columns, top, left}) => ({
      name,
      // A corner tells how far whole rows and columns are read.
      cells: rows === 0 ? [] : [{row: top + rows - 1, column: left + columns - 1, value: null}],
      arrayValues: [],
      hiddenRows: [],
    })),
    tables: frame.tables,
    names: frame.names,
    date1904: false,
  };
  const areas = cellsReadBy(content, place, empty);
  const count = areas.reduce((sum, {top, left, bottom, right}) => sum + (bottom - top + 1) * (right - left + 1), 0);
  if (count > MOST_CELLS) return {...cell, calls: [], isWhole: false, unknown: 'it reads more than 200,000 cells'};
  const cells = await readAreas(areas);
  const book: Book = {...empty, sheets: empty.sheets.map((one) => ({...one, cells: cells.get(one.name) ?? []}))};
  return {...cell, ...trace(content, place, book)};
}

async function readCell(
  sheet: string,
  row: number,
  column: number,
): Promise<Pick<TracedCell, 'cell' | 'formula' | 'shown'>> {
  return batch(async (context) => {
    const worksheet = context.workbook.worksheets.getItem(sheet);
    const selected = worksheet.getRangeByIndexes(row, column, 1, 1);
    const parent = selected.getSpillParentOrNullObject();
    selected.load('rowIndex,columnIndex,formulas,values');
    parent.load('rowIndex,columnIndex,formulas,values');
    await context.sync();
    const of = parent.isNullObject ? selected : parent;
    const text = String(of.formulas[0][0]);
    const formula = text.startsWith('=') ? text : undefined;
    return {
      cell: {sheet, row: of.rowIndex, column: of.columnIndex, rows: 1, columns: 1},
      formula,
      shown: shownValue(of.values[0][0], formula !== undefined),
    };
  });
}

type Areas = ReturnType<typeof cellsReadBy>;

/** What the cells of areas show, by sheet. */
async function readAreas(areas: Areas): Promise<Map<string, CellContent[]>> {
  return batch(async (context) => {
    const ranges = areas.map(({sheet, top, left, bottom, right}) => {
      const range = context.workbook.worksheets
        .getItem(sheet)
        .getRangeByIndexes(top, left, bottom - top + 1, right - left + 1);
      range.load('values,formulas');
      return {sheet, top, left, range};
    });
    await context.sync();
    const found = new Map<string, Map<string, CellContent>>();
    for (const {sheet, top, left, range} of ranges) {
      const cells = found.get(sheet) ?? new Map<string, CellContent>();
      found.set(sheet, cells);
      range.values.forEach((list: unknown[], r: number) =>
        list.forEach((value, c) => {
          // The empty text of a formula is something else than a blank cell.
          const shown = shownValue(value, String(range.formulas[r][c]).startsWith('='));
          if (shown !== null) cells.set(`${top + r} ${left + c}`, {row: top + r, column: left + c, value: shown});
        }),
      );
    }
    return new Map([...found].map(([sheet, cells]) => [sheet, [...cells.values()]]));
  });
}
