/**
 * Fills a plan's columns: looks at the cells first, asks about what stands there, writes in parts that can be watched and
 * cancelled, and knows afterwards exactly what was written. The sheet itself is behind an interface.
 */
import {areaAddress} from '../addresses';
import {WorkbookProblem} from '../problems';
import {afterFailure, isTakenBack} from './failure';
import {isWritten, lastRow, lookAtCells, lookAtSheet, neighbors, type Found, type InTheWay} from './inspect';
import {GROUP, type Plan, type PlannedColumn} from './plan';
import {runsOf} from './runs';
import type {Part, Undo} from './takeBack';
import type {Block, Formulas, TargetSheet} from './target';

/** What to do with cells that hold something else. */
export type Conflict = 'ask' | 'keep' | 'replace';

export interface Watching {
  readonly conflict: Conflict;
  /** What was shown and agreed to be replaced; another content is asked about anew. */
  readonly agreed: readonly InTheWay[];
  readonly onProgress: (records: number, of: number) => void;
  readonly isCancelled: () => boolean;
  /** Cells sent at once; fewer show progress sooner, more make fewer steps to undo. */
  readonly cellsAtOnce: number;
  /** Further changes that belong to the filling; they go with its first part, and are taken back with it. */
  readonly along?: Along;
}

export interface Along {
  /** Queues the changes. */
  readonly write: () => void;
  /** Takes them back after a failure, sent or not. */
  readonly takeBack: (error: unknown) => Promise<void>;
}

export type Filled =
  | {readonly kind: 'asks'; readonly inTheWay: readonly InTheWay[]}
  | {
      readonly kind: 'done' | 'cancelled' | 'failed';
      /** Records whose cells are filled, of how many. */
      readonly records: number;
      readonly of: number;
      /** Cells written now, and those that held the same formula already or were kept. */
      readonly cells: number;
      readonly already: number;
      readonly kept: number;
      /** Addresses of what was written. */
      readonly written: readonly string[];
      /** Addresses of what may be written: Excel failed, and did not answer when the cells were looked at. */
      readonly uncertain: readonly string[];
      /** What went wrong, in words. */
      readonly problem: string | undefined;
      readonly undo: Undo;
    };

/** Columns of a sheet and rows of it. */
const MOST_COLUMNS = 16384;

export async function fill(plan: Plan, sheet: TargetSheet, watching: Watching): Promise<Filled> {
  const {records} = plan.mapping;
  if (plan.columns.length === 0 || plan.rows.length === 0) throw new WorkbookProblem('There is nothing to fill.');
  if (Math.max(...plan.columns.map(({column}) => column)) >= MOST_COLUMNS)
    throw new WorkbookProblem(`The sheet has no room for ${plan.columns.length} more columns. Nothing was written.`);
  await lookAtSheet(plan, sheet);
  const found = await lookAtCells(plan, sheet);
  const surprise = found.inTheWay.filter(
    (cell) => !watching.agreed.some(({address, content}) => address === cell.address && content === cell.content),
  );
  if (
    found.inTheWay.length > 0 &&
    (watching.conflict === 'ask' || (watching.conflict === 'replace' && surprise.length > 0))
  )
    return {kind: 'asks', inTheWay: found.inTheWay};

  const keep = watching.conflict === 'keep';
  const work = parts(plan, found, keep, watching.cellsAtOnce);
  const fresh = plan.columns.filter(({exists}) => !exists);
  const done: Part[] = [];
  const uncertain: Part[] = [];
  let tableColumns: number | undefined;
  let problem: string | undefined;
  let cancelled = false;
  let filled = 0;
  /** Room, headings and formats go with the first formulas: cancelled before, nothing is written. */
  const prepare = (): Part[] => {
    if (records.kind === 'table' && fresh.length > 0) {
      sheet.resizeTable(records.headings.length + fresh.length);
      tableColumns = records.headings.length;
    }
    // Before the headings: a column whose heading is there counts as one that has its format.
    const rows = lastRow(plan) - plan.rows[0] + 1;
    for (const {column, numberFormat} of fresh)
      if (numberFormat !== undefined)
        sheet.format({row: records.firstRow + plan.rows[0], column, rows, columns: 1}, numberFormat);
    const headings = headingBlocks(plan, keep ? found.headings : new Map(), found.groupAbove).map(
      ({block, formulas}) => {
        sheet.write(block, formulas);
        const own = block.row === records.headerRow ? found.headings : new Map<number, string>();
        const before = [formulas[0].map((_, i) => own.get(block.column + i) ?? '')];
        return {block, formulas: () => formulas, before, records: 0, isFresh: true};
      },
    );
    return headings;
  };
  try {
    for (let next = 0; next < work.length && !cancelled;) {
      if (watching.isCancelled()) {
        cancelled = true;
        break;
      }
      const sending: Part[] = next === 0 ? prepare() : [];
      let cells = 0;
      while (next < work.length && (cells === 0 || cells + size(work[next]) <= watching.cellsAtOnce)) {
        sheet.write(work[next].block, work[next].formulas());
        cells += size(work[next]);
        sending.push(work[next++]);
      }
      const isFirst = done.length === 0;
      if (isFirst) watching.along?.write();
      try {
        await sheet.send();
      } catch (error) {
        const seen = await afterFailure(sheet, sending, tableColumns);
        if (isFirst) await watching.along?.takeBack(error);
        if (!isFirst || !(await isTakenBack(sheet, sending, tableColumns, seen))) {
          done.push(...seen.there);
          uncertain.push(...seen.uncertain);
        }
        throw error;
      }
      done.push(...sending);
      filled = sending[sending.length - 1].records;
      watching.onProgress(filled, plan.rows.length);
    }
  } catch (error) {
    problem = (error as Error).message;
  }
  const blocks = done.map(({block, before, isFresh}) => ({block, before, isFresh}));
  return {
    kind: problem !== undefined ? 'failed' : cancelled ? 'cancelled' : 'done',
    records: problem === undefined && !cancelled ? plan.rows.length : filled,
    of: plan.rows.length,
    cells: done.reduce((sum, part) => sum + (part.records === 0 ? 0 : size(part)), 0),
    already: found.already,
    kept: keep ? found.inTheWay.length : 0,
    written: joined(done.map(({block}) => block)).map(areaAddress),
    uncertain: joined(uncertain.map(({block}) => block)).map(areaAddress),
    problem,
    undo: {tableColumns: done.length + uncertain.length === 0 ? undefined : tableColumns, blocks, uncertain},
  };
}

/** Headings of new columns, side by side where they can be; those that are kept are left out. */
function headingBlocks(
  {columns, mapping: {records}}: Plan,
  kept: ReadonlyMap<number, string>,
  groupAbove: number | undefined,
): {block: Block; formulas: Formulas}[] {
  const blocks = neighbors(columns.filter(({exists, column}) => !exists && !kept.has(column))).map((group) => ({
    block: {row: records.headerRow, column: group[0].column, rows: 1, columns: group.length},
    formulas: [group.map(({heading}) => heading)],
  }));
  if (groupAbove === undefined) return blocks;
  return [
    {block: {row: records.headerRow - 1, column: groupAbove, rows: 1, columns: 1}, formulas: [[GROUP]]},
    ...blocks,
  ];
}

const size = ({block}: Part): number => block.rows * block.columns;

/** Blocks to write, from the first record to the last; what holds its formula already, or is kept, is left out. */
function parts(plan: Plan, found: Found, keep: boolean, cellsAtOnce: number): Part[] {
  const {records} = plan.mapping;
  const made: Part[] = [];
  const perRecord = plan.columns.filter(({spills}) => !spills);
  const at = new Map(plan.rows.map((record, i) => [record, i + 1]));
  const stands = (column: PlannedColumn, record: number): string => found.there.get(column.column)![record];
  const wants = (column: PlannedColumn, record: number): boolean => {
    const content = stands(column, record);
    if (content === '') return true;
    return !isWritten(plan, column, record, content) && !keep;
  };
  const height = Math.max(1, Math.floor(cellsAtOnce / Math.max(1, perRecord.length)));
  for (const column of plan.columns.filter(({spills}) => spills)) {
    const record = plan.rows[0];
    if (!wants(column, record)) continue;
    const block = {row: records.firstRow + record, column: column.column, rows: 1, columns: 1};
    made.push({
      block,
      formulas: () => [[plan.formula(column, record)]],
      before: [[stands(column, record)]],
      records: plan.rows.length,
      isFresh: !column.exists,
    });
    // Values that the spill would run into, agreed to be replaced.
    for (const other of plan.rows.slice(1)) {
      if (stands(column, other) === '' || keep) continue;
      const cell = {row: records.firstRow + other, column: column.column, rows: 1, columns: 1};
      const before = [[stands(column, other)]];
      made.unshift({block: cell, formulas: () => [['']], before, records: 0, isFresh: !column.exists});
    }
  }
  const groups = [true, false].flatMap((there) => neighbors(perRecord.filter(({exists}) => exists === there)));
  for (const run of runsOf(plan.rows)) {
    for (let first = run.first; first <= run.last; first += height) {
      const last = Math.min(run.last, first + height - 1);
      for (const group of groups) {
        const rows = Array.from({length: last - first + 1}, (_, i) => first + i);
        const whole = rows.every((record) => group.every((column) => wants(column, record)));
        const add = (from: number, to: number, columns: readonly PlannedColumn[]): void => {
          const list = rows.slice(from - first, to - first + 1);
          made.push({
            block: {
              row: records.firstRow + from,
              column: columns[0].column,
              rows: list.length,
              columns: columns.length,
            },
            formulas: () => list.map((record) => columns.map((column) => plan.formula(column, record))),
            before: list.map((record) => columns.map((column) => stands(column, record))),
            records: at.get(to)!,
            isFresh: columns.every(({exists}) => !exists),
          });
        };
        if (whole) add(first, last, group);
        else
          for (const column of group)
            for (const part of runsOf(rows.filter((record) => wants(column, record))))
              add(part.first, part.last, [column]);
      }
    }
  }
  return made;
}

/** Blocks that touch are told as one: first those below each other, then those side by side. */
function joined(blocks: readonly Block[]): Block[] {
  const below = merged(
    [...blocks].sort((a, b) => a.column - b.column || a.row - b.row),
    (a, b) => a.column === b.column && a.columns === b.columns && a.row + a.rows === b.row,
    (a, b) => ({...a, rows: a.rows + b.rows}),
  );
  return merged(
    below.sort((a, b) => a.row - b.row || a.rows - b.rows || a.column - b.column),
    (a, b) => a.row === b.row && a.rows === b.rows && a.column + a.columns === b.column,
    (a, b) => ({...a, columns: a.columns + b.columns}),
  );
}

function merged(
  blocks: readonly Block[],
  touch: (a: Block, b: Block) => boolean,
  join: (a: Block, b: Block) => Block,
): Block[] {
  const list: Block[] = [];
  for (const block of blocks) {
    const before = list[list.length - 1];
    if (before !== undefined && touch(before, block)) list[list.length - 1] = join(before, block);
    else list.push(block);
  }
  return list;
}
