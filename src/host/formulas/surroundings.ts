/** What a formula is read against, and what comes out of it. */
import type {DefinedName, Table} from '../book/content';
import type {Reference, SheetList} from './references';

/** The functions that a formula may call. */
export interface KnownFunctions {
  /** The namespace of the worksheet functions, such as "WHEEL". */
  readonly namespace: string;
  /** Parameters of a worksheet function, by its name without the namespace, in capitals. */
  readonly parameters: (name: string) => readonly Parameter[] | undefined;
  /** Whether the engine has this native function. */
  readonly native: (name: string) => boolean;
}

export interface Parameter {
  readonly dimensionality: 'scalar' | 'matrix';
  readonly repeating?: boolean;
}

/** What a formula is read against. */
export interface Surroundings extends SheetList {
  readonly names: readonly DefinedName[];
  readonly tables: readonly Table[];
  readonly functions: KnownFunctions;
}

export interface Translation {
  /** The formula for the engine, with "=". */
  readonly text: string;
  /** The cells that it reads, as seen from the place it was translated for. */
  readonly reads: readonly Reference[];
  /** It also reads cells that are only known when it is calculated (OFFSET, INDIRECT). */
  readonly readsMore: boolean;
  /** It reads whole rows or columns, which end where the workbook's content does. */
  readonly readsWhole: boolean;
  /** It calls a function of the namespace. */
  readonly ours: boolean;
  /** It refers to a table, a name or a sheet by its name, and means something else when these change. */
  readonly named: boolean;
  /** What is wrong with it, when something is. */
  readonly wrong?: string;
  /** What it asks for that this host cannot do. */
  readonly beyond?: string;
  /** Filled down to other rows it keeps its meaning from this row to that one. */
  readonly rows: {readonly from: number; readonly to: number};
}
