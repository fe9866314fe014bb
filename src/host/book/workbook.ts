/** A workbook that calculates: its content, the values of its cells, and formulas evaluated within it. */
import type {EngineCell} from '../engine/engineCells';
import type {Session} from '../engine/session';
import {knownFunctions, startSession, type Engine} from '../engine/start';
import type {SheetArea} from '../formulas/dependents';
import {withoutPrefixes} from '../formulas/functionNames';
import {findSheet} from '../formulas/references';
import type {KnownFunctions, Surroundings} from '../formulas/surroundings';
import {bareFormula} from '../formulas/syntax';
import {translate} from '../formulas/translate';
import {areaAddress, cellKey, cellOfKey, oneCell, parseCell, type Area, type Place} from './addresses';
import {isError, plainMessage, sameValue, type CellError, type CellValue} from './cells';
import {alone, heir, prepareCell, prepareSheet, type FormulaState, type Prepared, type Sheet} from './cellStates';
import type {Book, CellFormula, FormulaKind} from './content';
import {extentOf, grown, type Extent} from './extent';
import {readersOf, withoutAnchor} from './readers';

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

/** Rounds after which chains of arrays that depend on each other's size are left as they are. */
const ROUNDS = 10;

export class Workbook {
  readonly #session: Session;
  readonly #sheets: readonly Sheet[];
  readonly #functions: KnownFunctions;
  #extent: Extent;
  readonly #pending = new Map<number, Map<number, EngineCell>>();

  /** Use `openBook`, which calculates. */
  constructor(
    private readonly book: Book,
    engine: Engine,
  ) {
    this.#session = startSession(engine);
    this.#functions = knownFunctions(engine);
    this.#extent = extentOf(book);
    this.#sheets = book.sheets.map(({name}) => ({name, cells: new Map(), values: new Map(), areas: new Map()}));
    this.#session.load(
      book.sheets.map(({name, cells, hiddenRows}, i) => ({
        name,
        hiddenRows,
        cells: prepareSheet(this.#sheets[i], cells, this.#surroundings()),
      })),
    );
  }

  /** The names of the sheets, in their order. */
  get sheets(): readonly string[] {
    return this.#sheets.map(({name}) => name);
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
    return formula && this.#written(formula);
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
    for (const sheet of this.#sheets) {
      for (const [at, {row, column, formula}] of sheet.cells) {
        if (!formula) continue;
        const written = (): string => this.#written(formula);
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
    const next = {row, column, value: formula ? null : content, ...(formula && {formula})};
    const bearer = heir(of, at, this.#surroundings());
    if (bearer) this.#put(of, bearer);
    this.#put(of, prepareCell(of.name, next, this.#surroundings(), true));
  }

  #put(sheet: Sheet, {state, engine}: Prepared): void {
    const at = cellKey(state.row, state.column);
    const index = this.#sheets.indexOf(sheet);
    sheet.cells.set(at, state);
    if (!this.#pending.has(index)) this.#pending.set(index, new Map());
    this.#pending.get(index)!.set(at, engine);
  }

  /** Calculates every formula anew. */
  async recalculate(): Promise<void> {
    for (let round = 0; round < ROUNDS; round++) {
      for (const [sheet, cells] of this.#pending) this.#session.write(sheet, [...cells.values()]);
      this.#pending.clear();
      if (this.#hasFormulas()) await this.#session.calculate();
      this.#collect();
      await this.#settleChains();
      if (!this.#extend()) return;
    }
  }

  /**
   * What a formula gives, without being written into a cell. It is read as if it stood at a place: by default in the
   * first cell of the first sheet.
   */
  async evaluate(formula: string, at: {sheet: string; cell: string} | undefined = undefined): Promise<Evaluation> {
    const sheet = at ? this.#sheet(at.sheet) : this.#sheets[0];
    const {row, column} = at ? cellOfKey(key(at.cell)) : {row: 0, column: 0};
    const {text, wrong} = translate(
      bareFormula(formula),
      {sheet: sheet.name, row, column},
      'dynamic',
      this.#surroundings(),
    );
    const values = await this.#session.evaluate(text, this.#sheets.indexOf(sheet), row, column);
    explain(values, wrong);
    const [[first]] = values;
    return values.length === 1 && values[0].length === 1 && isError(first) ? {error: first} : {values};
  }

  /** Ends the engine; the workbook cannot be used any more. */
  dispose(): void {
    this.#session.dispose();
  }

  /** Which formulas have to be calculated when these areas change. */
  dependents(seeds: readonly SheetArea[]): readonly Place[] {
    const {places, dependents} = readersOf(this.#sheets, this.#extent);
    return [...dependents.of(seeds)].map((reader) => places[reader]);
  }

  #surroundings(): Surroundings {
    return {
      sheets: this.sheets,
      names: this.book.names,
      tables: this.book.tables,
      usedRows: this.#extent.rows,
      usedColumns: this.#extent.columns,
      functions: this.#functions,
    };
  }

  #hasFormulas(): boolean {
    return this.#sheets.some(({cells}) => [...cells.values()].some(({formula}) => formula !== undefined));
  }

  /** Takes the results out of the engine. */
  #collect(): void {
    this.#sheets.forEach((sheet, index) => {
      const results = this.#session.results(index);
      sheet.values = new Map();
      sheet.areas = new Map();
      for (const [at, {value, formula}] of sheet.cells) {
        if ((!formula || formula.kept !== undefined) && value !== null) sheet.values.set(at, value);
      }
      for (const [at, rows] of results) {
        const {row, column} = cellOfKey(at);
        explain(rows, sheet.cells.get(at)?.formula?.translation.wrong);
        rows.forEach((cells, r) => cells.forEach((value, c) => sheet.values.set(cellKey(row + r, column + c), value)));
        if (rows.length > 1 || rows[0].length > 1) {
          sheet.areas.set(at, {
            top: row,
            left: column,
            bottom: row + rows.length - 1,
            right: column + rows[0].length - 1,
          });
        }
      }
    });
  }

  /**
   * The engine calculates what reads spilled cells a second time, which is enough for arrays that read plain cells. An
   * array that reads the spilled cells of another one, and is read itself, needs another round.
   */
  async #settleChains(): Promise<void> {
    for (let round = 0; round < ROUNDS; round++) {
      const spills = this.#sheets.flatMap(({name: sheet, areas}) => [...areas.values()].map((area) => ({sheet, area})));
      if (spills.length === 0) return;
      const {places, dependents} = readersOf(this.#sheets, this.#extent);
      const chained = [...dependents.of(spills.flatMap(withoutAnchor))].flatMap((reader) => {
        const {sheet, row, column} = places[reader];
        const at = this.#sheets.findIndex(({name}) => name === sheet);
        const area = this.#sheets[at].areas.get(cellKey(row, column));
        return area ? [{sheet: at, area}] : [];
      });
      if (chained.length === 0) return;
      const before = this.#sheets.map(({values}) => values);
      await this.#session.calculateReaders(chained);
      this.#collect();
      if (this.#sheets.every(({values}, i) => sameValues(values, before[i]))) return;
    }
  }

  /**
   * Whole rows and columns are read as far as there is content. When results go beyond, the formulas that read them are
   * translated anew; true when there is something to calculate again.
   */
  #extend(): boolean {
    const extent = this.#sheets.reduce((reached, {values}) => grown(reached, values.keys()), this.#extent);
    if (extent.rows === this.#extent.rows && extent.columns === this.#extent.columns) return false;
    this.#extent = extent;
    const surroundings = this.#surroundings();
    for (const sheet of this.#sheets) {
      for (const {row, column, value, formula} of sheet.cells.values()) {
        if (!formula?.translation.readsWhole || formula.kept !== undefined) continue;
        const content = {row, column, value, formula: alone(formula.content)};
        this.#put(sheet, prepareCell(sheet.name, content, surroundings, true));
      }
    }
    return this.#pending.size > 0;
  }

  #written({content}: FormulaState): string {
    return `=${withoutPrefixes(content.text, this.#functions)}`;
  }

  #sheet(name: string): Sheet {
    const found = findSheet(this.sheets, name);
    if (found === undefined)
      throw new RangeError(`there is no sheet ${name}; the workbook has ${this.sheets.join(', ')}`);
    return this.#sheets.find((sheet) => sheet.name === found)!;
  }
}

/** What is wrong with a formula says more than the function that got an error in place of an argument. */
function explain(rows: CellValue[][], wrong: string | undefined): void {
  const [[value]] = rows;
  if (wrong !== undefined && rows.length === 1 && rows[0].length === 1 && isError(value)) {
    rows[0][0] = {code: value.code, message: wrong};
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

function sameValues(a: ReadonlyMap<number, CellValue>, b: ReadonlyMap<number, CellValue>): boolean {
  if (a.size !== b.size) return false;
  for (const [at, value] of a) {
    const other = b.get(at);
    if (other === undefined || !sameValue(value, other)) return false;
  }
  return true;
}
