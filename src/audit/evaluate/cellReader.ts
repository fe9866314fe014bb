/** Reads the cells of ranges for a formula in a certain cell. */
import type {Area, Place} from '../../host/book/addresses';
import {cellError, type CellValue} from '../../host/book/cells';
import {fixedReference, isOneCell, type Reference} from '../../host/formulas/references';
import {Beyond, each, isGrid, isRange, type Grid, type Value} from './values';

/** What cells hold when everything is calculated. */
export interface Values {
  readonly at: (place: Place) => CellValue;
  /** The cells that the formula of a cell fills. */
  readonly area: (place: Place) => Area;
}

/** More cells than this are not read for one formula. */
const MOST_CELLS = 1_000_000;

export class CellReader {
  constructor(
    readonly values: Values,
    /** The cell of the formula. */
    readonly at: Place,
  ) {}

  /** The one cell of a range in the row or column of the formula. */
  ownCell(reference: Reference): Reference | undefined {
    const {sheet, top, left, bottom, right} = reference;
    const {row, column} = this.at;
    if (left === right && row >= top && row <= bottom)
      return fixedReference(sheet, {top: row, left, bottom: row, right});
    if (top === bottom && column >= left && column <= right)
      return fixedReference(sheet, {top, left: column, bottom, right: column});
    return undefined;
  }

  /** All cells of a value. */
  grid(value: Value): Grid {
    if (isGrid(value)) return value;
    if (!isRange(value)) return [[value]];
    const {sheet, top, left, bottom, right} = value.reference;
    if ((bottom - top + 1) * (right - left + 1) > MOST_CELLS) throw new Beyond('it reads more than a million cells');
    return Array.from({length: bottom - top + 1}, (_, r) =>
      Array.from({length: right - left + 1}, (__, c) => this.values.at({sheet, row: top + r, column: left + c})),
    );
  }

  /** How many rows and columns a value has. */
  sides(value: Value): {readonly rows: number; readonly columns: number} {
    if (isRange(value)) {
      const {top, left, bottom, right} = value.reference;
      return {rows: bottom - top + 1, columns: right - left + 1};
    }
    const grid = this.grid(value);
    return {rows: grid.length, columns: grid[0].length};
  }

  /** The one value where one is wanted. */
  single(value: Value): CellValue {
    if (isRange(value) && !isOneCell(value.reference)) {
      const own = this.ownCell(value.reference);
      return own ? this.single({reference: own}) : cellError('#VALUE!');
    }
    return this.grid(value)[0][0];
  }

  /** Applies a calculation cell by cell. One cell comes as a single value. */
  each(values: readonly Value[], calculate: (...cells: CellValue[]) => CellValue): Value {
    const result = each(
      values.map((value) => this.grid(value)),
      calculate,
    );
    return result.length === 1 && result[0].length === 1 ? result[0][0] : result;
  }
}
