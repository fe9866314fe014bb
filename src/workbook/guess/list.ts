/** Long lists: one reading a row, the wheel named beside each. */
import type {CellValue} from '../ledger';
import type {Side, SideWord} from '../columns/mapping';
import {isEmpty, type Source} from '../columns/source';
import {FEWEST} from './runs';
import {LIMIT, plain, READING_WORD, READINGS, SINGLE} from './vocabulary';

export interface GuessedValues {
  readonly of: Side;
  readonly value: number;
  readonly side: SideWord | undefined;
  readonly sure: boolean;
  readonly why: string;
}

export interface ListGuess {
  /** Columns that together name the wheel. */
  readonly keys: readonly number[];
  readonly keysSure: boolean;
  readonly at: number | undefined;
  readonly counts: 'angles' | 'numbers';
  readonly positions: number;
  readonly values: readonly GuessedValues[];
  readonly doubts: readonly string[];
}

/** A list with more positions around the turn than this is none. */
const MOST = 400;

/** Undefined when the source is no list of readings. */
export function guessList(source: Source): ListGuess | undefined {
  const rows = source.cells.filter((row) => row.some((cell) => !isEmpty(cell)));
  if (rows.length < FEWEST) return undefined;
  const columns = source.headings.map((heading, i) =>
    describe(
      plain(heading),
      rows.map((row) => row[i] ?? ''),
    ),
  );
  const position = findPosition(columns);
  const sideColumn = findSide(columns);
  const keys = findKeys(columns, rows, position?.column, sideColumn);
  if (keys === undefined) return undefined;
  const used = new Set([...keys.columns, ...(position === undefined ? [] : [position.column]), sideColumn ?? -1]);
  const groups = grouped(rows, keys.columns);
  const values = findValues(columns, rows, used, sideColumn, groups);
  if (values.length === 0) return undefined;
  const sizes = [...groups.values()].map((members) => members.length / (sideColumn === undefined ? 1 : values.length));
  const positions = position?.count ?? Math.round(Math.max(...sizes));
  if (positions < FEWEST || positions > MOST) return undefined;
  const doubts: string[] = [];
  if (position === undefined)
    doubts.push('No column says at which angle a reading was taken; the order of the rows is taken for it.');
  if (!keys.sure) doubts.push('Which columns name a wheel is a guess; confirm it.');
  return {
    keys: keys.columns,
    keysSure: keys.sure,
    at: position?.column,
    counts: position?.kind ?? 'numbers',
    positions,
    values,
    doubts,
  };
}

interface Column {
  readonly heading: string;
  readonly cells: readonly CellValue[];
  readonly filled: number;
  readonly numeric: boolean;
  readonly distinct: ReadonlySet<string>;
}

const same = (cell: CellValue): string => String(cell).trim().toLowerCase();

function describe(heading: string, cells: readonly CellValue[]): Column {
  const there = cells.filter((cell) => !isEmpty(cell));
  return {
    heading,
    cells,
    filled: there.length,
    numeric: there.length > 0 && there.filter((cell) => typeof cell === 'number').length >= 0.95 * there.length,
    distinct: new Set(there.map(same)),
  };
}

const POSITION_WORDS =
  /(angle|winkel|°|\bdeg|\bgrad\b|point|punkt|position|pos\b|\bnr\b|\bno\b|number|messpunkt|step|reading)/;

/** The column whose numbers go round and round: angles in even steps, or 1, 2, 3 … */
function findPosition(
  columns: readonly Column[],
): {column: number; kind: 'angles' | 'numbers'; count: number} | undefined {
  const fitting = columns.flatMap((column, i) => {
    if (!column.numeric || column.filled < 0.95 * column.cells.length) return [];
    const numbers = [...column.distinct].map(Number).sort((a, b) => a - b);
    const count = numbers.length;
    if (count < FEWEST || count > MOST || column.cells.length < count) return [];
    const changes = column.cells.filter((cell, k) => k > 0 && cell !== column.cells[k - 1]).length;
    // Wheels may be read side by side: then only the heading tells a position from a column that stays the same.
    if (changes < 0.8 * (column.cells.length - 1) && !POSITION_WORDS.test(column.heading)) return [];
    const each = column.cells.length / count;
    if (numbers.some((v) => Math.abs(column.cells.filter((cell) => cell === v).length - each) > 0.5 * each)) return [];
    const step = 360 / count;
    const angles =
      numbers.every((v, k) => Math.abs(v - numbers[0] - k * step) < 0.03 * step) && numbers[0] <= step * 1.001;
    const counted = numbers.every((v, k) => v === numbers[0] + k) && (numbers[0] === 0 || numbers[0] === 1);
    // A list of a single wheel goes round once: then only the words tell that this is no measured value.
    const once = column.cells.length === count && !POSITION_WORDS.test(column.heading);
    if ((!angles && !counted) || once) return [];
    return [{column: i, kind: angles ? ('angles' as const) : ('numbers' as const), count}];
  });
  return fitting.find(({column}) => POSITION_WORDS.test(columns[column].heading)) ?? fitting[0];
}

/** What a word in a cell says was measured. */
export function sideOf(word: string): Side | undefined {
  return READINGS.find(({words}) => words.test(plain(word)))?.role as Side | undefined;
}

/** The column that says what was measured. */
export function findSide(columns: readonly Pick<Column, 'distinct' | 'numeric'>[]): number | undefined {
  const at = columns.findIndex(({distinct, numeric}) => {
    if (numeric || distinct.size < 2 || distinct.size > 4) return false;
    const sides = [...distinct].map(sideOf);
    return sides.every((side) => side !== undefined) && new Set(sides).size === sides.length;
  });
  return at < 0 ? undefined : at;
}

const groupKey = (row: readonly CellValue[], columns: readonly number[]): string =>
  columns.map((i) => same(row[i] ?? '')).join('\u0000');

export function grouped(
  rows: readonly (readonly CellValue[])[],
  columns: readonly number[],
): Map<string, (readonly CellValue[])[]> {
  const groups = new Map<string, (readonly CellValue[])[]>();
  for (const row of rows) {
    const key = groupKey(row, columns);
    const members = groups.get(key);
    if (members === undefined) groups.set(key, [row]);
    else members.push(row);
  }
  return groups;
}

/** The fewest columns that, with position and side, tell every row from every other. */
function findKeys(
  columns: readonly Column[],
  rows: readonly (readonly CellValue[])[],
  position: number | undefined,
  side: number | undefined,
): {columns: number[]; sure: boolean} | undefined {
  const known = (i: number): number => {
    const at = SINGLE.findIndex(({words}) => words.test(columns[i].heading));
    const role = at < 0 ? undefined : SINGLE[at].role;
    return role === 'Wheel' ? 0 : role === 'Position' ? 1 : role === 'Job' ? 2 : at >= 0 ? 3 : 4;
  };
  const candidates = columns
    .map((_, i) => i)
    .filter((i) => {
      const {filled, numeric, cells} = columns[i];
      if (i === position || i === side || filled < 0.95 * cells.length) return false;
      // Measured values are no names.
      return !numeric || cells.every((cell) => isEmpty(cell) || Number.isInteger(cell));
    })
    .sort((a, b) => known(a) - known(b) || a - b);
  const fits = (keys: readonly number[]): boolean => {
    const groups = [...grouped(rows, keys).values()];
    if (rows.length / groups.length < FEWEST) return false;
    const inner = [...keys, ...(side === undefined ? [] : [side])];
    if (position !== undefined) return grouped(rows, [...inner, position]).size === rows.length;
    // Without positions the groups have to be of one size, and together.
    const sizes = new Set([...grouped(rows, inner).values()].map((members) => members.length));
    return sizes.size === 1 && groups.length > 1;
  };
  const single = candidates.find((i) => fits([i]));
  // A corner names a wheel within a job only, however few jobs there are yet.
  const job = candidates.find((i) => known(i) === 2);
  if (single !== undefined && known(single) === 1 && job !== undefined)
    return {columns: [single, job].sort((x, y) => x - y), sure: true};
  if (single !== undefined) {
    const named = known(single) <= 2;
    const rivals = candidates.filter((i) => i !== single && fits([i]) && known(i) <= known(single));
    return {columns: [single], sure: named && rivals.length === 0};
  }
  for (const a of candidates)
    for (const b of candidates.slice(candidates.indexOf(a) + 1)) {
      if (fits([a, b])) return {columns: [a, b].sort((x, y) => x - y), sure: known(a) <= 3 && known(b) <= 3};
    }
  return undefined;
}

const SIDES: readonly Side[] = ['Assembly readings', 'Inner bead seat', 'Outer bead seat'];
const VALUE_WORDS =
  /\b(reading|runout|value|dial|indicator|messwert|messuhr|rundlauf|wert|anzeige|ausschlag|mesure|comparateur|valeur|faux-?rond|lecture|tir)\b/;

/** Days of this century as Excel counts them, or what the heading calls a date. */
const isDate = ({heading, cells}: Column): boolean =>
  SINGLE.some(({role, words}) => role === 'Date' && words.test(heading)) ||
  cells.every((cell) => isEmpty(cell) || (typeof cell === 'number' && cell > 36000 && cell < 73000));

function findValues(
  columns: readonly Column[],
  rows: readonly (readonly CellValue[])[],
  used: ReadonlySet<number>,
  side: number | undefined,
  groups: ReadonlyMap<string, readonly (readonly CellValue[])[]>,
): GuessedValues[] {
  const varies = (i: number): boolean =>
    [...groups.values()].some((members) => new Set(members.map((row) => row[i])).size > 2);
  const numeric = columns.flatMap((column, i) =>
    !used.has(i) && column.numeric && !LIMIT.test(column.heading) && !isDate(column) && varies(i) ? [i] : [],
  );
  if (side !== undefined) {
    const value = numeric.find((i) => VALUE_WORDS.test(columns[i].heading)) ?? numeric[0];
    if (value === undefined) return [];
    const words = new Map<string, string>();
    for (const row of rows) if (!isEmpty(row[side])) words.set(same(row[side]), String(row[side]).trim());
    return [...words.values()].map((word) => ({
      of: sideOf(word)!,
      value,
      side: {column: side, word},
      sure: numeric.length === 1 || VALUE_WORDS.test(columns[value].heading),
      why:
        numeric.length === 1 || VALUE_WORDS.test(columns[value].heading)
          ? `rows whose “${columns[side].heading}” is “${word}”`
          : `“${columns[value].heading}” is taken for the readings, of ${numeric.length} columns that would fit`,
    }));
  }
  const byWords = numeric.flatMap((value) => {
    const heading = columns[value].heading.replace(/[([]\s*(mm|in|inch)\s*[)\]]/g, '').trim();
    const of = READING_WORD.test(heading) ? undefined : (READINGS.find(({words}) => words.test(heading))?.role as Side);
    return of === undefined
      ? []
      : [{of, value, side: undefined, sure: true, why: `heading “${columns[value].heading}”`}];
  });
  const named = byWords.filter(({of}, i) => byWords.findIndex((other) => other.of === of) === i);
  if (named.length > 0) return named;
  const alone = numeric.length === 1;
  return numeric.slice(0, numeric.length >= 3 ? 3 : 1).map((value, i) => ({
    of: SIDES[i],
    value,
    side: undefined,
    sure: alone,
    why: alone ? 'the only column of measured values' : 'by its place among the columns of values; confirm it',
  }));
}
