/** The sheets of a workbook in the engine: their cells are written, calculated, and read again with what they show. */
import type {EngineCell, EngineSheet} from '../engine/engineCells';
import type {Look, Session} from '../engine/session';
import {knownFunctions, startSession, type Engine} from '../engine/start';
import type {SheetArea} from '../formulas/dependents';
import {withoutPrefixes} from '../formulas/functionNames';
import type {KnownFunctions, Surroundings} from '../formulas/surroundings';
import {bareFormula} from '../formulas/syntax';
import {translate} from '../formulas/translate';
import {cellKey, cellOfKey, meet, oneCell, type Area} from './addresses';
import {isError, sameValue, type CellValue} from './cells';
import {alone, heir, prepareCell, prepareSheet, type Prepared, type Sheet} from './cellStates';
import type {CellContent, CellFormula, DefinedName, Table} from './content';
import {grown, type Extent} from './extent';
import {readersOf, withoutAnchor, type Readers} from './readers';
import {Renewal} from './renewal';
import {NoSheetProblem} from './noSheet';

export interface SheetToCalculate {
  readonly id: string;
  readonly name: string;
  readonly cells: readonly CellContent[];
  readonly hiddenRows: readonly {readonly from: number; readonly to: number}[];
}

/** What formulas refer to by a name. */
export interface Definitions {
  readonly names: readonly DefinedName[];
  readonly tables: readonly Table[];
}

/** Rounds after which chains of arrays that depend on each other's size are left as they are. */
const ROUNDS = 10;

export class Calculation {
  readonly #session: Session;
  readonly #functions: KnownFunctions;
  #sheets: Sheet[] = [];
  #definitions: Definitions;
  #extent: Extent;
  /** Cells that the engine has not got yet, by sheet. */
  readonly #pending = new Map<Sheet, Map<number, EngineCell>>();
  /** Areas in which something has changed since the last calculation. */
  #changed: {sheet: Sheet; area: Area}[] = [];
  #readers: Readers | undefined;

  constructor(
    engine: Engine,
    sheets: readonly SheetToCalculate[],
    definitions: Definitions,
    extent: Extent,
    look?: Look,
  ) {
    this.#session = startSession(engine, look);
    this.#functions = knownFunctions(engine);
    this.#definitions = definitions;
    this.#extent = extent;
    this.#sheets = sheets.map(emptySheet);
    this.#session.load(sheets.map((sheet, i) => this.#prepared(sheet, this.#sheets[i])));
  }

  /** The engine's name for the workbook. */
  get unit(): string {
    return this.#session.unit;
  }

  get sheets(): readonly Sheet[] {
    return this.#sheets;
  }

  /**
   * A sheet by its id.
   * @throws RangeError when there is none
   */
  sheet(id: string): Sheet {
    const found = this.#sheets.find((sheet) => sheet.id === id);
    if (!found) throw new NoSheetProblem(id);
    return found;
  }

  /** Puts contents into cells; a blank one has neither value nor formula. It shows after a calculation. */
  write(sheet: Sheet, contents: readonly CellContent[]): void {
    for (const content of contents) {
      const {row, column, value} = content;
      const at = cellKey(row, column);
      this.#inherit(sheet, at);
      // A formula that comes with a value was calculated elsewhere; that is kept when it cannot be calculated here.
      this.#put(sheet, prepareCell(sheet.name, content, this.#surroundings(), value === null));
      this.#changed.push({sheet, area: sheet.areas.get(at) ?? oneCell(row, column)});
    }
    this.#readers = undefined;
  }

  /** Another cell brings the text of the formula that it shares with this one, which is about to change. */
  #inherit(sheet: Sheet, at: number): void {
    const bearer = heir(sheet, at, this.#surroundings());
    if (!bearer) return;
    this.#put(sheet, bearer);
    const {row, column} = bearer.state;
    // The engine forgets the result of what is written into it.
    this.#changed.push({sheet, area: sheet.areas.get(cellKey(row, column)) ?? oneCell(row, column)});
  }

  #put(sheet: Sheet, {state, engine}: Prepared): void {
    const at = cellKey(state.row, state.column);
    if (state.value === null && !state.formula) sheet.cells.delete(at);
    else sheet.cells.set(at, state);
    if (!this.#pending.has(sheet)) this.#pending.set(sheet, new Map());
    this.#pending.get(sheet)!.set(at, engine);
  }

  addSheet(sheet: SheetToCalculate, index: number): void {
    const added = emptySheet(sheet);
    this.#sheets.splice(index, 0, added);
    this.#session.insertSheet(this.#prepared(sheet, added), index);
    for (const {row, column} of sheet.cells) this.#changed.push({sheet: added, area: oneCell(row, column)});
    this.#renew();
  }

  removeSheet(sheet: Sheet): void {
    this.#sheets = this.#sheets.filter((one) => one !== sheet);
    this.#pending.delete(sheet);
    this.#changed = this.#changed.filter((one) => one.sheet !== sheet);
    this.#session.removeSheet(sheet.id, sheet.name);
    this.#renew();
  }

  renameSheet(sheet: Sheet, name: string): void {
    sheet.name = name;
    this.#session.renameSheet(sheet.id, name);
    this.#renew();
  }

  moveSheet(sheet: Sheet, to: number): void {
    const from = this.#sheets.indexOf(sheet);
    this.#sheets.splice(from, 1);
    this.#sheets.splice(to, 0, sheet);
    this.#session.moveSheet(sheet.id, from, to);
    this.#renew();
  }

  /** Other names and tables: what refers to them is read anew. */
  define(definitions: Definitions): void {
    this.#definitions = definitions;
    this.#renew();
  }

  #renew(): void {
    this.#readers = undefined;
    for (const sheet of this.#sheets) {
      for (const prepared of new Renewal(sheet, this.#surroundings()).formulas()) {
        const {row, column} = prepared.state;
        this.#inherit(sheet, cellKey(row, column));
        this.#put(sheet, prepared);
        this.#changed.push({sheet, area: oneCell(row, column)});
      }
    }
  }

  /** Whether something has been written that is not calculated yet. */
  get isPending(): boolean {
    return this.#pending.size > 0 || this.#changed.length > 0;
  }

  /** Calculates every formula anew. */
  async calculate(): Promise<void> {
    this.#changed = [];
    for (let round = 0; round < ROUNDS; round++) {
      this.#send();
      if (this.#hasFormulas()) await this.#session.calculate();
      this.#collect();
      await this.#settleChains();
      if (!this.#extend()) return;
    }
  }

  /** Calculates what has been written since, and what depends on it. */
  async update(): Promise<void> {
    for (let round = 0; round < ROUNDS && this.isPending; round++) {
      this.#send();
      const areas = this.#concerned();
      this.#changed = [];
      if (areas.length > 0 && this.#hasFormulas()) await this.#session.calculateAt(areas);
      this.#collect();
      await this.#settleChains();
      this.#extend();
    }
  }

  #send(): void {
    for (const [sheet, cells] of this.#pending) this.#session.write(sheet.id, [...cells.values()]);
    this.#pending.clear();
  }

  /** The areas that have changed, arrays whose room they touch, arrays that found no room, and all that reads these. */
  #concerned(): {sheet: string; area: Area}[] {
    const seeds: SheetArea[] = [];
    for (const sheet of this.#sheets) {
      const changed = few(this.#changed.flatMap((one) => (one.sheet === sheet ? [one.area] : [])));
      if (changed.length === 0) continue;
      seeds.push(...changed.map((area) => ({sheet: sheet.name, area})));
      for (const [at, area] of sheet.areas) {
        if (changed.some((one) => meet(one, area))) seeds.push({sheet: sheet.name, area: anchor(at)});
      }
      for (const [at, value] of sheet.values) {
        if (isError(value) && value.code === '#SPILL!') seeds.push({sheet: sheet.name, area: anchor(at)});
      }
    }
    const ids = new Map(this.#sheets.map(({name, id}) => [name, id]));
    const {places, dependents} = this.#allReaders();
    const readers = [...dependents.of(seeds)].map((reader) => {
      const {sheet, row, column} = places[reader];
      return {sheet, area: oneCell(row, column)};
    });
    return [...seeds, ...readers].map(({sheet, area}) => ({sheet: ids.get(sheet)!, area}));
  }

  #allReaders(): Readers {
    return (this.#readers ??= readersOf(this.#sheets, this.#extent));
  }

  /** Which formulas read which cells, as of the last calculation. */
  get readers(): Readers {
    return this.#allReaders();
  }

  /** What a formula gives at a place, without being written there. */
  async evaluate(formula: string, sheet: Sheet, row: number, column: number): Promise<CellValue[][]> {
    const {text, wrong} = translate(
      bareFormula(formula),
      {sheet: sheet.name, row, column},
      'dynamic',
      this.#surroundings(),
    );
    const values = await this.#session.evaluate(text, sheet.id, row, column);
    explain(values, wrong);
    return values;
  }

  /** A formula with "=", as a user writes it. */
  written({text}: CellFormula): string {
    return `=${withoutPrefixes(text, this.#functions)}`;
  }

  /** Ends the workbook; it cannot be used any more. */
  dispose(): void {
    this.#session.dispose();
  }

  #prepared({id, name, cells, hiddenRows}: SheetToCalculate, sheet: Sheet): EngineSheet {
    return {id, name, hiddenRows, cells: prepareSheet(sheet, cells, this.#surroundings())};
  }

  #surroundings(): Surroundings {
    return {
      sheets: this.#sheets.map(({name}) => name),
      names: this.#definitions.names,
      tables: this.#definitions.tables,
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
    this.#readers = undefined;
    for (const sheet of this.#sheets) {
      const results = this.#session.results(sheet.id);
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
    }
  }

  /**
   * The engine calculates what reads spilled cells a second time, which is enough for arrays that read plain cells. An
   * array that reads the spilled cells of another one, and is read itself, needs another round. So does what reads cells
   * that an array would have filled, which the engine takes for filled until it finds out that there is no room.
   */
  async #settleChains(): Promise<void> {
    for (let round = 0; round < ROUNDS; round++) {
      const again = [...(round === 0 ? this.#withoutRoom() : []), ...this.#chained()];
      if (again.length === 0) return;
      const before = this.#sheets.map(({values}) => values);
      await this.#session.calculateAt(again);
      this.#collect();
      if (this.#sheets.every(({values}, i) => sameValues(values, before[i]))) return;
    }
  }

  #withoutRoom(): {sheet: string; area: Area}[] {
    return this.#sheets.flatMap(({id}) =>
      this.#session.blocked(id).flatMap((area) => withoutAnchor({sheet: id, area})),
    );
  }

  /** Arrays that depend on the spilled cells of others. */
  #chained(): {sheet: string; area: Area}[] {
    const spills = this.#sheets.flatMap(({name: sheet, areas}) => [...areas.values()].map((area) => ({sheet, area})));
    if (spills.length === 0) return [];
    const {places, dependents} = this.#allReaders();
    return [...dependents.of(spills.flatMap(withoutAnchor))].flatMap((reader) => {
      const {sheet: name, row, column} = places[reader];
      const sheet = this.#sheets.find((one) => one.name === name)!;
      const area = sheet.areas.get(cellKey(row, column));
      return area ? [{sheet: sheet.id, area}] : [];
    });
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
        this.#changed.push({sheet, area: oneCell(row, column)});
      }
    }
    return this.#pending.size > 0;
  }
}

const emptySheet = ({id, name}: SheetToCalculate): Sheet => ({
  id,
  name,
  cells: new Map(),
  values: new Map(),
  areas: new Map(),
});

const anchor = (at: number): Area => {
  const {row, column} = cellOfKey(at);
  return oneCell(row, column);
};

/** Very many areas as one around them: what is calculated without need does no harm. */
function few(areas: readonly Area[]): readonly Area[] {
  if (areas.length <= MANY) return areas;
  return [
    areas.reduce((all, {top, left, bottom, right}) => ({
      top: Math.min(all.top, top),
      left: Math.min(all.left, left),
      bottom: Math.max(all.bottom, bottom),
      right: Math.max(all.right, right),
    })),
  ];
}

const MANY = 200;

/** What is wrong with a formula says more than the function that got an error in place of an argument. */
function explain(rows: CellValue[][], wrong: string | undefined): void {
  const [[value]] = rows;
  if (wrong !== undefined && rows.length === 1 && rows[0].length === 1 && isError(value)) {
    rows[0][0] = {code: value.code, message: wrong};
  }
}

function sameValues(a: ReadonlyMap<number, CellValue>, b: ReadonlyMap<number, CellValue>): boolean {
  if (a.size !== b.size) return false;
  for (const [at, value] of a) {
    const other = b.get(at);
    if (other === undefined || !sameValue(value, other)) return false;
  }
  return true;
}
