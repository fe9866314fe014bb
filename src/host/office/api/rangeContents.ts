/** What the cells of a range hold. */
import {translateFormulaToA1, translateFormulaToR1C1} from '@borgar/fx';
import {cellAddress, cellKey, meet} from '../../book/addresses';
import type {CellValue} from '../../book/cells';
import {FormulaSyntaxError} from '../../formulas/syntax';
import {columnCount, common, contains, isWholeColumns, isWholeRows, rowCount} from '../areas';
import {plainValue, shownText, valueType} from '../cellText';
import {GENERAL} from '../entering';
import {writeRows, type Written} from '../writing';
import {text, type OfficeObject} from './officeObject';
import {denied, invalid, OfficeProblem} from './problem';
import {bookOf, RangePlace, spillsOf} from './rangePlace';

/** Cells that a batch may read at once; Excel refuses answers of more than about 5 MB. */
const MOST_CELLS = 5_000_000;

export abstract class RangeContents<R extends OfficeObject> extends RangePlace<R> {
  /** Whole rows and columns have no values of their own. */
  get #isUnbounded(): boolean {
    return isWholeRows(this.area) || isWholeColumns(this.area);
  }

  #rows<T>(read: (row: number, column: number) => T): T[][] | null {
    if (this.#isUnbounded) return null;
    const {top, left} = this.area;
    const [rows, columns] = [rowCount(this.area), columnCount(this.area)];
    if (rows * columns > MOST_CELLS) {
      throw new OfficeProblem(
        'ResponsePayloadSizeLimitExceeded',
        'The answer would be too large: ask for fewer cells.',
      );
    }
    return Array.from({length: rows}, (_, r) => Array.from({length: columns}, (__, c) => read(top + r, left + c)));
  }

  // ---- contents ----

  #value(row: number, column: number): CellValue {
    return bookOf(this).value(this.sheetId, row, column);
  }

  get values(): unknown {
    return this.#rows((row, column) => plainValue(this.#value(row, column)));
  }

  set values(given: unknown) {
    this.#write(given);
  }

  get formulas(): unknown {
    return this.#rows(
      (row, column) => bookOf(this).formula(this.sheetId, row, column) ?? plainValue(this.#value(row, column)),
    );
  }

  set formulas(given: unknown) {
    this.#write(given);
  }

  get formulasLocal(): unknown {
    return this.formulas;
  }

  get formulasR1C1(): unknown {
    return this.#rows((row, column) => {
      const formula = bookOf(this).formula(this.sheetId, row, column);
      if (formula === undefined) return plainValue(this.#value(row, column));
      return `=${translateFormulaToR1C1(formula.slice(1), cellAddress(row, column))}`;
    });
  }

  set formulasR1C1(given: unknown) {
    this.#write(given, (written, row, column) =>
      typeof written === 'string' && written.startsWith('=')
        ? `=${translateFormulaToA1(written.slice(1), cellAddress(row, column))}`
        : written,
    );
  }

  #write(given: unknown, translate: (written: Written, row: number, column: number) => Written = (one) => one): void {
    this.mayChange(this.sheetId);
    if (this.#isUnbounded) throw invalid();
    const rows = this.#matching(given).map((cells, r) =>
      cells.map((cell, c) => translate(cell as Written, this.area.top + r, this.area.left + c)),
    );
    checkArrays(this);
    try {
      writeRows(bookOf(this), this.sheetId, this.area, rows);
    } catch (error) {
      throw error instanceof FormulaSyntaxError ? invalid(`The formula cannot be read: ${error.message}.`) : error;
    }
  }

  /** Rows of the size of the range: a single value stands for all cells. */
  #matching(given: unknown): unknown[][] {
    const [rows, columns] = [rowCount(this.area), columnCount(this.area)];
    if (!Array.isArray(given)) {
      return Array.from({length: rows}, () => Array.from({length: columns}, () => cellOf(given)));
    }
    if (given.length !== rows || given.some((cells) => !Array.isArray(cells) || cells.length !== columns)) {
      throw invalid(
        "The number of rows or columns in the input array doesn't match the size or dimensions of the range.",
      );
    }
    return given.map((cells: unknown[]) => cells.map(cellOf));
  }

  get text(): unknown {
    return this.#rows((row, column) =>
      shownText(this.#value(row, column), bookOf(this).look(this.sheetId, row, column).numberFormat),
    );
  }

  get valueTypes(): unknown {
    return this.#rows((row, column) => valueType(this.#value(row, column)));
  }

  get numberFormat(): unknown {
    return this.#rows((row, column) => bookOf(this).look(this.sheetId, row, column).numberFormat ?? GENERAL);
  }

  set numberFormat(given: unknown) {
    this.mayChange(this.sheetId);
    if (!Array.isArray(given) || this.#isUnbounded) {
      const pattern = text(Array.isArray(given) ? (given as unknown[][])[0]?.[0] : given);
      bookOf(this).setLook(this.sheetId, this.area, {numberFormat: pattern === GENERAL ? null : pattern});
      return;
    }
    const looks = new Map(
      this.#matching(given).flatMap((cells, r) =>
        cells.flatMap((pattern, c) => {
          if (pattern === null) return [];
          const [row, column] = [this.area.top + r, this.area.left + c];
          const {numberFormat: _, ...rest} = bookOf(this).look(this.sheetId, row, column);
          const look = pattern === GENERAL || pattern === '' ? rest : {...rest, numberFormat: text(pattern)};
          return [[cellKey(row, column), look] as const];
        }),
      ),
    );
    bookOf(this).putLooks(this.sheetId, this.area, looks);
  }

  get numberFormatLocal(): unknown {
    return this.numberFormat;
  }

  get hasSpill(): boolean | null {
    const spilling = spillsOf(this).map(({spilled}) => common(spilled, this.area));
    if (spilling.every((one) => one === undefined)) return false;
    return spilling.some((one) => one && contains(one, this.area)) ? true : null;
  }
}

/**
 * An array formula of fixed size changes as a whole or not at all.
 * @throws OfficeProblem when the range has part of one
 */
export function checkArrays(range: RangePlace<OfficeObject>): void {
  for (const {formula} of bookOf(range).sheet(range.sheetId).cells.values()) {
    const area = formula?.content.kind === 'legacy' ? formula.content.area : undefined;
    if (area && meet(area, range.area) && !contains(range.area, area)) throw denied();
  }
}

const cellOf = (given: unknown): Written => {
  if (given === null || typeof given === 'string' || typeof given === 'number' || typeof given === 'boolean')
    return given;
  throw invalid();
};
