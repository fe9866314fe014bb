/** The mapping as the ledger map keeps it on its own sheet, and back. */
import {cellAddress, columnLetters, sheetPrefix} from '../addresses';
import {guessList} from '../guess/list';
import type {LedgerMap, Place, Role} from '../ledgerMap';
import {isSide, type Key, type Mapping, type ReadingsPlace, type Side, type Span} from './mapping';
import type {LimitsFrom} from './settings';
import type {Source} from './source';

/** What the map calls a source: a table's name, or the cell of a plain range's first heading. */
export const sourceName = ({kind, name, sheet, headerRow, firstColumn}: Source): string =>
  kind === 'table' ? name : `${sheetPrefix(sheet)}${cellAddress(headerRow, firstColumn)}`;

/** A heading, or the letters of the column where the heading alone would not tell it. */
function columnName(source: Source, column: number): string {
  const heading = source.headings[column].trim();
  const clear =
    heading !== '' && !/[:;=]/.test(heading) && source.headings.filter((h) => h.trim() === heading).length === 1;
  return clear ? heading : `column ${columnLetters(source.firstColumn + column)}`;
}

function columnOf(source: Source, name: string): number | undefined {
  const at = source.headings.findIndex((heading) => heading.trim() === name.trim());
  if (at >= 0) return at;
  const letters = /^column ([A-Z]{1,3})$/.exec(name.trim())?.[1];
  if (letters === undefined) return undefined;
  const column = [...letters].reduce((n, c) => 26 * n + c.charCodeAt(0) - 64, 0) - 1 - source.firstColumn;
  return column >= 0 && column < source.headings.length ? column : undefined;
}

const IN_ORDER = 'in order of ';

/** Where limits of one class for all come from, as the map says it. */
const oneClass = (name: string): string => `Class = "${name}"`;

export function toLedgerMap(mapping: Mapping, limitsFrom: LimitsFrom, lastLimit: string): LedgerMap {
  const {records, columns, readings, firstOf} = mapping;
  const place = (source: Source, {first, last}: Span, found?: string): Place => ({
    table: sourceName(source),
    first: columnName(source, first),
    last: columnName(source, last),
    by: undefined,
    ...(found === undefined ? {} : {found}),
  });
  const places = new Map<Role, Place>([...columns].map(([role, span]) => [role, place(records, span)]));
  for (const [side, at] of readings) {
    if (at.kind === 'row') places.set(side, place(records, at.span));
    else {
      const span = at.kind === 'list' ? {first: at.value, last: at.value} : at.span;
      places.set(side, place(at.source, span, foundBy(records, at)));
    }
  }
  if (limitsFrom.kind === 'class' || limitsFrom.kind === 'one class') {
    const by = limitsFrom.kind === 'class' ? {by: 'Class' as const} : {by: undefined, found: oneClass(limitsFrom.name)};
    places.set('Limits', {table: 'Limits', first: 'Assembly', last: lastLimit, ...by});
    if (!columns.has('Stock step'))
      places.set('Stock step', {table: 'Limits', first: 'Stock step', last: 'Stock step', ...by});
    places.set('Planes', {table: 'Planes', first: 'Inboard position', last: 'Outboard radius', ...by});
  }
  return {
    table: sourceName(records),
    places,
    runoutUnit: mapping.runoutUnit,
    weightUnit: mapping.weightUnit,
    clockwise: mapping.clockwise,
    origin: 'map',
    ...(firstOf === undefined ? {} : {wheelBy: firstOf.map((k) => columnName(records, k)).join(' + ')}),
  };
}

/** "Rad = Wheel; Side = Tire; in order of Angle": other column = own column, column = "word", order. */
function foundBy(records: Source, place: Exclude<ReadingsPlace, {kind: 'row'}>): string {
  const {source, keys, side} = place;
  const parts = keys.map(({own, other}) => `${columnName(source, other)} = ${columnName(records, own)}`);
  if (side !== undefined) parts.push(`${columnName(source, side.column)} = "${side.word}"`);
  if (place.kind === 'list') parts.push(`${IN_ORDER}${place.at === undefined ? 'rows' : columnName(source, place.at)}`);
  return parts.join('; ');
}

export interface Confirmed {
  readonly mapping: Mapping;
  readonly limitsFrom: LimitsFrom;
}

/** The mapping that the map tells; undefined when what it names is no longer there. */
export function fromLedgerMap(map: LedgerMap, sources: readonly Source[]): Confirmed | undefined {
  const records = sources.find((source) => sourceName(source) === map.table) ?? byHeadings(map.table, sources);
  if (records === undefined) return undefined;
  const columns = new Map<Role, Span>();
  const readings = new Map<Side, ReadingsPlace>();
  let limitsFrom: LimitsFrom = {kind: 'none'};
  for (const [role, place] of map.places) {
    if (place.table === 'Limits' || place.table === 'Planes') {
      const name = /^Class = "(.*)"$/.exec(place.found ?? '')?.[1];
      limitsFrom = name === undefined ? {kind: 'class'} : {kind: 'one class', name};
      continue;
    }
    const source =
      place.table === map.table
        ? records
        : (sources.find((s) => sourceName(s) === place.table) ?? byHeadings(place.table, sources));
    if (source === undefined) return undefined;
    const [first, last] = [columnOf(source, place.first), columnOf(source, place.last)];
    if (first === undefined || last === undefined || last < first) return undefined;
    if (!isSide(role)) {
      columns.set(role, {first, last});
      if (role === 'Limits') limitsFrom = {kind: 'columns'};
    } else if (place.found === undefined) readings.set(role, {kind: 'row', span: {first, last}});
    else {
      const found = elsewhere(records, source, {first, last}, place.found);
      if (found === undefined) return undefined;
      readings.set(role, found);
    }
  }
  const firstOf = map.wheelBy?.split(' + ').map((name) => columnOf(records, name));
  if (firstOf?.includes(undefined)) return undefined;
  return {
    mapping: {
      records,
      firstOf: firstOf as number[] | undefined,
      columns,
      readings,
      runoutUnit: map.runoutUnit,
      weightUnit: map.weightUnit,
      clockwise: map.clockwise,
    },
    limitsFrom,
  };
}

/** A plain range may have moved or grown on its sheet since the map was written. */
const byHeadings = (name: string, sources: readonly Source[]): Source | undefined =>
  sources.find((source) => source.kind === 'range' && name.startsWith(sheetPrefix(source.sheet)));

function elsewhere(records: Source, source: Source, span: Span, found: string): ReadingsPlace | undefined {
  const keys: Key[] = [];
  let side: {column: number; word: string} | undefined;
  let order: string | undefined;
  for (const part of found.split(';').map((text) => text.trim())) {
    if (part.startsWith(IN_ORDER)) order = part.slice(IN_ORDER.length);
    else {
      const [name, value] = part.split(' = ');
      const column = columnOf(source, name);
      if (column === undefined || value === undefined) return undefined;
      const word = /^"(.*)"$/.exec(value)?.[1];
      const own = word === undefined ? columnOf(records, value) : 0;
      if (own === undefined) return undefined;
      if (word === undefined) keys.push({own, other: column});
      else side = {column, word};
    }
  }
  if (order === undefined) return {kind: 'other row', source, keys, span, side};
  const list = guessList(source);
  const at = order === 'rows' ? undefined : columnOf(source, order);
  if (list === undefined || (order !== 'rows' && at === undefined)) return undefined;
  return {kind: 'list', source, keys, value: span.first, side, at, counts: list.counts, positions: list.positions};
}
