/**
 * What the cells of a workbook hold when its formulas are calculated anew, one from the other. A formula that cannot be
 * worked out here counts with what it shows.
 */
import {cellKey, oneCell, type Area, type Place} from '../../host/book/addresses';
import {cellError, type CellValue} from '../../host/book/cells';
import type {IndexedBook} from '../indexed';
import {Evaluator, type Evaluated, type Values} from './evaluator';
import {Beyond} from './values';

/** What a formula gives, or why that is not known. */
export type Result = Evaluated | {readonly unknown: string};

/** Formulas that read each other deeper than this are taken as they show, so that no chain of them is endless. */
const DEEPEST = 400;

export class Recalculated implements Values {
  readonly evaluator: Evaluator;
  readonly #results = new Map<string, Map<number, Result | undefined>>();
  readonly #anchors = new Map<string, Map<number, Place>>();
  #depth = 0;

  constructor(private readonly book: IndexedBook) {
    this.evaluator = new Evaluator(book, this);
    for (const {name: sheet, cells} of book.book.sheets) {
      const anchors = new Map<number, Place>();
      for (const {row, column, formula} of cells) {
        if (formula?.area) this.#fill(anchors, formula.area, {sheet, row, column});
      }
      this.#anchors.set(sheet, anchors);
    }
  }

  at = (place: Place): CellValue => {
    const content = this.book.cell(place);
    const anchor = content ? place : this.#anchors.get(place.sheet)?.get(cellKey(place.row, place.column));
    if (!anchor || (content && !content.formula)) return this.book.shown(place);
    const result = this.result(anchor);
    if (!result || 'unknown' in result) return this.book.shown(place);
    return result.cells[place.row - anchor.row]?.[place.column - anchor.column] ?? null;
  };

  area = (place: Place): Area => {
    const result = this.result(place);
    const {row, column} = place;
    if (!result || 'unknown' in result) return this.book.cell(place)?.formula?.area ?? oneCell(row, column);
    return {top: row, left: column, bottom: row + result.cells.length - 1, right: column + result.cells[0].length - 1};
  };

  /** What the formula of a cell gives; undefined while it is being worked out, as in a circle of formulas. */
  result(place: Place): Result | undefined {
    const {sheet, row, column} = place;
    const of = this.#results.get(sheet) ?? new Map<number, Result | undefined>();
    this.#results.set(sheet, of);
    const key = cellKey(row, column);
    if (of.has(key)) return of.get(key);
    const formula = this.book.cell(place)?.formula;
    if (!formula) return undefined;
    if (this.#depth >= DEEPEST) return undefined;
    of.set(key, undefined);
    this.#depth++;
    let result: Result;
    try {
      result = this.#placed(this.evaluator.evaluate(formula, place), place);
    } catch (error) {
      if (!(error instanceof Beyond)) throw error;
      result = {unknown: error.message};
    } finally {
      this.#depth--;
    }
    of.set(key, result);
    if (!('unknown' in result)) this.#fill(this.#anchors.get(sheet)!, this.area(place), place);
    return result;
  }

  /** Notes which cells show a part of an array. */
  #fill(anchors: Map<number, Place>, {top, left, bottom, right}: Area, anchor: Place): void {
    if (top === bottom && left === right) return;
    for (let r = top; r <= bottom; r++) for (let c = left; c <= right; c++) anchors.set(cellKey(r, c), anchor);
  }

  /** An array that finds other contents in its way shows nothing of itself. */
  #placed(result: Evaluated, place: Place): Evaluated {
    const blocked = result.cells.some((cells, r) =>
      cells.some(
        (_, c) => (r > 0 || c > 0) && this.#isInTheWay({...place, row: place.row + r, column: place.column + c}),
      ),
    );
    return blocked ? {...result, cells: [[cellError('#SPILL!')]]} : result;
  }

  #isInTheWay(place: Place): boolean {
    const content = this.book.cell(place);
    return content !== undefined && (content.value !== null || content.formula !== undefined);
  }
}
