/** Finds the headings of a sheet: how many rows they take, where the records begin and end. */
import type {CellValue} from '../ledger';
import {knownWords, plain, SUMMARY} from './vocabulary';

export type Cells = readonly (readonly CellValue[])[];

export interface Headings {
  /** Row of the lowest headings, from 0. */
  readonly row: number;
  /** Rows that the headings take; two where groups stand above them. */
  readonly rows: number;
  /** One text a column: group and heading together where there are two rows. */
  readonly texts: readonly string[];
  /** Columns from the first to the last that has a heading. */
  readonly columns: {readonly first: number; readonly last: number};
  readonly firstRecord: number;
  readonly lastRecord: number;
}

const isNumber = (cell: CellValue | undefined): boolean => typeof cell === 'number';
const isText = (cell: CellValue | undefined): boolean => typeof cell === 'string' && cell.trim() !== '';
const filled = (row: readonly CellValue[]): number => row.filter((cell) => cell !== '').length;
const numbers = (row: readonly CellValue[]): number => row.filter(isNumber).length;

/** Rows looked at before giving up: titles and notes stand above headings, not a whole page. */
const DEEPEST = 15;

/** Undefined when no row looks like headings with records below. */
export function findHeadings(cells: Cells): Headings | undefined {
  for (let row = 0; row < Math.min(DEEPEST, cells.length - 1); row++) {
    if (!looksLikeHeadings(cells, row)) continue;
    const grouped = row > 0 && looksLikeGroups(cells[row - 1], cells[row]);
    const texts = grouped ? joined(cells[row - 1], cells[row]) : cells[row].map((cell) => String(cell).trim());
    return {
      row,
      rows: grouped ? 2 : 1,
      texts,
      columns: headed(cells[row]),
      firstRecord: row + 1,
      lastRecord: lastRecord(cells, row + 1),
    };
  }
  return undefined;
}

const headed = (head: readonly CellValue[]): {first: number; last: number} => ({
  first: head.findIndex((cell) => cell !== ''),
  last: head.reduce<number>((last, cell, i) => (cell === '' ? last : i), 0),
});

/**
 * Headings fill most of the width, and the row below holds numbers where they hold words, or numbers that count up and
 * are no readings (0, 22.5, … or 1, 2, …).
 */
function looksLikeHeadings(cells: Cells, row: number): boolean {
  const head = cells[row];
  const below = cells[row + 1];
  const width = Math.max(...cells.slice(row, row + 6).map(filled));
  if (filled(head) < Math.max(3, 0.6 * width) || filled(below) < 2) return false;
  const words = head.filter(isText).length;
  if (words >= 0.5 * filled(head)) {
    // Records of words alone (wheel, vehicle, size) are told from their headings by what the headings say.
    if (knownWords(head.filter(isText).map(String)) >= 2 && knownWords(below.filter(isText).map(String)) === 0)
      return true;
    const changed = head.filter((cell, i) => isText(cell) && (isNumber(below[i]) || below[i] === '')).length;
    return changed >= 1 && !(numbers(below) < 1);
  }
  return words >= 1 && countsUp(head);
}

/** The numbers of a row grow from left to right, but for starting again. */
function countsUp(row: readonly CellValue[]): boolean {
  const list = row.filter((cell): cell is number => typeof cell === 'number');
  const falls = list.filter((v, i) => i > 0 && v <= list[i - 1]).length;
  return list.length >= 6 && falls <= list.length / 6 && list.every((v) => v >= 0);
}

/** Groups stand above headings: fewer texts, each over several headings. */
function looksLikeGroups(above: readonly CellValue[], head: readonly CellValue[]): boolean {
  const texts = above.filter(isText).length;
  return texts >= 2 && texts < filled(head) && numbers(above) === 0;
}

/** A group goes on to the right until the next one. */
function joined(above: readonly CellValue[], head: readonly CellValue[]): string[] {
  let group = '';
  return head.map((cell, i) => {
    const over = above[i];
    if (isText(over)) group = String(over).trim();
    return `${group} ${String(cell).trim()}`.trim();
  });
}

function lastRecord(cells: Cells, first: number): number {
  let last = first;
  for (let row = first; row < cells.length; row++) {
    // A summary says so in its first words; further right "max" may be a name.
    const label = cells[row].find(isText);
    if (label !== undefined && SUMMARY.test(plain(String(label))) && row > first) break;
    // An empty row ends the records unless they go on behind it.
    if (filled(cells[row]) === 0) {
      if (row + 1 >= cells.length || filled(cells[row + 1]) === 0) break;
      if (cells[row + 1].some((cell) => isText(cell) && SUMMARY.test(plain(String(cell))))) break;
      continue;
    }
    last = row;
  }
  return last;
}
