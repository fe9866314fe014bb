/** Drawing the looks of the workbook into the grid. */
import type {Area} from '../book/addresses';
import type {Band, CellLook} from '../files/looks';
import type {Grid} from './grid';
import {gridRange, gridStyle} from './gridLook';

/** Every field of a style that the host sets: what a look does not have is taken away. */
const NO_STYLE = {n: null, ff: null, fs: null, bl: null, it: null, ul: null, st: null, cl: null, bg: null, ht: null};
const NO_STYLE_BESIDE = {vt: null, tb: null};
const NO_BORDERS = {t: null, r: null, b: null, l: null};

const wholeStyle = (look: CellLook | undefined): object => {
  const style = gridStyle(look ?? {}) as {bd?: object};
  return {...NO_STYLE, ...NO_STYLE_BESIDE, ...style, bd: {...NO_BORDERS, ...style.bd}};
};

/** A band of rows or columns with the look itself in place of its number. */
export type DrawnBand = Omit<Band, 'look'> & {readonly look: CellLook | undefined};

/** One style for all cells of an area is written as it is; no more cells than these. */
const MOST_CELLS = 200_000;

export class GridView {
  constructor(
    private readonly grid: Grid,
    private readonly unit: string,
  ) {}

  #mutate(id: string, sheet: string, params: object): void {
    this.grid.mutate(`sheet.mutation.${id}`, {unitId: this.unit, subUnitId: sheet, ...params});
  }

  /** Draws the looks of the cells of an area. */
  drawLooks(
    sheet: string,
    {top, left, bottom, right}: Area,
    look: (row: number, column: number) => CellLook | undefined,
  ) {
    if ((bottom - top + 1) * (right - left + 1) > MOST_CELLS) return;
    const styles = new Map<CellLook | undefined, object>();
    const cellValue: Record<number, Record<number, {s: object}>> = {};
    for (let row = top; row <= bottom; row++) {
      const cells: Record<number, {s: object}> = (cellValue[row] = {});
      for (let column = left; column <= right; column++) {
        const of = look(row, column);
        let style = styles.get(of);
        if (!style) styles.set(of, (style = wholeStyle(of)));
        cells[column] = {s: style};
      }
    }
    this.#mutate('set-range-values', sheet, {cellValue});
  }

  /** Draws the columns anew that some bands cover, or did. */
  drawColumns(sheet: string, bands: readonly DrawnBand[], before: readonly DrawnBand[]): void {
    this.#mutate('set-col-data', sheet, {columnData: bandData(bands, before, (size) => ({w: size}))});
  }

  drawRows(sheet: string, bands: readonly DrawnBand[], before: readonly DrawnBand[]): void {
    this.#mutate('set-row-data', sheet, {rowData: bandData(bands, before, (size) => ({h: size, ia: 0}))});
  }

  freeze(sheet: string, rows: number, columns: number): void {
    this.#mutate('set-frozen', sheet, {
      startRow: rows > 0 ? rows : -1,
      startColumn: columns > 0 ? columns : -1,
      ySplit: rows,
      xSplit: columns,
    });
  }

  showGridLines(sheet: string, shown: boolean): void {
    this.#mutate('toggle-gridlines', sheet, {showGridlines: shown ? 1 : 0});
  }

  colorTab(sheet: string, color: string): void {
    this.#mutate('set-tab-color', sheet, {color});
  }

  hide(sheet: string, hidden: boolean): void {
    this.#mutate('set-worksheet-hidden', sheet, {hidden: hidden ? 1 : 0});
  }

  merge(sheet: string, now: readonly Area[], before: readonly Area[]): void {
    if (before.length > 0) this.#mutate('remove-worksheet-merge', sheet, {ranges: before.map(gridRange)});
    if (now.length > 0) this.#mutate('add-worksheet-merge', sheet, {ranges: now.map(gridRange)});
  }

  activate(sheet: string): void {
    const book = this.#book();
    if (book.getActiveSheet().getSheetId() !== sheet) book.setActiveSheet(sheet);
  }

  /** Selects cells of the sheet that is shown, and scrolls to them. */
  select(sheet: string, {top, left, bottom, right}: Area): void {
    this.activate(sheet);
    const of = this.#book().getSheetBySheetId(sheet);
    // Selecting again what a person has just selected would end the edit that the person has begun there.
    const now = of?.getSelection()?.getActiveRange()?.getRange();
    if (now?.startRow === top && now.startColumn === left && now.endRow === bottom && now.endColumn === right) return;
    of?.getRange(top, left, bottom - top + 1, right - left + 1).activate();
  }

  #book() {
    return this.grid.started.univerAPI.getUniverSheet(this.unit)!;
  }
}

/** Beyond this, bands are not drawn: each of their rows or columns would be an object of its own. */
const LONGEST_BAND = 20_000;

function bandData(
  bands: readonly DrawnBand[],
  before: readonly DrawnBand[],
  sized: (size: number) => object,
): Record<number, object | null> {
  const data: Record<number, object | null> = {};
  const each = ({from, to}: DrawnBand, draw: (i: number) => void): void => {
    for (let i = from; i <= Math.min(to, from + LONGEST_BAND); i++) draw(i);
  };
  for (const band of before) each(band, (i) => (data[i] = null));
  for (const band of bands) {
    const {size, look} = band;
    each(band, (i) => {
      data[i] = {
        ...(size === undefined || size === 0 ? {} : sized(size)),
        hd: size === 0 ? 1 : 0,
        ...(look === undefined ? {} : {s: gridStyle(look)}),
      };
    });
  }
  return data;
}
