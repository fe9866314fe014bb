/**
 * The open workbook of the local host: contents of cells in their calculation, and everything else that office.js asks
 * for. Panes change it in batches and the person at the grid by typing; both change it here and nowhere else.
 */
import {cellKey, cellOfKey, oneCell, within, type Area} from '../book/addresses';
import type {Calculation, Definitions} from '../book/calculation';
import type {CellValue} from '../book/cells';
import type {CellState, Sheet} from '../book/cellStates';
import {alone} from '../book/cellStates';
import type {Book, CellContent} from '../book/content';
import {NoSheetProblem} from '../book/noSheet';
import type {CellLook, Looks} from '../files/looks';
import {areaOfCells, isWholeColumns as coversColumns, isWholeRows as coversRows, sameAreas} from './areas';
import {bandAt, changeBands} from './bands';
import type {SheetChangeKind} from './changes';
import {Journal} from './journal';
import {changedLook, type LookChange} from './lookChange';
import {namesFromFile, sheetFromFile, tablesFromFile} from './fromFile';
import {usualSheet, type NameState, type SheetState, type TableState} from './state';
import type {Edit} from './steps';

export class HostBook extends Journal {
  #states = new Map<string, SheetState>();
  readonly #looks = new Map<string, Map<number, CellLook>>();
  #tables: readonly TableState[];
  #names: readonly NameState[];
  #active: string;
  /** By sheet: each remembers its own. */
  readonly #selections = new Map<string, readonly Area[]>();
  #definitionsChanged = false;
  #ids = 0;
  /** The person is typing into a cell; meanwhile requests of panes are refused, as Excel does. */
  isEditing = false;
  /** With 'Manual' nothing is calculated until a batch asks for it. */
  calculationMode: 'Automatic' | 'AutomaticExceptTables' | 'Manual' = 'Automatic';

  /** @param calculation of the same content, whose sheets are known by their ids */
  constructor(
    readonly calculation: Calculation,
    content: Pick<Book, 'names' | 'tables'> = {names: [], tables: []},
    looks?: Looks,
  ) {
    super();
    const ids = new Map(calculation.sheets.map(({name, id}) => [name, id]));
    for (const {id, name} of calculation.sheets) {
      const {state, cells} = sheetFromFile(id, name, looks);
      this.#states.set(id, state);
      this.#looks.set(id, cells);
    }
    this.#tables = tablesFromFile(content.tables, ids, looks, () => this.newId());
    this.#names = namesFromFile(content.names, ids);
    this.#active = calculation.sheets.find(({id}) => this.state(id).visibility === 'Visible')?.id ?? '';
  }

  // ---- reading ----

  /** In the order of their tabs. */
  get sheets(): readonly Sheet[] {
    return this.calculation.sheets;
  }

  /** @throws NoSheetProblem when there is none */
  sheet(id: string): Sheet {
    return this.calculation.sheet(id);
  }

  has(sheetId: string): boolean {
    return this.#states.has(sheetId);
  }

  /** @throws NoSheetProblem when there is none */
  state(id: string): SheetState {
    const found = this.#states.get(id);
    if (!found) throw new NoSheetProblem(id);
    return found;
  }

  get tables(): readonly TableState[] {
    return this.#tables;
  }

  get names(): readonly NameState[] {
    return this.#names;
  }

  tableAt(sheetId: string, row: number, column: number): TableState | undefined {
    return this.#tables.find((table) => table.sheetId === sheetId && within(table.area, row, column));
  }

  get activeSheet(): string {
    return this.#active;
  }

  /** What is selected on the active sheet, or on another one. */
  selection(sheetId = this.#active): readonly Area[] {
    return this.#selections.get(sheetId) ?? [oneCell(0, 0)];
  }

  /** What a cell shows. Before `settle` it may be out of date. */
  value(sheetId: string, row: number, column: number): CellValue {
    return this.sheet(sheetId).values.get(cellKey(row, column)) ?? null;
  }

  cell(sheetId: string, row: number, column: number): CellState | undefined {
    return this.sheet(sheetId).cells.get(cellKey(row, column));
  }

  /** The formula of a cell with "=", as a user writes it. */
  formula(sheetId: string, row: number, column: number): string | undefined {
    const formula = this.cell(sheetId, row, column)?.formula;
    return formula && this.calculation.written(formula.content);
  }

  /** How a cell looks: its own look, or else that of its row or column. */
  look(sheetId: string, row: number, column: number): CellLook {
    const own = this.#looks.get(sheetId)?.get(cellKey(row, column));
    if (own) return own;
    const {rows, columns} = this.state(sheetId);
    return bandAt(rows, row)?.look ?? bandAt(columns, column)?.look ?? {};
  }

  /** The cells of a sheet that have a look of their own. */
  *looks(sheetId: string): Iterable<{readonly row: number; readonly column: number; readonly look: CellLook}> {
    for (const [at, look] of this.#looks.get(sheetId) ?? []) yield {...cellOfKey(at), look};
  }

  /** An id that nothing in this workbook has. */
  newId(): number {
    return ++this.#ids;
  }

  get isPending(): boolean {
    return this.#definitionsChanged || this.calculation.isPending;
  }

  /** Calculates what has been changed. */
  async settle(): Promise<void> {
    if (!this.isPending) return;
    this.#defineNow();
    await this.calculation.update();
    this.raise({kind: 'calculated'});
  }

  // ---- changing ----

  /** Puts contents into cells; a blank one has neither value nor formula. They show after `settle`. */
  write(sheetId: string, contents: readonly CellContent[]): void {
    if (contents.length === 0) return;
    const before = contents.map(({row, column}) => this.content(sheetId, row, column));
    this.do({
      apply: () => this.calculation.write(this.sheet(sheetId), contents),
      revert: () => this.calculation.write(this.sheet(sheetId), before),
      cells: {sheetId, area: areaOfCells(contents)},
    });
  }

  /** What was written into a cell. */
  content(sheetId: string, row: number, column: number): CellContent {
    const state = this.cell(sheetId, row, column);
    if (!state) return {row, column, value: null};
    const {value, formula} = state;
    return formula ? {row, column, value: null, formula: alone(formula.content)} : {row, column, value};
  }

  /** Changes the look of cells; of whole rows or columns, that of cells yet to come too. */
  setLook(sheetId: string, area: Area, change: LookChange): void {
    const {top, left, bottom, right} = area;
    const isWholeRows = coversRows(area);
    const isWholeColumns = coversColumns(area);
    const looks = this.#looks.get(sheetId)!;
    const cells: number[] = [];
    if (isWholeRows || isWholeColumns) {
      for (const at of looks.keys()) {
        const {row, column} = cellOfKey(at);
        if (within(area, row, column)) cells.push(at);
      }
    } else {
      for (let row = top; row <= bottom; row++) {
        for (let column = left; column <= right; column++) cells.push(cellKey(row, column));
      }
    }
    const made = new Map<CellLook, CellLook>();
    const before = cells.map((at) => looks.get(at));
    const after = cells.map((at) => {
      const {row, column} = cellOfKey(at);
      const look = this.look(sheetId, row, column);
      if (!made.has(look)) made.set(look, changedLook(look, change));
      return made.get(look);
    });
    this.#putLooks(sheetId, area, cells, before, after);
    if (isWholeRows || isWholeColumns) {
      const [kind, from, to] = isWholeRows ? (['rows', top, bottom] as const) : (['columns', left, right] as const);
      const bands = changeBands(this.state(sheetId)[kind], from, to, ({look}) => ({
        look: changedLook(look ?? {}, change),
      }));
      this.setSheet(sheetId, {[kind]: bands}, 'sizes');
    }
  }

  /** Gives cells looks, each its own; undefined for the usual one. */
  putLooks(sheetId: string, area: Area, given: ReadonlyMap<number, CellLook | undefined>): void {
    const looks = this.#looks.get(sheetId)!;
    const cells = [...given.keys()];
    const before = cells.map((at) => looks.get(at));
    this.#putLooks(sheetId, area, cells, before, [...given.values()]);
  }

  #putLooks(
    sheetId: string,
    area: Area,
    cells: readonly number[],
    before: readonly (CellLook | undefined)[],
    after: readonly (CellLook | undefined)[],
  ): void {
    const put = (given: readonly (CellLook | undefined)[]) => (): void => {
      const looks = this.#looks.get(sheetId)!;
      cells.forEach((at, i) => {
        const look = given[i];
        if (look === undefined) looks.delete(at);
        else looks.set(at, look);
      });
      this.tell({kind: 'looks', sheetId, area});
    };
    this.do({apply: put(after), revert: put(before)});
  }

  /** Replaces parts of a sheet's state. */
  setSheet(sheetId: string, change: Partial<SheetState>, kind: SheetChangeKind): void {
    const before = this.state(sheetId);
    const put = (state: Partial<SheetState>) => (): void => {
      this.#states.set(sheetId, {...this.state(sheetId), ...state});
      this.tell({kind, sheetId});
    };
    const old = Object.fromEntries(Object.keys(change).map((key) => [key, before[key as keyof SheetState]]));
    this.do({apply: put(change), revert: put(old as Partial<SheetState>)});
  }

  setTables(tables: readonly TableState[]): void {
    const before = this.#tables;
    const put = (now: readonly TableState[]) => (): void => {
      this.#tables = now;
      this.#definitionsChanged = true;
      this.tell({kind: 'tables'});
    };
    this.do({apply: put(tables), revert: put(before)});
  }

  /** Replaces a table by its id. */
  setTable(id: string, change: Partial<TableState>): void {
    this.setTables(this.#tables.map((table) => (table.id === id ? {...table, ...change} : table)));
  }

  setNames(names: readonly NameState[]): void {
    const before = this.#names;
    const put = (now: readonly NameState[]) => (): void => {
      this.#names = now;
      this.#definitionsChanged = true;
      this.tell({kind: 'names'});
    };
    this.do({apply: put(names), revert: put(before)});
  }

  /** Adds a sheet and returns its id. */
  addSheet(name: string, index: number, contents: readonly CellContent[] = [], state?: SheetState): string {
    let id = state?.id ?? '';
    while (id === '' || (state === undefined && this.has(id))) id = `new${this.newId()}`;
    const looks = new Map<number, CellLook>();
    this.do(this.#presence({...usualSheet(id), ...state}, looks, name, index, contents));
    this.raise({kind: 'added', sheetId: id});
    return id;
  }

  /** Takes a sheet away, with its tables and names. */
  removeSheet(id: string): void {
    const sheet = this.sheet(id);
    const contents = [...sheet.cells.values()].map(({row, column}) => this.content(id, row, column));
    const index = this.sheets.indexOf(sheet);
    this.step(() => {
      if (this.#active === id) {
        const others = this.sheets.filter((one) => one !== sheet && this.state(one.id).visibility === 'Visible');
        this.activate((others.find((one) => this.sheets.indexOf(one) > index) ?? others.at(-1))?.id ?? '');
      }
      this.setTables(this.#tables.filter(({sheetId}) => sheetId !== id));
      this.setNames(this.#names.filter(({sheetId}) => sheetId !== id));
      const {apply, revert} = this.#presence(this.state(id), this.#looks.get(id)!, sheet.name, index, contents);
      this.do({apply: revert, revert: apply});
    });
    this.raise({kind: 'deleted', sheetId: id});
  }

  /** That a sheet is there. */
  #presence(
    state: SheetState,
    looks: Map<number, CellLook>,
    name: string,
    index: number,
    contents: readonly CellContent[],
  ): Edit {
    const {id} = state;
    return {
      apply: () => {
        this.#states.set(id, state);
        this.#looks.set(id, looks);
        this.calculation.addSheet({id, name, cells: contents, hiddenRows: []}, index);
        this.tell({kind: 'sheets'});
      },
      revert: () => {
        this.calculation.removeSheet(this.sheet(id));
        this.#states.delete(id);
        this.#looks.delete(id);
        if (this.#active === id) this.#active = this.sheets[0]?.id ?? '';
        this.tell({kind: 'sheets'});
      },
    };
  }

  /** Gives a sheet another name. Formulas that refer to it are not rewritten here; see structure.ts. */
  nameSheet(id: string, name: string): void {
    const before = this.sheet(id).name;
    const put = (to: string) => (): void => {
      this.calculation.renameSheet(this.sheet(id), to);
      this.#definitionsChanged = true;
      this.tell({kind: 'sheets'});
    };
    this.do({apply: put(name), revert: put(before)});
    this.raise({kind: 'renamed', sheetId: id, before, after: name});
  }

  moveSheet(id: string, to: number): void {
    const from = this.sheets.indexOf(this.sheet(id));
    if (from === to) return;
    const put = (index: number) => (): void => {
      this.calculation.moveSheet(this.sheet(id), index);
      this.tell({kind: 'sheets'});
    };
    this.do({apply: put(to), revert: put(from)});
  }

  /** Shows a sheet. */
  activate(id: string): void {
    if (id === this.#active) return;
    const before = this.#active;
    this.#active = id;
    this.tell({kind: 'active'});
    if (this.has(before)) this.raise({kind: 'deactivated', sheetId: before});
    if (!this.has(id)) return;
    this.raise({kind: 'activated', sheetId: id});
    this.raise({kind: 'selection', sheetId: id, areas: this.selection(id)});
  }

  /** Selects cells of a sheet; nothing is told when they are selected already. */
  select(sheetId: string, areas: readonly Area[]): void {
    const before = this.#selections.get(sheetId);
    if (before && sameAreas(before, areas)) return;
    this.#selections.set(sheetId, areas);
    if (sheetId !== this.#active) return;
    this.tell({kind: 'selection'});
    this.raise({kind: 'selection', sheetId, areas});
  }

  /** Formulas see other tables and names; all at once, since every formula is looked at. */
  #defineNow(): void {
    if (!this.#definitionsChanged) return;
    this.#definitionsChanged = false;
    this.calculation.define(this.definitions());
  }

  definitions(): Definitions {
    const nameOf = (id: string): string => this.sheet(id).name;
    return {
      tables: this.#tables.map(({name, sheetId, area, header, totals, columns}) => ({
        name,
        sheet: nameOf(sheetId),
        area,
        header,
        totals,
        columns: columns.map((column) => column.name),
      })),
      names: this.#names.map(({name, sheetId, formula}) => ({
        name,
        formula,
        ...(sheetId === undefined ? {} : {sheet: nameOf(sheetId)}),
      })),
    };
  }
}
