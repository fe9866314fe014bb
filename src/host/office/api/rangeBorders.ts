/** Excel.RangeBorder and its collection. */
import type {Area} from '../../book/addresses';
import type {Border, LineStyle, Side} from '../../files/looks';
import {BLACK, color, same, type FormattedCells} from './formatParts';
import {Collection, OfficeObject, sameName, text} from './officeObject';
import {invalid} from './problem';

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
