/** What of the open workbook differs from its file, to be saved in a copy of it. */
import {areaAddress, cellKey, cellOfKey, type Area} from '../book/addresses';
import {isError, sameValue, type CellValue} from '../book/cells';
import type {CellState, Sheet} from '../book/cellStates';
import type {Book, CellContent, SheetContent} from '../book/content';
import {NAMESPACE} from '../engine/start';
import {storedError} from '../files/cellXml';
import type {CellLook, Looks, SheetLook} from '../files/looks';
import type {BookToSave, LookToSave, NameToSave, SheetToSave, TableToSave} from '../files/saveBook';
import {storedFormula} from '../formulas/stored';
import {shortAbsoluteAddress} from '../office/absolute';
import type {HostBook} from '../office/hostBook';
import type {SheetState, TableState} from '../office/state';
import {chartsToSave, rowsToSave} from './savingLayout';

/** The workbook as it was opened. */
export interface Original {
  readonly content: Book;
  readonly looks: Looks;
  /** The sheets of the file by their ids. */
  readonly ids: ReadonlyMap<string, string>;
  /** What the cells showed once calculated, by the ids of the sheets. */
  readonly shown: ReadonlyMap<string, ReadonlyMap<number, CellValue>>;
  readonly tables: readonly TableState[];
  readonly names: HostBook['names'];
  readonly states: ReadonlyMap<string, SheetState>;
}

export function originalOf(book: HostBook, content: Book, looks: Looks, ids: ReadonlyMap<string, string>): Original {
  return {
    content,
    looks,
    ids: new Map([...ids].map(([name, id]) => [id, name])),
    shown: new Map(book.sheets.map(({id, values}) => [id, values])),
    tables: book.tables,
    names: book.names,
    states: new Map(book.sheets.map(({id}) => [id, book.state(id)])),
  };
}

export interface ToSave {
  readonly book: BookToSave;
  /** What cannot be saved, in words. */
  readonly lost: readonly string[];
}

export function bookToSave(book: HostBook, original: Original): ToSave {
  const lost = new Set<string>();
  const sheets = book.sheets.map((sheet) => sheetToSave(book, sheet, original, lost));
  const byOrigin = new Map(original.tables.map((table) => [table.origin, table]));
  const changed = book.tables.filter(({origin}, i) => origin !== undefined && byOrigin.get(origin) !== book.tables[i]);
  return {
    book: {
      sheets,
      before: original.content.sheets.map(({name}) => name),
      names: book.names === original.names && !arePagesChanged(book, original) ? undefined : namesToSave(book),
      changedTables: new Set(changed.flatMap(({origin}) => origin ?? [])),
    },
    lost: [...lost],
  };
}

/** What is printed of a sheet, and what is repeated on each page, are kept as names. */
const PRINT_AREA = '_xlnm.Print_Area';
const PRINT_TITLES = '_xlnm.Print_Titles';

function pageNames(book: HostBook): NameToSave[] {
  return book.sheets.flatMap(({id, name}): NameToSave[] => {
    const {isSet, printArea, titleRows, titleColumns} = book.state(id).page;
    if (!isSet) return [];
    const of = (area: Area): string => shortAbsoluteAddress(name, area);
    const titles = [titleColumns, titleRows].flatMap((area) => (area ? [of(area)] : []));
    return [
      ...(printArea.length > 0 ? [{name: PRINT_AREA, sheet: name, formula: printArea.map(of).join(',')}] : []),
      ...(titles.length > 0 ? [{name: PRINT_TITLES, sheet: name, formula: titles.join(',')}] : []),
    ];
  });
}

const arePagesChanged = (book: HostBook, {states}: Original): boolean =>
  book.sheets.some(({id}) => book.state(id).page.isSet && states.get(id)?.page !== book.state(id).page);

function namesToSave(book: HostBook): NameToSave[] {
  const {tables} = book.definitions();
  const pages = pageNames(book);
  const isOfPage = (name: string, sheet: string | undefined): boolean =>
    pages.some((page) => page.name === name && page.sheet === sheet);
  const own = book.names.map(({name, sheetId, formula}) => {
    const sheet = sheetId === undefined ? undefined : book.sheet(sheetId).name;
    const at = {sheet: sheet ?? book.sheets[0].name, row: 0, column: 0};
    return {name, sheet, formula: storedFormula(formula, {namespace: NAMESPACE, at, tables})};
  });
  return [...own.filter(({name, sheet}) => !isOfPage(name, sheet)), ...pages];
}

function sheetToSave(book: HostBook, sheet: Sheet, original: Original, lost: Set<string>): SheetToSave {
  const {id, name} = sheet;
  const origin = original.ids.get(id);
  const state = book.state(id);
  const before = original.states.get(id);
  const look = original.looks.sheets.find((one) => one.name === origin);
  const content = original.content.sheets.find((one) => one.name === origin);
  const rows = rowsToSave(before?.rows ?? [], state.rows);
  if (!rows) lost.add(`heights of rows of the sheet ${name}`);
  const {charts, lost: unknown} = chartsToSave(book, id);
  unknown.forEach((chart) => lost.add(`the chart “${chart}” of the sheet ${name}`));
  tellLost(name, state, before, lost);
  return {
    name,
    origin,
    visibility: (before?.visibility ?? 'Visible') === state.visibility ? '' : state.visibility,
    cells: cellsToSave(book, sheet, content, look, original),
    columns:
      before?.columns === state.columns
        ? undefined
        : state.columns.map((band) => ({...band, look: band.look && {look: band.look, base: 0, baseLook: {}}})),
    rows,
    charts,
    view: sameView(state, before) ? undefined : state,
    merges:
      (before?.merges ?? NONE) === state.merges || (!before && state.merges.length === 0) ? undefined : state.merges,
    tabColor: (before?.tabColor ?? '') === state.tabColor ? undefined : state.tabColor,
    page: before?.page === state.page || !state.page.isSet ? undefined : state.page,
    tables: book.tables.filter(({sheetId}) => sheetId === id).map(tableToSave),
  };
}

const NONE: readonly Area[] = [];

function sameView(now: SheetState, before: SheetState | undefined): boolean {
  const of = ({gridLines, frozenRows, frozenColumns}: SheetState): string =>
    `${gridLines} ${frozenRows} ${frozenColumns}`;
  return of(now) === (before ? of(before) : 'true 0 0');
}

function tellLost(name: string, now: SheetState, before: SheetState | undefined, lost: Set<string>): void {
  const differs = (key: keyof SheetState): boolean => {
    const value = now[key];
    return before
      ? before[key] !== value
      : Array.isArray(value)
        ? value.length > 0
        : value !== undefined && value !== '';
  };
  const say = (what: string): void => void lost.add(`${what} of the sheet ${name}`);
  if (differs('addedConditional')) say('conditional formats added here');
  if (differs('validations')) say('checks of entries added here');
  if (now.protection !== before?.protection) say('the protection');
}

const tableToSave = ({columns, ...table}: TableState): TableToSave => ({
  ...table,
  columns: columns.map(({name}) => name),
});

function cellsToSave(
  book: HostBook,
  sheet: Sheet,
  content: SheetContent | undefined,
  look: SheetLook | undefined,
  {shown, looks}: Original,
): SheetToSave['cells'] {
  const {id} = sheet;
  const {tables} = book.definitions();
  const stored = new Map<number, CellContent>();
  for (const cell of content?.cells ?? []) stored.set(cellKey(cell.row, cell.column), cell);
  const spilled = new Map<number, CellContent>();
  for (const cell of content?.arrayValues ?? []) spilled.set(cellKey(cell.row, cell.column), cell);
  const baseline = shown.get(id);
  const now = new Map([...book.looks(id)].map(({row, column, look: own}) => [cellKey(row, column), own]));
  const keys = new Set([...stored.keys(), ...spilled.keys(), ...sheet.cells.keys(), ...sheet.values.keys()]);
  for (const key of [...now.keys(), ...(look?.cells.keys() ?? [])]) keys.add(key);
  const cells: SheetToSave['cells'][number][] = [];
  for (const key of keys) {
    const {row, column} = cellOfKey(key);
    const state = sheet.cells.get(key);
    const value = sheet.values.get(key) ?? null;
    const file = stored.get(key);
    const newLook = lookToSave(look?.cells.get(key), now.get(key), looks.looks);
    const formula = formulaChange(state, file);
    const area = sheet.areas.get(key);
    const isResult = state?.formula !== undefined || (state === undefined && value !== null) || spilled.has(key);
    const before = file?.value ?? spilled.get(key)?.value ?? null;
    const isKept = state?.formula?.kept !== undefined && !formula;
    const isCalculatedAnew =
      isResult && !isKept && !same(value, before) && (!same(value, baseline?.get(key) ?? null) || isOurs(state));
    const resized = state?.formula && file?.formula && areaOf(area) !== areaOf(file.formula.area);
    const isTyped = !isResult && !same(value, before);
    const place = {row, column, ...(newLook ? {look: newLook} : {})};
    if (formula) {
      const text = state?.formula?.content.text;
      const kind = state?.formula?.content.kind;
      const at = {sheet: sheet.name, row, column};
      cells.push({
        ...place,
        value,
        calculated: text !== undefined,
        formula:
          text === undefined
            ? null
            : {text: storedFormula(text, {namespace: NAMESPACE, at, tables}), dynamic: kind !== 'plain'},
        area: kind === 'plain' ? undefined : area,
      });
    } else if (isCalculatedAnew || isTyped || resized) {
      cells.push({...place, value, calculated: isResult, area: resized ? (area ?? oneCellAt(row, column)) : undefined});
    } else if (newLook) cells.push({...place, value: null, keepsContent: true});
  }
  return cells;
}

const oneCellAt = (row: number, column: number): Area => ({top: row, left: column, bottom: row, right: column});
const areaOf = (area: Area | undefined): string => (area ? areaAddress(area) : '');

const same = (a: CellValue, b: CellValue): boolean => sameValue(asStored(a), asStored(b));
const asStored = (value: CellValue): CellValue => (isError(value) ? {code: storedError(value.code)} : value);

const isOurs = (state: CellState | undefined): boolean => state?.formula?.translation.ours === true;

/** Whether the cell has another formula than in the file, or no longer one. */
function formulaChange(state: CellState | undefined, file: CellContent | undefined): boolean {
  const [now, before] = [state?.formula?.content, file?.formula];
  if (!now || !before) return now !== before;
  return now !== before && (now.text !== before.text || now.kind !== before.kind);
}

function lookToSave(
  number: number | undefined,
  now: CellLook | undefined,
  looks: readonly CellLook[],
): LookToSave | undefined {
  const base = number ?? 0;
  const before = number === undefined ? undefined : looks[number];
  if (now === before) return undefined;
  const look = now ?? {};
  return JSON.stringify(look) === JSON.stringify(before ?? {}) ? undefined : {look, base, baseLook: looks[base] ?? {}};
}
