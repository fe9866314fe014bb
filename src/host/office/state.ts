/** What the workbook of the host holds beside the contents of cells: immutable records that edits replace. */
import type {Area} from '../book/addresses';
import type {ConditionalFormat} from '../files/conditionalFormats';
import type {CellLook} from '../files/looks';

/** Rows or columns from one to another, zero-based, both included, that differ from the usual ones. */
export interface Band {
  readonly from: number;
  readonly to: number;
  /** In pixels, 0 when hidden; undefined for the usual one. */
  readonly size: number | undefined;
  readonly look: CellLook | undefined;
}

export type Visibility = 'Visible' | 'Hidden' | 'VeryHidden';

/** Cells of a sheet, which is named by its id: that stays when the sheet is renamed. */
export interface CellsOf {
  readonly sheetId: string;
  readonly area: Area;
}

export interface SheetState {
  readonly id: string;
  readonly visibility: Visibility;
  /** Such as "#1F497D"; empty for none. */
  readonly tabColor: string;
  readonly gridLines: boolean;
  readonly headings: boolean;
  /** Protected sheets refuse changes of their cells. */
  readonly protection: Protection | undefined;
  readonly frozenRows: number;
  readonly frozenColumns: number;
  /** In pixels. */
  readonly columnWidth: number;
  readonly rowHeight: number;
  readonly columns: readonly Band[];
  readonly rows: readonly Band[];
  readonly merges: readonly Area[];
  /** Those of the file. */
  readonly conditional: readonly ConditionalFormat[];
  /** Those that were added since. */
  readonly addedConditional: readonly ConditionalState[];
  readonly validations: readonly ValidationState[];
  readonly charts: readonly ChartState[];
  readonly page: PageState;
}

export interface Protection {
  readonly password: string | undefined;
  readonly options: Readonly<Record<string, unknown>>;
}

export interface TableState {
  readonly id: string;
  readonly name: string;
  readonly sheetId: string;
  /** With its header row and totals row. */
  readonly area: Area;
  readonly header: boolean;
  readonly totals: boolean;
  readonly columns: readonly TableColumnState[];
  /** Such as "TableStyleMedium2". */
  readonly style: string;
  readonly bandedRows: boolean;
  readonly bandedColumns: boolean;
  readonly filterButton: boolean;
  /** The name of the table in the file that it came from; undefined for a new one. */
  readonly origin: string | undefined;
}

export interface TableColumnState {
  readonly id: number;
  readonly name: string;
}

export interface NameState {
  readonly name: string;
  /** The sheet it is limited to. */
  readonly sheetId: string | undefined;
  /** Without "=". */
  readonly formula: string;
  readonly comment: string;
  readonly visible: boolean;
  readonly isNew: boolean;
}

/** Where a series takes its numbers or labels from, or what these are. */
export type SeriesData = CellsOf | readonly (string | number | boolean | null)[];

export interface SeriesState {
  readonly id: string;
  readonly name: string | CellsOf;
  /** Of its own; undefined for that of the chart. */
  readonly chartType: string | undefined;
  readonly values: SeriesData;
  readonly xValues: SeriesData | undefined;
  /** Everything else that was set, by its path, such as "format.line.color". */
  readonly set: Readonly<Record<string, unknown>>;
}

/** A chart as it was described; the page draws a preview of it. */
export interface ChartState {
  readonly id: string;
  readonly name: string;
  readonly chartType: string;
  readonly seriesBy: 'Columns' | 'Rows';
  readonly source: CellsOf;
  /** In points, from the sheet's upper left corner. */
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly series: readonly SeriesState[];
  /** Everything else that was set, by its path, such as "title.text" or "axes.valueAxis.minimum". */
  readonly set: Readonly<Record<string, unknown>>;
}

export interface ConditionalState {
  readonly id: string;
  readonly type: string;
  readonly areas: readonly Area[];
  /** What was set, by its path, such as "cellValue.format.fill.color" or "custom.rule.formula". */
  readonly set: Readonly<Record<string, unknown>>;
}

export interface ValidationState {
  readonly area: Area;
  /** As Excel takes it, such as {list: {inCellDropDown: true, source: "a,b"}}. */
  readonly rule: Readonly<Record<string, unknown>>;
  readonly ignoreBlanks: boolean;
  readonly prompt: Readonly<Record<string, unknown>> | undefined;
  readonly errorAlert: Readonly<Record<string, unknown>> | undefined;
}

/** The sheet on paper; lengths in points. */
export interface PageState {
  readonly orientation: 'Portrait' | 'Landscape';
  readonly paperSize: string;
  readonly topMargin: number;
  readonly bottomMargin: number;
  readonly leftMargin: number;
  readonly rightMargin: number;
  readonly headerMargin: number;
  readonly footerMargin: number;
  readonly centerHorizontally: boolean;
  readonly centerVertically: boolean;
  readonly blackAndWhite: boolean;
  readonly draftMode: boolean;
  readonly printGridlines: boolean;
  readonly printHeadings: boolean;
  readonly printOrder: 'DownThenOver' | 'OverThenDown';
  readonly printComments: string;
  readonly printErrors: string;
  readonly firstPageNumber: number | '';
  readonly zoom: PageZoom;
  readonly printArea: readonly Area[];
  readonly titleRows: Area | undefined;
  readonly titleColumns: Area | undefined;
  /** Rows above which a new page begins. */
  readonly rowBreaks: readonly number[];
  /** Columns left of which a new page begins. */
  readonly columnBreaks: readonly number[];
  /** Texts such as "Page &P of &N", by pages and place: "defaultForAllPages.leftHeader" and so on. */
  readonly headersFooters: Readonly<Record<string, string>>;
  /** Whether anything was set since the file was read. */
  readonly isSet: boolean;
}

export interface PageZoom {
  /** Per cent. */
  readonly scale?: number;
  readonly horizontalFitToPages?: number;
  readonly verticalFitToPages?: number;
}

/** Pixels of a usual column and row of Excel. */
export const USUAL_WIDTH = 64;
export const USUAL_HEIGHT = 20;

/** Excel's "normal" margins. */
const USUAL_PAGE: PageState = {
  orientation: 'Portrait',
  paperSize: 'Letter',
  topMargin: 54,
  bottomMargin: 54,
  leftMargin: 50.4,
  rightMargin: 50.4,
  headerMargin: 21.6,
  footerMargin: 21.6,
  centerHorizontally: false,
  centerVertically: false,
  blackAndWhite: false,
  draftMode: false,
  printGridlines: false,
  printHeadings: false,
  printOrder: 'DownThenOver',
  printComments: 'NoComments',
  printErrors: 'ErrorsDisplayed',
  firstPageNumber: '',
  zoom: {scale: 100},
  printArea: [],
  titleRows: undefined,
  titleColumns: undefined,
  rowBreaks: [],
  columnBreaks: [],
  headersFooters: {},
  isSet: false,
};

export const usualSheet = (id: string): SheetState => ({
  id,
  visibility: 'Visible',
  tabColor: '',
  gridLines: true,
  headings: true,
  protection: undefined,
  frozenRows: 0,
  frozenColumns: 0,
  columnWidth: USUAL_WIDTH,
  rowHeight: USUAL_HEIGHT,
  columns: [],
  rows: [],
  merges: [],
  conditional: [],
  addedConditional: [],
  validations: [],
  charts: [],
  page: USUAL_PAGE,
});
