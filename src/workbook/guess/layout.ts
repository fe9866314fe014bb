/** What a sheet holds, guessed from its headings and cells; honest about what it is not sure of. */
import type {CellValue} from '../ledger';
import type {Role} from '../ledgerMap';
import {findHeadings, type Cells, type Headings} from './headings';
import {runs, type Run} from './runs';
import {
  ANGLE,
  INNER,
  LIMIT,
  OUTER,
  plain,
  READING_WORD,
  READINGS,
  RUNOUT_UNITS,
  SINGLE,
  UNBALANCE,
  WEIGHT_UNITS,
} from './vocabulary';

export interface GuessedColumns {
  readonly role: Role;
  /** Columns from 0, both ends included. */
  readonly first: number;
  readonly last: number;
  readonly sure: boolean;
  /** Why it is thought so, or what is doubtful. */
  readonly why: string;
}

export interface GuessedUnit {
  readonly unit: string;
  readonly sure: boolean;
  readonly why: string;
}

export interface Layout {
  readonly headings: Headings;
  readonly columns: readonly GuessedColumns[];
  readonly runoutUnit: GuessedUnit;
  readonly weightUnit: GuessedUnit;
}

/** Undefined when the sheet has no headings with readings below. */
export function guessLayout(cells: Cells): Layout | undefined {
  const headings = findHeadings(cells);
  return headings && layoutBelow(headings, cells);
}

/** The same for headings that are known, such as those of an Excel table. */
export function layoutBelow(headings: Headings, cells: Cells): Layout | undefined {
  const texts = headings.texts.map(plain);
  const found = runs(headings.texts);
  if (found.length === 0) return undefined;
  const readings = ofReadings(found, texts);
  const taken = new Set(readings.flatMap(({first, last}) => range(first, last)));
  const columns = [...readings, ...others(texts, taken)];
  return {
    headings,
    columns,
    runoutUnit: runoutUnit(texts, cells, headings, readings),
    weightUnit: unitOf(WEIGHT_UNITS, texts) ?? {unit: '', sure: false, why: 'no heading names g or oz'},
  };
}

const range = (first: number, last: number): number[] => Array.from({length: last - first + 1}, (_, i) => first + i);

/** What each run of readings was taken of, by its words; a single run without words is the assembly's. */
export function ofReadings(found: readonly Run[], texts: readonly string[]): GuessedColumns[] {
  const made: GuessedColumns[] = [];
  const add = (run: Run, role: Role, sure: boolean, why: string): void => {
    made.push({role, first: run.first, last: run.first + run.count - 1, sure, why});
  };
  const has = (role: Role): boolean => made.some((columns) => columns.role === role);
  const open: Run[] = [];
  for (const run of found) {
    // A unit in brackets is no word for a side: "Assembly (in)".
    const words = plain(run.words)
      .replace(/[([]\s*(mm|in|inch)\s*[)\]]/g, '')
      .trim();
    const fits = READINGS.find(({role, words: pattern}) => !has(role) && pattern.test(words));
    if (fits === undefined || READING_WORD.test(words)) open.push(run);
    else add(run, fits.role, true, `headings “${texts[run.first]}” to “${texts[run.first + run.count - 1]}”`);
  }
  // Without words the order tells: assembly first, then the bead seats from inboard to outboard.
  const order: readonly Role[] = ['Assembly readings', 'Inner bead seat', 'Outer bead seat'];
  const missing = order.filter((role) => !has(role));
  open.slice(0, missing.length).forEach((run, i) => {
    const alone = found.length === 1;
    add(
      run,
      missing[i],
      alone,
      alone ? 'the only run of readings' : 'by its place among the runs of readings; confirm it',
    );
  });
  return made;
}

/** Columns of one cell, limits and unbalance. */
export function others(texts: readonly string[], taken: ReadonlySet<number>): GuessedColumns[] {
  const made: GuessedColumns[] = [];
  const used = new Set(taken);
  const add = (role: Role, first: number, last: number, sure: boolean, why: string): void => {
    made.push({role, first, last, sure, why});
    for (const i of range(first, last)) used.add(i);
  };
  unbalance(texts, used, add);
  limits(texts, used, add);
  for (const {role, words} of SINGLE) {
    const fitting = texts.flatMap((text, i) => (!used.has(i) && words.test(text) ? [i] : []));
    if (fitting.length === 0) continue;
    const exact = fitting.find((i) => new RegExp(`^(${words.source})$`).test(texts[i])) ?? fitting[0];
    const sure =
      fitting.length === 1 || exact !== fitting[0] || fitting.filter((i) => texts[i] === texts[exact]).length === 1;
    add(
      role,
      exact,
      exact,
      sure,
      fitting.length === 1
        ? `heading “${texts[exact]}”`
        : `heading “${texts[exact]}”, of ${fitting.length} that would fit`,
    );
  }
  return made;
}

type Add = (role: Role, first: number, last: number, sure: boolean, why: string) => void;

/** Four neighbors: inboard amount and angle, outboard amount and angle. */
function unbalance(texts: readonly string[], used: ReadonlySet<number>, add: Add): void {
  for (let i = 0; i + 3 < texts.length; i++) {
    const four = texts.slice(i, i + 4);
    if (range(i, i + 3).some((k) => used.has(k))) continue;
    const angles = four.map((text) => ANGLE.test(text));
    if (angles.join() !== 'false,true,false,true') continue;
    const sides = INNER.test(four[0]) && OUTER.test(four[2]);
    const named = four.some((text) => UNBALANCE.test(text) || WEIGHT_UNITS.some(([, unit]) => unit.test(text)));
    if (!sides && !named) continue;
    add(
      'Unbalance',
      i,
      i + 3,
      sides,
      sides ? `headings “${four[0]}” to “${four[3]}”` : 'amount and angle twice; which side comes first is not said',
    );
    return;
  }
}

/** Limits stand together: assembly, rim, whole curve. */
function limits(texts: readonly string[], used: ReadonlySet<number>, add: Add): void {
  const first = texts.findIndex((text, i) => !used.has(i) && LIMIT.test(text));
  if (first < 0) return;
  let last = first;
  while (last + 1 < texts.length && last - first < 2 && !used.has(last + 1) && LIMIT.test(texts[last + 1])) last++;
  const rim = /\b(rim|felge|jante)/;
  if (last > first && rim.test(texts[first]) && !rim.test(texts[first + 1])) {
    add(
      'Limits',
      first,
      last,
      false,
      'the limit of the rim seems to stand first; that of the assembly is wanted there',
    );
    return;
  }
  add(
    'Limits',
    first,
    last,
    last > first,
    last > first ? `headings “${texts[first]}” to “${texts[last]}”` : 'one limit only; it serves for the rim too',
  );
}

export function unitOf(
  units: readonly (readonly [string, RegExp])[],
  texts: readonly string[],
): GuessedUnit | undefined {
  const named = units.filter(([, pattern]) => texts.some((text) => pattern.test(text)));
  if (named.length !== 1) return undefined;
  return {unit: named[0][0], sure: true, why: 'a heading names it'};
}

/** Above this a spread of readings is no plausible runout in inches (common practice: limits of 0.02 to 0.04 in). */
const WIDE_FOR_INCHES = 0.15;

/** Between these a middle spread could be either: a fine reading in mm or a coarse one in inches. */
const EITHER: readonly [number, number] = [0.03, 0.12];

/** Unit of runout from headings, then titles, then the size of what was read. */
export function runoutUnitOf(
  own: readonly string[],
  titles: readonly string[],
  sets: readonly (readonly CellValue[])[],
): GuessedUnit {
  const named = unitOf(RUNOUT_UNITS, own) ?? unitOf(RUNOUT_UNITS, titles);
  if (named !== undefined) return named;
  const spreads = sets.map(spread).filter((v): v is number => v !== undefined && v > 0);
  if (spreads.length === 0) return {unit: '', sure: false, why: 'no unit is named and no readings are there yet'};
  const middle = [...spreads].sort((a, b) => a - b)[Math.floor(spreads.length / 2)];
  const unit = middle < WIDE_FOR_INCHES / 3 ? 'in' : 'mm';
  const doubtful = middle > EITHER[0] && middle < EITHER[1];
  return {
    unit,
    sure: false,
    why: `no unit is named; readings that span ${Number(middle.toPrecision(2))} ${doubtful ? 'could be either, more likely' : 'look like'} ${unit}`,
  };
}

function runoutUnit(
  texts: readonly string[],
  cells: Cells,
  headings: Headings,
  readings: readonly GuessedColumns[],
): GuessedUnit {
  const titles = cells.slice(0, headings.row).flatMap((row) => row.map((cell) => plain(String(cell))));
  const own = readings.flatMap(({first, last}) => texts.slice(first, last + 1));
  const sets = cells
    .slice(headings.firstRecord, headings.lastRecord + 1)
    .flatMap((row) => readings.map(({first, last}) => row.slice(first, last + 1)));
  return runoutUnitOf(own, titles, sets);
}

function spread(cells: readonly CellValue[]): number | undefined {
  const list = cells.filter((cell): cell is number => typeof cell === 'number');
  return list.length < 3 ? undefined : Math.max(...list) - Math.min(...list);
}
