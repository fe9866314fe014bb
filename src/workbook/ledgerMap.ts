/**
 * Which columns of the shop's own sheet hold what. The map is itself a table on a visible sheet, so that anybody can
 * read and change it.
 */

/** What a column, or a run of columns, can hold; the words stand in the map. */
export const ROLES = [
  'Wheel',
  'Job',
  'Date',
  'Vehicle',
  'Class',
  'Position',
  'Tire size',
  'Supplier',
  'TIN',
  'Assembly readings',
  'Inner bead seat',
  'Outer bead seat',
  'Unbalance',
  'Limits',
  'Stock step',
  'Planes',
  'Unbalance limits',
  'Unbalance uncertainty',
] as const;

export type Role = (typeof ROLES)[number];

/** Figures of the ledger as a whole. */
export const SETTINGS = ['Records', 'Unit of runout', 'Unit of weights', 'Numbering'] as const;

export type Setting = (typeof SETTINGS)[number];

/** A run of columns by name, in a table of its own or another that is looked up by a shared column. */
export interface Place {
  readonly table: string;
  readonly first: string;
  readonly last: string;
  /** Role whose value is looked up in the first column of that table. */
  readonly by: Role | undefined;
  /** How the rows elsewhere are found where that takes more than one shared first column, as written in the map. */
  readonly found?: string;
}

export interface LedgerMap {
  /** The table with a row for each wheel. */
  readonly table: string;
  readonly places: ReadonlyMap<Role, Place>;
  readonly runoutUnit: string;
  readonly weightUnit: string;
  /** Positions are numbered clockwise as seen from outboard. */
  readonly clockwise: boolean;
  /** Where it comes from: the map's own sheet, or a guess from the headings. */
  readonly origin: 'map' | 'guess';
  /** A wheel takes several rows; these columns name it. */
  readonly wheelBy?: string;
}

export const MAP_SHEET = 'Ledger map';
export const MAP_TABLE = 'LedgerMap';
export const MAP_HEADINGS = ['What', 'Table', 'Columns', 'Looked up by'] as const;

const isRole = (text: string): text is Role => (ROLES as readonly string[]).includes(text);

/** The rows of the map's table, headings left out, as a map; undefined when there is nothing to read in them. */
export function parseMap(rows: readonly (readonly unknown[])[]): LedgerMap | undefined {
  const places = new Map<Role, Place>();
  const settings = new Map<string, string>();
  let table: string | undefined;
  let wheelBy = '';
  for (const row of rows) {
    const [what, where, columns, by] = row.map((cell) => String(cell ?? '').trim());
    if (isRole(what)) {
      const [first, last = first] = columns.split(':').map((name) => name.trim());
      const found = by === '' || isRole(by) ? {} : {found: by};
      places.set(what, {table: where, first, last, by: isRole(by) ? by : undefined, ...found});
      if (by === '') table ??= where;
    } else if (what === 'Records') {
      table = where;
      wheelBy = columns;
    } else if ((SETTINGS as readonly string[]).includes(what)) settings.set(what, columns);
  }
  if (table === undefined) return undefined;
  return {
    table,
    places,
    runoutUnit: settings.get('Unit of runout') ?? 'mm',
    weightUnit: settings.get('Unit of weights') ?? 'g',
    clockwise: settings.get('Numbering') !== 'counter-clockwise',
    origin: 'map',
    ...(wheelBy === '' ? {} : {wheelBy}),
  };
}

/** The map as the rows of its table. */
export function mapRows(map: LedgerMap): string[][] {
  const places = [...map.places].map(([role, {table, first, last, by, found}]) => [
    role,
    table,
    first === last ? first : `${first}:${last}`,
    by ?? found ?? '',
  ]);
  // Said only where no column of the records' own would say it.
  const own = map.wheelBy === undefined && [...map.places.values()].some(({by, found}) => (by ?? found) === undefined);
  return [
    ...(own ? [] : [['Records', map.table, map.wheelBy ?? '', '']]),
    ...places,
    ['Unit of runout', '', map.runoutUnit, ''],
    ['Unit of weights', '', map.weightUnit, ''],
    ['Numbering', '', map.clockwise ? 'clockwise' : 'counter-clockwise', ''],
  ];
}
