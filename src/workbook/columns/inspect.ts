/** Looks at the cells that are to be filled, before anything is written. */
import {cellAddress} from '../addresses';
import {WorkbookProblem} from '../problems';
import type {Plan, PlannedColumn} from './plan';
import type {TargetSheet} from './target';

/** A cell that holds something where a formula is planned. */
export interface InTheWay {
  readonly address: string;
  readonly content: string;
}

/** Cells looked at in one request. */
const READ_CELLS = 20000;

/** Row of the last record. */
export const lastRow = ({rows}: Plan): number => rows[rows.length - 1];

/**
 * The sheet is as it was when it was read: not protected, the same headings, as many records.
 * @throws WorkbookProblem when it is not
 */
export async function lookAtSheet({mapping: {records}}: Plan, sheet: TargetSheet): Promise<void> {
  const state = await sheet.state();
  const name = records.kind === 'table' ? `The table ${records.name}` : `The sheet ${records.sheet}`;
  if (state.isProtected)
    throw new WorkbookProblem(
      `The sheet ${records.sheet} is protected. Take off its protection (Review, Unprotect Sheet) and try again. Nothing was written.`,
    );
  if (state.records !== undefined && state.records !== records.cells.length)
    throw new WorkbookProblem(
      `${name} has ${state.records} rows now, ${records.cells.length} when it was read. Read it again; nothing was written.`,
    );
  // Headings of two rows are joined; then only the lower one is in this row.
  const moved = records.headings.findIndex((heading, i) => {
    const now = (state.headings[i] ?? '').trim();
    return now === '' ? records.headerRows === 1 && heading.trim() !== '' : !heading.trim().endsWith(now);
  });
  if (state.headings.length < records.headings.length || moved >= 0) {
    const which = Math.max(moved, 0);
    throw new WorkbookProblem(
      `${name} has changed: “${records.headings[which]}” is no longer its column ${which + 1}. Read it again; nothing was written.`,
    );
  }
}

export interface Found {
  /** Formulas as they stand, by column and record. */
  readonly there: ReadonlyMap<number, readonly string[]>;
  /** What stands in the headings row where new columns go. */
  readonly headings: ReadonlyMap<number, string>;
  /** First new column, where a group of its own can be written above it. */
  readonly groupAbove: number | undefined;
  readonly inTheWay: readonly InTheWay[];
  readonly already: number;
}

/** The same formula, blanks and Excel's @ aside. */
export const alike = (a: string, b: string): boolean =>
  a.replace(/\s+|@/g, '').toLowerCase() === b.replace(/\s+|@/g, '').toLowerCase();

export async function lookAtCells(plan: Plan, sheet: TargetSheet): Promise<Found> {
  const {records} = plan.mapping;
  const [first, last] = [plan.rows[0], lastRow(plan)];
  const there = new Map<number, string[]>();
  const headings = new Map<number, string>();
  const inTheWay: InTheWay[] = [];
  let already = 0;
  for (const group of neighbors(plan.columns)) {
    const left = group[0].column;
    const fresh = group.filter(({exists}) => !exists);
    if (fresh.length > 0) {
      const block = {row: records.headerRow, column: left, rows: 1, columns: group.length};
      const [cells] = await sheet.read(block);
      for (const column of fresh) {
        const content = cells[column.column - left];
        if (content === '' || content === column.heading) continue;
        headings.set(column.column, content);
        inTheWay.push({address: cellAddress(records.headerRow, column.column), content});
      }
    }
    const step = Math.max(1, Math.floor(READ_CELLS / group.length));
    for (let row = first; row <= last; row += step) {
      const rows = Math.min(step, last - row + 1);
      const block = {row: records.firstRow + row, column: left, rows, columns: group.length};
      const cells = await sheet.read(block);
      for (const column of group) {
        let list = there.get(column.column);
        if (list === undefined) there.set(column.column, (list = []));
        for (let i = 0; i < rows; i++) list[row + i] = String(cells[i][column.column - left]);
      }
    }
    const wanted = new Set(plan.rows);
    for (const column of group) {
      const list = there.get(column.column)!;
      for (let record = first; record <= last; record++) {
        const content = list[record];
        if (content === '' || (!wanted.has(record) && !column.spills)) continue;
        if (isWritten(plan, column, record, content)) already++;
        // What spills from our own formula is read as values.
        else if (column.spills && isWritten(plan, column, first, list[first])) continue;
        else inTheWay.push({address: cellAddress(records.firstRow + record, column.column), content});
      }
    }
  }
  const added = plan.columns.find(({exists}) => !exists);
  let groupAbove: number | undefined;
  if (added !== undefined && records.headerRows > 1) {
    const [[content]] = await sheet.read({row: records.headerRow - 1, column: added.column, rows: 1, columns: 1});
    if (content === '') groupAbove = added.column;
  }
  return {there, headings, groupAbove, inTheWay, already};
}

/** The cell holds the planned formula already. */
export const isWritten = (plan: Plan, column: PlannedColumn, record: number, content: string): boolean =>
  content.startsWith('=') &&
  (!column.spills || record === plan.rows[0]) &&
  alike(content, plan.formula(column, record));

/** Columns side by side, to be read together. */
export function neighbors(columns: readonly PlannedColumn[]): PlannedColumn[][] {
  const groups: PlannedColumn[][] = [];
  for (const column of [...columns].sort((a, b) => a.column - b.column)) {
    const group = groups[groups.length - 1];
    if (group !== undefined && column.column === group[group.length - 1].column + 1) group.push(column);
    else groups.push([column]);
  }
  return groups;
}
