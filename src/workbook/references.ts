/** How formulas that are written for the user name the cells of a record. */
import {columnLetters, sheetPrefix, type Area} from './addresses';
import {columnName} from './escape';
import type {LedgerRecord} from './ledger';
import type {Role} from './ledgerMap';

/** "$B$4" or "$B$4:$E$4": stays on its cells when the formula is copied. */
export function fixedAddress({row, column, rows, columns}: Omit<Area, 'sheet'>): string {
  const at = (r: number, c: number): string => `$${columnLetters(c)}$${r + 1}`;
  const from = at(row, column);
  return rows === 1 && columns === 1 ? from : `${from}:${at(row + rows - 1, column + columns - 1)}`;
}

/** The same as a formula on another sheet writes it. */
export const fixedReference = (area: Area): string => `${sheetPrefix(area.sheet)}${fixedAddress(area)}`;

/** A run of columns of a table, such as `Planes[[Inboard position]:[Outboard radius]]`. */
export const columnsReference = (table: string, first: string, last: string): string =>
  first === last ? `${table}[${columnName(first)}]` : `${table}[[${columnName(first)}]:[${columnName(last)}]]`;

/** Readings with blanks as empty texts: Excel hands a blank cell over as 0. */
export const present = (reference: string): string => `IF(${reference}="","",${reference})`;

/**
 * The cells of a role as a formula names them: where they stand in the record, or looked up in another table by what
 * the record holds. Undefined where the ledger has none.
 */
export function roleReference(record: LedgerRecord, role: Role): string | undefined {
  const place = record.ledger.map.places.get(role);
  if (place === undefined) return undefined;
  if (place.by === undefined) {
    const area = record.place(role);
    return area && fixedReference(area);
  }
  const key = record.place(place.by);
  if (key === undefined || record.cells(role).length === 0) return undefined;
  const found = `MATCH(${fixedReference({...key, columns: 1})},INDEX(${place.table},0,1),0)`;
  const columns = columnsReference(place.table, place.first, place.last);
  return place.first === place.last ? `INDEX(${columns},${found})` : `INDEX(${columns},${found},0)`;
}

/** A single cell of a role that holds several, by its number from 0. */
export function cellReference(record: LedgerRecord, role: Role, index: number): string | undefined {
  const area = record.place(role);
  if (area !== undefined) {
    return index < area.columns ? fixedReference({...area, column: area.column + index, columns: 1}) : undefined;
  }
  const whole = roleReference(record, role);
  if (whole === undefined) return undefined;
  return record.cells(role).length === 1 ? whole : `INDEX(${whole},1,${index + 1})`;
}
