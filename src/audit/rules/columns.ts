/** Columns of one formula: constants typed over it, and formulas that are not like their neighbors'. */
import {translateFormulaToR1C1} from '@borgar/fx';
import {cellAddress, within, type Place} from '../../host/book/addresses';
import type {CellContent, CellFormula} from '../../host/book/content';
import {withoutPrefixes} from '../../host/formulas/functionNames';
import {dataRows} from '../../host/formulas/tables';
import {find, NAMESPACE} from '../../functions/catalogue';
import {ownNames, type Context} from '../context';
import {Beyond} from '../evaluate/values';
import {finding, shownWords, words, type Finding} from '../findings';
import {brokenFingerprint, isFingerprint} from './fingerprints';
import {differsInSettings} from './mixed';

/** Cells of one column, or a part of it, that should hold one formula. */
interface Line {
  readonly sheet: string;
  readonly cells: readonly CellContent[];
  /** Its rows are records for certain: those of a table. */
  readonly certain: boolean;
}

/** The formula that most cells of a line have. */
interface Common {
  readonly key: string;
  readonly of: CellContent;
  readonly count: number;
  readonly first: number;
  readonly last: number;
}

export function* columnFindings(context: Context): Iterable<Finding> {
  for (const {name: sheet} of context.book.book.sheets) {
    const cells = context.book.book.sheets.find((one) => one.name === sheet)!.cells;
    for (const line of tableLines(context, sheet, cells)) {
      const common = commonFormula(context, line);
      if (common) yield* lineFindings(context, line, common, () => true);
    }
    for (const block of blocks(context, sheet, cells)) {
      const commons = block.map((line) => ({line, common: commonFormula(context, line)}));
      for (const {line, common} of commons) {
        if (!common) continue;
        // A row is a record when the formula of another column says so.
        const isRecord = (row: number): boolean =>
          commons.some(
            (other) =>
              other.line !== line &&
              other.common &&
              other.line.cells.some((cell) => cell.row === row && keyOf(cell) === other.common!.key),
          );
        yield* lineFindings(context, line, common, isRecord);
      }
    }
    yield* rowFindings(context, sheet, cells);
  }
}

const keys = new WeakMap<CellFormula, string>();

/** The same for formulas that are the same as seen from their own cells. */
function keyOf({row, column, formula}: CellContent): string | undefined {
  if (!formula) return undefined;
  const known = keys.get(formula);
  if (known !== undefined) return known;
  const key = formula.group === undefined ? relative({row, column, formula}) : `group ${formula.group}`;
  keys.set(formula, key);
  return key;
}

/** A formula with its references as seen from its own cell. */
const relative = ({row, column, formula}: Pick<CellContent, 'row' | 'column' | 'formula'>): string =>
  `=${translateFormulaToR1C1(formula!.text, cellAddress(row, column))}`;

function* tableLines({book}: Context, sheet: string, cells: readonly CellContent[]): Iterable<Line> {
  for (const table of book.book.tables) {
    if (table.sheet !== sheet) continue;
    const {top, bottom} = dataRows(table);
    const inside = cells.filter(({row, column}) => row >= top && row <= bottom && within(table.area, row, column));
    yield* columnsOf(sheet, inside, true);
  }
}

function columnsOf(sheet: string, cells: readonly CellContent[], certain: boolean): Line[] {
  const columns = new Map<number, CellContent[]>();
  for (const cell of cells) {
    if (cell.value === null && !cell.formula) continue;
    if (!columns.has(cell.column)) columns.set(cell.column, []);
    columns.get(cell.column)!.push(cell);
  }
  return [...columns.values()].map((list) => ({sheet, certain, cells: list.sort((a, b) => a.row - b.row)}));
}

/** Rows that belong together outside of tables: between rows that are empty or hold headings alone. */
function blocks({book}: Context, sheet: string, cells: readonly CellContent[]): Line[][] {
  const tables = book.book.tables.filter((table) => table.sheet === sheet);
  const outside = cells.filter(({row, column}) => !tables.some(({area}) => within(area, row, column)));
  const rows = new Map<number, CellContent[]>();
  for (const cell of outside) {
    if (cell.value === null && !cell.formula) continue;
    if (!rows.has(cell.row)) rows.set(cell.row, []);
    rows.get(cell.row)!.push(cell);
  }
  const isHeading = (list: readonly CellContent[]): boolean =>
    list.every(({formula, value}) => !formula && typeof value === 'string');
  const found: CellContent[][] = [];
  let before = -2;
  for (const row of [...rows.keys()].sort((a, b) => a - b)) {
    const list = rows.get(row)!;
    if (isHeading(list)) continue;
    if (row === before + 1) found.at(-1)!.push(...list);
    else found.push([...list]);
    before = row;
  }
  return found.map((block) => columnsOf(sheet, block, false));
}

function commonFormula(context: Context, {sheet, cells, certain}: Line): Common | undefined {
  const counts = new Map<string, number>();
  for (const cell of cells) {
    const key = keyOf(cell);
    if (key !== undefined) counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const [key, count] = [...counts].reduce((most, each) => (each[1] > most[1] ? each : most), ['', 0] as [
    string,
    number,
  ]);
  const isMost = certain ? count >= 2 && 2 * count > cells.length : count >= 3 && 3 * count >= 2 * cells.length;
  if (!isMost) return undefined;
  const same = cells.filter((cell) => keyOf(cell) === key);
  const of = same[0];
  const concerns =
    ownNames(of.formula!, context.evaluator).length > 0 ||
    same.some(({row, column}) => context.isRead({sheet, row, column}));
  return concerns ? {key, of, count, first: of.row, last: same.at(-1)!.row} : undefined;
}

function* lineFindings(
  context: Context,
  {sheet, cells, certain}: Line,
  {key, of, first, last}: Common,
  isRecord: (row: number) => boolean,
): Iterable<Finding> {
  const names = ownNames(of.formula!, context.evaluator).join();
  for (const cell of cells) {
    const its = keyOf(cell);
    if (its === key) continue;
    const inside = certain || (cell.row > first && cell.row < last);
    if (!cell.formula) {
      if (inside || isRecord(cell.row)) yield* typedOver(context, sheet, cell, of);
      continue;
    }
    const alike = names !== '' && ownNames(cell.formula, context.evaluator).join() === names;
    // The first of a chain, in which each refers to the one before, has nothing before it.
    const begins = cell.row < first && /R\[-/.test(relative(of));
    if (inside || (alike && !begins)) yield different(context, sheet, cell, of);
  }
}

/** Formulas filled along a row. */
function* rowFindings(context: Context, sheet: string, cells: readonly CellContent[]): Iterable<Finding> {
  const {tables} = context.book.book;
  const at = (row: number, column: number): CellContent | undefined => context.book.cell({sheet, row, column});
  for (const cell of cells) {
    const {row, column} = cell;
    if (cell.value === null && !cell.formula) continue;
    const [left, right] = [at(row, column - 1), at(row, column + 1)];
    if (!left?.formula || !right?.formula) continue;
    const key = keyOf(left);
    if (key !== keyOf(right) || key === keyOf(cell)) continue;
    if (ownNames(left.formula, context.evaluator).length === 0) continue;
    const further = [at(row, column - 2), at(row, column + 2)];
    if (!further.some((other) => other?.formula && keyOf(other) === key)) continue;
    if (tables.some((table) => table.sheet === sheet && within(table.area, row, column))) continue;
    if (cell.formula) yield different(context, sheet, cell, left);
    else yield* typedOver(context, sheet, cell, left);
  }
}

/** A formula as it reads in another cell of its column. */
function filled({formula, row, column}: CellContent, to: Place, context: Context): string | undefined {
  try {
    return context.evaluator.filled(formula!.text, {row, column}, to);
  } catch (error) {
    if (error instanceof Beyond) return undefined;
    throw error;
  }
}

const KNOWN = {
  namespace: NAMESPACE,
  parameters: (name: string) => (find(name) ? [] : undefined),
  native: () => true,
};

const readable = (text: string): string => {
  const shown = `=${withoutPrefixes(text, KNOWN)}`;
  return shown.length > 160 ? `${shown.slice(0, 160)}…` : shown;
};

/** What the formula of the neighbors gives in a cell. */
function neighborsResult(context: Context, of: CellContent, place: Place): string {
  const text = filled(of, place, context);
  if (text === undefined) return 'not known here';
  try {
    const {cells} = context.evaluator.evaluate({text, kind: of.formula!.kind}, place);
    return words(cells[0][0]);
  } catch (error) {
    if (error instanceof Beyond) return 'not known here';
    throw error;
  }
}

function* typedOver(context: Context, sheet: string, cell: CellContent, of: CellContent): Iterable<Finding> {
  const place = {sheet, row: cell.row, column: cell.column};
  const computed = neighborsResult(context, of, place);
  const {value} = cell;
  if (isFingerprint(value) && ownNames(of.formula!, context.evaluator).join() === 'WHEEL.FINGERPRINT') {
    // Kept as a text in place of its formula: that is how a record is signed.
    const now = computed.replace(/"/g, '');
    if (now !== value.trim().toLowerCase()) yield brokenFingerprint(place, value, now);
    return;
  }
  yield finding(
    'typed over',
    place,
    `${shownWords(value)}, typed`,
    computed,
    `Fill the formula of ${cellAddress(of.row, of.column)} into this cell again; or, if the figure is meant, say so in a note.`,
  );
}

function different(context: Context, sheet: string, cell: CellContent, of: CellContent): Finding {
  const place = {sheet, row: cell.row, column: cell.column};
  const [own, its] = [readable(cell.formula!.text), filled(of, place, context)];
  const setting = its === undefined ? undefined : differsInSettings(context, cell.formula!, its, place);
  const fill = `Fill the formula of ${cellAddress(of.row, of.column)} into this cell, or set it apart from the column.`;
  if (setting !== undefined) {
    return finding(
      'mixed units or limits',
      place,
      setting.own,
      setting.others,
      `The ${setting.what} is not that of the rest of the column. ${fill}`,
    );
  }
  return finding(
    'differs from its neighbors',
    place,
    `${shownWords(cell.value)} by ${own}`,
    `${neighborsResult(context, of, place)}${its === undefined ? '' : ` by ${readable(its)}`}`,
    fill,
  );
}
