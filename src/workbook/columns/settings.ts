/** Where limits, planes and prices of a sheet come from. */
import {plain} from '../guess/vocabulary';
import type {CellValue} from '../ledger';
import type {Mapping} from './mapping';
import type {SheetCells} from './source';

/** A table of settings as it stands in the workbook. */
export interface SettingsCells {
  readonly headings: readonly string[];
  readonly rows: readonly (readonly CellValue[])[];
}

/**
 * columns: the record's own row has them. class: looked up in the tables of settings by the record's class.
 * one class: looked up there, the same class for all records. none: nowhere.
 */
export type LimitsFrom =
  | {readonly kind: 'columns'}
  | {readonly kind: 'class'}
  | {readonly kind: 'one class'; readonly name: string}
  | {readonly kind: 'none'};

export interface Settings {
  readonly tables: ReadonlyMap<string, SettingsCells>;
  readonly limitsFrom: LimitsFrom;
}

const NAMES = ['Limits', 'Planes', 'Prices'];

/** The tables of settings among the tables of the workbook. */
export function settingsTablesOf(sheets: readonly SheetCells[]): Map<string, SettingsCells> {
  const found = new Map<string, SettingsCells>();
  for (const sheet of sheets) {
    for (const table of sheet.tables) {
      if (!NAMES.includes(table.name)) continue;
      const row = (i: number): CellValue[] =>
        Array.from(
          {length: table.columns},
          (_, k) => sheet.cells[i - sheet.row]?.[table.column - sheet.column + k] ?? '',
        );
      const rows = Array.from({length: table.rows - 1 - (table.totals ? 1 : 0)}, (_, i) => row(table.row + 1 + i));
      found.set(table.name, {headings: row(table.row).map(String), rows});
    }
  }
  return found;
}

/** Classes of the Limits table. */
export const classesOf = (tables: ReadonlyMap<string, SettingsCells>): string[] => {
  const limits = tables.get('Limits');
  const at = limits?.headings.indexOf('Class') ?? -1;
  return limits === undefined || at < 0 ? [] : limits.rows.map((row) => String(row[at]).trim()).filter((t) => t !== '');
};

/** Own limits first, then those of the record's class, then one class for all; none when nothing is there. */
export function likelyLimits(mapping: Mapping, tables: ReadonlyMap<string, SettingsCells>): LimitsFrom {
  if (mapping.columns.has('Limits')) return {kind: 'columns'};
  const classes = classesOf(tables);
  if (classes.length === 0) return {kind: 'none'};
  if (mapping.columns.has('Class')) return {kind: 'class'};
  return {kind: 'one class', name: classes[0]};
}

/** Classes of the records that the Limits table does not name. */
export function unknownClasses(mapping: Mapping, {tables, limitsFrom}: Settings): string[] {
  const column = mapping.columns.get('Class');
  if (limitsFrom.kind !== 'class' || column === undefined) return [];
  const known = new Set(classesOf(tables).map(plain));
  const used = new Map<string, string>();
  for (const row of mapping.records.cells) {
    const name = String(row[column.first] ?? '').trim();
    if (name !== '' && !known.has(plain(name))) used.set(plain(name), name);
  }
  return [...used.values()];
}
