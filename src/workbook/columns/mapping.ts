/** Which cells of a workbook hold what of a wheel: the guess, as confirmed or changed by hand. */
import type {Role} from '../ledgerMap';
import {sourceWords, type Source} from './source';

/** Columns of a source from 0, both ends included. */
export interface Span {
  readonly first: number;
  readonly last: number;
}

export const SIDES = ['Assembly readings', 'Inner bead seat', 'Outer bead seat'] as const;

export type Side = (typeof SIDES)[number];

export const isSide = (role: Role): role is Side => (SIDES as readonly Role[]).includes(role);

/** A column of the records and the column elsewhere that holds the same. */
export interface Key {
  readonly own: number;
  readonly other: number;
}

/** Rows of another source that belong to one side: those with a word in a column. */
export interface SideWord {
  readonly column: number;
  readonly word: string;
}

/** Where the readings of one side stand. */
export type ReadingsPlace =
  /** Side by side in the record's own row. */
  | {readonly kind: 'row'; readonly span: Span}
  /** Side by side in a row elsewhere that has the record's key. */
  | {
      readonly kind: 'other row';
      readonly source: Source;
      readonly keys: readonly Key[];
      readonly span: Span;
      readonly side: SideWord | undefined;
    }
  /** One below the other in a list, the record's key beside each. */
  | {
      readonly kind: 'list';
      readonly source: Source;
      readonly keys: readonly Key[];
      readonly value: number;
      readonly side: SideWord | undefined;
      /** Column of the angle, or of the number of the position; undefined: in the order of the rows. */
      readonly at: number | undefined;
      /** What `at` holds. */
      readonly counts: 'angles' | 'numbers';
      /** Positions around the turn. */
      readonly positions: number;
    };

export interface Mapping {
  readonly records: Source;
  /** A record takes several rows: it stands at the first of those that share its key. */
  readonly firstOf: readonly number[] | undefined;
  /** What a record's own row holds, readings left out. */
  readonly columns: ReadonlyMap<Role, Span>;
  readonly readings: ReadonlyMap<Side, ReadingsPlace>;
  readonly runoutUnit: string;
  readonly weightUnit: string;
  /** Positions are numbered clockwise as seen from outboard. */
  readonly clockwise: boolean;
}

/** Positions around the turn of what is measured; 0 without readings. */
export function positionsOf(place: ReadingsPlace | undefined): number {
  if (place === undefined) return 0;
  return place.kind === 'list' ? place.positions : place.span.last - place.span.first + 1;
}

/** A place in words: "R1 to R16 of sheet Readings". */
export function placeWords(place: ReadingsPlace, records: Source): string {
  const source = place.kind === 'row' ? records : place.source;
  const elsewhere = place.kind === 'row' || source === records ? '' : ` of ${sourceWords(source)}`;
  if (place.kind === 'list') {
    const side = place.side === undefined ? '' : ` where ${source.headings[place.side.column]} is ${place.side.word}`;
    return `${headingOf(source, place.value)}${elsewhere}, one reading a row${side}`;
  }
  const side =
    place.kind === 'row' || place.side === undefined
      ? ''
      : ` where ${source.headings[place.side.column]} is ${place.side.word}`;
  return `${headingOf(source, place.span.first)} to ${headingOf(source, place.span.last)}${elsewhere}${side}`;
}

/** A heading as it is shown; of a column without one, its place. */
export const headingOf = (source: Source, column: number): string =>
  source.headings[column]?.trim() || `column ${column + 1}`;
