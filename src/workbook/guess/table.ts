/** The map that a table's headings and cells suggest, as long as nobody has confirmed one. */
import type {CellValue} from '../ledger';
import type {LedgerMap, Place, Role} from '../ledgerMap';
import {layoutBelow} from './layout';

/** Undefined when no run of readings is among the columns. */
export function guessMap(
  table: string,
  headings: readonly string[],
  rows: readonly (readonly CellValue[])[],
): LedgerMap | undefined {
  const below = {
    row: 0,
    rows: 1,
    texts: headings,
    columns: {first: 0, last: headings.length - 1},
    firstRecord: 1,
    lastRecord: rows.length,
  };
  const layout = layoutBelow(below, [[...headings], ...rows]);
  if (layout === undefined) return undefined;
  const places = new Map<Role, Place>(
    layout.columns.map(({role, first, last}) => [
      role,
      {table, first: headings[first], last: headings[last], by: undefined},
    ]),
  );
  return {
    table,
    places,
    runoutUnit: layout.runoutUnit.unit,
    weightUnit: layout.weightUnit.unit,
    clockwise: true,
    origin: 'guess',
  };
}
