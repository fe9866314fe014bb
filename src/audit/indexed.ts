/** A workbook's content by its cells. */
import {cellKey, type Place} from '../host/book/addresses';
import type {CellValue} from '../host/book/cells';
import type {Book, CellContent, CellFormula} from '../host/book/content';
import {extentOf} from '../host/book/extent';
import {findSheet, type SheetList} from '../host/formulas/references';

export interface FormulaPlace extends Place {
  readonly formula: CellFormula;
  /** What the cell shows; null when it was never calculated. */
  readonly shown: CellValue;
}

interface SheetCells {
  readonly own: ReadonlyMap<number, CellContent>;
  /** Cells that show a part of another cell's array. */
  readonly spilled: ReadonlyMap<number, CellValue>;
}

export class IndexedBook {
  readonly #sheets = new Map<string, SheetCells>();
  readonly #texts = new Map<string, ReadonlyMap<number, readonly (Place & {readonly value: string})[]>>();
  readonly list: SheetList;

  constructor(readonly book: Book) {
    for (const {name, cells, arrayValues} of book.sheets) {
      this.#sheets.set(name, {
        own: new Map(cells.map((cell) => [cellKey(cell.row, cell.column), cell])),
        spilled: new Map(arrayValues.map(({row, column, value}) => [cellKey(row, column), value])),
      });
    }
    const {rows, columns} = extentOf(book);
    this.list = {sheets: book.sheets.map(({name}) => name), usedRows: rows, usedColumns: columns};
  }

  /** The content of a cell; undefined when it is blank or only shows a part of another cell's array. */
  cell({sheet, row, column}: Place): CellContent | undefined {
    return this.#cells(sheet)?.own.get(cellKey(row, column));
  }

  /** What a cell shows. */
  shown({sheet, row, column}: Place): CellValue {
    const cells = this.#cells(sheet);
    const key = cellKey(row, column);
    return cells?.own.get(key)?.value ?? cells?.spilled.get(key) ?? null;
  }

  /** Nothing is in the cell, neither typed nor calculated. */
  isBlank({sheet, row, column}: Place): boolean {
    const cells = this.#cells(sheet);
    const key = cellKey(row, column);
    const own = cells?.own.get(key);
    return own ? own.value === null && !own.formula : !cells?.spilled.has(key);
  }

  /** All formulas, sheet by sheet. */
  *formulas(): Iterable<FormulaPlace> {
    for (const {name, cells} of this.book.sheets) {
      for (const {row, column, value, formula} of cells) {
        if (formula) yield {sheet: name, row, column, formula, shown: value};
      }
    }
  }

  /** The texts that were typed into the row of a cell. */
  textsInRow({sheet, row}: Pick<Place, 'sheet' | 'row'>): (Place & {readonly value: string})[] {
    if (!this.#texts.has(sheet)) {
      const rows = new Map<number, (Place & {value: string})[]>();
      for (const cell of this.book.sheets.find(({name}) => name === sheet)?.cells ?? []) {
        if (cell.formula || typeof cell.value !== 'string') continue;
        if (!rows.has(cell.row)) rows.set(cell.row, []);
        rows.get(cell.row)!.push({sheet, row: cell.row, column: cell.column, value: cell.value});
      }
      this.#texts.set(sheet, rows);
    }
    return [...(this.#texts.get(sheet)!.get(row) ?? [])];
  }

  #cells(sheet: string): SheetCells | undefined {
    const direct = this.#sheets.get(sheet);
    if (direct) return direct;
    const name = findSheet(this.list.sheets, sheet);
    return name === undefined ? undefined : this.#sheets.get(name);
  }
}
