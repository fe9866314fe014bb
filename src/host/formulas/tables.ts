/** Structured references: from "Readings[@Rim]" to cells. */
import {parseStructRef} from '@borgar/fx';
import {within, type Place} from '../book/addresses';
import type {Table} from '../book/content';
import {fixedReference, type Reference, type Unresolved} from './references';

export interface TableReference {
  readonly reference: Reference;
  /** Refers to the formula's own row: filled to other cells it means the same as long as they are rows of the table. */
  readonly rowOf?: Table;
}

/** A table by its name, in any letter case. */
export const findTable = (tables: readonly Table[], name: string): Table | undefined =>
  tables.find((table) => table.name.toLowerCase() === name.toLowerCase());

/** The cells of a structured reference, or of the bare name of a table, for a formula at a place. */
export function resolveTable(text: string, at: Place, tables: readonly Table[]): TableReference | Unresolved {
  const bare = findTable(tables, text);
  const parsed = bare ? {table: bare.name, columns: [], sections: []} : parseStructRef(text);
  if (!parsed) return {code: '#NAME?', message: `${text} is not a reference to a table`};
  const {table: name, columns = [], sections = []} = parsed;
  const table = name ? findTable(tables, name) : tableAt(tables, at);
  if (!table) {
    return name
      ? {code: '#NAME?', message: `there is no table ${name} for ${text}`}
      : {code: '#NAME?', message: `${text} names no table, and the formula is not in one`};
  }
  const chosen = columns.map((column) => columnIndex(table, column));
  const missing = chosen.indexOf(-1);
  if (missing >= 0) {
    return {code: '#REF!', message: `the table ${table.name} has no column ${columns[missing]} for ${text}`};
  }
  const left = table.area.left + (chosen.length > 0 ? Math.min(...chosen) : 0);
  const right = chosen.length > 0 ? table.area.left + Math.max(...chosen) : table.area.right;
  const rows = rowsOf(table, new Set(sections.map((section) => section.toLowerCase())), at, text);
  if ('code' in rows) return rows;
  const reference = fixedReference(table.sheet, {...rows, left, right});
  return rows.own ? {reference: {...reference, $top: false, $bottom: false}, rowOf: table} : {reference};
}

const tableAt = (tables: readonly Table[], {sheet, row, column}: Place): Table | undefined =>
  tables.find((table) => table.sheet === sheet && within(table.area, row, column));

function columnIndex({columns}: Table, name: string): number {
  const exact = columns.findIndex((column) => column.toLowerCase() === name.toLowerCase());
  if (exact >= 0) return exact;
  return columns.findIndex((column) => column.trim().toLowerCase() === name.trim().toLowerCase());
}

type Rows = {readonly top: number; readonly bottom: number; readonly own?: true};

function rowsOf(table: Table, sections: ReadonlySet<string>, at: Place, text: string): Rows | Unresolved {
  const {top, bottom} = table.area;
  const firstData = top + (table.header ? 1 : 0);
  const lastData = bottom - (table.totals ? 1 : 0);
  if (sections.has('this row')) {
    return at.sheet === table.sheet && at.row >= firstData && at.row <= lastData
      ? {top: at.row, bottom: at.row, own: true}
      : {
          code: '#VALUE!',
          message: `${text} asks for the formula's own row, which is not a row of the table ${table.name}`,
        };
  }
  if (sections.has('all')) return {top, bottom};
  const headers = sections.has('headers');
  const totals = sections.has('totals');
  if (!headers && !totals) return {top: firstData, bottom: lastData};
  const data = sections.has('data');
  if ((headers && !table.header) || (totals && !table.totals && !data)) {
    return {code: '#REF!', message: `the table ${table.name} has no ${headers ? 'header' : 'totals'} row for ${text}`};
  }
  return {
    top: headers ? top : data ? firstData : bottom,
    bottom: totals ? bottom : data ? lastData : top,
  };
}

/** The rows of a table that hold data. */
export const dataRows = ({area, header, totals}: Table): {top: number; bottom: number} => ({
  top: area.top + (header ? 1 : 0),
  bottom: area.bottom - (totals ? 1 : 0),
});
