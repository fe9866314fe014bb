/** Excel.PageLayout with headers, footers and page breaks: recorded for printing and saving. */
import {COLUMNS, ROWS, type Area} from '../../book/addresses';
import {isWholeColumns, isWholeRows} from '../areas';
import type {PageState, PageZoom} from '../state';
import {Collection, isGiven, number, OfficeObject, text, type Surrounding} from './officeObject';
import {invalid, notFound} from './problem';
import {Range} from './range';
import {Recorded, recordedClass, storeOver, type RecordedClass} from './recorded';
import {Worksheet} from './worksheet';

/** Properties that are kept as they are given. */
const KEPT = [
  'blackAndWhite',
  'bottomMargin',
  'centerHorizontally',
  'centerVertically',
  'draftMode',
  'firstPageNumber',
  'footerMargin',
  'headerMargin',
  'leftMargin',
  'orientation',
  'paperSize',
  'printComments',
  'printErrors',
  'printGridlines',
  'printHeadings',
  'printOrder',
  'rightMargin',
  'topMargin',
] as const;

const POINTS_OF: Readonly<Record<string, number>> = {Points: 1, Inches: 72, Centimeters: 72 / 2.54};
const MARGINS = ['top', 'bottom', 'left', 'right', 'header', 'footer'] as const;

export class PageLayout extends OfficeObject {
  readonly officeType = 'PageLayout';

  constructor(
    surrounding: Surrounding,
    readonly sheetId: string,
  ) {
    super(surrounding);
  }

  get state(): PageState {
    return this.surrounding.book.state(this.sheetId).page;
  }

  change(change: Partial<PageState>): void {
    this.surrounding.book.setSheet(this.sheetId, {page: {...this.state, ...change, isSet: true}}, 'page');
  }

  get zoom(): unknown {
    return this.state.zoom;
  }

  set zoom(given: unknown) {
    if (typeof given !== 'object' || given === null) throw invalid();
    const {scale} = given as PageZoom;
    if (scale !== undefined && (scale < 10 || scale > 400)) throw invalid();
    this.change({zoom: given});
  }

  #ranges(given: unknown): Area[] {
    const sheet = new Worksheet(this.surrounding, this.sheetId);
    const all =
      given instanceof Range
        ? [given]
        : text(given)
            .split(',')
            .map((one) => sheet.getRange(one));
    if (all.some(({sheetId}) => sheetId !== this.sheetId)) throw invalid();
    return all.map(({area}) => area);
  }

  setPrintArea(given: unknown): null {
    this.change({printArea: this.#ranges(given)});
    return null;
  }

  getPrintArea(): Range {
    const found = this.getPrintAreaOrNullObject();
    if (!found) throw notFound();
    return found;
  }

  /** The first block of the print area. */
  getPrintAreaOrNullObject(): Range | null {
    const [first] = this.state.printArea;
    return first ? new Range(this.surrounding, this.sheetId, first) : null;
  }

  setPrintTitleRows(given: unknown): null {
    const [{top, bottom}] = this.#ranges(given);
    this.change({titleRows: {top, bottom, left: 0, right: COLUMNS - 1}});
    return null;
  }

  setPrintTitleColumns(given: unknown): null {
    const [{left, right}] = this.#ranges(given);
    this.change({titleColumns: {left, right, top: 0, bottom: ROWS - 1}});
    return null;
  }

  getPrintTitleRowsOrNullObject(): Range | null {
    const {titleRows} = this.state;
    return titleRows && isWholeRows(titleRows) ? new Range(this.surrounding, this.sheetId, titleRows) : null;
  }

  getPrintTitleColumnsOrNullObject(): Range | null {
    const {titleColumns} = this.state;
    return titleColumns && isWholeColumns(titleColumns)
      ? new Range(this.surrounding, this.sheetId, titleColumns)
      : null;
  }

  setPrintMargins(unit: unknown, options: unknown): null {
    const points = POINTS_OF[text(unit)];
    if (!points || typeof options !== 'object' || options === null) throw invalid();
    const given = options as Readonly<Record<string, unknown>>;
    const change = MARGINS.flatMap((side) =>
      isGiven(given[side]) ? [[`${side}Margin`, number(given[side]) * points]] : [],
    );
    this.change(Object.fromEntries(change) as Partial<PageState>);
    return null;
  }

  get headersFooters(): Recorded {
    return new HeaderFooterGroup(
      this.surrounding,
      storeOver(
        () => this.state.headersFooters,
        (set) => this.change({headersFooters: set as Record<string, string>}),
      ),
      '',
    );
  }
}

for (const name of KEPT) {
  Object.defineProperty(PageLayout.prototype, name, {
    get(this: PageLayout) {
      return this.state[name];
    },
    set(this: PageLayout, given: unknown) {
      const before = this.state[name];
      if (name !== 'firstPageNumber' && typeof given !== typeof before) throw invalid();
      this.change({[name]: given});
    },
    configurable: true,
  });
}

const PLACES = {
  leftHeader: '',
  centerHeader: '',
  rightHeader: '',
  leftFooter: '',
  centerFooter: '',
  rightFooter: '',
};

const HeaderFooter = recordedClass('HeaderFooter', {values: PLACES});

const HeaderFooterGroup: RecordedClass = recordedClass('HeaderFooterGroup', {
  values: {state: 'Default', useSheetMargins: true, useSheetScale: true},
  parts: {defaultForAllPages: HeaderFooter, evenPages: HeaderFooter, firstPage: HeaderFooter, oddPages: HeaderFooter},
});

type Breaks = 'rowBreaks' | 'columnBreaks';

export class PageBreakCollection extends Collection<PageBreak> {
  readonly officeType = 'PageBreakCollection';

  constructor(
    surrounding: Surrounding,
    readonly sheetId: string,
    readonly kind: Breaks,
  ) {
    super(surrounding);
  }

  get #layout(): PageLayout {
    return new PageLayout(this.surrounding, this.sheetId);
  }

  listed(): readonly PageBreak[] {
    return this.#layout.state[this.kind].map((at) => new PageBreak(this.surrounding, this.sheetId, this.kind, at));
  }

  isMeant({at}: PageBreak, key: unknown): boolean {
    return at === key;
  }

  /** A new page begins above, or left of, the range. */
  add(given: unknown): PageBreak {
    const {area} = given instanceof Range ? given : new Worksheet(this.surrounding, this.sheetId).getRange(given);
    const at = this.kind === 'rowBreaks' ? area.top : area.left;
    if (at === 0) throw invalid();
    const others = this.#layout.state[this.kind].filter((one) => one !== at);
    this.#layout.change({[this.kind]: [...others, at].sort((a, b) => a - b)});
    return new PageBreak(this.surrounding, this.sheetId, this.kind, at);
  }

  removePageBreaks(): null {
    this.#layout.change({[this.kind]: []});
    return null;
  }
}

export class PageBreak extends OfficeObject {
  readonly officeType = 'PageBreak';

  constructor(
    surrounding: Surrounding,
    readonly sheetId: string,
    readonly kind: Breaks,
    readonly at: number,
  ) {
    super(surrounding);
  }

  override identity(): Record<string, unknown> {
    return {_Id: this.at};
  }

  get rowIndex(): number {
    return this.kind === 'rowBreaks' ? this.at : 0;
  }

  get columnIndex(): number {
    return this.kind === 'columnBreaks' ? this.at : 0;
  }

  getCellAfterBreak(): Range {
    return new Worksheet(this.surrounding, this.sheetId).getCell(this.rowIndex, this.columnIndex);
  }

  delete(): null {
    const layout = new PageLayout(this.surrounding, this.sheetId);
    layout.change({[this.kind]: layout.state[this.kind].filter((one) => one !== this.at)});
    return null;
  }
}

/** By their names in office.js. */
export const PAGE_PARTS: Readonly<Record<string, RecordedClass>> = {HeaderFooter, HeaderFooterGroup};
