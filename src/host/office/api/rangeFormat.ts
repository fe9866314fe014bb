/** Excel.RangeFormat with its fill, font and borders. */
import {COLUMNS, ROWS, type Area} from '../../book/addresses';
import type {Border, CellLook, LineStyle, Side} from '../../files/looks';
import {bandAt, changeBands} from '../bands';
import {columnCount, isWholeColumns, isWholeRows, rowCount} from '../areas';
import {fittingHeight, fittingWidth} from '../fitting';
import type {LookChange} from '../lookChange';
import {Collection, number, OfficeObject, sameName, text, type Surrounding} from './officeObject';
import {invalid} from './problem';

/** Points of a pixel. */
const POINTS = 0.75;

/** The cells whose format it is. */
export interface FormattedCells {
  readonly surrounding: Surrounding;
  readonly sheetId: string;
  readonly area: Area;
}

/** Looks of an area, at most so many cells of it: what is asked is whether they agree. */
const MOST_COMPARED = 10_000;

function* looksOf({surrounding, sheetId, area}: FormattedCells): Iterable<CellLook> {
  const {book} = surrounding;
  const bottom = isWholeColumns(area) ? area.top : area.bottom;
  const right = isWholeRows(area) ? area.left : area.right;
  let count = 0;
  for (let row = area.top; row <= bottom; row++) {
    for (let column = area.left; column <= right; column++) {
      if (count++ > MOST_COMPARED) return;
      yield book.look(sheetId, row, column);
    }
  }
}

/** What all cells have; null when they differ. */
function same<T>(cells: FormattedCells, read: (look: CellLook) => T): T | null {
  let first: {value: T} | undefined;
  for (const look of looksOf(cells)) {
    const value = read(look);
    if (first && first.value !== value) return null;
    first ??= {value};
  }
  return first ? first.value : null;
}

abstract class FormatPart extends OfficeObject {
  constructor(readonly cells: FormattedCells) {
    super(cells.surrounding);
  }

  /** What all cells of the range have; null when they differ. */
  protected read<T>(of: (look: CellLook) => T): T | null {
    return same(this.cells, of);
  }

  protected change(change: LookChange): void {
    const {sheetId, area} = this.cells;
    this.mayChange(sheetId);
    this.surrounding.book.setLook(sheetId, area, change);
    this.surrounding.book.raise({kind: 'format', sheetId, area});
  }
}

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

/** What is no color is refused. */
const COLOR = /^#[0-9a-f]{6}$/i;
const NAMED_COLORS: Readonly<Record<string, string>> = {
  black: '#000000',
  white: '#FFFFFF',
  red: '#FF0000',
  green: '#008000',
  blue: '#0000FF',
  yellow: '#FFFF00',
  gray: '#808080',
  grey: '#808080',
  orange: '#FFA500',
};

/** @throws OfficeProblem when it is no color */
export function color(given: unknown): string {
  const written = text(given);
  const found = COLOR.test(written) ? written.toUpperCase() : NAMED_COLORS[written.toLowerCase()];
  if (!found) throw invalid();
  return found;
}

const BLACK = '#000000';
const WHITE = '#FFFFFF';

export class RangeFill extends FormatPart {
  readonly officeType = 'RangeFill';

  get color(): string | null {
    return this.read(({fill}) => fill ?? WHITE);
  }

  set color(given: unknown) {
    this.change({fill: given === '' ? null : color(given)});
  }

  clear(): null {
    this.change({fill: null});
    return null;
  }
}

/** Excel's own font of a cell that says nothing. */
const USUAL_FONT = {name: 'Calibri', size: 11};

export class RangeFont extends FormatPart {
  readonly officeType = 'RangeFont';

  get bold(): boolean | null {
    return this.read(({bold}) => bold === true);
  }

  set bold(given: unknown) {
    this.change({bold: given === true ? true : null});
  }

  get italic(): boolean | null {
    return this.read(({italic}) => italic === true);
  }

  set italic(given: unknown) {
    this.change({italic: given === true ? true : null});
  }

  get underline(): string | null {
    return this.read(({underline}) => (underline ? 'Single' : 'None'));
  }

  set underline(given: unknown) {
    this.change({underline: given === 'None' ? null : true});
  }

  get strikethrough(): boolean | null {
    return this.read(({strikethrough}) => strikethrough === true);
  }

  set strikethrough(given: unknown) {
    this.change({strikethrough: given === true ? true : null});
  }

  get color(): string | null {
    return this.read((look) => look.color ?? BLACK);
  }

  set color(given: unknown) {
    this.change({color: color(given)});
  }

  get name(): string | null {
    return this.read(({font}) => font ?? USUAL_FONT.name);
  }

  set name(given: unknown) {
    this.change({font: text(given)});
  }

  get size(): number | null {
    return this.read(({size}) => size ?? USUAL_FONT.size);
  }

  set size(given: unknown) {
    if (number(given) < 1 || number(given) > 409) throw invalid();
    this.change({size: number(given)});
  }
}

const BORDERS = ['EdgeTop', 'EdgeBottom', 'EdgeLeft', 'EdgeRight', 'InsideVertical', 'InsideHorizontal'] as const;
type BorderIndex = (typeof BORDERS)[number];
const DIAGONALS = ['DiagonalDown', 'DiagonalUp'];

export class RangeBorderCollection extends Collection<RangeBorder> {
  readonly officeType = 'RangeBorderCollection';

  constructor(readonly cells: FormattedCells) {
    super(cells.surrounding);
  }

  listed(): readonly RangeBorder[] {
    return BORDERS.map((index) => new RangeBorder(this.cells, index));
  }

  isMeant(item: RangeBorder, key: unknown): boolean {
    return sameName(item.index, key);
  }

  override getItem(key: unknown): RangeBorder {
    if (typeof key === 'string' && DIAGONALS.includes(key)) throw invalid('Diagonal borders are not kept here.');
    const found = this.getItemOrNullObject(key);
    if (!found) throw invalid();
    return found;
  }
}

/** Lines of office.js by style and weight, and as they are kept. */
const LINES: readonly (readonly [style: string, weight: string, line: LineStyle])[] = [
  ['Continuous', 'Thin', 'thin'],
  ['Continuous', 'Hairline', 'hair'],
  ['Continuous', 'Medium', 'medium'],
  ['Continuous', 'Thick', 'thick'],
  ['Dot', 'Thin', 'dotted'],
  ['Dash', 'Thin', 'dashed'],
  ['Dash', 'Medium', 'mediumDashed'],
  ['DashDot', 'Thin', 'dashDot'],
  ['DashDot', 'Medium', 'mediumDashDot'],
  ['DashDotDot', 'Thin', 'dashDotDot'],
  ['DashDotDot', 'Medium', 'mediumDashDotDot'],
  ['SlantDashDot', 'Medium', 'slantDashDot'],
  ['Double', 'Thick', 'double'],
];

const NO_LINE = 'None';

export class RangeBorder extends OfficeObject {
  readonly officeType = 'RangeBorder';

  constructor(
    readonly cells: FormattedCells,
    readonly index: BorderIndex,
  ) {
    super(cells.surrounding);
  }

  override identity(): Record<string, unknown> {
    return {SideIndex: this.index};
  }

  /** The cells along this border, and the side of them on which it lies. */
  get #edges(): {readonly area: Area; readonly side: Side}[] {
    const {area} = this.cells;
    const {top, left, bottom, right} = area;
    switch (this.index) {
      case 'EdgeTop':
        return [{area: {...area, bottom: top}, side: 'top'}];
      case 'EdgeBottom':
        return [{area: {...area, top: bottom}, side: 'bottom'}];
      case 'EdgeLeft':
        return [{area: {...area, right: left}, side: 'left'}];
      case 'EdgeRight':
        return [{area: {...area, left: right}, side: 'right'}];
      case 'InsideVertical':
        return left < right ? [{area: {...area, right: right - 1}, side: 'right'}] : [];
      case 'InsideHorizontal':
        return top < bottom ? [{area: {...area, bottom: bottom - 1}, side: 'bottom'}] : [];
    }
  }

  #read<T>(of: (border: Border | undefined) => T): T | null {
    const [edge] = this.#edges;
    return edge ? same({...this.cells, area: edge.area}, ({borders}) => of(borders?.[edge.side])) : null;
  }

  #change(make: (before: Border | undefined) => Border | null): void {
    const {sheetId} = this.cells;
    this.mayChange(sheetId);
    const {book} = this.surrounding;
    for (const {area, side} of this.#edges) {
      const before = book.look(sheetId, area.top, area.left).borders?.[side];
      book.setLook(sheetId, area, {borders: {[side]: make(before)}});
    }
  }

  #line(style: string, weight: string): LineStyle {
    const found = LINES.find(([s, w]) => s === style && w === weight) ?? LINES.find(([s]) => s === style);
    if (!found) throw invalid();
    return found[2];
  }

  get sideIndex(): string {
    return this.index;
  }

  get style(): string | null {
    return this.#read((border) => (border ? LINES.find(([, , line]) => line === border.style)![0] : NO_LINE));
  }

  set style(given: unknown) {
    const style = text(given);
    if (style === NO_LINE) this.#change(() => null);
    else {
      const line = this.#line(style, 'Thin');
      this.#change((before) => ({style: line, color: before?.color ?? BLACK}));
    }
  }

  get weight(): string | null {
    return this.#read((border) => (border ? LINES.find(([, , line]) => line === border.style)![1] : 'Thin'));
  }

  set weight(given: unknown) {
    const weight = text(given);
    this.#change((before) => {
      const style = before ? LINES.find(([, , line]) => line === before.style)![0] : 'Continuous';
      return {style: this.#line(style, weight), color: before?.color ?? BLACK};
    });
  }

  get color(): string | null {
    return this.#read((border) => border?.color ?? BLACK);
  }

  set color(given: unknown) {
    const wanted = color(given);
    this.#change((before) => ({style: before?.style ?? 'thin', color: wanted}));
  }
}
