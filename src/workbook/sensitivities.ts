/** How much a driver feels a wheel at each position: the shop's own table. */
import {batch} from './batch';

export const POSITIONS_TABLE = 'Positions';

export interface Sensitivity {
  readonly class: string;
  readonly position: string;
  readonly value: number;
}

const alike = (text: unknown): string => String(text).trim().toLowerCase();

/** The rows of the table that hold a position and a figure. */
export function parseSensitivities(
  headings: readonly string[],
  rows: readonly (readonly unknown[])[],
): readonly Sensitivity[] {
  const column = (name: string): number => headings.findIndex((heading) => alike(heading) === name);
  const [kind, position, value] = [column('class'), column('position'), column('sensitivity')];
  if (position < 0 || value < 0) return [];
  return rows.flatMap((cells) => {
    const figure = cells[value];
    if (typeof figure !== 'number' || figure < 0 || alike(cells[position]) === '') return [];
    return [{class: kind < 0 ? '' : alike(cells[kind]), position: alike(cells[position]), value: figure}];
  });
}

/** The sensitivity of a position, of its own class where the table has classes; undefined when it is not in there. */
export const sensitivityOf = (table: readonly Sensitivity[], kind: string, position: string): number | undefined =>
  table.find((row) => row.position === alike(position) && (row.class === '' || row.class === alike(kind)))?.value;

/** Reads the table; empty when the workbook has none. */
export async function readSensitivities(): Promise<readonly Sensitivity[]> {
  return batch(async (context) => {
    const table = context.workbook.tables.getItemOrNullObject(POSITIONS_TABLE);
    const [header, body] = [table.getHeaderRowRange(), table.getDataBodyRange()];
    header.load('values');
    body.load('values');
    await context.sync();
    return table.isNullObject ? [] : parseSensitivities(header.values[0].map(String), body.values);
  });
}
