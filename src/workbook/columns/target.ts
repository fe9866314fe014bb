/** A sheet that is filled, behind an interface, so that filling can be tried without Excel. */

export type Formulas = readonly (readonly string[])[];

/** A block of cells of the sheet, rows and columns from 0. */
export interface Block {
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
}

export interface SheetState {
  readonly isProtected: boolean;
  /** Texts of the headings row, over the records' columns. */
  readonly headings: readonly string[];
  /** Records of a table; undefined for a plain range, which has no end of its own. */
  readonly records: number | undefined;
  /** Columns of a table. */
  readonly columns: number | undefined;
}

/** The sheet that is filled. Changes are sent with send(); each is undone as one step unless they are merged. */
export interface TargetSheet {
  readonly state: () => Promise<SheetState>;
  /** What the cells hold, as formulas; empty texts where nothing is. */
  readonly read: (block: Block) => Promise<Formulas>;
  /** Gives a table so many columns; what stands beside it stays where it is and becomes part of it. */
  readonly resizeTable: (columns: number) => void;
  readonly write: (block: Block, formulas: Formulas) => void;
  readonly format: (block: Block, numberFormat: string) => void;
  readonly send: () => Promise<void>;
  readonly clear: (block: Block) => void;
}
