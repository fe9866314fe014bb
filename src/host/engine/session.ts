/** One workbook within the running engine: its formulas, their calculation and the results. */
import {cellKey, cellOfKey, COLUMNS, ROWS, type Area} from '../book/addresses';
import {cellError, type CellValue} from '../book/cells';
import type {FormulaKind} from '../book/content';
import {correctEngine, guardEngine} from './corrections';
import {hiddenRowData, stored, type EngineCell, type EngineSheet, type Stored} from './engineCells';
import {single} from './helperFunctions';
import type {Injector, StartedUniver, UniverLibrary, ValueObject, Variant, WorkbookData} from './univerLibrary';
import {rowsFromEngine, valueObjects} from './valueObjects';

/** What formulas gave, by cell; several values belong to the cell and those right of and below it. */
export type Results = ReadonlyMap<number, CellValue[][]>;

interface Formula {
  readonly kind: FormulaKind;
  readonly area: Area | undefined;
}

const UNIT = 'book';
let units = 0;

export class Session {
  readonly #unit = `${UNIT}${units++}`;
  readonly #injector: Injector;
  readonly #formulas: Map<number, Formula>[] = [];
  readonly #results: Map<number, CellValue[][]>[] = [];

  constructor(
    private readonly library: UniverLibrary,
    private readonly started: StartedUniver,
  ) {
    this.#injector = started.univer.__getInjector();
    correctEngine(library.formula);
    guardEngine(library.formula, this.#injector);
    this.#keepResults();
  }

  /** Creates the workbook; nothing is calculated. */
  load(sheets: readonly EngineSheet[]): void {
    this.started.univerAPI.createWorkbook(this.#data(sheets));
  }

  #data(sheets: readonly EngineSheet[]): WorkbookData {
    const ids = sheets.map((_, i) => sheetId(i));
    return {
      id: this.#unit,
      sheetOrder: ids,
      sheets: Object.fromEntries(
        sheets.map(({name, cells, hiddenRows}, i) => {
          this.#formulas.push(new Map());
          this.#results.push(new Map());
          return [
            ids[i],
            {
              id: ids[i],
              name,
              rowCount: ROWS,
              columnCount: COLUMNS,
              cellData: this.#cellData(i, cells),
              rowData: hiddenRowData(hiddenRows),
            },
          ];
        }),
      ),
    };
  }

  #cellData(sheet: number, cells: Iterable<EngineCell>) {
    const data: Record<number, Record<number, Stored>> = {};
    for (const cell of cells) {
      (data[cell.row] ??= {})[cell.column] = stored(cell);
      this.#note(sheet, cell);
    }
    return data;
  }

  #note(sheet: number, {row, column, formula}: EngineCell): void {
    const key = cellKey(row, column);
    if (formula) this.#formulas[sheet].set(key, {kind: formula.kind, area: formula.area});
    else this.#formulas[sheet].delete(key);
  }

  /** Puts cells into a sheet; nothing is calculated. */
  write(sheet: number, cells: readonly EngineCell[]): void {
    const cellValue: Record<number, Record<number, Stored | null>> = {};
    for (const cell of cells) {
      // Every field is given, so that nothing of the former content stays.
      (cellValue[cell.row] ??= {})[cell.column] = {f: null, si: null, v: null, t: null, p: null, ...stored(cell)};
      this.#note(sheet, cell);
    }
    this.#commands().syncExecuteCommand(
      'sheet.mutation.set-range-values',
      {unitId: this.#unit, subUnitId: sheetId(sheet), cellValue},
      {onlyLocal: true},
    );
  }

  /** Calculates every formula anew. */
  async calculate(): Promise<void> {
    const model = this.#injector.get(this.library.formula.FormulaDataModel);
    model.setArrayFormulaRange({});
    model.setArrayFormulaCellData({});
    for (const results of this.#results) results.clear();
    await this.#run({forceCalculation: true});
  }

  /** Calculates again what reads the cells of these areas. */
  async calculateReaders(areas: readonly {readonly sheet: number; readonly area: Area}[]): Promise<void> {
    await this.#run({
      dirtyRanges: areas.map(({sheet, area}) => ({
        unitId: this.#unit,
        sheetId: sheetId(sheet),
        range: {startRow: area.top, startColumn: area.left, endRow: area.bottom, endColumn: area.right},
      })),
    });
  }

  async #run(what: object): Promise<void> {
    const {
      SetFormulaCalculationNotificationMutation: notification,
      SetTriggerFormulaCalculationStartMutation: trigger,
    } = this.library.formula;
    const commands = this.#commands();
    await new Promise<void>((resolve) => {
      const listening = commands.onCommandExecuted(({id, params}) => {
        if (id !== notification.id) return;
        const state = (params as {functionsExecutedState?: number}).functionsExecutedState;
        if (state === undefined || state === STOPPED) return;
        listening.dispose();
        // The results are applied by commands that are still under way.
        setTimeout(resolve, 0);
      });
      commands.syncExecuteCommand(trigger.id, {...NOTHING_DIRTY, ...what}, {onlyLocal: true});
    });
  }

  /** What the formulas of a sheet gave; an error in place of several values when these found no room. */
  results(sheet: number): Results {
    const found = new Map<number, CellValue[][]>();
    const matrix = this.#matrix(sheet);
    for (const [key, rows] of this.#results[sheet]) {
      const {row, column} = cellOfKey(key);
      const blocked = rows.length * rows[0].length > 1 && matrix.getValue(row, column)?.v === '#SPILL!';
      found.set(key, blocked ? [[cellError('#SPILL!')]] : rows);
    }
    return found;
  }

  /** The rows that a formula gives in a cell, without being written there. */
  async evaluate(text: string, sheet: number, row: number, column: number): Promise<CellValue[][]> {
    const {ICalculateFormulaService, IFormulaCurrentConfigService, IFormulaRuntimeService} = this.library.formula;
    const runtime = this.#injector.get(IFormulaRuntimeService);
    this.#injector.get(IFormulaCurrentConfigService).loadDataLite();
    runtime.reset();
    runtime.clearArrayObjectCache();
    runtime.setCurrent(row, column, ROWS, COLUMNS, sheetId(sheet), this.#unit);
    const service = this.#injector.get(ICalculateFormulaService) as unknown as {
      calculate(text: string): Promise<Variant | undefined>;
    };
    const variant = await service.calculate(text);
    const rows = variant ? rowsFromEngine(variant) : undefined;
    runtime.clearArrayObjectCache();
    if (!rows || rows.length === 0 || rows[0].length === 0) return [[cellError('#CALC!')]];
    return shown(rows);
  }

  dispose(): void {
    this.started.univer.dispose();
  }

  #commands() {
    return this.#injector.get(this.library.core.ICommandService);
  }

  #matrix(sheet: number) {
    const book = this.started.univerAPI.getUniverSheet(this.#unit);
    return book!.getSheetBySheetId(sheetId(sheet))!.getSheet().getCellMatrix();
  }

  /** Results pass here on their way into the cells: exact, with the messages of errors, and still as arrays. */
  #keepResults(): void {
    const runtime = this.#injector.get(this.library.formula.IFormulaRuntimeService);
    const setRuntimeData = runtime.setRuntimeData.bind(runtime);
    const {toEngine, arrayToEngine} = valueObjects(this.library.formula);
    runtime.setRuntimeData = (variant) => {
      const {currentRow: row, currentColumn: column, currentSubUnitId} = runtime;
      const sheet = sheetIndex(currentSubUnitId);
      const key = cellKey(row, column);
      const formula = this.#formulas[sheet]?.get(key);
      if (!formula) return setRuntimeData(variant);
      const own = formula.kind === 'plain' ? single(variant, row, column, toEngine) : variant;
      let rows = shown(rowsFromEngine(own));
      if (rows.length === 0 || rows[0].length === 0) rows = [[cellError('#CALC!')]];
      if (formula.kind === 'legacy' && formula.area) rows = fitted(rows, formula.area);
      this.#results[sheet].set(key, rows);
      const alone = rows.length === 1 && rows[0].length === 1;
      return setRuntimeData((alone ? toEngine(rows[0][0]) : arrayToEngine(rows)) as ValueObject);
    };
  }
}

const sheetId = (sheet: number): string => `s${sheet}`;
const sheetIndex = (id: string): number => Number(id.slice(1));

/** FormulaExecutedStateType.STOP_EXECUTION: the engine starts again by itself. */
const STOPPED = 1;

const NOTHING_DIRTY = {
  forceCalculation: false,
  dirtyRanges: [],
  dirtyNameMap: {},
  dirtyDefinedNameMap: {},
  dirtySuperTableMap: {},
  dirtyUnitFeatureMap: {},
  dirtyUnitOtherFormulaMap: {},
  clearDependencyTreeCache: {},
};

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
