/** Collects what a sheet is going to hold. */
import {cellAddress, columnLetters} from '../addresses';
import {place, type Content, type Look, type Place, type SheetPlan} from './plan';

/** "$B$4" within the sheet. */
export const fixed = (row: number, column: number): string => `$${columnLetters(column)}$${row + 1}`;

/** "B4" within the sheet. */
export const cell = cellAddress;

export const span = (row: number, column: number, rows: number, columns: number): string =>
  `${fixed(row, column)}:${fixed(row + rows - 1, column + columns - 1)}`;

export class Pen {
  readonly cells: {row: number; column: number; content: Content}[] = [];
  readonly formats: {at: Place; format: string}[] = [];
  readonly looks: Look[] = [];
  readonly heights: {row: number; points: number}[] = [];

  put(row: number, column: number, content: Content | undefined, format?: string): void {
    if (content === undefined || content === '') return;
    this.cells.push({row, column, content});
    if (format !== undefined) this.formats.push({at: place(row, column), format});
  }

  /** Contents side by side. */
  line(row: number, column: number, contents: readonly (Content | undefined)[], look?: Omit<Look, 'at'>): void {
    contents.forEach((content, i) => this.put(row, column + i, content));
    if (look !== undefined) this.looks.push({at: place(row, column, 1, contents.length), ...look});
  }

  format(at: Place, format: string): void {
    this.formats.push({at, format});
  }

  look(at: Place, look: Omit<Look, 'at'>): void {
    this.looks.push({at, ...look});
  }

  /** A text over several columns, wrapped, with the height that so many lines take. */
  text(row: number, column: number, columns: number, content: Content | undefined, lines = 1): void {
    this.put(row, column, content);
    this.looks.push({at: place(row, column, 1, columns), merge: true, wrap: true, top: true, align: 'left'});
    this.height(row, lines);
  }

  height(row: number, lines: number): void {
    if (lines > 1) this.heights.push({row, points: 2 + 13.5 * lines});
  }

  heading(row: number, content: string): void {
    this.put(row, 0, content);
    this.looks.push({at: place(row, 0), bold: true, size: 12});
    this.heights.push({row, points: 20});
  }

  plan(rest: Pick<SheetPlan, 'name' | 'widths' | 'charts' | 'page'>): SheetPlan {
    const {cells, formats, looks, heights} = this;
    return {...rest, cells, formats, looks, heights};
  }
}
