/** Inserting, deleting and copying cells, and renaming sheets: what refers to the cells follows. */
import {cellKey, cellOfKey, COLUMNS, meet, ROWS, within, type Area} from '../book/addresses';
import type {CellContent} from '../book/content';
import type {CellLook} from '../files/looks';
import {columnCount, isOnSheet, isWholeColumns, isWholeRows, rowCount} from './areas';
import {shiftBands} from './bands';
import type {ContentsChangeType} from './changes';
import type {HostBook} from './hostBook';
import {renamedSheet, rewriteAll, shiftedCells, type Shift} from './rewriting';
import type {CellsOf, TableColumnState, TableState} from './state';
import {fillRows, filledFormula, followHeadings} from './tables';

/** What stands in the way of moving cells. */
export class StructureProblem extends Error {}

/** Gives a sheet another name; formulas that refer to it follow. */
export function renameSheet(book: HostBook, id: string, name: string): void {
  const before = book.sheet(id).name;
  if (before === name) return;
  book.step(() => {
    // The other way round the formulas would for a moment refer to a sheet that is not there.
    book.nameSheet(id, name);
    rewriteAll(book, renamedSheet(before, name));
  });
}

/** Cells below or right of an area move away from it. */
export function insertCells(book: HostBook, sheetId: string, area: Area, shift: 'Down' | 'Right'): void {
  const down = shift === 'Down' && !isWholeColumns(area);
  const count = down ? rowCount(area) : columnCount(area);
  moveCells(book, sheetId, lane(area, down), down, down ? area.top : area.left, count);
  const isWhole = down ? isWholeRows(area) : isWholeColumns(area);
  const changeType = !isWhole ? 'CellInserted' : down ? 'RowInserted' : 'ColumnInserted';
  book.raise({kind: 'contents', sheetId, area, changeType, shift: down ? 'Down' : 'Right'});
}

/** Cells below or right of an area move into its place. */
export function deleteCells(book: HostBook, sheetId: string, area: Area, shift: 'Up' | 'Left'): void {
  const up = shift === 'Up' && !isWholeColumns(area);
  const count = up ? rowCount(area) : columnCount(area);
  moveCells(book, sheetId, lane(area, up), up, up ? area.top : area.left, -count);
  const isWhole = up ? isWholeRows(area) : isWholeColumns(area);
  const changeType: ContentsChangeType = !isWhole ? 'CellDeleted' : up ? 'RowDeleted' : 'ColumnDeleted';
  book.raise({kind: 'contents', sheetId, area, changeType, shift: up ? 'Up' : 'Left'});
}

/** The columns, or the rows, in which cells move. */
const lane = ({top, left, bottom, right}: Area, vertical: boolean): Area =>
  vertical ? {top: 0, left, bottom: ROWS - 1, right} : {top, left: 0, bottom, right: COLUMNS - 1};

/** Where an area has gone when `count` rows or columns were put in at `at`, or taken out from there. */
function shiftOf(inside: Area, vertical: boolean, at: number, count: number): Shift {
  const [first, last] = vertical ? (['top', 'bottom'] as const) : (['left', 'right'] as const);
  const end = vertical ? ROWS - 1 : COLUMNS - 1;
  return (area) => {
    const across = vertical
      ? area.left >= inside.left && area.right <= inside.right
      : area.top >= inside.top && area.bottom <= inside.bottom;
    const isWhole = area[first] === 0 && area[last] === end;
    if (!across || isWhole || area[last] < at) return area;
    if (count > 0) {
      const to = {...area, [first]: area[first] >= at ? area[first] + count : area[first], [last]: area[last] + count};
      return isOnSheet(to) ? to : undefined;
    }
    const gone = at - count;
    if (area[first] >= at && area[last] < gone) return undefined;
    const start = area[first] < at ? area[first] : Math.max(area[first], gone) + count;
    const stop = area[last] < gone ? at - 1 : area[last] + count;
    return {...area, [first]: start, [last]: stop};
  };
}

function moveCells(book: HostBook, sheetId: string, inside: Area, vertical: boolean, at: number, count: number): void {
  const shift = shiftOf(inside, vertical, at, count);
  checkMove(book, sheetId, inside, vertical, at, count, shift);
  book.step(() => {
    const moving = [...book.sheet(sheetId).cells.keys()]
      .map(cellOfKey)
      .filter(({row, column}) => within(inside, row, column) && (vertical ? row : column) >= at);
    const before = moving.map(({row, column}) => book.content(sheetId, row, column));
    // Formulas first, while they stand where they stood: their own place decides what they mean.
    const {name} = book.sheet(sheetId);
    const rewrite = shiftedCells(name, shift);
    const gone: CellContent[] = moving.map(({row, column}) => ({row, column, value: null}));
    const contents = new Map<number, CellContent>(gone.map((one) => [cellKey(one.row, one.column), one]));
    for (const {row, column, value, formula} of before) {
      const to = shift({top: row, left: column, bottom: row, right: column});
      if (!to) continue;
      const place = {sheet: name, row, column};
      const area = formula?.area && shift(formula.area);
      contents.set(cellKey(to.top, to.left), {
        row: to.top,
        column: to.left,
        value,
        ...(formula ? {formula: {...formula, text: rewrite(formula.text, place), area}} : {}),
      });
    }
    book.write(sheetId, [...contents.values()]);
    const arrived = new Set([...contents.keys()]);
    rewriteAll(book, (formula, home) =>
      home.sheet === name && arrived.has(cellKey(home.row, home.column)) ? formula : rewrite(formula, home),
    );
    moveLooks(book, sheetId, inside, vertical, at, shift);
    moveSheetParts(book, sheetId, inside, vertical, at, count, shift);
    moveTables(book, sheetId, vertical, at, count, shift);
  });
  book.moved(sheetId, shift);
}

function checkMove(
  book: HostBook,
  sheetId: string,
  inside: Area,
  vertical: boolean,
  at: number,
  count: number,
  shift: Shift,
): void {
  for (const key of book.sheet(sheetId).cells.keys()) {
    const {row, column} = cellOfKey(key);
    if (count < 0 || !within(inside, row, column)) continue;
    if (!shift({top: row, left: column, bottom: row, right: column})) {
      throw new StructureProblem('Cells that hold something would be pushed off the sheet.');
    }
  }
  const beyond = vertical ? {...inside, top: at} : {...inside, left: at};
  const parts = [
    ...book.state(sheetId).merges,
    ...book.tables.filter((one) => one.sheetId === sheetId).map((one) => one.area),
  ];
  for (const area of parts) {
    const isAcross = vertical
      ? area.left >= inside.left && area.right <= inside.right
      : area.top >= inside.top && area.bottom <= inside.bottom;
    if (meet(area, beyond) && !isAcross) {
      throw new StructureProblem('A table or merged cells would be torn apart.');
    }
  }
}

function moveLooks(book: HostBook, sheetId: string, inside: Area, vertical: boolean, at: number, shift: Shift): void {
  const looks = [...book.looks(sheetId)].filter(
    ({row, column}) => within(inside, row, column) && (vertical ? row : column) >= at,
  );
  if (looks.length === 0) return;
  const put = new Map<number, CellLook | undefined>(looks.map(({row, column}) => [cellKey(row, column), undefined]));
  for (const {row, column, look} of looks) {
    const to = shift({top: row, left: column, bottom: row, right: column});
    if (to) put.set(cellKey(to.top, to.left), look);
  }
  book.putLooks(sheetId, inside, put);
}

function moveSheetParts(
  book: HostBook,
  sheetId: string,
  inside: Area,
  vertical: boolean,
  at: number,
  count: number,
  shift: Shift,
): void {
  const {merges, validations, rows, columns, page} = book.state(sheetId);
  const shiftedAreas = (areas: readonly Area[]): Area[] => areas.flatMap((area) => shift(area) ?? []);
  book.setSheet(sheetId, {merges: shiftedAreas(merges)}, 'merges');
  if (validations.length > 0) {
    const kept = validations.flatMap((one) => {
      const area = shift(one.area);
      return area ? [{...one, area}] : [];
    });
    book.setSheet(sheetId, {validations: kept}, 'validations');
  }
  if (page.printArea.length > 0) {
    book.setSheet(sheetId, {page: {...page, printArea: shiftedAreas(page.printArea)}}, 'page');
  }
  const isWhole = vertical ? isWholeRows({...inside, top: at}) : isWholeColumns({...inside, left: at});
  if (!isWhole) return;
  const shifted = shiftBands(vertical ? rows : columns, at, count);
  book.setSheet(sheetId, {[vertical ? 'rows' : 'columns']: shifted}, 'sizes');
}

function moveTables(book: HostBook, sheetId: string, vertical: boolean, at: number, count: number, shift: Shift): void {
  const tables = book.tables.flatMap((table): TableState[] => {
    if (table.sheetId !== sheetId) return [table];
    const area = shift(table.area);
    if (!area) return [];
    return [{...table, area, columns: vertical ? table.columns : shiftedColumns(table, area, at, count)}];
  });
  if (tables.every((table, i) => table === book.tables[i])) return;
  const before = book.tables;
  book.setTables(tables);
  for (const table of tables) {
    const old = before.find(({id}) => id === table.id)!;
    if (old.columns !== table.columns) followHeadings(book, sheetId, {...table.area, bottom: table.area.top});
    const isInserted = vertical && count > 0 && at > old.area.top && at <= old.area.bottom;
    if (isInserted && table.sheetId === sheetId) fillRows(book, table, at, at + count - 1);
  }
}

function shiftedColumns({area, columns}: TableState, to: Area, at: number, count: number): readonly TableColumnState[] {
  if (columnCount(to) === columnCount(area)) return columns;
  const index = Math.max(0, at - area.left);
  if (count < 0) return columns.filter((_, i) => area.left + i < at || area.left + i >= at - count);
  const highest = Math.max(...columns.map(({id}) => id));
  const added = Array.from({length: count}, (_, i) => ({id: highest + 1 + i, name: ''}));
  return [...columns.slice(0, index), ...added, ...columns.slice(index)];
}

export interface Copying {
  /** "All", "Formulas", "Values" or "Formats". */
  readonly what: string;
  readonly skipBlanks: boolean;
  readonly transpose: boolean;
}

/** Copies cells to others; a larger target is filled with them again and again. Formulas are filled along. */
export function copyCells(book: HostBook, from: CellsOf, to: CellsOf, {what, skipBlanks, transpose}: Copying): void {
  const [rows, columns] = [rowCount(from.area), columnCount(from.area)];
  const [height, width] = transpose ? [columns, rows] : [rows, columns];
  const fits = rowCount(to.area) % height === 0 && columnCount(to.area) % width === 0;
  const target = fits ? to.area : {...to.area, bottom: to.area.top + height - 1, right: to.area.left + width - 1};
  const contents: CellContent[] = [];
  const looks = new Map<number, CellLook | undefined>();
  for (let row = target.top; row <= target.bottom; row++) {
    for (let column = target.left; column <= target.right; column++) {
      const [r, c] = [(row - target.top) % height, (column - target.left) % width];
      const place = {row: from.area.top + (transpose ? c : r), column: from.area.left + (transpose ? r : c)};
      const {value, formula} = book.content(from.sheetId, place.row, place.column);
      if (what !== 'Values' && what !== 'Formulas') {
        looks.set(cellKey(row, column), book.look(from.sheetId, place.row, place.column));
      }
      if (what === 'Formats' || (skipBlanks && value === null && !formula)) continue;
      if (what === 'Values') {
        contents.push({row, column, value: book.value(from.sheetId, place.row, place.column)});
      } else {
        contents.push({
          row,
          column,
          value,
          ...(formula ? {formula: filledFormula(formula, place, {row, column})} : {}),
        });
      }
    }
  }
  book.step(() => {
    if (looks.size > 0) book.putLooks(to.sheetId, target, looks);
    if (contents.length === 0) return;
    book.write(to.sheetId, contents);
    followHeadings(book, to.sheetId, target);
  });
  if (contents.length > 0) book.touched({sheetId: to.sheetId, area: target});
}
