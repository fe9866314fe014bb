/** What the Columns view shows, worked out from what was read. No Excel and no screen in here. */
import {columnLetters, contains} from '../../workbook/addresses';
import {fromLedgerMap} from '../../workbook/columns/ledgerMapping';
import {
  headingOf,
  positionsOf,
  SIDES,
  type Mapping,
  type ReadingsPlace,
  type Side,
} from '../../workbook/columns/mapping';
import type {ReadWorkbook} from '../../workbook/columns/readWorkbook';
import {likelyLimits, settingsTablesOf, type LimitsFrom, type SettingsCells} from '../../workbook/columns/settings';
import {sourcesOf, sourceWords, type Source} from '../../workbook/columns/source';
import {guessWorkbook, type Note} from '../../workbook/guess/workbook';
import type {Role} from '../../workbook/ledgerMap';

/** One way to read the workbook: its rows of wheels, and what is known of them. */
export interface Candidate {
  readonly title: string;
  readonly mapping: Mapping;
  readonly limitsFrom: LimitsFrom;
  readonly notes: ReadonlyMap<Role, Note>;
  readonly doubts: readonly string[];
  readonly unitSure: boolean;
  readonly origin: 'map' | 'guess';
}

export interface Known {
  readonly candidates: readonly Candidate[];
  /** The one that the selection is in, or else the first. */
  readonly likely: number;
  readonly tables: ReadonlyMap<string, SettingsCells>;
}

const areaOf = (source: Source) => ({
  sheet: source.sheet,
  row: source.headerRow,
  column: source.firstColumn,
  rows: source.cells.length + 1,
  columns: source.headings.length,
});

export function known({sheets, selection, map}: ReadWorkbook): Known {
  const sources = sheets.flatMap(sourcesOf);
  const tables = settingsTablesOf(sheets);
  const confirmed = map === undefined ? undefined : fromLedgerMap(map, sources);
  const candidates: Candidate[] = guessWorkbook(sources).map((guess) => {
    const {mapping} = guess;
    const title = titleOf(mapping.records);
    if (confirmed !== undefined && confirmed.mapping.records === mapping.records)
      return {title, ...confirmed, notes: new Map(), doubts: [], unitSure: true, origin: 'map'};
    return {
      title,
      mapping,
      limitsFrom: likelyLimits(mapping, tables),
      notes: guess.notes,
      doubts: guess.doubts,
      unitSure: guess.runoutUnit.sure,
      origin: 'guess',
    };
  });
  const at = candidates.findIndex(({mapping: {records}}) => contains(areaOf(records), selection));
  const sameSheet = candidates.findIndex(({mapping: {records}}) => records.sheet === selection.sheet);
  return {candidates, likely: at >= 0 ? at : Math.max(sameSheet, 0), tables};
}

const titleOf = (source: Source): string =>
  `${sourceWords(source)}, ${source.cells.length} row${source.cells.length === 1 ? '' : 's'}`;

/** A column as a person tells it: its letters and heading. */
export const columnTitle = (source: Source, column: number): string =>
  `${columnLetters(source.firstColumn + column)} · ${headingOf(source, column)}`;

/** Roles of single columns that can be said by hand, and how many columns each takes at most. */
export const EDITABLE: readonly (readonly [Role, 1 | 4 | 'span'])[] = [
  ['Wheel', 1],
  ['Job', 1],
  ['Date', 1],
  ['Vehicle', 1],
  ['Class', 1],
  ['Position', 1],
  ['Tire size', 1],
  ['Supplier', 1],
  ['TIN', 1],
  ['Limits', 'span'],
  ['Stock step', 1],
  ['Unbalance', 4],
];

/** The mapping with another first or last column of a role; undefined takes the role away. */
export function withColumns(mapping: Mapping, role: Role, first: number | undefined, last?: number): Mapping {
  const columns = new Map(mapping.columns);
  if (first === undefined) columns.delete(role);
  else columns.set(role, {first, last: Math.max(first, last ?? first)});
  return {...mapping, columns};
}

export function withReadings(mapping: Mapping, side: Side, place: ReadingsPlace | undefined): Mapping {
  const readings = new Map(
    SIDES.flatMap((one) => {
      const there = one === side ? place : mapping.readings.get(one);
      return there === undefined ? [] : [[one, there] as const];
    }),
  );
  return {...mapping, readings};
}

/** A list in the order of another column, which holds angles or counts positions. */
export function inOrderOf(place: Extract<ReadingsPlace, {kind: 'list'}>, at: number | undefined): ReadingsPlace {
  if (at === undefined) return {...place, at};
  const found = new Set(place.source.cells.flatMap((row) => (typeof row[at] === 'number' ? [row[at]] : [])));
  const numbers = [...found].sort((a, b) => a - b);
  const counted = numbers.every((v, i) => v === numbers[0] + i) && numbers[0] <= 1;
  return {...place, at, counts: counted ? 'numbers' : 'angles', positions: Math.max(1, numbers.length)};
}

/** What speaks against the mapping as it is, in sentences. */
export function contradictions(mapping: Mapping): string[] {
  const words: string[] = [];
  const counts = SIDES.flatMap((side) => (mapping.readings.has(side) ? [positionsOf(mapping.readings.get(side))] : []));
  if (new Set(counts).size > 1)
    words.push(
      `Assembly and bead seats have different numbers of readings (${counts.join(', ')}); the finding needs as many of each.`,
    );
  const unbalance = mapping.columns.get('Unbalance');
  if (unbalance !== undefined && unbalance.last - unbalance.first !== 3)
    words.push('Unbalance takes four columns side by side: inboard amount, its angle, outboard amount, its angle.');
  const limits = mapping.columns.get('Limits');
  if (limits !== undefined && limits.last - limits.first > 2)
    words.push('Limits take at most three columns: assembly, rim, whole curve.');
  const used = new Map<number, string>();
  const take = (name: string, first: number, last: number): void => {
    for (let i = first; i <= last; i++) {
      const other = used.get(i);
      if (other !== undefined) words.push(`${columnTitle(mapping.records, i)} is taken for ${other} and for ${name}.`);
      used.set(i, name);
    }
  };
  for (const [role, {first, last}] of mapping.columns) take(role, first, last);
  for (const [side, place] of mapping.readings) if (place.kind === 'row') take(side, place.span.first, place.span.last);
  return [...new Set(words)].slice(0, 4);
}

/** Today as Excel counts days. */
export const excelToday = (now = new Date()): number =>
  Math.round(Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) / 86400000) + 25569;
