/** Widths and heights at which cells show all of their text, estimated from its length. */
import {cellOfKey, within, type Area} from '../book/addresses';
import {shownText} from './cellText';
import type {HostBook} from './hostBook';

/** Pixels of a digit of the usual font at its usual size, of the space beside a text, and of a line. */
const DIGIT = 7;
const BESIDE = 5;
const LINE = 20;
const USUAL_SIZE = 11;
const WIDEST = 1790;

/** The widths of the columns of an area that hold something, in pixels. */
export function fittingWidth(book: HostBook, sheetId: string, area: Area): Map<number, number> {
  const widths = new Map<number, number>();
  for (const [at, value] of book.sheet(sheetId).values) {
    const {row, column} = cellOfKey(at);
    if (!within(area, row, column)) continue;
    const {numberFormat, size = USUAL_SIZE, bold, wrap} = book.look(sheetId, row, column);
    if (wrap) continue;
    const lines = shownText(value, numberFormat).split('\n');
    const characters = Math.max(...lines.map((line) => [...line].length));
    const width = Math.ceil(characters * DIGIT * (size / USUAL_SIZE) * (bold ? 1.08 : 1)) + BESIDE;
    widths.set(column, Math.min(WIDEST, Math.max(widths.get(column) ?? 0, width)));
  }
  return widths;
}

/** The heights of the rows of an area that hold something, in pixels. */
export function fittingHeight(book: HostBook, sheetId: string, area: Area): Map<number, number> {
  const heights = new Map<number, number>();
  for (const [at, value] of book.sheet(sheetId).values) {
    const {row, column} = cellOfKey(at);
    if (!within(area, row, column)) continue;
    const {numberFormat, size = USUAL_SIZE} = book.look(sheetId, row, column);
    const lines = shownText(value, numberFormat).split('\n').length;
    const height = Math.ceil(lines * LINE * (size / USUAL_SIZE));
    heights.set(row, Math.max(heights.get(row) ?? 0, height));
  }
  return heights;
}
