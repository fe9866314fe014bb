/** A block of cells to be written in one go, worked out before anything is touched. */
import type {Area} from './addresses';

export interface BlockCell {
  /** A figure, a text, or a formula with its equals sign. */
  readonly content: string | number | boolean;
  readonly format?: string;
  readonly bold?: boolean;
}

/** Rows of cells, all of one length. Where a row is shorter the rest is left as it is empty. */
export type Block = readonly (readonly BlockCell[])[];

export const label = (content: string, bold = false): BlockCell => (bold ? {content, bold} : {content});
export const figure = (content: string | number, format: string): BlockCell => ({content, format});

export const blockSize = (block: Block): {rows: number; columns: number} => ({
  rows: block.length,
  columns: Math.max(...block.map((row) => row.length)),
});

/** The block as one rectangle; cells beyond a row's end are empty. */
export function contents(block: Block): (string | number | boolean)[][] {
  const {columns} = blockSize(block);
  return block.map((row) => Array.from({length: columns}, (_, i) => row[i]?.content ?? ''));
}

/** "B3" or "$C$12" as zero-based row and column; undefined for anything else. */
export function parseCellAddress(text: string): Pick<Area, 'row' | 'column'> | undefined {
  const found = /^\$?([A-Za-z]{1,3})\$?([1-9]\d{0,6})$/.exec(text.trim());
  if (found === null) return undefined;
  const column = [...found[1].toUpperCase()].reduce((n, c) => 26 * n + c.charCodeAt(0) - 64, 0) - 1;
  const row = Number(found[2]) - 1;
  return row < 1048576 && column < 16384 ? {row, column} : undefined;
}
