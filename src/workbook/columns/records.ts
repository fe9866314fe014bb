/** The records of a sheet, and the readings of each wherever they stand. */
import type {CellValue} from '../ledger';
import {isSide, SIDES, type Mapping, type ReadingsPlace, type Side, type Span} from './mapping';
import {isEmpty} from './source';

/** Readings of one side of one record, in the order of their positions. */
export interface FoundReadings {
  readonly values: readonly CellValue[];
  /** Where the layout says them. */
  readonly angles: readonly number[] | undefined;
  /** Rows of the source, from 0, in its own order. */
  readonly rows: readonly number[];
}

const norm = (cell: CellValue | undefined): string =>
  String(cell ?? '')
    .trim()
    .toLowerCase();

const keyOf = (row: readonly CellValue[], columns: readonly number[]): string =>
  columns.map((k) => norm(row[k])).join('\u0000');

export class Records {
  /** Rows of the records' source, from 0, at which a record stands; rows without anything are left out. */
  readonly rows: readonly number[];
  private readonly indexes = new Map<ReadingsPlace, ReadonlyMap<string, readonly number[]>>();

  constructor(readonly mapping: Mapping) {
    const {records, firstOf} = mapping;
    const seen = new Set<string>();
    this.rows = records.cells.flatMap((row, i) => {
      if (row.every(isEmpty)) return [];
      if (firstOf === undefined) return [i];
      const key = keyOf(row, firstOf);
      if (firstOf.every((k) => isEmpty(row[k])) || seen.has(key)) return [];
      seen.add(key);
      return [i];
    });
  }

  row(record: number): readonly CellValue[] {
    return this.mapping.records.cells[record] ?? [];
  }

  /** Rows of a place's source that belong to a record. */
  rowsOf(place: Exclude<ReadingsPlace, {kind: 'row'}>, record: number): readonly number[] {
    let index = this.indexes.get(place);
    if (index === undefined) {
      const made = new Map<string, number[]>();
      const columns = place.keys.map(({other}) => other);
      const {side} = place;
      place.source.cells.forEach((row, i) => {
        if (side !== undefined && norm(row[side.column]) !== norm(side.word)) return;
        const key = keyOf(row, columns);
        const rows = made.get(key);
        if (rows === undefined) made.set(key, [i]);
        else rows.push(i);
      });
      this.indexes.set(place, (index = made));
    }
    const own = place.keys.map((key) => key.own);
    return index.get(keyOf(this.row(record), own)) ?? [];
  }

  readings(side: Side, record: number): FoundReadings {
    const place = this.mapping.readings.get(side);
    if (place === undefined) return {values: [], angles: undefined, rows: []};
    if (place.kind === 'row') return {values: slice(this.row(record), place.span), angles: undefined, rows: [record]};
    const rows = this.rowsOf(place, record);
    if (place.kind === 'other row') {
      const row = rows[0];
      return {values: row === undefined ? [] : slice(place.source.cells[row], place.span), angles: undefined, rows};
    }
    const {at, value, source} = place;
    if (at === undefined) return {values: rows.map((i) => source.cells[i][value] ?? ''), angles: undefined, rows};
    const base = baseOf(place);
    const ordered = rows
      .map((i) => ({at: Number(source.cells[i][at]), value: source.cells[i][value] ?? ''}))
      .sort((a, b) => a.at - b.at);
    const angle = (n: number): number => (place.counts === 'angles' ? n : ((n - base) * 360) / place.positions);
    return {values: ordered.map((r) => r.value), angles: ordered.map((r) => angle(r.at)), rows};
  }

  /** Sides of a record that were read at other positions than the assembly. */
  unequalSides(record: number): Side[] {
    const places = SIDES.filter((side) => this.mapping.readings.get(side)?.kind === 'list');
    if (places.length < 2) return [];
    const [first, ...rest] = places.map((side) => (this.readings(side, record).angles ?? []).join());
    return rest.flatMap((angles, i) => (angles === first ? [] : [places[i + 1]]));
  }

  /** Keys that stand in more than one row where one is wanted; the first row would be taken for them. */
  repeated(): string[] {
    const found = new Set<string>();
    for (const place of this.mapping.readings.values()) {
      if (place.kind !== 'other row') continue;
      for (const record of this.rows) {
        if (this.rowsOf(place, record).length > 1)
          found.add(place.keys.map(({own}) => String(this.row(record)[own])).join(' '));
      }
    }
    return [...found];
  }
}

const slice = (row: readonly CellValue[] | undefined, {first, last}: Span): CellValue[] =>
  Array.from({length: last - first + 1}, (_, i) => row?.[first + i] ?? '');

/** Number of the first position, 0 or 1. */
export function baseOf(place: Extract<ReadingsPlace, {kind: 'list'}>): number {
  if (place.at === undefined) return 0;
  let least = Infinity;
  for (const row of place.source.cells) {
    const cell = row[place.at];
    if (typeof cell === 'number' && cell < least) least = cell;
  }
  return least === Infinity ? 0 : least;
}

/** Columns of the record's own row that hold what was entered, from the first to the last. */
export function enteredSpan(mapping: Mapping): Span {
  const spans = [...mapping.columns].flatMap(([role, span]) => (isSide(role) ? [] : [span]));
  for (const place of mapping.readings.values()) if (place.kind === 'row') spans.push(place.span);
  const {records} = mapping;
  if (spans.length === 0) return {first: 0, last: records.headings.length - 1};
  return {first: Math.min(...spans.map(({first}) => first)), last: Math.max(...spans.map(({last}) => last))};
}
