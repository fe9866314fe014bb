/** Excel.RangeFormat. */
import {COLUMNS, ROWS} from '../../book/addresses';
import {bandAt, changeBands} from '../bands';
import {columnCount, rowCount} from '../areas';
import {fittingHeight, fittingWidth} from '../fitting';
import {FormatPart, MOST_COMPARED} from './formatParts';
import {number} from './officeObject';
import {invalid} from './problem';
import {RangeBorderCollection} from './rangeBorders';
import {RangeFill, RangeFont} from './rangeFonts';

/** Points of a pixel. */
const POINTS = 0.75;

const HORIZONTAL = {left: 'Left', center: 'Center', right: 'Right', justify: 'Justify'} as const;
const VERTICAL = {top: 'Top', center: 'Center', bottom: 'Bottom'} as const;

/** The key of a name of office.js; null for the usual one. */
function keyOf<K extends string>(
  names: Readonly<Record<K, string>>,
  given: unknown,
  usual: readonly string[],
): K | null {
  if (typeof given === 'string' && usual.includes(given)) return null;
  const found = (Object.keys(names) as K[]).find((key) => names[key] === given);
  if (found === undefined) throw invalid();
  return found;
}

export class RangeFormat extends FormatPart {
  readonly officeType = 'RangeFormat';

  get fill(): RangeFill {
    return new RangeFill(this.cells);
  }

  get font(): RangeFont {
    return new RangeFont(this.cells);
  }

  get borders(): RangeBorderCollection {
    return new RangeBorderCollection(this.cells);
  }

  get horizontalAlignment(): string | null {
    return this.read(({horizontal}) => (horizontal === undefined ? 'General' : HORIZONTAL[horizontal]));
  }

  set horizontalAlignment(given: unknown) {
    this.change({horizontal: keyOf(HORIZONTAL, given, ['General'])});
  }

  get verticalAlignment(): string | null {
    return this.read(({vertical}) => VERTICAL[vertical ?? 'bottom']);
  }

  set verticalAlignment(given: unknown) {
    this.change({vertical: keyOf(VERTICAL, given, [])});
  }

  get wrapText(): boolean | null {
    return this.read(({wrap}) => wrap === true);
  }

  set wrapText(given: unknown) {
    this.change({wrap: given === true ? true : null});
  }

  get #state() {
    return this.surrounding.book.state(this.cells.sheetId);
  }

  #sizes(kind: 'rows' | 'columns'): number[] {
    const {area} = this.cells;
    const state = this.#state;
    const [from, to, usual] =
      kind === 'rows' ? [area.top, area.bottom, state.rowHeight] : [area.left, area.right, state.columnWidth];
    return Array.from(
      {length: Math.min(to - from + 1, MOST_COMPARED)},
      (_, i) => bandAt(state[kind], from + i)?.size ?? usual,
    );
  }

  #size(kind: 'rows' | 'columns'): number | null {
    const sizes = this.#sizes(kind);
    return sizes.every((size) => size === sizes[0]) ? sizes[0] * POINTS : null;
  }

  #resize(kind: 'rows' | 'columns', size: number | undefined): void {
    const {sheetId, area} = this.cells;
    this.mayChange(sheetId);
    const [from, to] = kind === 'rows' ? [area.top, area.bottom] : [area.left, area.right];
    const bands = changeBands(this.#state[kind], from, to, () => ({size}));
    this.surrounding.book.setSheet(sheetId, {[kind]: bands}, 'sizes');
  }

  /** In points. */
  get columnWidth(): number | null {
    return this.#size('columns');
  }

  set columnWidth(given: unknown) {
    if (number(given) < 0) throw invalid();
    this.#resize('columns', Math.round(number(given) / POINTS));
  }

  get rowHeight(): number | null {
    return this.#size('rows');
  }

  set rowHeight(given: unknown) {
    if (number(given) < 0 || number(given) > 409.5) throw invalid();
    this.#resize('rows', Math.round(number(given) / POINTS));
  }

  get useStandardWidth(): boolean {
    return this.#sizes('columns').every((size) => size === this.#state.columnWidth);
  }

  set useStandardWidth(given: unknown) {
    if (given === true) this.#resize('columns', undefined);
  }

  get useStandardHeight(): boolean {
    return this.#sizes('rows').every((size) => size === this.#state.rowHeight);
  }

  set useStandardHeight(given: unknown) {
    if (given === true) this.#resize('rows', undefined);
  }

  /** As wide as the longest text; estimated from the number of its characters. */
  autofitColumns(): null {
    const {sheetId, area} = this.cells;
    this.mayChange(sheetId);
    const {book} = this.surrounding;
    book.step(() => {
      let {columns} = this.#state;
      for (const [column, width] of fittingWidth(book, sheetId, area)) {
        columns = changeBands(columns, column, column, () => ({size: width}));
      }
      book.setSheet(sheetId, {columns}, 'sizes');
    });
    return null;
  }

  autofitRows(): null {
    const {sheetId, area} = this.cells;
    this.mayChange(sheetId);
    const {book} = this.surrounding;
    let {rows} = this.#state;
    for (const [row, height] of fittingHeight(book, sheetId, area)) {
      rows = changeBands(rows, row, row, () => ({size: height}));
    }
    book.setSheet(sheetId, {rows}, 'sizes');
    return null;
  }

  /** Where the range lies on its sheet, in points. */
  offsets(): {left: number; top: number; width: number; height: number} {
    const {area} = this.cells;
    const {rows, columns, rowHeight, columnWidth} = this.#state;
    const length = (kind: typeof rows, usual: number, from: number, to: number): number =>
      kind.reduce(
        (sum, band) => {
          const overlap = Math.min(band.to, to) - Math.max(band.from, from) + 1;
          return overlap > 0 && band.size !== undefined ? sum + overlap * (band.size - usual) : sum;
        },
        (to - from + 1) * usual,
      ) * POINTS;
    return {
      left: length(columns, columnWidth, 0, area.left - 1),
      top: length(rows, rowHeight, 0, area.top - 1),
      width: length(columns, columnWidth, area.left, Math.min(area.left + columnCount(area), COLUMNS) - 1),
      height: length(rows, rowHeight, area.top, Math.min(area.top + rowCount(area), ROWS) - 1),
    };
  }

  areHidden(kind: 'rows' | 'columns'): boolean {
    return this.#sizes(kind).every((size) => size === 0);
  }

  hide(kind: 'rows' | 'columns', hidden: boolean): void {
    this.#resize(kind, hidden ? 0 : undefined);
  }
}
