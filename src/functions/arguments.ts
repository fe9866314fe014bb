/**
 * The kinds of argument: what each accepts, how it is said, and how cells become typed values. Reading and refusing
 * happen here and nowhere else.
 */
import type {Fitted, Plane, Two} from '../maths/planes';
import type {Angles, Readings} from '../maths/readings';
import {invalid} from '../maths/refusal';
import type {Vector} from '../maths/vectors';
import {cells, grid, isGrid, LARGEST, shape, single, wrongCell, type Grid, type Raw} from './cells';
import {readFingerprint} from './fingerprint';
import {readExactly, readGroups, readNumber, readNumbers, wanted, wrongNumber, type Range} from './numbers';

export interface Kind<T> {
  readonly kind: string;
  /** What this argument is, in a line for the help. */
  readonly says: string;
  /** What every argument of this kind takes, for the help. */
  readonly takes: string;
  /** A range arrives whole; a single value lets Excel call once for each cell of a range. */
  readonly dimension: 'scalar' | 'matrix';
  readonly optional: boolean;
  /** What an omitted argument stands for, for the help. */
  readonly standsFor?: string;
  /** Every further argument belongs to this one. */
  readonly repeating?: boolean;
  readonly fallback: T | undefined;
  /** The numbers that it takes, cell after cell, again from the first when there are more cells. */
  readonly ranges?: readonly Range[];
  /** The words that it takes. */
  readonly words?: readonly string[];
  /** Typed value of an argument; earlier arguments are in `given` under their names. */
  readonly read: (raw: Raw, name: string, given: Readonly<Record<string, unknown>>) => T;
}

type Rest = Partial<Pick<Kind<never>, 'repeating' | 'ranges' | 'words'>>;

const kind = <T>(
  name: string,
  dimension: 'scalar' | 'matrix',
  says: string,
  takes: string,
  read: Kind<T>['read'],
  rest: Rest = {},
): Kind<T> => ({kind: name, dimension, says, takes, read, optional: false, fallback: undefined, ...rest});

/** The same kind, left out at will; `fallback` then stands in. */
export function optional<T>(of: Kind<T>, fallback: T, standsFor?: string): Kind<T>;
export function optional<T>(of: Kind<T>): Kind<T | undefined>;
export function optional<T>(of: Kind<T>, fallback?: T, standsFor?: string): Kind<T | undefined> {
  const says = standsFor ?? (fallback === undefined ? undefined : shown(fallback));
  return {...of, optional: true, fallback, ...(says === undefined ? {} : {standsFor: says})};
}

const shown = (value: unknown): string =>
  typeof value === 'boolean' ? String(value).toUpperCase() : typeof value === 'string' ? `"${value}"` : String(value);

// ---- single cells

export const number = (says: string, range: Range): Kind<number> =>
  kind('number', 'scalar', says, wanted(range).replace(/,$/, ''), (raw, name) => readNumber(raw, name, range), {
    ranges: [range],
  });

/** A whole number of at least `least`. */
export const count = (says: string, least: number, most?: number): Kind<number> =>
  number(says, {what: 'a whole number', whole: true, least, ...(most === undefined ? {} : {most})});

export const angle = (says: string): Kind<number> => number(says, {what: 'an angle in degrees'});

export const amount = (says: string, what = 'an amount'): Kind<number> => number(says, {what, least: 0});

export const positive = (says: string, what: string): Kind<number> => number(says, {what, above: 0});

export const text = (says: string): Kind<string> =>
  kind('text', 'scalar', says, 'one text', (raw, name) => {
    const cell = single(raw, name);
    if (typeof cell === 'string' && cell.trim() !== '') return cell;
    throw wrongCell(name, 0, 0, 'a text', cell);
  });

/** One of a few words, in any letter case. */
export const choice = <const C extends string>(says: string, words: readonly C[]): Kind<C> =>
  kind(
    'choice',
    'scalar',
    says,
    `one of ${words.map(shown).join(', ')}`,
    (raw, name) => {
      const cell = single(raw, name);
      const word = words.find((w) => typeof cell === 'string' && w.toLowerCase() === cell.trim().toLowerCase());
      if (word !== undefined) return word;
      throw wrongCell(name, 0, 0, `one of ${words.map(shown).join(', ')}`, cell);
    },
    {words},
  );

export const flag = (says: string): Kind<boolean> =>
  kind('flag', 'scalar', says, 'TRUE or FALSE', (raw, name) => {
    const cell = single(raw, name);
    if (typeof cell === 'boolean') return cell;
    if (cell === 1 || cell === 0) return cell === 1;
    throw wrongCell(name, 0, 0, 'TRUE or FALSE', cell);
  });

// ---- vectors and planes

const AMOUNT: Range = {what: 'an amount', least: 0};
const ANGLE: Range = {what: 'an angle in degrees'};
const POSITION: Range = {what: 'a position along the axle'};
const RADIUS: Range = {what: 'a radius', above: 0};

const asVector = ([size, degrees]: readonly number[]): Vector => ({amount: size, angle: degrees});

export const vector = (says: string): Kind<Vector> =>
  kind('vector', 'matrix', says, 'two cells: amount, angle in degrees', (raw, name) =>
    asVector(readExactly(raw, name, [AMOUNT, ANGLE], 'amount, angle')),
  );

export const vectors = (says: string): Kind<Vector[]> =>
  kind('vectors', 'matrix', says, 'a vector (amount, angle) a row, or one row of them', (raw, name) =>
    readGroups(raw, name, [AMOUNT, ANGLE], 'amount, angle').map(asVector),
  );

/** Two vectors, inboard then outboard (or first and second). */
export const twoVectors = (says: string): Kind<Two<Vector>> =>
  kind('two vectors', 'matrix', says, 'four cells: inboard amount and angle, outboard amount and angle', (raw, name) =>
    pairOf(readGroups(raw, name, [AMOUNT, ANGLE], 'amount, angle').map(asVector), raw, name, 'vectors (amount, angle)'),
  );

function pairOf<T>(list: readonly T[], raw: Raw, name: string, what: string): Two<T> {
  if (list.length !== 2) throw invalid(`two ${what} are wanted, found ${shape(grid(raw, name))}`, name);
  return [list[0], list[1]];
}

/** A vector and, behind it, that of the rim it was worked out with; without one the rim counts as true. */
export const vectorAndRim = (says: string): Kind<{vector: Vector; rim: Vector}> =>
  kind('vector and rim', 'matrix', says, 'two cells (amount, angle), or four: those and the rim’s', (raw, name) => {
    const rows = grid(raw, name);
    const four = rows.length * rows[0].length === 4;
    const numbers = readExactly(rows, name, four ? [AMOUNT, ANGLE, AMOUNT, ANGLE] : [AMOUNT, ANGLE], 'amount, angle');
    return {vector: asVector(numbers), rim: four ? asVector(numbers.slice(2)) : {amount: 0, angle: 0}};
  });

/** Weights really fitted: two vectors in the planes they were required for, or any number with planes of their own. */
export type FittedWeights = {readonly inPlanes: Two<Vector>} | {readonly anywhere: Fitted[]};

export const fittedWeights = (says: string): Kind<FittedWeights> =>
  kind(
    'fitted weights',
    'matrix',
    says,
    'two vectors (2 × 2, or one row of 4), or a weight a row: amount, angle, position, radius',
    (raw, name) => {
      const rows = grid(raw, name);
      if (rows.length > 1 && rows[0].length === 4) {
        const groups = readGroups(rows, name, [AMOUNT, ANGLE, POSITION, RADIUS], 'amount, angle, position, radius');
        return {
          anywhere: groups.map(([size, degrees, position, radius]) => ({
            weight: asVector([size, degrees]),
            position,
            radius,
          })),
        };
      }
      const vectors = readGroups(rows, name, [AMOUNT, ANGLE], 'amount, angle').map(asVector);
      return {
        inPlanes: pairOf(
          vectors,
          raw,
          name,
          'vectors (amount, angle), or a row of four cells (amount, angle, position, radius) for each of several weights,',
        ),
      };
    },
  );

const asPlane = ([position, radius]: readonly number[]): Plane => ({position, radius});

export const plane = (says: string): Kind<Plane> =>
  kind('plane', 'matrix', says, 'two cells: position along the axle, radius', (raw, name) =>
    asPlane(readExactly(raw, name, [POSITION, RADIUS], 'position, radius')),
  );

/** The inboard and the outboard correction plane. */
export const planes = (says: string): Kind<Two<Plane>> =>
  kind(
    'planes',
    'matrix',
    says,
    'four cells: inboard position and radius, outboard position and radius',
    (raw, name) => {
      const pairs = readGroups(raw, name, [POSITION, RADIUS], 'position, radius').map(asPlane);
      const two = pairOf(pairs, raw, name, 'planes (position, radius)');
      if (two[0].position !== two[1].position) return two;
      throw invalid(`two different positions are wanted, found ${two[0].position} twice`, name);
    },
  );

// ---- lists and tables

/** A range of numbers that all keep to one rule, as rows. */
export const numbers = (says: string, range: Range): Kind<number[][]> =>
  kind(
    'numbers',
    'matrix',
    says,
    'a range of numbers',
    (raw, name) => {
      const columns = grid(raw, name)[0].length;
      const flat = readNumbers(raw, name, () => range);
      return Array.from({length: flat.length / columns}, (_, r) => flat.slice(r * columns, (r + 1) * columns));
    },
    {ranges: [range]},
  );

/** A few numbers with names of their own, in any arrangement; the last ones may be left out. */
export const named = (says: string, ranges: Readonly<Record<string, Range>>, least?: number): Kind<number[]> => {
  const names = Object.keys(ranges);
  const all = Object.values(ranges);
  return kind(
    'named numbers',
    'matrix',
    says,
    `${cells(names.length)}: ${names.join(', ')}`,
    (raw, name) => {
      const rows = grid(raw, name);
      const given = rows.length * rows[0].length;
      const size = least !== undefined && given >= least && given < all.length ? given : all.length;
      return readExactly(rows, name, all.slice(0, size), names.slice(0, size).join(', '));
    },
    {ranges: all},
  );
};

export const flags = (says: string): Kind<boolean[][]> =>
  kind('flags', 'matrix', says, 'a table of TRUE and FALSE', (raw, name) =>
    grid(raw, name).map((row, r) =>
      row.map((cell, c) => {
        if (typeof cell === 'boolean') return cell;
        if (cell === 1 || cell === 0) return cell === 1;
        throw wrongCell(name, r, c, 'TRUE or FALSE', cell);
      }),
    ),
  );

/** A list of flags in which an empty text is one that is not known yet. */
export const optionalFlags = (says: string): Kind<(boolean | undefined)[]> =>
  kind('flags or empty', 'matrix', says, 'TRUE and FALSE; an empty text is not known yet', (raw, name) =>
    grid(raw, name).flatMap((row, r) =>
      row.map((cell, c) => {
        if (typeof cell === 'boolean') return cell;
        if (cell === 1 || cell === 0) return cell === 1;
        if (cell === '' || cell === null || cell === undefined) return undefined;
        throw wrongCell(name, r, c, 'TRUE or FALSE', cell);
      }),
    ),
  );

/** A list of names, outer blanks taken off; numbers serve as names too, an empty text is none. */
export const labels = (says: string): Kind<(string | undefined)[]> =>
  kind('names', 'matrix', says, 'a range of names', (raw, name) =>
    grid(raw, name).flatMap((row, r) =>
      row.map((cell, c) => {
        if (cell === null || cell === undefined) return undefined;
        if (typeof cell === 'string') return cell.trim() === '' ? undefined : cell.trim();
        if (typeof cell === 'number' && Math.abs(cell) <= LARGEST) return String(cell);
        throw wrongCell(name, r, c, 'a name', cell);
      }),
    ),
  );

/** A record's cells, whatever they hold. */
export const record = (says: string): Kind<Grid> =>
  kind('record', 'matrix', says, 'any cells without errors', (raw, name) => grid(raw, name));

/** A cell with a fingerprint; undefined while there is none. */
export const fingerprintCell = (says: string): Kind<string | undefined> =>
  kind('fingerprint', 'scalar', says, 'a fingerprint kept as text; an empty cell is none', (raw, name) =>
    readFingerprint(single(raw, name), name),
  );

/** Cells as they are, for a function that passes them on. */
export const anything = (says: string): Kind<Raw[]> =>
  kind('anything', 'matrix', says, 'any cells', (raw) => raw as unknown as Raw[], {repeating: true});

// ---- readings

/**
 * Buffers for readings, used again call after call, so that a column of ten thousand assessments allocates none. They
 * are handed out in order; declare() takes them all back at the start of a call.
 */
const buffers: Float64Array[] = [];
let taken = 0;

export const takeBackBuffers = (): void => {
  taken = 0;
};

function buffer(size: number): Float64Array {
  if (taken === buffers.length || buffers[taken].length < size) buffers[taken] = new Float64Array(Math.max(size, 64));
  return buffers[taken++];
}

/** A reading every hundredth of a degree. Whole columns of a sheet, taken by mistake, would keep it waiting. */
const MOST_READINGS = 36_000;

const MISSING = 'an empty text is a missing one. Excel hands a blank cell over as 0, so write IF(range="","",range)';

/** Measured around one turn. */
export const readings = (says: string): Kind<Readings> =>
  kind(
    'readings',
    'matrix',
    says,
    `one reading a position, in numbering order, at most 36,000; ${MISSING}`,
    (raw, name) => {
      if (isGrid(raw) && raw.length > 0 && raw.length * raw[0].length > MOST_READINGS)
        throw invalid(`at most 36,000 readings of one turn are wanted, found ${shape(raw)}`, name);
      return readReadings(raw, name);
    },
  );

/** Measured in any number. */
export const measured = (says: string): Kind<Readings> =>
  kind('readings', 'matrix', says, `one value a cell, in their order; ${MISSING}`, readReadings);

const READING: Range = {what: 'a reading'};

function readReadings(raw: Raw, name: string): Readings {
  const rows = isGrid(raw) && raw.length > 0 ? raw : grid(raw, name);
  const columns = rows[0].length;
  if (columns === 0) grid(rows, name);
  const positions = rows.length * columns;
  const values = buffer(positions);
  let present = 0;
  let i = 0;
  for (let r = 0; r < rows.length; r++) {
    const row = rows[r];
    if (row.length !== columns) grid(rows, name);
    for (let c = 0; c < columns; c++) {
      const cell = row[c];
      if (typeof cell === 'number' && cell >= -1e15 && cell <= 1e15) {
        values[i++] = cell;
        present++;
      } else if (cell === '' || cell === null || cell === undefined) {
        values[i++] = NaN;
      } else {
        throw wrongNumber(name, r, c, READING, cell);
      }
    }
  }
  return {name, values, positions, present, rows: rows.length, columns};
}

/** Angles of the readings in the arguments named, one each; where a reading is missing the angle is not looked at. */
export const angles = (...of: readonly string[]): Kind<Angles> =>
  kind(
    'angles',
    'matrix',
    'angle of each reading in degrees',
    'as many cells as there are readings',
    (raw, name, given) => {
      const rows = grid(raw, name);
      const columns = rows[0].length;
      const degrees = buffer(rows.length * columns);
      let i = 0;
      for (const row of rows)
        for (const cell of row) degrees[i++] = typeof cell === 'number' && Math.abs(cell) <= 1e15 ? cell : NaN;
      for (const each of of) {
        const {positions, values} = given[each] as Readings;
        if (positions !== i) throw invalid(`as many cells as ${each} has are wanted, ${positions}, found ${i}`, name);
        for (let k = 0; k < i; k++) {
          if (!Number.isNaN(values[k]) && Number.isNaN(degrees[k])) {
            const [r, c] = [Math.floor(k / columns), k % columns];
            throw wrongCell(name, r, c, 'an angle in degrees', rows[r][c]);
          }
        }
      }
      return {name, degrees};
    },
  );
