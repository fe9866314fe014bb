/** One workbook within the running engine: its formulas, their calculation and the results. */
import {cellKey, cellOfKey, COLUMNS, ROWS, type Area} from '../book/addresses';
import {cellError, type CellValue} from '../book/cells';
import type {FormulaKind} from '../book/content';
import {correctEngine, guardEngine, seekFewHiddenRows} from './corrections';
import {hiddenRowData, stored, type EngineCell, type EngineSheet, type Stored} from './engineCells';
import {single} from './helperFunctions';
import {Running} from './running';
import type {
  Injector,
  SheetData,
  StartedUniver,
  UniverLibrary,
  ValueObject,
  Variant,
  WorkbookData,
} from './univerLibrary';
import {rowsFromEngine, valueObjects} from './valueObjects';

/** What formulas gave, by cell; several values belong to the cell and those right of and below it. */
export type Results = ReadonlyMap<number, CellValue[][]>;

interface Formula {
  readonly kind: FormulaKind;
  readonly area: Area | undefined;
}

/** How a workbook looks in a grid, in the engine's own words. */
export interface Look {
  readonly styles: Readonly<Record<string, object>>;
  /** Widths, heights and the like of a sheet. */
  readonly sheet: (id: string) => Partial<SheetData>;
  /** The style of a cell. */
  readonly cell: (id: string, row: number, column: number) => string | undefined;
  /** Cells of a sheet that have a style, whether they hold something or not. */
  readonly styled: (id: string) => Iterable<{readonly row: number; readonly column: number}>;
  /** What parts of the grid beside the sheets keep, such as conditional formats. */
  readonly resources?: readonly {readonly name: string; readonly data: string}[];
}

interface SheetOfSession {
  readonly formulas: Map<number, Formula>;
  readonly results: Map<number, CellValue[][]>;
}

export interface SheetAreas {
  readonly sheet: string;
  readonly area: Area;
}

const UNIT = 'book';
let units = 0;

export class Session {
  /** The engine's name for the workbook. */
  readonly unit = `${UNIT}${units++}`;
  readonly #injector: Injector;
  readonly #running: Running;
  readonly #restore: () => void;
  /** By their ids. */
  readonly #sheets = new Map<string, SheetOfSession>();

  constructor(
    private readonly library: UniverLibrary,
    private readonly started: StartedUniver,
    private readonly runsOn: boolean,
    private readonly look?: Look,
  ) {
    this.#injector = started.univer.__getInjector();
    correctEngine(library.formula);
    guardEngine(library.formula, this.#injector);
    seekFewHiddenRows(library, this.#injector);
    this.#running = new Running(library, this.#injector);
    this.#restore = this.#keepResults();
  }

  /** Creates the workbook; nothing is calculated. */
  load(sheets: readonly EngineSheet[]): void {
    this.started.univerAPI.createWorkbook({
      id: this.unit,
      styles: {...this.look?.styles},
      resources: [...(this.look?.resources ?? [])],
      sheetOrder: sheets.map(({id}) => id),
      sheets: Object.fromEntries(sheets.map((sheet) => [sheet.id, this.#data(sheet)])),
    } as WorkbookData);
  }

  #data({id, name, cells, hiddenRows}: EngineSheet): SheetData {
    this.#sheets.set(id, {formulas: new Map(), results: new Map()});
    return this.library.core.mergeWorksheetSnapshotWithDefault({
      ...this.look?.sheet(id),
      id,
      name,
      rowCount: ROWS,
      columnCount: COLUMNS,
      cellData: this.#cellData(id, cells),
      rowData: {...hiddenRowData(hiddenRows), ...this.look?.sheet(id).rowData},
    });
  }

  #cellData(sheet: string, cells: Iterable<EngineCell>) {
    const data: Record<number, Record<number, Stored>> = {};
    for (const cell of cells) {
      (data[cell.row] ??= {})[cell.column] = stored(cell);
      this.#note(sheet, cell);
    }
    if (!this.look) return data;
    for (const {row, column} of this.look.styled(sheet)) {
      const style = this.look.cell(sheet, row, column);
      if (style !== undefined) ((data[row] ??= {})[column] ??= {}).s = style;
    }
    return data;
  }

  #note(sheet: string, {row, column, formula}: EngineCell): void {
    const key = cellKey(row, column);
    const {formulas, results} = this.#sheets.get(sheet)!;
    results.delete(key);
    if (formula) formulas.set(key, {kind: formula.kind, area: formula.area});
    else formulas.delete(key);
  }

  insertSheet(sheet: EngineSheet, index: number): void {
    this.#mutate('sheet.mutation.insert-sheet', {index, sheet: this.#data(sheet)});
  }

  removeSheet(id: string, name: string): void {
    this.#sheets.delete(id);
    this.#mutate('sheet.mutation.remove-sheet', {subUnitId: id, subUnitName: name});
  }

  renameSheet(id: string, name: string): void {
    this.#mutate('sheet.mutation.set-worksheet-name', {subUnitId: id, name});
  }

  moveSheet(id: string, from: number, to: number): void {
    this.#mutate('sheet.mutation.set-worksheet-order', {subUnitId: id, fromOrder: from, toOrder: to});
  }

  /** Changes the engine's workbook without anything being calculated or kept for undoing. */
  #mutate(mutation: string, what: object): void {
    this.#commands().syncExecuteCommand(mutation, {unitId: this.unit, ...what}, {onlyLocal: true});
  }

  /** Puts cells into a sheet; nothing is calculated. */
  write(sheet: string, cells: readonly EngineCell[]): void {
    const cellValue: Record<number, Record<number, Stored | null>> = {};
    for (const cell of cells) {
      // Every field is given, so that nothing of the former content stays.
      (cellValue[cell.row] ??= {})[cell.column] = {f: null, si: null, v: null, t: null, p: null, ...stored(cell)};
      this.#note(sheet, cell);
    }
    this.#mutate('sheet.mutation.set-range-values', {subUnitId: sheet, cellValue});
    this.#forget(sheet, cellValue);
  }

  /** What the engine remembers of the cells' former formulas: what they read, and the cells that they filled. */
  #forget(sheet: string, cells: Record<number, Record<number, Stored | null>>): void {
    const {FormulaDataModel, SetFormulaDataMutation} = this.library.formula;
    const model = this.#injector.get(FormulaDataModel);
    model.updateArrayFormulaCellData(this.unit, sheet, cells as never);
    model.updateArrayFormulaRange(this.unit, sheet, cells as never);
    this.#mutate(SetFormulaDataMutation.id, {formulaData: {[this.unit]: {[sheet]: cells}}});
  }

  /** Calculates every formula anew. */
  async calculate(): Promise<void> {
    const model = this.#injector.get(this.library.formula.FormulaDataModel);
    model.setArrayFormulaRange({});
    model.setArrayFormulaCellData({});
    for (const {results} of this.#sheets.values()) results.clear();
    await this.#running.run({forceCalculation: true});
  }

  /** Calculates again the formulas in these areas and what reads their cells. */
  async calculateAt(areas: readonly SheetAreas[]): Promise<void> {
    await this.#running.run({
      dirtyRanges: areas.map(({sheet, area}) => ({
        unitId: this.unit,
        sheetId: sheet,
        range: {startRow: area.top, startColumn: area.left, endRow: area.bottom, endColumn: area.right},
      })),
    });
  }

  /** What the formulas of a sheet gave; an error in place of several values when these found no room. */
  results(sheet: string): Results {
    const found = new Map(this.#sheets.get(sheet)!.results);
    for (const [key] of this.#withoutRoom(sheet)) found.set(key, [[cellError('#SPILL!')]]);
    return found;
  }

  /** The cells that arrays would have filled had they found room. */
  blocked(sheet: string): Area[] {
    return [...this.#withoutRoom(sheet)].map(([key, rows]) => {
      const {row, column} = cellOfKey(key);
      return {top: row, left: column, bottom: row + rows.length - 1, right: column + rows[0].length - 1};
    });
  }

  *#withoutRoom(sheet: string): Iterable<[number, CellValue[][]]> {
    const matrix = this.#matrix(sheet);
    for (const [key, rows] of this.#sheets.get(sheet)!.results) {
      if (rows.length === 1 && rows[0].length === 1) continue;
      const {row, column} = cellOfKey(key);
      if (matrix.getValue(row, column)?.v === '#SPILL!') yield [key, rows];
    }
  }

  /** The rows that a formula gives in a cell, without being written there. */
  async evaluate(text: string, sheet: string, row: number, column: number): Promise<CellValue[][]> {
    const {ICalculateFormulaService, IFormulaCurrentConfigService, IFormulaRuntimeService} = this.library.formula;
    const runtime = this.#injector.get(IFormulaRuntimeService);
    this.#injector.get(IFormulaCurrentConfigService).loadDataLite();
    runtime.reset();
    runtime.clearArrayObjectCache();
    runtime.setCurrent(row, column, ROWS, COLUMNS, sheet, this.unit);
    const service = this.#injector.get(ICalculateFormulaService) as unknown as {
      calculate(text: string): Promise<Variant | undefined>;
    };
    const variant = await service.calculate(text);
    const rows = variant ? rowsFromEngine(variant) : undefined;
    runtime.clearArrayObjectCache();
    if (!rows || rows.length === 0 || rows[0].length === 0) return [[cellError('#CALC!')]];
    return shown(rows);
  }

  /** Ends the workbook, and the engine with it unless it runs on for another one. */
  dispose(): void {
    this.#restore();
    if (this.runsOn) this.started.univerAPI.disposeUnit(this.unit);
    else this.started.univer.dispose();
  }

  #commands() {
    return this.#injector.get(this.library.core.ICommandService);
  }

  #matrix(sheet: string) {
    const book = this.started.univerAPI.getUniverSheet(this.unit);
    return book!.getSheetBySheetId(sheet)!.getSheet().getCellMatrix();
  }

  /** Results pass here on their way into the cells: exact, with the messages of errors, and still as arrays. */
  #keepResults(): () => void {
    const runtime = this.#injector.get(this.library.formula.IFormulaRuntimeService);
    const original = runtime.setRuntimeData;
    const setRuntimeData = original.bind(runtime);
    const {toEngine, arrayToEngine} = valueObjects(this.library.formula);
    runtime.setRuntimeData = (variant) => {
      const {currentRow: row, currentColumn: column, currentSubUnitId} = runtime;
      const sheet = runtime.currentUnitId === this.unit ? this.#sheets.get(currentSubUnitId) : undefined;
      const key = cellKey(row, column);
      const formula = sheet?.formulas.get(key);
      if (!sheet || !formula) return setRuntimeData(variant);
      const own = formula.kind === 'plain' ? single(variant, row, column, toEngine) : variant;
      let rows = shown(rowsFromEngine(own));
      if (rows.length === 0 || rows[0].length === 0) rows = [[cellError('#CALC!')]];
      if (formula.kind === 'legacy' && formula.area) rows = fitted(rows, formula.area);
      sheet.results.set(key, rows);
      const alone = rows.length === 1 && rows[0].length === 1;
      return setRuntimeData((alone ? toEngine(rows[0][0]) : arrayToEngine(rows)) as ValueObject);
    };
    return () => {
      runtime.setRuntimeData = original;
    };
  }
}

/** As a cell shows it: blank is 0. */
function shown(rows: CellValue[][]): CellValue[][] {
  for (const row of rows) {
    for (let i = 0; i < row.length; i++) if (row[i] === null || row[i] === 0) row[i] = 0;
  }
  return rows;
}

/** An array formula of fixed size: what is one row or column is repeated, what is missing is #N/A. */
function fitted(rows: CellValue[][], {top, left, bottom, right}: Area): CellValue[][] {
  return Array.from({length: bottom - top + 1}, (_, r) => {
    const row = rows.length === 1 ? rows[0] : rows[r];
    return Array.from({length: right - left + 1}, (__, c): CellValue => {
      const value = row?.length === 1 ? row[0] : row?.[c];
      return value === undefined ? cellError('#N/A') : value;
    });
  });
}
