/** The shop's ledger: finding it in the workbook and reading one of its records. */
import type {Area} from './addresses';
import {contains} from './addresses';
import {batch} from './batch';
import {guessMap} from './guess/table';
import {MAP_TABLE, parseMap, type LedgerMap, type Place, type Role} from './ledgerMap';

export type CellValue = string | number | boolean;

export interface Ledger {
  readonly map: LedgerMap;
  readonly headings: readonly string[];
  /** Cells of the records, headings left out. */
  readonly body: Area;
}

export interface LedgerRecord {
  readonly ledger: Ledger;
  /** Row of the record within the ledger, from 0. */
  readonly index: number;
  /** The cells of a role: those of its run of columns, or what was looked up; empty where the ledger has none. */
  readonly cells: (role: Role) => readonly CellValue[];
  /** Where a role's cells stand; undefined for what is looked up or missing. */
  readonly place: (role: Role) => Area | undefined;
}

/** Records looked at for a guess. */
const SAMPLED = 20;

/** The ledger that the selection is in, or else the first that there is; undefined when the workbook has none. */
export async function findLedger(selection: Area): Promise<Ledger | undefined> {
  return batch(async (context) => {
    const tables = context.workbook.tables;
    tables.load('items/name');
    await context.sync();
    const loaded = tables.items.map((table) => {
      const header = table.getHeaderRowRange();
      const body = table.getDataBodyRange();
      header.load('values');
      body.load('rowIndex,columnIndex,rowCount,columnCount,values');
      table.worksheet.load('name');
      return {table, header, body};
    });
    const map = tables.items.find(({name}) => name === MAP_TABLE)?.getDataBodyRange();
    map?.load('values');
    await context.sync();

    const ledgers = loaded.map(({table, header, body}) => ({
      name: table.name,
      headings: header.values[0].map(String),
      rows: body.values.slice(0, SAMPLED) as CellValue[][],
      body: {
        sheet: table.worksheet.name,
        row: body.rowIndex,
        column: body.columnIndex,
        rows: body.rowCount,
        columns: body.columnCount,
      },
    }));
    const written = map === undefined ? undefined : parseMap(map.values);
    const mapped = ledgers.find(({name}) => name === written?.table);
    if (written !== undefined && mapped !== undefined) {
      return {map: written, headings: mapped.headings, body: mapped.body};
    }
    const guessed = ledgers.flatMap((ledger) => {
      const guess = guessMap(ledger.name, ledger.headings, ledger.rows);
      return guess === undefined ? [] : [{map: guess, headings: ledger.headings, body: ledger.body}];
    });
    return guessed.find(({body}) => contains(body, selection)) ?? guessed[0];
  });
}

/** The record in a row of the sheet; undefined when the selection is elsewhere. */
export async function readRecord(ledger: Ledger, selection: Area): Promise<LedgerRecord | undefined> {
  const {body} = ledger;
  const index = selection.row - body.row;
  if (selection.sheet !== body.sheet || index < 0 || index >= body.rows) return undefined;
  return (await readRecords(ledger, [index]))[0];
}

/** Records by their rows within the ledger, and what they look up in other tables. */
export async function readRecords(ledger: Ledger, indices: readonly number[]): Promise<LedgerRecord[]> {
  const {body, map} = ledger;
  return batch(async (context) => {
    const sheet = context.workbook.worksheets.getItem(body.sheet);
    const rows = indices.map((index) => {
      const row = sheet.getRangeByIndexes(body.row + index, body.column, 1, body.columns);
      row.load('values');
      return row;
    });
    const lookups = [...map.places].filter(([, {by}]) => by !== undefined);
    const others = new Map(
      [...new Set(lookups.map(([, {table}]) => table))].map((name) => {
        const table = context.workbook.tables.getItemOrNullObject(name);
        const header = table.getHeaderRowRange();
        const cells = table.getDataBodyRange();
        header.load('values');
        cells.load('values');
        return [name, {table, header, cells}] as const;
      }),
    );
    await context.sync();
    const tables = new Map(
      [...others].flatMap(([name, {table, header, cells}]) =>
        table.isNullObject ? [] : [[name, {headings: header.values[0].map(String), rows: cells.values}] as const],
      ),
    );
    return indices.map((index, i) => recordOf(ledger, index, rows[i].values[0] as CellValue[], tables));
  });
}

/** A table that others look up in. */
export interface LookedUp {
  readonly headings: readonly string[];
  readonly rows: readonly (readonly unknown[])[];
}

/** A record from the cells of its row and the tables that it looks up in. */
export function recordOf(
  ledger: Ledger,
  index: number,
  values: readonly CellValue[],
  tables: ReadonlyMap<string, LookedUp>,
): LedgerRecord {
  const {body, map, headings} = ledger;
  const own = (place: Place): {first: number; last: number} | undefined => {
    const [first, last] = [headings.indexOf(place.first), headings.indexOf(place.last)];
    return first < 0 || last < first ? undefined : {first, last};
  };
  const cells = (role: Role): readonly CellValue[] => {
    const place = map.places.get(role);
    if (place === undefined) return [];
    if (place.by === undefined) {
      const at = own(place);
      return at === undefined ? [] : values.slice(at.first, at.last + 1);
    }
    const other = tables.get(place.table);
    return other === undefined ? [] : lookUp(other.headings, other.rows, place, cells(place.by)[0]);
  };
  const place = (role: Role): Area | undefined => {
    const found = map.places.get(role);
    const at = found === undefined || found.by !== undefined ? undefined : own(found);
    if (at === undefined) return undefined;
    return {
      sheet: body.sheet,
      row: body.row + index,
      column: body.column + at.first,
      rows: 1,
      columns: at.last - at.first + 1,
    };
  };
  return {ledger, index, cells, place};
}

/** Whole columns of the ledger: what each record has in the first column of a role. Roles without one are left out. */
export async function readColumns(
  ledger: Ledger,
  roles: readonly Role[],
): Promise<ReadonlyMap<Role, readonly CellValue[]>> {
  const {body, map, headings} = ledger;
  const columns = roles.flatMap((role) => {
    const place = map.places.get(role);
    const at = place === undefined || place.by !== undefined ? -1 : headings.indexOf(place.first);
    return at < 0 ? [] : [{role, at}];
  });
  return batch(async (context) => {
    const sheet = context.workbook.worksheets.getItem(body.sheet);
    const ranges = columns.map(({role, at}) => {
      const range = sheet.getRangeByIndexes(body.row, body.column + at, body.rows, 1);
      range.load('values');
      return {role, range};
    });
    await context.sync();
    return new Map(ranges.map(({role, range}) => [role, range.values.map(([cell]) => cell as CellValue)]));
  });
}

/** Cells of the row whose first cell is the key, letter case and outer blanks aside. */
function lookUp(
  headings: readonly unknown[],
  rows: readonly (readonly unknown[])[],
  place: Place,
  key: CellValue | undefined,
): CellValue[] {
  const names = headings.map(String);
  const [first, last] = [names.indexOf(place.first), names.indexOf(place.last)];
  const same = (cell: unknown): boolean =>
    String(cell).trim().toLowerCase() ===
    String(key ?? '')
      .trim()
      .toLowerCase();
  const row = rows.find(([cell]) => same(cell));
  return row === undefined || first < 0 || last < first ? [] : (row.slice(first, last + 1) as CellValue[]);
}
