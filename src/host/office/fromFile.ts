/** The state of a workbook as its file has it. */
import type {DefinedName, Table} from '../book/content';
import type {CellLook, Looks} from '../files/looks';
import {usualSheet, type NameState, type SheetState, type TableState} from './state';

export function sheetFromFile(
  id: string,
  name: string,
  looks: Looks | undefined,
): {state: SheetState; cells: Map<number, CellLook>} {
  const sheet = looks?.sheets.find((one) => one.name === name);
  if (!looks || !sheet) return {state: usualSheet(id), cells: new Map()};
  const lookOf = (look: number | undefined): CellLook | undefined =>
    look === undefined ? undefined : looks.looks[look];
  const bands = (all: typeof sheet.rows) =>
    [...all].sort((a, b) => a.from - b.from).map(({from, to, size, look}) => ({from, to, size, look: lookOf(look)}));
  return {
    state: {
      ...usualSheet(id),
      visibility: sheet.hidden ? 'Hidden' : 'Visible',
      gridLines: sheet.gridLines,
      frozenRows: sheet.frozenRows,
      frozenColumns: sheet.frozenColumns,
      columnWidth: sheet.columnWidth,
      rowHeight: sheet.rowHeight,
      columns: bands(sheet.columns),
      rows: bands(sheet.rows),
      merges: sheet.merges,
      conditional: sheet.conditional,
    },
    cells: new Map([...sheet.cells].map(([at, look]) => [at, looks.looks[look]])),
  };
}

/** How tables look that say nothing of it. */
const NO_STYLE = '';

export const tablesFromFile = (
  tables: readonly Table[],
  sheetIds: ReadonlyMap<string, string>,
  looks: Looks | undefined,
  newId: () => number,
): TableState[] =>
  tables.map(({name, sheet, area, header, totals, columns}) => ({
    id: tableId(newId()),
    name,
    sheetId: sheetIds.get(sheet)!,
    area,
    header,
    totals,
    columns: columns.map((column, i) => ({id: i + 1, name: column})),
    style: looks?.tables.get(name)?.style ?? NO_STYLE,
    bandedRows: looks?.tables.get(name)?.bandedRows ?? true,
    bandedColumns: false,
    filterButton: header,
    origin: name,
  }));

/** As Excel on the web has it. */
export const tableId = (number: number): string =>
  `{${number.toString(16).toUpperCase().padStart(8, '0')}-0000-4000-8000-000000000000}`;

export const namesFromFile = (names: readonly DefinedName[], sheetIds: ReadonlyMap<string, string>): NameState[] =>
  names.map(({name, sheet, formula}) => ({
    name,
    sheetId: sheet === undefined ? undefined : sheetIds.get(sheet),
    formula,
    comment: '',
    visible: true,
    isNew: false,
  }));
