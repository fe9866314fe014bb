/** A sheet as it is going to be, before Excel is touched: cells, looks, charts and page. Rows and columns count from 0. */
import type {Area} from '../addresses';

export type Content = string | number | boolean;

/** Cells of the sheet that is to be written. */
export type Place = Omit<Area, 'sheet'>;

export interface Look {
  readonly at: Place;
  readonly bold?: boolean;
  readonly italic?: boolean;
  readonly size?: number;
  readonly color?: string;
  readonly wrap?: boolean;
  readonly align?: 'left' | 'center' | 'right';
  readonly top?: boolean;
  /** A thin line below. */
  readonly line?: boolean;
  readonly merge?: boolean;
}

export interface SeriesPlan {
  readonly name: string;
  readonly values: Place;
  /** Angles of a line; columns have none. */
  readonly x: Place | undefined;
  readonly color: string;
  /** Points of line width; columns have none. */
  readonly weight: number | undefined;
  readonly dash: boolean;
}

export interface ChartPlan {
  readonly title: string;
  readonly kind: 'lines' | 'columns';
  readonly at: Place;
  readonly series: readonly SeriesPlan[];
  /** Names below the columns. */
  readonly categories: Place | undefined;
  readonly yTitle: string;
  /** Names of the series below; where it is left out the page has a key of its own. */
  readonly legend: boolean;
}

export interface PagePlan {
  readonly area: Place;
  readonly paper: 'a4' | 'letter';
  readonly header: string;
  readonly footer: string;
}

export interface SheetPlan {
  /** The name that is wanted; a number is added when it is taken. */
  readonly name: string;
  /** Contents by place: texts, figures, and formulas with their equals sign. */
  readonly cells: readonly {readonly row: number; readonly column: number; readonly content: Content}[];
  readonly formats: readonly {readonly at: Place; readonly format: string}[];
  readonly looks: readonly Look[];
  /** Widths of the columns, in characters. */
  readonly widths: readonly number[];
  /** Heights of rows that are not of the usual height, in points. */
  readonly heights: readonly {readonly row: number; readonly points: number}[];
  readonly charts: readonly ChartPlan[];
  readonly page: PagePlan;
}

export const place = (row: number, column: number, rows = 1, columns = 1): Place => ({row, column, rows, columns});

/** A name that Excel takes for a sheet: no brackets, colons, slashes, stars or question marks; 31 characters. */
export function sheetName(wanted: string): string {
  const plain = wanted
    .replace(/[[\]:*?/\\]/g, '-')
    .replace(/^'+|'+$/g, '')
    .trim()
    .slice(0, 31)
    .trim();
  return plain === '' ? 'Record' : plain;
}

/** The name itself, or the first one with a number behind it that is not taken; letter case does not count. */
export function freeName(wanted: string, taken: Iterable<string>): string {
  const used = new Set([...taken].map((name) => name.toLowerCase()));
  const name = sheetName(wanted);
  if (!used.has(name.toLowerCase())) return name;
  for (let n = 2; ; n++) {
    const ending = ` (${n})`;
    const numbered = `${name.slice(0, 31 - ending.length).trim()}${ending}`;
    if (!used.has(numbered.toLowerCase())) return numbered;
  }
}

/** Contents of a block of the sheet as rows, blanks as empty texts. */
export function matrix({cells}: SheetPlan, at: Place): Content[][] {
  const rows = Array.from({length: at.rows}, () => new Array<Content>(at.columns).fill(''));
  for (const {row, column, content} of cells) {
    const [r, c] = [row - at.row, column - at.column];
    if (r >= 0 && r < at.rows && c >= 0 && c < at.columns) rows[r][c] = content;
  }
  return rows;
}

/** The smallest block that holds all cells. */
export function extent({cells}: SheetPlan): Place {
  const rows = 1 + Math.max(...cells.map(({row}) => row));
  const columns = 1 + Math.max(...cells.map(({column}) => column));
  return place(0, 0, rows, columns);
}
