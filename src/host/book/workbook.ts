/** A workbook that calculates: its content, the values of its cells, and formulas evaluated within it. */
import type {Engine} from '../engine/start';
import type {SheetArea} from '../formulas/dependents';
import {findSheet} from '../formulas/references';
import {bareFormula} from '../formulas/syntax';
import {areaAddress, cellKey, cellOfKey, oneCell, parseCell, type Area, type Place} from './addresses';
import {Calculation} from './calculation';
import {isError, plainMessage, type CellError, type CellValue} from './cells';
import type {Sheet} from './cellStates';
import type {Book, CellFormula, FormulaKind} from './content';
import {extentOf} from './extent';

/** A formula cell as the host sees it. */
export interface FormulaCell extends Place {
  readonly kind: FormulaKind;
  /** With "=", as a user writes it. */
  readonly formula: string;
  /** It calls a worksheet function of ours. */
  readonly ours: boolean;
  /** The value when the file was written; null when the cell was never calculated or has been set since. */
  readonly stored: CellValue;
  /** The cells of its array when the file was written. */
  readonly storedArea: Area | undefined;
  /** The cells that it fills now. */
  readonly area: Area;
  /** Why it is not calculated: it asks for something that this host cannot do. Its stored value is kept. */
  readonly kept: string | undefined;
}

/** What a formula gave: rows of values, errors among them with their messages, or one error for all. */
export type Evaluation = {readonly values: readonly (readonly CellValue[])[]} | {readonly error: CellError};

export class Workbook {
  readonly #calculation: Calculation;

  /** Use `openBook`, which calculates. */
  constructor(book: Book, engine: Engine) {
    this.#calculation = new Calculation(
      engine,
      book.sheets.map((sheet, i) => ({...sheet, id: `s${i}`})),
      book,
      extentOf(book),
    );
  }

  /** The names of the sheets, in their order. */
  get sheets(): readonly string[] {
    return this.#calculation.sheets.map(({name}) => name);
  }

  /** What a cell shows; null when it is blank. */
  value(sheet: string, cell: string): CellValue {
    return this.#sheet(sheet).values.get(key(cell)) ?? null;
  }

  /** The same, by zero-based row and column. */
  at(sheet: string, row: number, column: number): CellValue {
    return this.#sheet(sheet).values.get(cellKey(row, column)) ?? null;
  }

  /** Why a cell shows an error, in words; undefined when it shows none. */
  message(sheet: string, cell: string): string | undefined {
    const value = this.value(sheet, cell);
    return isError(value) ? (value.message ?? plainMessage(value.code)) : undefined;
  }

  /** The formula of a cell with "=", as a user writes it; undefined when it has none. */
  formula(sheet: string, cell: string): string | undefined {
    const formula = this.#sheet(sheet).cells.get(key(cell))?.formula;
    return formula && this.#calculation.written(formula.content);
  }

  /** The cells that the formula of a cell fills, such as "B2:E2"; undefined when it fills that cell alone. */
  spill(sheet: string, cell: string): string | undefined {
    const area = this.#sheet(sheet).areas.get(key(cell));
    return area && areaAddress(area);
  }

  /** All cells of a sheet that show something. */
  *values(sheet: string): Iterable<{readonly row: number; readonly column: number; readonly value: CellValue}> {
    for (const [at, value] of this.#sheet(sheet).values) yield {...cellOfKey(at), value};
  }

  /** All formulas of the workbook. */
  *formulas(): Iterable<FormulaCell> {
    for (const sheet of this.#calculation.sheets) {
      for (const [at, {row, column, formula}] of sheet.cells) {
        if (!formula) continue;
        const written = (): string => this.#calculation.written(formula.content);
        yield {
          sheet: sheet.name,
          row,
          column,
          kind: formula.content.kind,
          // Only written out when asked for: for thousands of cells with one formula it takes its time.
          get formula() {
            return written();
          },
          ours: formula.translation.ours,
          stored: formula.stored,
          storedArea: formula.content.area,
          area: sheet.areas.get(at) ?? oneCell(row, column),
          kept: formula.kept,
        };
      }
    }
  }

  /** Puts a value or, as a text beginning with "=", a formula into a cell. It shows after `recalculate`. */
  set(sheet: string, cell: string, content: number | string | boolean | null): void {
    const of = this.#sheet(sheet);
    const at = key(cell);
    const {row, column} = cellOfKey(at);
    const isFormula = typeof content === 'string' && content.startsWith('=');
    const formula: CellFormula | undefined = isFormula ? {text: bareFormula(content), kind: 'dynamic'} : undefined;
    this.#calculation.write(of, [{row, column, value: formula ? null : content, ...(formula && {formula})}]);
  }

  /** Calculates every formula anew. */
  recalculate(): Promise<void> {
    return this.#calculation.calculate();
  }

  /** Calculates what has been set since the last calculation, and what depends on it. */
  update(): Promise<void> {
    return this.#calculation.update();
  }

  /**
   * What a formula gives, without being written into a cell. It is read as if it stood at a place: by default in the
   * first cell of the first sheet.
   */
  async evaluate(formula: string, at: {sheet: string; cell: string} | undefined = undefined): Promise<Evaluation> {
    const sheet = at ? this.#sheet(at.sheet) : this.#calculation.sheets[0];
    const {row, column} = at ? cellOfKey(key(at.cell)) : {row: 0, column: 0};
    const values = await this.#calculation.evaluate(formula, sheet, row, column);
    const [[first]] = values;
    return values.length === 1 && values[0].length === 1 && isError(first) ? {error: first} : {values};
  }

  /** Ends the engine; the workbook cannot be used any more. */
  dispose(): void {
    this.#calculation.dispose();
  }

  /** Which formulas have to be calculated when these areas change. */
  dependents(seeds: readonly SheetArea[]): readonly Place[] {
    const {places, dependents} = this.#calculation.readers;
    return [...dependents.of(seeds)].map((reader) => places[reader]);
  }

  #sheet(name: string): Sheet {
    const found = findSheet(this.sheets, name);
    if (found === undefined)
      throw new RangeError(`there is no sheet ${name}; the workbook has ${this.sheets.join(', ')}`);
    return this.#calculation.sheets.find((sheet) => sheet.name === found)!;
  }
}

/** Opens a workbook and calculates it. Stored results of formulas are not trusted. */
export async function openBook(book: Book, engine: Engine): Promise<Workbook> {
  const workbook = new Workbook(book, engine);
  await workbook.recalculate();
  return workbook;
}

function key(cell: string): number {
  const parsed = parseCell(cell);
  if (!parsed) throw new RangeError(`${cell} is not the address of a cell, such as B3`);
  return cellKey(parsed.row, parsed.column);
}
