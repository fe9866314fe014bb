/** How the cells of a workbook look, as read from its file. */
import type {Area} from '../book/addresses';
import type {ConditionalFormat} from './conditionalFormats';

export type LineStyle =
  | 'thin'
  | 'hair'
  | 'dotted'
  | 'dashed'
  | 'dashDot'
  | 'dashDotDot'
  | 'double'
  | 'medium'
  | 'mediumDashed'
  | 'mediumDashDot'
  | 'mediumDashDotDot'
  | 'slantDashDot'
  | 'thick';

export interface Border {
  readonly style: LineStyle;
  /** Such as "#000000". */
  readonly color: string;
}

export type Side = 'top' | 'right' | 'bottom' | 'left';

/** What differs from an ordinary cell. Colors are such as "#1F497D". */
export interface CellLook {
  readonly numberFormat?: string;
  readonly font?: string;
  /** In points. */
  readonly size?: number;
  readonly bold?: boolean;
  readonly italic?: boolean;
  readonly underline?: boolean;
  readonly strikethrough?: boolean;
  readonly color?: string;
  readonly fill?: string;
  readonly horizontal?: 'left' | 'center' | 'right' | 'justify';
  readonly vertical?: 'top' | 'center' | 'bottom';
  readonly wrap?: boolean;
  readonly borders?: Readonly<Partial<Record<Side, Border>>>;
}

/** Rows or columns from one to another, zero-based, both included. */
export interface Band {
  readonly from: number;
  readonly to: number;
  /** In pixels; undefined for the usual one. */
  readonly size: number | undefined;
  /** Number of a look. */
  readonly look: number | undefined;
}

export interface SheetLook {
  readonly name: string;
  readonly hidden: boolean;
  readonly gridLines: boolean;
  readonly frozenRows: number;
  readonly frozenColumns: number;
  readonly columns: readonly Band[];
  readonly rows: readonly Band[];
  readonly columnWidth: number;
  readonly rowHeight: number;
  readonly merges: readonly Area[];
  readonly conditional: readonly ConditionalFormat[];
  /** The looks of cells, by their keys; blank cells too. */
  readonly cells: ReadonlyMap<number, number>;
}

export interface Looks {
  /** Looks that cells, rows and columns have by their numbers. */
  readonly looks: readonly CellLook[];
  readonly sheets: readonly SheetLook[];
  /** The style of each table, by the table's name. */
  readonly tables: ReadonlyMap<string, TableLook>;
}

export interface TableLook {
  /** Such as "TableStyleMedium2". */
  readonly style: string | undefined;
  readonly bandedRows: boolean;
}
