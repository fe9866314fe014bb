/** Guesses from the headings of a table which columns hold what. */
import type {LedgerMap, Place, Role} from './ledgerMap';

interface Pattern {
  readonly role: Role;
  readonly words: RegExp;
}

/** Headings of single columns; the first that fits wins. */
const SINGLE: readonly Pattern[] = [
  {role: 'Job', words: /^(job|order|work ?order|ro)\b/i},
  {role: 'Date', words: /^date\b/i},
  {role: 'Vehicle', words: /^(vehicle|car|unit)\b/i},
  {role: 'Class', words: /^class\b/i},
  {role: 'Position', words: /^(position|pos|wheel)\b/i},
  {role: 'Tire size', words: /^(tire )?size\b/i},
  {role: 'Supplier', words: /^(supplier|vendor|maker)\b/i},
  {role: 'TIN', words: /^(tin|dot)\b/i},
];

/** A run of neighboring columns whose headings share a beginning and count up. */
export interface Run {
  readonly prefix: string;
  readonly first: number;
  readonly count: number;
}

/** Fewer readings than this around a turn are no run of readings. */
const FEWEST = 6;

/** Runs such as A1 … A16, or 0°, 22.5°, … */
export function runs(headings: readonly string[]): Run[] {
  const found: Run[] = [];
  let start = 0;
  const numbered = headings.map((heading) => /^(.*?)\s*(\d+(?:\.\d+)?)\s*°?\s*$/.exec(heading.trim()));
  const goesOn = (i: number): boolean => {
    const [a, b] = [numbered[i - 1], numbered[i]];
    return a !== null && b !== null && a !== undefined && a[1] === b[1] && Number(b[2]) > Number(a[2]);
  };
  for (let i = 1; i <= headings.length; i++) {
    if (i < headings.length && goesOn(i)) continue;
    if (i - start >= FEWEST) found.push({prefix: numbered[start]![1].trim(), first: start, count: i - start});
    start = i;
  }
  return found;
}

const READINGS: readonly {readonly role: Role; readonly words: RegExp}[] = [
  {role: 'Inner bead seat', words: /^(i|in|inner|inboard)\b/i},
  {role: 'Outer bead seat', words: /^(o|out|outer|outboard)\b/i},
  {role: 'Assembly readings', words: /^(a|assembly|r|reading|tire)?\b/i},
];

/** The map that the headings suggest; undefined when no run of readings is among them. */
export function guessMap(table: string, headings: readonly string[]): LedgerMap | undefined {
  const places = new Map<Role, Place>();
  const place = (role: Role, first: number, last: number): void => {
    if (!places.has(role)) places.set(role, {table, first: headings[first], last: headings[last], by: undefined});
  };
  for (const {prefix, first, count} of runs(headings)) {
    const fits = READINGS.find(({role, words}) => !places.has(role) && words.test(prefix));
    if (fits !== undefined) place(fits.role, first, first + count - 1);
  }
  if (!places.has('Assembly readings')) return undefined;
  headings.forEach((heading, i) => {
    const fits = SINGLE.find(({role, words}) => !places.has(role) && words.test(heading.trim()));
    if (fits !== undefined) place(fits.role, i, i);
  });
  const limit = headings.findIndex((heading) => /^limit\b/i.test(heading.trim()));
  if (limit >= 0) {
    let last = limit;
    while (last + 1 < headings.length && /limit/i.test(headings[last + 1])) last++;
    place('Limits', limit, last);
  }
  return {table, places, runoutUnit: '', weightUnit: '', clockwise: true, origin: 'guess'};
}
