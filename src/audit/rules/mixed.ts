/** Units and limits that do not go together. */
import {find} from '../../functions/catalogue';
import type {Argument} from '../../functions/declare';
import type {Place} from '../../host/book/addresses';
import type {CellFormula} from '../../host/book/content';
import {dataRows} from '../../host/formulas/tables';
import type {ArgumentMade, CallMade} from '../calls';
import {calls, followed, type Context, type OwnFormula} from '../context';
import {finding, words, type Finding} from '../findings';
import {headingOf, unitsOf, type Unit} from '../headings';

/** Arguments that say by what figures are judged, not what was measured. */
const SETTING = /^(limits?|units|step|tolerance|(at|from|to)Planes?)$/;

/** The same quantity in inches and millimeters is this much apart, in ounces and grams too; limits differ far less. */
const [LEAST_RATIO, MOST_RATIO] = [10, 65];

export function* mixedFindings(context: Context): Iterable<Finding> {
  yield* unitChoices(context);
  yield* headingUnits(context);
  const settings = settingsOf(context);
  yield* otherScales(settings);
  yield* otherLimits(settings, context);
}

/** What differs when two formulas make the same calls and only a limit, unit or plane is another one. */
export function differsInSettings(
  {evaluator}: Context,
  own: CellFormula,
  others: string,
  place: Place,
): {what: string; own: string; others: string} | undefined {
  const a = followed(evaluator, {...place, formula: own, shown: null})?.calls;
  const b = followed(evaluator, {...place, formula: {text: others, kind: own.kind}, shown: null})?.calls;
  if (!a || !b || a.length === 0 || a.length !== b.length) return undefined;
  const different: {what: string; own: string; others: string}[] = [];
  for (let i = 0; i < a.length; i++) {
    if (a[i].declaration !== b[i].declaration) return undefined;
    const {arguments: declared} = a[i].declaration;
    for (let k = 0; k < Math.max(a[i].args.length, b[i].args.length); k++) {
      const [one, other] = [a[i].args[k], b[i].args[k]];
      if (valueWords(one) === valueWords(other)) continue;
      if (!SETTING.test(declared[k]?.name ?? '')) return undefined;
      different.push({what: declared[k].name, own: valueWords(one), others: valueWords(other)});
    }
  }
  return different[0];
}

function valueWords(argument: ArgumentMade | undefined): string {
  const raw = argument?.raw ?? null;
  if (raw === null) return 'left out';
  if (!Array.isArray(raw)) return words(raw as never);
  return (raw as unknown[][]).map((row) => row.map((cell) => words(cell as never)).join(', ')).join('; ');
}

// ---- the choice of units in calls

function* unitChoices(context: Context): Iterable<Finding> {
  const sheets = new Map<string, {at: OwnFormula; units: string}[]>();
  for (const {at, call} of calls(context)) {
    const i = call.declaration.arguments.findIndex(({name}) => name === 'units');
    if (i < 0) continue;
    const raw = call.args[i]?.raw ?? null;
    const units = String(raw ?? call.declaration.arguments[i].fallback)
      .trim()
      .toLowerCase();
    if (!sheets.has(at.sheet)) sheets.set(at.sheet, []);
    sheets.get(at.sheet)!.push({at, units});
  }
  for (const [, list] of sheets) {
    const usual = mostOf(list.map(({units}) => units));
    for (const {at, units} of list) {
      if (units === usual) continue;
      yield finding(
        'mixed units or limits',
        at,
        `units "${units}"`,
        `"${usual}" in the other formulas of the sheet`,
        `Calculate in one system of units: put "${usual}" here and see that the cells it reads are in it.`,
      );
    }
  }
}

/** What occurs most; of equally many the first. */
function mostOf<T>(list: readonly T[]): T {
  const counts = new Map<T, number>();
  for (const each of list) counts.set(each, (counts.get(each) ?? 0) + 1);
  return [...counts].reduce((most, each) => (each[1] > most[1] ? each : most))[0];
}

// ---- units that headings name

function* headingUnits(context: Context): Iterable<Finding> {
  const told = new Map<string, Finding>();
  for (const {at, call} of calls(context)) {
    const column = `${at.column} ${call.declaration.name} ${at.sheet}`;
    const known = told.get(column);
    if (known) {
      told.set(column, {...known, more: known.more + 1});
      continue;
    }
    const named: {unit: Unit; text: string}[] = call.args.flatMap(({from}) => {
      const text = from && headingOf(from, context.book);
      return text === undefined ? [] : unitsOf(text).map((unit) => ({unit, text}));
    });
    for (const [a, b] of [
      ['mm', 'in'],
      ['g', 'oz'],
    ] as const) {
      const [one, other] = [a, b].map((unit) => named.find((each) => each.unit === unit));
      if (!one || !other || told.has(column)) continue;
      told.set(
        column,
        finding(
          'mixed units or limits',
          at,
          `"${one.text}" and "${other.text}" in one formula`,
          `one unit, ${a} or ${b}`,
          `Convert one of them, such as with CONVERT, before WHEEL.${call.declaration.name} gets both; or correct the heading.`,
        ),
      );
    }
  }
  yield* told.values();
}

// ---- values of limits

interface Setting {
  /** Function, argument and place within it: what can be compared. */
  readonly of: string;
  readonly what: string;
  readonly value: number;
  /** The cell where the figure was typed. */
  readonly origin: Place;
  /** The formula that judges by it. */
  readonly at: OwnFormula;
}

function settingsOf(context: Context): Setting[] {
  const found: Setting[] = [];
  for (const {at, call} of calls(context)) {
    for (const [argument, made] of judging(call)) {
      const cells = (Array.isArray(made.raw) ? made.raw : [[made.raw]]) as readonly (readonly unknown[])[];
      const parts = partsOf(argument);
      cells.forEach((row, r) =>
        row.forEach((value, c) => {
          const part = parts[cells.length === 1 ? c % parts.length : r % parts.length];
          if (part === undefined || typeof value !== 'number' || value === 0) return;
          const {from} = made;
          const place = from && {sheet: from.sheet, row: from.top + r, column: from.left + c};
          found.push({
            of: `${call.declaration.name} ${argument.name} ${part}`,
            what: part === '' ? argument.name : `${part} of ${argument.name}`,
            value: Math.abs(value),
            origin: place ? originOf(place, context) : at,
            at,
          });
        }),
      );
    }
  }
  return found;
}

/** Limits, and planes for the weights; EACHROW hands its arguments on. */
function* judging({declaration, args}: CallMade): Iterable<[Argument, ArgumentMade]> {
  const inner = declaration.name === 'EACHROW' ? find(String(args[0]?.raw ?? '')) : undefined;
  for (let i = 0; i < args.length; i++) {
    const argument = inner ? inner.arguments[i - 1] : declaration.arguments[i];
    if (argument && /^limits?$|Planes?$/.test(argument.name)) yield [argument, args[i]];
  }
}

/** Names of the figures in an argument; positions along the axle may be anything and are left out. */
function partsOf({kind, takes}: Argument): readonly (string | undefined)[] {
  if (kind === 'planes') return [undefined, 'inboard radius', undefined, 'outboard radius'];
  if (kind === 'plane') return [undefined, 'radius'];
  return kind === 'named numbers' ? takes.replace(/^[^:]*: /, '').split(', ') : [''];
}

/** The cell where a figure was typed that formulas only pass on. */
function originOf(place: Place, {book, evaluator}: Context): Place {
  let at = place;
  for (let steps = 0; steps < 20; steps++) {
    const formula = book.cell(at)?.formula;
    const from = formula && followed(evaluator, {...at, formula, shown: null})?.from;
    if (!from || from.top !== from.bottom || from.left !== from.right) return at;
    at = {sheet: from.sheet, row: from.top, column: from.left};
  }
  return at;
}

const nameOf = ({sheet, row, column}: Place): string => `${row} ${column} ${sheet}`;

function groupBy<T>(list: readonly T[], key: (each: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const each of list) {
    const name = key(each);
    if (!groups.has(name)) groups.set(name, []);
    groups.get(name)!.push(each);
  }
  return groups;
}

const median = (sorted: readonly number[]): number => sorted[Math.floor((sorted.length - 1) / 2)];

/** Limits that are so far from the others that they can only be in another unit. */
function* otherScales(settings: readonly Setting[]): Iterable<Finding> {
  for (const list of groupBy(settings, ({of}) => of).values()) {
    const origins = [...groupBy(list, ({origin}) => nameOf(origin)).values()].map(([first]) => first);
    if (origins.length < 3) continue;
    const middle = median(origins.map(({value}) => value).sort((a, b) => a - b));
    const near = origins.filter(({value}) => ratio(value, middle) < 5);
    if (2 * near.length <= origins.length) continue;
    for (const {origin, value, what, at} of origins) {
      const apart = ratio(value, middle);
      if (apart < LEAST_RATIO || apart > MOST_RATIO) continue;
      yield finding(
        'mixed units or limits',
        origin,
        `${words(value)} as ${what}`,
        `others near ${words(middle)}, ${Math.round(apart)} times as ${value < middle ? 'much' : 'little'}`,
        `It looks like another unit: enter it in that of the others. WHEEL.${at.names[0]?.replace(/^WHEEL\./, '')} judges by it.`,
      );
    }
  }
}

const ratio = (a: number, b: number): number => Math.max(a / b, b / a);

/** Records of one class that are judged by different limits. */
function* otherLimits(settings: readonly Setting[], context: Context): Iterable<Finding> {
  const classes = groupBy(
    settings.flatMap((setting) => {
      const name = classOf(setting.at, context);
      return name === undefined ? [] : [{...setting, name}];
    }),
    ({of, name}) => `${of} ${name}`,
  );
  const told = new Set<string>();
  for (const list of classes.values()) {
    const usual = mostOf(list.map(({value}) => value));
    const most = list.filter(({value}) => value === usual).length;
    if (2 * most <= list.length) continue;
    for (const {value, origin, what, name} of list) {
      if (value === usual || told.has(nameOf(origin))) continue;
      told.add(nameOf(origin));
      yield finding(
        'mixed units or limits',
        origin,
        `${words(value)} as ${what}`,
        `${words(usual)} for other records of the class ${name}`,
        'Judge all records of a class by the same limit, or give this one a class of its own.',
      );
    }
  }
}

/** The class of a record, by the column of that name in its table. */
function classOf({sheet, row, column}: OwnFormula, {book}: Context): string | undefined {
  const table = book.book.tables.find(
    (one) =>
      one.sheet === sheet &&
      column >= one.area.left &&
      column <= one.area.right &&
      row >= dataRows(one).top &&
      row <= dataRows(one).bottom,
  );
  const index = table?.columns.findIndex((name) => /^(tire |wheel )?class$/i.test(name.trim())) ?? -1;
  if (!table || index < 0) return undefined;
  const value = book.shown({sheet, row, column: table.area.left + index});
  return typeof value === 'string' && value.trim() !== '' ? value.trim().toLowerCase() : undefined;
}
