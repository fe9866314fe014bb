/**
 * Reads a tire size as shops write it. Sizes after UN R30 and R54: overall diameter D = d + 2H with H = 0.01 · aspect ·
 * width and d = 25.4 · rim code, each rounded to mm; inch (flotation) sizes name D and width themselves.
 */
import {invalid} from './refusal';
import {HIGHEST_INDEX, SPEED_SYMBOLS} from './tireTables';
import {MILLIMETERS_PER_INCH} from './units';

export type Construction = 'R' | 'D' | 'B';

/** Where in the text a piece stands, from 0, so that a working can read it there again. */
export interface Place {
  readonly at: number;
  readonly length: number;
}

/** A number and where it stands. */
export interface Piece extends Place {
  readonly value: number;
}

export interface TireSize {
  /** Nominal section width, mm. */
  readonly width: number;
  /** Undefined for inch sizes, which name the diameter instead. */
  readonly aspect: number | undefined;
  readonly construction: Construction;
  /** Nominal rim diameter code (inches). */
  readonly rim: number;
  /** Design overall diameter, mm. */
  readonly diameter: number;
  /** Section height H, mm. */
  readonly section: number;
  /** Rolling circumference, mm; known for radial tires only. */
  readonly circumference: number | undefined;
  readonly loadindex: number | undefined;
  readonly symbol: string | undefined;
  readonly pieces: {
    readonly kind: 'metric' | 'inch';
    readonly width: Piece;
    readonly aspect: Piece | undefined;
    readonly construction: Place;
    readonly rim: Piece;
    readonly diameter: Piece | undefined;
    readonly loadindex: Piece | undefined;
    readonly symbol: Place | undefined;
  };
}

/** Rolling circumference ÷ overall diameter of a radial tire (published factor, value from memory). */
export const ROLLING_FACTOR = 3.05;

/** Sizes without an aspect ratio, such as 195R14C, are built near 80 % (common practice). */
export const UNWRITTEN_ASPECT = 80;

/** What may stand behind a size and says nothing about its shape. */
const REMARKS =
  /^(xl|rf|reinf(orced)?|extra load|hl|c|cp|lt|tl|tt|m\+s|m&s|3pmsf|(load range|lr) ?[b-n]|[b-n]|\d{1,2} ?(pr|ply)|run ?flat)(?=\s|$|,)/i;

/** @throws Refusal `invalid` that says which piece could not be read */
export function tireSize(text: string): TireSize {
  const reader = new Reader(text);
  reader.take(/^(p|lt|st|t)(?=\s*\d)/i);
  const first = reader.number(/^\d+(\.\d+)?/);
  if (first === undefined) throw reader.lost('the section width, such as 205');
  return reader.take(/^x/i) !== undefined ? inch(reader, first) : metric(reader, first);
}

function metric(reader: Reader, width: Piece): TireSize {
  inRange(reader, width, 100, 500, 'a section width of 100 to 500 mm');
  let aspect: Piece | undefined;
  if (reader.take(/^\//) !== undefined) {
    aspect = reader.number(/^\d+/);
    if (aspect === undefined) throw reader.lost('the aspect ratio behind "/", such as 55');
    inRange(reader, aspect, 20, 100, 'an aspect ratio of 20 to 100');
  }
  const {construction, mark, rim} = rimPart(reader);
  const height = Math.round(0.01 * (aspect?.value ?? UNWRITTEN_ASPECT) * width.value);
  const diameter = rimMillimeters(rim.value) + 2 * height;
  return finish(reader, {
    width: width.value,
    aspect: aspect?.value ?? UNWRITTEN_ASPECT,
    construction,
    rim: rim.value,
    diameter,
    section: height,
    pieces: {kind: 'metric', width, aspect, construction: mark, rim, diameter: undefined},
  });
}

function inch(reader: Reader, diameter: Piece): TireSize {
  inRange(reader, diameter, 20, 50, 'an overall diameter of 20 to 50 in');
  const width = reader.number(/^\d+(\.\d+)?/);
  if (width === undefined) throw reader.lost('the section width behind "X", such as 10.50');
  inRange(reader, width, 4, 20, 'a section width of 4 to 20 in');
  const {construction, mark, rim} = rimPart(reader);
  const overall = diameter.value * MILLIMETERS_PER_INCH;
  return finish(reader, {
    width: width.value * MILLIMETERS_PER_INCH,
    aspect: undefined,
    construction,
    rim: rim.value,
    diameter: overall,
    section: (overall - rimMillimeters(rim.value)) / 2,
    pieces: {kind: 'inch', width, aspect: undefined, construction: mark, rim, diameter},
  });
}

/** d of UN R30, mm: 16 → 406, 22.5 → 572. */
export const rimMillimeters = (code: number): number => Math.round(code * MILLIMETERS_PER_INCH);

function rimPart(reader: Reader): {construction: Construction; mark: Place; rim: Piece} {
  const found = reader.word(/^(zr|r|d|b|-)/i);
  if (found === undefined) throw reader.lost('the construction, such as R for radial');
  const mark = found.text.toUpperCase();
  const rim = reader.number(/^\d+(\.5)?/);
  if (rim === undefined) throw reader.lost('the rim diameter, such as 16');
  inRange(reader, rim, 8, 30, 'a rim diameter of 8 to 30 in');
  return {construction: mark === 'B' ? 'B' : mark.endsWith('R') ? 'R' : 'D', mark: found, rim};
}

type Shape = Omit<TireSize, 'circumference' | 'loadindex' | 'symbol' | 'pieces'> & {
  pieces: Omit<TireSize['pieces'], 'loadindex' | 'symbol'>;
};

/** Reads what stands behind the size: remarks and one or two service descriptions, the first of which counts. */
function finish(reader: Reader, shape: Shape): TireSize {
  let service: {loadindex: Piece; symbol: Word} | undefined;
  while (!reader.atEnd()) {
    if (reader.take(REMARKS) !== undefined || reader.take(/^[(),]/) !== undefined) continue;
    const next = serviceDescription(reader);
    if (next === undefined) throw reader.lost('a service description such as 91V, or a remark such as XL');
    service ??= next;
  }
  const radial = shape.construction === 'R';
  return {
    ...shape,
    circumference: radial ? ROLLING_FACTOR * shape.diameter : undefined,
    loadindex: service?.loadindex.value,
    symbol: service?.symbol.text.toUpperCase(),
    pieces: {...shape.pieces, loadindex: service?.loadindex, symbol: service?.symbol},
  };
}

/** "120/116S": single and dual load index, speed symbol. */
function serviceDescription(reader: Reader): {loadindex: Piece; symbol: Word} | undefined {
  const index = reader.number(/^\d{1,3}(?=\s*(\/\s*\d{1,3}\s*)?[a-z])/i);
  if (index === undefined) return undefined;
  inRange(reader, index, 0, HIGHEST_INDEX, `a load index of 0 to ${HIGHEST_INDEX}`);
  reader.take(/^\/\s*\d{1,3}/);
  const symbol = reader.word(/^(a[1-8]|[a-z])(?![a-z])/i);
  if (symbol === undefined || !SPEED_SYMBOLS.includes(symbol.text.toUpperCase()))
    throw reader.lost('a speed symbol such as V');
  return {loadindex: index, symbol};
}

function inRange(reader: Reader, {value, at, length}: Piece, least: number, most: number, wanted: string): void {
  if (value >= least && value <= most) return;
  throw invalid(
    `cannot read "${reader.text.slice(at, at + length)}" in "${reader.text}": ${wanted} is wanted there`,
    'text',
  );
}

/** A piece that is no number. */
interface Word extends Place {
  readonly text: string;
}

/** Takes a text apart from the left, blanks between pieces aside. */
class Reader {
  private at = 0;

  constructor(readonly text: string) {}

  take(pattern: RegExp): string | undefined {
    return this.word(pattern)?.text;
  }

  word(pattern: RegExp): Word | undefined {
    this.skipBlanks();
    const {at} = this;
    const text = pattern.exec(this.text.slice(at))?.[0];
    if (text === undefined) return undefined;
    this.at += text.length;
    return {text, at, length: text.length};
  }

  number(pattern: RegExp): Piece | undefined {
    const found = this.word(pattern);
    return found && {value: Number(found.text), at: found.at, length: found.length};
  }

  atEnd(): boolean {
    this.skipBlanks();
    return this.at === this.text.length;
  }

  lost(wanted: string) {
    const rest = this.text.slice(this.at).trim();
    const piece = rest === '' ? 'it ends too early' : `cannot read "${rest}"`;
    return invalid(`${piece} in "${this.text.trim()}": ${wanted}, is wanted there`, 'text');
  }

  private skipBlanks(): void {
    while (this.at < this.text.length && this.text[this.at].trim() === '') this.at++;
  }
}
