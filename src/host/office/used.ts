/** Which cells of a sheet are in use. */
import {cellOfKey, oneCell, within, type Area} from '../book/addresses';
import {around} from './areas';
import type {HostBook} from './hostBook';

/** The smallest area around the cells that hold something, and unless `valuesOnly` around those that look different. */
export function usedArea(book: HostBook, sheetId: string, valuesOnly: boolean, inside: Area): Area | undefined {
  let used: Area | undefined;
  const reach = (row: number, column: number): void => {
    if (!within(inside, row, column)) return;
    const cell = oneCell(row, column);
    used = used ? around(used, cell) : cell;
  };
  const {values, cells} = book.sheet(sheetId);
  for (const keys of [values.keys(), cells.keys()]) {
    for (const at of keys) {
      const {row, column} = cellOfKey(at);
      reach(row, column);
    }
  }
  if (!valuesOnly) for (const {row, column} of book.looks(sheetId)) reach(row, column);
  return used;
}

/** The block of cells around an area up to blank rows and columns. */
export function surroundingArea(book: HostBook, sheetId: string, start: Area): Area {
  const {values} = book.sheet(sheetId);
  const places = [...values.keys()].map(cellOfKey);
  let area = start;
  for (;;) {
    const {top, left, bottom, right} = area;
    const near = {top: top - 1, left: left - 1, bottom: bottom + 1, right: right + 1};
    let grown = area;
    for (const {row, column} of places) if (within(near, row, column)) grown = around(grown, oneCell(row, column));
    if (grown.top === top && grown.left === left && grown.bottom === bottom && grown.right === right) return area;
    area = grown;
  }
}
