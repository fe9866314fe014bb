/** How far the content of a workbook reaches. Whole rows and columns are read up to there. */
import {cellOfKey} from './addresses';
import type {Book} from './content';

export interface Extent {
  readonly rows: number;
  readonly columns: number;
}

/** The extent of what a file holds, tables and arrays included. */
export function extentOf({sheets, tables}: Book): Extent {
  let rows = 1;
  let columns = 1;
  const reach = (row: number, column: number): void => {
    rows = Math.max(rows, row + 1);
    columns = Math.max(columns, column + 1);
  };
  for (const {cells} of sheets) {
    for (const {row, column, formula} of cells) {
      reach(row, column);
      if (formula?.area) reach(formula.area.bottom, formula.area.right);
    }
  }
  for (const {area} of tables) reach(area.bottom, area.right);
  return {rows, columns};
}

/** The extent grown to cells by their keys. */
export function grown({rows, columns}: Extent, keys: Iterable<number>): Extent {
  let [moreRows, moreColumns] = [rows, columns];
  for (const key of keys) {
    const {row, column} = cellOfKey(key);
    moreRows = Math.max(moreRows, row + 1);
    moreColumns = Math.max(moreColumns, column + 1);
  }
  return {rows: moreRows, columns: moreColumns};
}
