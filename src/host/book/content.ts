/** What a workbook holds, as read from a file, before anything is calculated. */
import type {Area} from './addresses';
import type {CellValue} from './cells';

export interface Book {
  readonly sheets: readonly SheetContent[];
  readonly names: readonly DefinedName[];
  readonly tables: readonly Table[];
  /** The dates of this workbook count from 1904. */
  readonly date1904: boolean;
}

export interface SheetContent {
  readonly name: string;
  /** In the order of the file. Cells that only show part of another cell's array are left out. */
  readonly cells: readonly CellContent[];
  /** What these left-out cells showed when the file was written. */
  readonly arrayValues: readonly CellContent[];
  readonly hiddenRows: readonly {readonly from: number; readonly to: number}[];
}

export interface CellContent {
  readonly row: number;
  readonly column: number;
  /** The stored value, for a formula what was last calculated. */
  readonly value: CellValue;
  readonly formula?: CellFormula;
}

/**
 * How a formula is stored, which decides how Excel calculates it.
 * plain: one value; where several would come, the one that belongs to the cell ("@").
 * dynamic: the result spills.
 * legacy: an array formula of fixed size.
 */
export type FormulaKind = 'plain' | 'dynamic' | 'legacy';

export interface CellFormula {
  /** Without "=", as the file has it: function names may carry prefixes. */
  readonly text: string;
  readonly kind: FormulaKind;
  /** Cells with the same number, and the same sheet and kind, hold the same formula relative to themselves. */
  readonly group?: number | undefined;
  /** The cells of an array formula when the file was written. */
  readonly area?: Area | undefined;
}

export interface DefinedName {
  readonly name: string;
  /** The sheet it is limited to. */
  readonly sheet?: string;
  /** Without "=". */
  readonly formula: string;
}

export interface Table {
  readonly name: string;
  readonly sheet: string;
  /** The whole table, with its header row and totals row. */
  readonly area: Area;
  readonly header: boolean;
  readonly totals: boolean;
  readonly columns: readonly string[];
}
