/**
 * What a person does in the grid, told in the words of the host: cells filled and emptied, looks, sheets, the selection.
 * What the workbook could not follow is refused.
 */
import {cellKey, COLUMNS, ROWS, type Area} from '../book/addresses';
import type {Calculation} from '../book/calculation';
import type {CellContent} from '../book/content';
import {bareFormula} from '../formulas/syntax';
import {contentAt, eachCell, gridValue, isContent, withoutContents, type GridCell, type GridCells} from './editedCells';
import type {Grid, GridCommand} from './grid';
import {library, sheets, sheetsUi} from './univer';
import {writtenAt} from './copiedFormulas';

/** Takes what a person does; each call is one step of undoing. */
export interface Editor {
  /** Cells of a sheet got other contents; the grid shows them already. */
  readonly enter: (sheet: string, contents: readonly CellContent[]) => void;
  /** Cells of an area of a sheet got another look; the grid shows it already. */
  readonly restyle: (sheet: string, cells: readonly {readonly row: number; readonly column: number}[]) => void;
  /** Anything else in the grid's own words. False when it may not be done, because the editor does it itself. */
  readonly command: (command: GridCommand) => boolean;
  readonly undo: (step: number, back: boolean) => void;
  readonly select: (sheet: string, areas: readonly Area[]) => void;
  readonly activate: (sheet: string) => void;
}

/** The list of undoing names a step of the host with this. */
export const STEP = 'workbook-host.mutation.step';
const SET_CELLS = 'sheet.mutation.set-range-values';
/** Milliseconds between two looks at whether a cell is still being edited. */
const PAUSE = 50;
const SELECTED = 'sheet.operation.set-selections';
const TYPED = 'sheet.command.set-range-values';

interface CellsChange {
  readonly unitId: string;
  readonly subUnitId: string;
  readonly cellValue?: GridCells;
  readonly trigger?: string;
}

interface Selecting {
  readonly unitId: string;
  readonly subUnitId: string;
  readonly selections: readonly {readonly range: GridArea}[];
  readonly type?: number;
}

/** Types of selecting: the pointer is down, and it moves. */
const UNDER_WAY = [0, 1];

interface UndoItem {
  readonly unitID: string;
  readonly undoMutations: readonly GridCommand[];
  readonly redoMutations: readonly GridCommand[];
}

interface StepParams {
  readonly step: number;
  readonly back: boolean;
}

/** Wires a grid to the workbook at hand, which changes when another one is opened. */
export class Editing {
  #unit = '';
  #calculation: Calculation | undefined;
  #editor: Editor | undefined;
  /** Steps that the grid's own entry of undoing is about to stand for. */
  #steps: number[] = [];
  readonly #undo: {pushUndoRedo: (item: UndoItem) => void};

  constructor(private readonly grid: Grid) {
    this.#undo = grid.get(library.core.IUndoRedoService);
    this.#keepUndo();
    this.#showWritten();
    grid.addMutation(STEP, (params) => {
      const {step, back} = params as StepParams;
      this.#editor?.undo(step, back);
    });
    grid.before((command) => this.#editor?.command(command) ?? true);
    grid.after(({id, params}, {onlyLocal}) => {
      if (id === SET_CELLS && !onlyLocal) this.#take(params as CellsChange);
      if (id === SELECTED) this.#select(params as Selecting);
    });
    const {univerAPI} = grid.started;
    univerAPI.addEvent(univerAPI.Event.ActiveSheetChanged, ({activeSheet}) => {
      this.#editor?.activate(activeSheet.getSheetId());
    });
  }

  /** The workbook whose cells a person edits from now on. */
  attach(calculation: Calculation, editor: Editor): void {
    this.#unit = calculation.unit;
    this.#calculation = calculation;
    this.#editor = editor;
  }

  detach(): void {
    this.#editor = undefined;
    this.#calculation = undefined;
  }

  /** Whether a person is typing into a cell. */
  get isEditing(): boolean {
    return this.grid.get<{isVisible(): {visible: boolean}}>(sheetsUi.IEditorBridgeService).isVisible().visible;
  }

  /** When no cell is being typed into. */
  async rest(): Promise<void> {
    while (this.isEditing) await new Promise((resolve) => setTimeout(resolve, PAUSE));
  }

  /** A step of the host that the grid has not seen as an edit gets an entry of undoing of its own. */
  addStep(step: number): void {
    this.#undo.pushUndoRedo({
      unitID: this.#unit,
      undoMutations: [{id: STEP, params: {step, back: true} satisfies StepParams}],
      redoMutations: [{id: STEP, params: {step, back: false} satisfies StepParams}],
    });
  }

  /** A step that came of an edit in the grid: what the grid is about to keep for undoing stands for it. */
  joinStep(step: number): void {
    this.#steps.push(step);
  }

  /** The grid keeps looks for undoing; contents are kept by the host, as they were written. */
  #keepUndo(): void {
    const push = this.#undo.pushUndoRedo.bind(this.#undo);
    this.#undo.pushUndoRedo = (item) => {
      if (item.unitID !== this.#unit) return push(item);
      const steps = this.#steps.splice(0);
      const own = (back: boolean): GridCommand[] =>
        (back ? [...steps].reverse() : steps).map((step) => ({id: STEP, params: {step, back}}));
      push({
        ...item,
        undoMutations: [...item.undoMutations.flatMap(lookOnly), ...own(true)],
        redoMutations: [...item.redoMutations.flatMap(lookOnly), ...own(false)],
      });
    };
  }

  /** The editor of a cell shows the formula as it was written, not as the engine has it. */
  #showWritten(): void {
    const interceptors = this.grid.get<InstanceType<typeof sheets.SheetInterceptorService>>(
      sheets.SheetInterceptorService,
    );
    interceptors.writeCellInterceptor.intercept(sheets.BEFORE_CELL_EDIT, {
      priority: 100,
      handler: (cell, {unitId, subUnitId, row, col}, next) => {
        const calculation = unitId === this.#unit ? this.#calculation : undefined;
        const formula = calculation?.sheet(subUnitId).cells.get(cellKey(row, col))?.formula;
        return next(formula ? {...cell, f: calculation!.written(formula.content), si: null} : cell);
      },
    });
  }

  #select({unitId, subUnitId, selections, type}: Selecting): void {
    if (unitId !== this.#unit || selections.length === 0 || (type !== undefined && UNDER_WAY.includes(type))) return;
    const areas = selections.map(({range}) => areaOf(range));
    this.#editor?.select(subUnitId, areas);
    const sheet = this.grid.started.univerAPI.getUniverSheet(unitId)?.getActiveSheet();
    if (sheet?.getSheetId() === subUnitId) keepInView(sheet, areas[0]);
  }

  #take({unitId, subUnitId: id, cellValue, trigger}: CellsChange): void {
    if (unitId !== this.#unit || !cellValue || !this.#calculation || !this.#editor) return;
    const contents: CellContent[] = [];
    const restyled: {row: number; column: number}[] = [];
    for (const [row, column, cell] of eachCell(cellValue)) {
      if (isContent(cell)) contents.push(this.#content(id, row, column, trigger === TYPED));
      if (cell === null || 's' in cell) restyled.push({row, column});
    }
    if (contents.length > 0) this.#editor.enter(id, contents);
    if (restyled.length > 0) this.#editor.restyle(id, restyled);
  }

  /** What a cell of the grid holds now, as it would have been written. */
  #content(id: string, row: number, column: number, typed: boolean): CellContent {
    const calculation = this.#calculation!;
    const sheet = calculation.sheet(id);
    const cell = this.#cell(id, row, column);
    const text = cell?.f ?? (cell?.si ? this.#sharedText(id, row, column) : undefined);
    if (!text) return {row, column, value: gridValue(cell)};
    const before = contentAt(sheet, row, column);
    if (before.formula && calculation.written(before.formula) === text) return before;
    const copied = typed ? undefined : writtenAt(calculation, text, {sheet: sheet.name, row, column});
    return {row, column, value: null, formula: copied ?? {text: bareFormula(text), kind: 'dynamic'}};
  }

  #cell(id: string, row: number, column: number): GridCell | null | undefined {
    const sheet = this.grid.started.univerAPI.getUniverSheet(this.#unit)?.getSheetBySheetId(id)?.getSheet();
    return sheet?.getCellMatrix().getValue(row, column) as GridCell | undefined;
  }

  #sharedText(id: string, row: number, column: number): string | undefined {
    const model = this.grid.get<InstanceType<typeof library.formula.FormulaDataModel>>(
      library.formula.FormulaDataModel,
    );
    return model.getFormulaStringByCell(row, column, id, this.#unit) ?? undefined;
  }
}

interface Viewed {
  getVisibleRange(): GridArea | null;
  getFreeze(): {readonly xSplit: number; readonly ySplit: number};
  scrollToCell(row: number, column: number): unknown;
}

/** The grid by itself does not follow the selection out of its view beside frozen panes. */
function keepInView(sheet: Viewed, {top, left}: Area): void {
  const view = sheet.getVisibleRange();
  if (!view) return;
  const {xSplit, ySplit} = sheet.getFreeze();
  // The last rows and columns in view are cut, or too near to the edge for the editor of a cell.
  const start = (at: number, first: number, last: number, frozen: number): number =>
    at < frozen ? first : at < first ? at : at > last - 2 ? Math.min(at, first + (at - last) + 4) : first;
  const row = start(top, view.startRow, view.endRow, ySplit);
  const column = start(left, view.startColumn, view.endColumn, xSplit);
  if (row !== view.startRow || column !== view.startColumn) sheet.scrollToCell(row, column);
}

/** An entry of undoing without the contents of cells. */
function lookOnly(info: GridCommand): GridCommand[] {
  if (info.id !== SET_CELLS) return [info];
  const params = info.params as CellsChange;
  const cellValue = withoutContents(params.cellValue ?? {});
  return cellValue ? [{...info, params: {...params, cellValue}}] : [];
}

interface GridArea {
  readonly startRow: number;
  readonly startColumn: number;
  readonly endRow: number;
  readonly endColumn: number;
}

/** Whole rows and columns come without numbers. */
const areaOf = ({startRow, startColumn, endRow, endColumn}: GridArea): Area => ({
  top: startRow || 0,
  left: startColumn || 0,
  bottom: Number.isFinite(endRow) ? endRow : ROWS - 1,
  right: Number.isFinite(endColumn) ? endColumn : COLUMNS - 1,
});
