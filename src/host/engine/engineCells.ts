/** Cells and sheets as they are handed to the engine. */
import type {Area} from '../book/addresses';
import {isError, type CellValue} from '../book/cells';
import type {FormulaKind} from '../book/content';

/** A cell for the engine. `shared` is the number of a group of cells with one formula; only its first brings the text. */
export interface EngineCell {
  readonly row: number;
  readonly column: number;
  readonly value?: CellValue;
  readonly formula?: {
    readonly text?: string;
    readonly shared?: string;
    readonly kind: FormulaKind;
    readonly area?: Area;
  };
}

export interface EngineSheet {
  readonly id: string;
  readonly name: string;
  readonly cells: Iterable<EngineCell>;
  readonly hiddenRows: readonly {readonly from: number; readonly to: number}[];
}

/** A cell in the engine's own words. */
export interface Stored {
  f?: string | null;
  si?: string | null;
  v?: string | number | null;
  t?: number | null;
  p?: null;
  s?: string;
}

/** CellValueType of the engine. */
const TEXT = 1;
const NUMBER = 2;
const BOOLEAN = 3;

export function stored({value = null, formula}: EngineCell): Stored {
  if (formula) {
    // What was calculated before is not handed over: it could be wrong.
    return {
      ...(formula.text === undefined ? {} : {f: formula.text}),
      ...(formula.shared === undefined ? {} : {si: formula.shared}),
    };
  }
  if (typeof value === 'number') return {v: value, t: NUMBER};
  if (typeof value === 'boolean') return {v: value ? 1 : 0, t: BOOLEAN};
  if (isError(value)) return {v: value.code, t: TEXT};
  return value === null ? {} : {v: value, t: TEXT};
}

export function hiddenRowData(rows: EngineSheet['hiddenRows']) {
  const data: Record<number, {hd: number}> = {};
  for (const {from, to} of rows) {
    for (let row = from; row <= to; row++) data[row] = {hd: 1};
  }
  return data;
}
