/** The guess for a whole workbook: which rows are wheels, and where their readings stand. */
import type {Key, Mapping, ReadingsPlace, Side, Span} from '../columns/mapping';
import {isSide, SIDES} from '../columns/mapping';
import {isEmpty, sourceWords, type Source} from '../columns/source';
import type {CellValue} from '../ledger';
import type {Role} from '../ledgerMap';
import {layoutBelow, others, ofReadings, runoutUnitOf, unitOf, type GuessedColumns, type GuessedUnit} from './layout';
import {guessList, sideOf, type ListGuess} from './list';
import {runs} from './runs';
import {plain, WEIGHT_UNITS} from './vocabulary';

export interface Note {
  readonly sure: boolean;
  readonly why: string;
}

export interface Guess {
  readonly mapping: Mapping;
  /** How sure each part is, and why it is thought so. */
  readonly notes: ReadonlyMap<Role, Note>;
  readonly runoutUnit: GuessedUnit;
  readonly weightUnit: GuessedUnit;
  /** What has to be looked at before filling, in whole sentences. */
  readonly doubts: readonly string[];
}

/** Share of a record's keys that another source has to know to be its readings. */
const ENOUGH_KEYS = 0.6;

/** A guess for every source that can hold records, those with readings first. */
export function guessWorkbook(sources: readonly Source[]): Guess[] {
  const made = sources.flatMap((source) => {
    const guess = guessRecords(source, sources);
    return guess === undefined ? [] : [guess];
  });
  // A list whose wheels have rows of their own elsewhere is their readings, not a ledger.
  const referred = new Set(
    made.flatMap(({mapping}) =>
      [...mapping.readings.values()].flatMap((place) =>
        place.kind !== 'row' && place.source !== mapping.records ? [place.source] : [],
      ),
    ),
  );
  const rank = ({mapping}: Guess): number =>
    (mapping.readings.size === 0 ? 4 : 0) + (referred.has(mapping.records) && mapping.firstOf !== undefined ? 2 : 0);
  return [...made].sort((a, b) => rank(a) - rank(b));
}

/** The guess for one source; undefined when it holds neither readings nor records whose readings stand elsewhere. */
export function guessRecords(source: Source, all: readonly Source[]): Guess | undefined {
  if (source.cells.length === 0) return undefined;
  const texts = source.headings.map(plain);
  const layout = layoutBelow(
    {
      row: 0,
      rows: 1,
      texts: source.headings,
      columns: {first: 0, last: source.headings.length - 1},
      firstRecord: 1,
      lastRecord: source.cells.length,
    },
    [source.headings, ...source.cells],
  );
  if (layout !== undefined) {
    const repeated = sidesInRows(source, layout.columns);
    if (repeated !== undefined) return repeated;
    const own = runoutUnitOf(
      layout.columns.filter(({role}) => isSide(role)).flatMap(({first, last}) => texts.slice(first, last + 1)),
      source.above,
      rowSets(
        source,
        layout.columns.filter(({role}) => isSide(role)),
      ),
    );
    const readings = new Map<Side, ReadingsPlace>();
    for (const {role, first, last} of layout.columns)
      if (isSide(role)) readings.set(role, {kind: 'row', span: {first, last}});
    return finish(source, layout.columns, readings, own, undefined, unevenAngles(source, layout.columns));
  }
  const list = guessList(source);
  if (list !== undefined)
    return fromList(
      source,
      list,
      source,
      list.keys.map((k) => ({own: k, other: k})),
    );
  return readingsElsewhere(source, all);
}

/** Readings side by side are taken in even steps from the first on; angles in headings that say otherwise are doubtful. */
function unevenAngles(source: Source, columns: readonly GuessedColumns[]): string[] {
  return columns.flatMap(({role, first, last}) => {
    if (!isSide(role)) return [];
    const angles = source.headings
      .slice(first, last + 1)
      .map((heading) => Number(/(\d+(?:[.,]\d+)?)\D*$/.exec(heading)?.[1].replace(',', '.') ?? NaN));
    const step = 360 / angles.length;
    const counted = angles.every((v, i) => v === angles[0] + i) && angles[0] <= 1;
    if (counted || angles.every((v, i) => Math.abs(v - i * step) < 0.02 * step)) return [];
    return [
      `${role}: the numbers in its headings are no even steps from 0° around the turn; the formulas take even steps from the first reading, at the valve hole.`,
    ];
  });
}

const rowSets = (source: Source, columns: readonly Pick<GuessedColumns, 'first' | 'last'>[]): CellValue[][] =>
  source.cells.slice(0, 400).flatMap((row) => columns.map(({first, last}) => row.slice(first, last + 1)));

/** Columns of one cell, the readings and what serves them left aside. */
function singles(source: Source, taken: readonly number[]): GuessedColumns[] {
  return others(source.headings.map(plain), new Set(taken));
}

function finish(
  records: Source,
  columns: readonly GuessedColumns[],
  readings: ReadonlyMap<Side, ReadingsPlace>,
  runoutUnit: GuessedUnit,
  firstOf: readonly number[] | undefined,
  doubts: readonly string[],
  sideNotes: ReadonlyMap<Role, Note> = new Map(),
): Guess {
  const spans = new Map<Role, Span>();
  const notes = new Map<Role, Note>(sideNotes);
  for (const {role, first, last, sure, why} of columns) {
    notes.set(role, {sure, why});
    if (!isSide(role)) spans.set(role, {first, last});
  }
  const weightUnit = unitOf(WEIGHT_UNITS, records.headings.map(plain)) ??
    unitOf(WEIGHT_UNITS, records.above) ?? {unit: '', sure: false, why: 'no heading names g or oz'};
  const unsure = [...notes].filter(([, note]) => !note.sure);
  return {
    mapping: {
      records,
      firstOf,
      columns: spans,
      readings,
      runoutUnit: runoutUnit.unit,
      weightUnit: weightUnit.unit || (runoutUnit.unit === 'in' ? 'oz' : 'g'),
      clockwise: true,
    },
    notes,
    runoutUnit,
    weightUnit,
    doubts: [
      ...doubts,
      ...unsure.map(([role, {why}]) => `${role}: ${why}.`),
      ...(runoutUnit.sure ? [] : [`Unit of runout: ${runoutUnit.why}.`]),
      ...(weightUnit.sure || !spans.has('Unbalance') ? [] : [`Unit of weights: ${weightUnit.why}.`]),
    ],
  };
}

/** Several rows a wheel, each with the readings of one side, the side named in a column. */
function sidesInRows(source: Source, columns: readonly GuessedColumns[]): Guess | undefined {
  const sides = columns.filter(({role}) => isSide(role));
  if (sides.length !== 1) return undefined;
  const found = sideColumn(source);
  if (found === undefined) return undefined;
  const key = keyColumns(source, found.column, sides[0]);
  if (key === undefined) return undefined;
  const keys = key.columns.map((k) => ({own: k, other: k}));
  return rowsBySide(
    source,
    source,
    keys,
    found,
    sides[0],
    key.sure ? [] : [keyDoubt(source, key.columns)],
    key.columns,
  );
}

const keyDoubt = (source: Source, columns: readonly number[]): string =>
  `A wheel is told by ${columns.map((k) => `“${source.headings[k]}”`).join(' and ')}; confirm it.`;

function rowsBySide(
  records: Source,
  source: Source,
  keys: readonly Key[],
  found: {column: number; words: ReadonlyMap<Side, string>},
  run: GuessedColumns,
  doubts: readonly string[],
  firstOf: readonly number[] | undefined,
): Guess {
  const readings = new Map<Side, ReadingsPlace>();
  const notes = new Map<Role, Note>();
  for (const [side, word] of found.words) {
    const span = {first: run.first, last: run.last};
    readings.set(side, {kind: 'other row', source, keys, span, side: {column: found.column, word}});
    notes.set(side, {sure: true, why: `rows whose “${source.headings[found.column]}” is “${word}”`});
  }
  const unit = runoutUnitOf(
    source.headings.slice(run.first, run.last + 1).map(plain),
    source.above,
    rowSets(source, [run]),
  );
  const taken =
    records === source
      ? [found.column, ...Array.from({length: run.last - run.first + 1}, (_, i) => run.first + i)]
      : [];
  return finish(records, singles(records, taken), readings, unit, firstOf, doubts, notes);
}

function sideColumn(source: Source): {column: number; words: ReadonlyMap<Side, string>} | undefined {
  for (let column = 0; column < source.headings.length; column++) {
    const words = new Map<string, string>();
    for (const row of source.cells) {
      const cell = row[column];
      if (isEmpty(cell)) continue;
      if (typeof cell !== 'string' || words.size > 4) {
        words.clear();
        break;
      }
      words.set(cell.trim().toLowerCase(), cell.trim());
    }
    if (words.size < 2 || words.size > 4) continue;
    const sides = [...words.values()].map((word) => [sideOf(word), word] as const);
    if (sides.some(([side]) => side === undefined)) continue;
    const bySide = new Map(sides as [Side, string][]);
    if (bySide.size === sides.length) return {column, words: bySide};
  }
  return undefined;
}

/** Columns that, with the side, tell every row from every other. */
function keyColumns(
  source: Source,
  side: number | undefined,
  run: Pick<GuessedColumns, 'first' | 'last'>,
): {columns: number[]; sure: boolean} | undefined {
  const columns = source.headings.map((_, i) => i).filter((i) => i !== side && (i < run.first || i > run.last));
  const rows = source.cells.filter((row) => row.some((cell) => !isEmpty(cell)));
  const tells = (keys: readonly number[]): boolean => {
    const seen = new Set(
      rows.map((row) => [...keys, ...(side === undefined ? [] : [side])].map((k) => norm(row[k])).join('\u0000')),
    );
    const filled = rows.every((row) => keys.every((k) => !isEmpty(row[k])));
    return filled && seen.size === rows.length;
  };
  const roles = others(source.headings.map(plain), new Set());
  const known = (i: number): number => {
    const role = roles.find(({first}) => first === i)?.role;
    return role === 'Wheel' ? 0 : role === 'Position' ? 1 : role === 'Job' ? 2 : 3;
  };
  const ordered = [...columns].sort((a, b) => known(a) - known(b) || a - b);
  const single = ordered.find((i) => tells([i]));
  const job = ordered.find((i) => known(i) === 2);
  if (single !== undefined && known(single) === 1 && job !== undefined && rows.every((row) => !isEmpty(row[job])))
    return {columns: [single, job].sort((x, y) => x - y), sure: true};
  if (single !== undefined) return {columns: [single], sure: known(single) < 3};
  for (const a of ordered)
    for (const b of ordered.slice(ordered.indexOf(a) + 1))
      if (tells([a, b])) return {columns: [a, b].sort((x, y) => x - y), sure: known(a) < 3 && known(b) < 3};
  return undefined;
}

const norm = (cell: CellValue | undefined): string =>
  String(cell ?? '')
    .trim()
    .toLowerCase();

function fromList(
  records: Source,
  list: ListGuess,
  source: Source,
  keys: readonly Key[],
  extra: readonly string[] = [],
): Guess {
  const readings = new Map<Side, ReadingsPlace>();
  const notes = new Map<Role, Note>();
  for (const {of, value, side, sure, why} of list.values) {
    const {at, counts, positions} = list;
    readings.set(of, {kind: 'list', source, keys, value, side, at, counts, positions});
    notes.set(of, {sure, why});
  }
  const own = [...new Set(list.values.map(({value}) => value))];
  const groups = new Map<string, CellValue[]>();
  for (const row of source.cells.slice(0, 4000))
    for (const {value, side} of list.values) {
      if (side !== undefined && norm(row[side.column]) !== norm(side.word)) continue;
      const key = [value, side?.word ?? '', ...list.keys.map((k) => norm(row[k]))].join('\u0000');
      groups.set(key, [...(groups.get(key) ?? []), row[value] ?? '']);
    }
  const unit = runoutUnitOf(
    own.map((i) => plain(source.headings[i])),
    source.above,
    [...groups.values()],
  );
  const doubts = [...list.doubts, ...extra];
  if (records !== source) return finish(records, singles(records, []), readings, unit, undefined, doubts, notes);
  const taken = [...own, ...(list.at === undefined ? [] : [list.at])];
  const sides = list.values.flatMap(({side}) => (side === undefined ? [] : [side.column]));
  return finish(records, singles(records, [...taken, ...sides]), readings, unit, list.keys, doubts, notes);
}

/** Records without readings of their own: those of another sheet that names the same wheels. */
function readingsElsewhere(records: Source, all: readonly Source[]): Guess | undefined {
  const roles = singles(records, []);
  // A sheet of one heading that we know could be anything.
  if (roles.filter(({role}) => role !== 'Limits' && role !== 'Stock step').length < 1) return undefined;
  for (const other of all) {
    if (other === records || other.cells.length === 0) continue;
    const texts = other.headings.map(plain);
    const found = runs(other.headings);
    if (found.length > 0) {
      const read = ofReadings(found, texts);
      const side = read.length === 1 ? sideColumn(other) : undefined;
      const key = keyColumns(other, side?.column, {
        first: Math.min(...read.map(({first}) => first)),
        last: Math.max(...read.map(({last}) => last)),
      });
      const keys = key && matchKeys(records, other, key.columns);
      if (key === undefined || keys === undefined) continue;
      const doubts = keys.sure ? [] : [sharedDoubt(records, other, keys.keys)];
      if (side !== undefined) return rowsBySide(records, other, keys.keys, side, read[0], doubts, undefined);
      const readings = new Map<Side, ReadingsPlace>();
      const notes = new Map<Role, Note>();
      for (const {role, first, last, sure, why} of read)
        if (isSide(role)) {
          readings.set(role, {kind: 'other row', source: other, keys: keys.keys, span: {first, last}, side: undefined});
          notes.set(role, {sure, why});
        }
      const unit = runoutUnitOf(
        read.flatMap(({first, last}) => texts.slice(first, last + 1)),
        other.above,
        rowSets(other, read),
      );
      return finish(records, roles, readings, unit, undefined, doubts, notes);
    }
    const list = guessList(other);
    if (list === undefined) continue;
    const keys = matchKeys(records, other, list.keys);
    if (keys === undefined) continue;
    return fromList(records, list, other, keys.keys, keys.sure ? [] : [sharedDoubt(records, other, keys.keys)]);
  }
  return undefined;
}

const sharedDoubt = (records: Source, other: Source, keys: readonly Key[]): string =>
  `The readings on ${sourceWords(other)} are matched by ${keys
    .map(({own, other: k}) => `“${records.headings[own]}” = “${other.headings[k]}”`)
    .join(' and ')}; some wheels have none, confirm it.`;

/** For each key column of the other source the column of the records that holds the same wheels. */
function matchKeys(
  records: Source,
  other: Source,
  columns: readonly number[],
): {keys: Key[]; sure: boolean} | undefined {
  const keys: Key[] = [];
  let least = 1;
  for (const column of columns) {
    const known = new Set(other.cells.map((row) => norm(row[column])));
    const shares = records.headings.map((heading, own) => {
      const there = records.cells.map((row) => norm(row[own])).filter((text) => text !== '');
      const share = there.length === 0 ? 0 : there.filter((text) => known.has(text)).length / there.length;
      return {own, share, alike: plain(heading) === plain(other.headings[column])};
    });
    const best = shares
      .filter(({own, share}) => share >= ENOUGH_KEYS && !keys.some((key) => key.own === own))
      .sort((a, b) => b.share - a.share || Number(b.alike) - Number(a.alike))[0];
    if (best === undefined) return undefined;
    keys.push({own: best.own, other: column});
    least = Math.min(least, best.share);
  }
  // Together the keys have to name each record once.
  const tuples = records.cells.map((row) => keys.map(({own}) => norm(row[own])).join('\u0000'));
  if (new Set(tuples).size < ENOUGH_KEYS * tuples.length) return undefined;
  return {keys, sure: least > 0.95};
}

/** The sides that have no readings, for what needs all three. */
export const missingSides = (mapping: Mapping): Side[] => SIDES.filter((side) => !mapping.readings.has(side));
