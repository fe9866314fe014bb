/**
 * Tire identification numbers (49 CFR 574.5): 13 symbols with a three-symbol plant code on new tires since the rule of
 * 2015, up to 12 with a two-symbol code before, 7 on retreads. The last four digits are week and year; before 2000
 * three digits left the decade open.
 */
import {invalid} from './refusal';

export interface Tin {
  readonly plant: string;
  /** The maker's own symbols between plant and date. */
  readonly code: string;
  readonly week: number;
  /** Undefined where the decade is open. */
  readonly year: number | undefined;
  /** Excel's serial number of the first day, a Sunday, of that week. */
  readonly sunday: number | undefined;
  /** The symbols without "DOT", blanks and hyphens, and how many digits the date has. */
  readonly symbols: string;
  readonly dateDigits: 3 | 4;
}

/** Symbols of a TIN (574.5): no G, I, O, Q, S, Z. */
const SYMBOLS = /^[A-FHJ-NPRT-Y0-9]+$/;

/** Two-digit years from here on are of the last century: dates of four digits are not older than 1990s. */
const LAST_CENTURY = 90;

export function tin(text: string): Tin {
  const symbols = text
    .toUpperCase()
    .replace(/^\s*DOT\b/, '')
    .replace(/[\s-]+/g, '');
  if (!SYMBOLS.test(symbols)) {
    const odd = [...symbols].find((symbol) => !SYMBOLS.test(symbol));
    const hint = odd === 'O' ? ' (is it the digit 0?)' : odd === 'I' ? ' (is it the digit 1?)' : '';
    throw invalid(
      odd === undefined
        ? 'a tire identification number is wanted, found no symbols'
        : `"${odd}" is no symbol of a tire identification number${hint}`,
      'text',
    );
  }
  const {length} = symbols;
  if (length !== 13 && (length < 7 || length > 12)) {
    throw invalid(`13 symbols, 7 to 12 on older tires and retreads, are wanted, found ${length}`, 'text');
  }
  const digits = dateDigits(symbols);
  const week = Number(symbols.slice(length - digits, length - digits + 2));
  const plantLength = length === 13 || (length === 7 && digits === 4) ? 3 : 2;
  const year = digits === 4 ? fullYear(Number(symbols.slice(-2))) : undefined;
  return {
    plant: symbols.slice(0, plantLength),
    code: symbols.slice(plantLength, length - digits),
    week,
    year,
    sunday: year === undefined ? undefined : firstDay(week, year),
    symbols,
    dateDigits: digits,
  };
}

const validWeek = (text: string): boolean =>
  /^\d\d/.test(text) && Number(text.slice(0, 2)) >= 1 && Number(text.slice(0, 2)) <= 53;

/**
 * Four digits, or three behind a letter on the older tires of up to 11 symbols. Four digits that make no week are not
 * taken for three: a misread digit is likelier by now than a tire of the last century.
 */
function dateDigits(symbols: string): 3 | 4 {
  const four = symbols.slice(-4);
  if (/^\d{4}$/.test(four) && validWeek(four)) return 4;
  const three = symbols.slice(-3);
  if (symbols.length < 12 && /^\D\d{3}$/.test(four) && validWeek(three)) return 3;
  throw invalid(`the last four symbols must be week (01 to 53) and year, found "${four}"`, 'text');
}

const fullYear = (year: number): number => year + (year >= LAST_CENTURY ? 1900 : 2000);

const DAY = 86400000;
/** Day 0 of Excel's serial numbers. */
const EPOCH = Date.UTC(1899, 11, 30);

/** Week 01 is the first full week, Sunday to Saturday; a week belongs to the year it begins in. */
function firstDay(week: number, year: number): number {
  const newYear = new Date(Date.UTC(year, 0, 1));
  const firstSunday = 1 + ((7 - newYear.getUTCDay()) % 7);
  const sunday = new Date(Date.UTC(year, 0, firstSunday + 7 * (week - 1)));
  if (sunday.getUTCFullYear() !== year) throw invalid(`${year} has no week ${week}`, 'text');
  return (sunday.getTime() - EPOCH) / DAY;
}
