/** Which cell gets which formula. Nothing is written here. */
import type {OutCell} from '../../functions/cells';
import {plain} from '../guess/vocabulary';
import type {Expression} from './expression';
import {evaluate, type Evaluating} from './evaluate';
import {formulaFor, type Printing} from './formula';
import type {Mapping} from './mapping';
import {RECIPES, type AddedColumn, type Recipe} from './recipes';
import {Records} from './records';
import {unknownClasses, type Settings} from './settings';
import {isEmpty, type SheetCells} from './source';
import {spillFor} from './spill';

export interface PlannedColumn extends AddedColumn {
  /** Column of the sheet, from 0. */
  readonly column: number;
  /** It has this heading already; only its cells are filled. */
  readonly exists: boolean;
  readonly numberFormat: string | undefined;
  /** One formula in the first record's row that spills down. */
  readonly spills: boolean;
}

export interface Plan {
  readonly mapping: Mapping;
  readonly columns: readonly PlannedColumn[];
  /** Rows of the records, from 0, that get formulas, in order. */
  readonly rows: readonly number[];
  /** The formula of a column in the row of a record. */
  readonly formula: (column: PlannedColumn, record: number) => string;
  /** What the formulas will show in a record, worked out by the functions themselves. */
  readonly figure: (column: PlannedColumn, record: number) => OutCell;
  /** What somebody should know before filling. */
  readonly warnings: readonly string[];
}

export interface Choice {
  readonly recipes: readonly string[];
  /** Fill columns that are there under the same heading, or always add new ones. */
  readonly reuse: boolean;
  /** First column of the sheet for new columns; else next to the records. */
  readonly from: number | undefined;
  /** One formula that spills, where that can be. */
  readonly spill: boolean;
  /** Today as Excel counts days. */
  readonly today: number;
}

/** Why each recipe cannot be added, by its id. */
export const missing = (mapping: Mapping, settings: Settings): Map<string, string> =>
  new Map(
    RECIPES.flatMap((recipe) => {
      const words = recipe.missing(mapping, settings);
      return words === undefined ? [] : [[recipe.id, words] as const];
    }),
  );

/** Expressions of every recipe that the sheet has the cells for, added or not. */
function expressionsOf(mapping: Mapping, settings: Settings): Map<string, Expression> {
  const possible = RECIPES.filter((recipe) => recipe.missing(mapping, settings) === undefined);
  return new Map(
    possible.flatMap((recipe) => recipe.columns(mapping).map(({id, expression}) => [id, expression] as const)),
  );
}

export function makePlan(mapping: Mapping, settings: Settings, choice: Choice): Plan {
  const chosen = RECIPES.filter(
    (recipe: Recipe) => choice.recipes.includes(recipe.id) && recipe.missing(mapping, settings) === undefined,
  );
  const records = new Records(mapping);
  const expressions = expressionsOf(mapping, settings);
  const placed = place(
    chosen.flatMap((recipe) => recipe.columns(mapping)),
    mapping,
    choice,
  );
  const printing: Printing = {
    records,
    settings,
    expressions,
    added: new Map(placed.map(({id, column, heading}) => [id, {column, heading}])),
  };
  const spilled = new Map<string, string>();
  if (choice.spill)
    for (const {id, expression} of placed) {
      const formula = spillFor(expression, printing);
      if (formula !== undefined) spilled.set(id, formula);
    }
  const columns = placed.map((column) => ({
    ...column,
    numberFormat: numberFormat(column.format, mapping),
    spills: spilled.has(column.id),
  }));
  const unequal = new Set(records.rows.filter((record) => records.unequalSides(record).length > 0));
  const evaluating: Evaluating = {records, settings, expressions, today: choice.today};
  // A table's column holds one formula throughout; in a plain range a formula stands where a record does.
  const rows =
    mapping.records.kind === 'table'
      ? mapping.records.cells.map((_, i) => i)
      : records.rows.filter((record) => !unequal.has(record));
  return {
    mapping,
    columns,
    rows,
    formula: ({id, expression}, record) => spilled.get(id) ?? formulaFor(expression, record, printing),
    figure: ({expression}, record) => evaluate(expression, record, evaluating),
    warnings: warnings(mapping, settings, records, unequal),
  };
}

/** Records for the preview: the first ones that hold something. */
export function previewRows(plan: Plan, count = 3): number[] {
  const records = new Records(plan.mapping);
  const wanted = new Set(plan.rows);
  return records.rows.filter((record) => wanted.has(record)).slice(0, count);
}

/** Stands above added columns where headings have groups, so that the group to their left does not reach over them. */
export const GROUP = 'Wheel Ledger';

type Placed = AddedColumn & {readonly column: number; readonly exists: boolean};

function place(columns: readonly AddedColumn[], mapping: Mapping, {reuse, from}: Choice): Placed[] {
  const {records} = mapping;
  const taken = new Set(records.headings.map(plain));
  const used = usedColumns(mapping);
  let next = from ?? records.firstColumn + records.headings.length;
  return columns.map((column) => {
    const names = [plain(column.heading), plain(`${GROUP} ${column.heading}`)];
    const at = records.headings.findIndex((heading, i) => names.includes(plain(heading)) && !used.has(i));
    if (reuse && at >= 0)
      return {
        ...column,
        heading: records.kind === 'table' ? records.headings[at] : column.heading,
        column: records.firstColumn + at,
        exists: true,
      };
    const heading = free(column.heading, taken);
    taken.add(plain(heading));
    return {...column, heading, column: next++, exists: false};
  });
}

/** Columns that the mapping reads: results never go there. */
function usedColumns({records, columns, readings, firstOf}: Mapping): Set<number> {
  const used = new Set<number>(firstOf ?? []);
  const take = (first: number, last: number): void => {
    for (let i = first; i <= last; i++) used.add(i);
  };
  for (const {first, last} of columns.values()) take(first, last);
  for (const place of readings.values()) {
    if (place.kind === 'row') take(place.span.first, place.span.last);
    else if (place.source === records) {
      if (place.kind === 'other row') take(place.span.first, place.span.last);
      else for (const i of [place.value, place.at ?? place.value]) used.add(i);
      if (place.side !== undefined) used.add(place.side.column);
    }
  }
  return used;
}

/** Headings of a table differ from each other. */
function free(heading: string, taken: ReadonlySet<string>): string {
  if (!taken.has(plain(heading))) return heading;
  for (let i = 2; ; i++) {
    const other = `${heading} (${i})`;
    if (!taken.has(plain(other))) return other;
  }
}

function numberFormat(format: AddedColumn['format'], {runoutUnit, weightUnit}: Mapping): string | undefined {
  const inch = runoutUnit === 'in';
  switch (format) {
    case 'runout':
      return inch ? '0.000' : '0.00';
    case 'plusminus':
      return inch ? '0.0000' : '0.000';
    case 'weight':
      return weightUnit === 'oz' ? '0.00' : '0.0';
    case 'angle':
    case 'count':
      return '0';
    case 'years':
      return '0.0';
    case 'money':
      return '#,##0.00';
    case 'text':
      return undefined;
  }
}

const FEW = 3;
const list = (names: readonly string[]): string =>
  names.slice(0, FEW).join(', ') + (names.length > FEW ? ` and ${names.length - FEW} more` : '');

function warnings(mapping: Mapping, settings: Settings, records: Records, unequal: ReadonlySet<number>): string[] {
  const words: string[] = [];
  const unknown = unknownClasses(mapping, settings);
  if (unknown.length > 0)
    words.push(
      `The table Limits has no class ${list(unknown.map((name) => `“${name}”`))}: those records show #N/A. Add the class there, or choose one class for all.`,
    );
  const repeated = records.repeated();
  if (repeated.length > 0)
    words.push(
      `${list(repeated)}: more than one row of readings; the first is taken. Give each measurement a name of its own.`,
    );
  if (unequal.size > 0) {
    const names = [...unequal].map((record) => nameOf(records, record));
    const left =
      mapping.records.kind === 'table' ? 'their figures may show an error or mislead' : 'they get no formulas';
    words.push(`${list(names)}: assembly and bead seats were not read at the same positions; ${left}.`);
  }
  if (mapping.firstOf !== undefined)
    words.push('A wheel takes several rows here: its figures stand in the first of them.');
  return words;
}

/** What a record is called: its key or job and position, else its row. */
export function nameOf(records: Records, record: number): string {
  const {mapping} = records;
  const cells = records.row(record);
  const keys =
    mapping.firstOf ??
    (['Wheel', 'Job', 'Position'] as const).flatMap((role) => mapping.columns.get(role)?.first ?? []);
  const words = keys.map((k) => String(cells[k] ?? '').trim()).filter((word) => word !== '');
  return words.length > 0 ? words.join(' ') : `row ${mapping.records.firstRow + record + 1}`;
}

/** A cell that stands where something is planned. */
export interface Occupied {
  readonly row: number;
  readonly column: number;
  readonly content: string;
}

/** Cells of the sheet, as last read, that stand where new columns would go; headings included. */
export function occupied({mapping: {records}, columns}: Plan, sheet: SheetCells): Occupied[] {
  const found: Occupied[] = [];
  const last = records.firstRow + records.cells.length - 1;
  for (const {column, exists} of columns) {
    if (exists) continue;
    for (let row = records.headerRow; row <= last; row++) {
      const content = sheet.cells[row - sheet.row]?.[column - sheet.column];
      if (!isEmpty(content)) found.push({row, column, content: String(content)});
    }
  }
  return found;
}

/** The first column from which the sheet is empty beside all records. */
export function freeColumn({mapping: {records}}: Plan, sheet: SheetCells): number {
  let last = records.firstColumn + records.headings.length - 1;
  const end = records.firstRow + records.cells.length - 1;
  for (let row = records.headerRow; row <= end; row++) {
    const line = sheet.cells[row - sheet.row] ?? [];
    for (let k = line.length - 1; k + sheet.column > last; k--) if (!isEmpty(line[k])) last = k + sheet.column;
  }
  return last + 1;
}
