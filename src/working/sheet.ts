/**
 * A working laid out as cells: single figures in a list, columns beside it, native formulas throughout, inputs referring
 * to the user's own cells, and last the difference to the function's figure.
 */
import {ROUNDING, type AnswerOf, type CellOf} from '../functions/workings/steps';
import {letters} from './addresses';
import {excelFormula, type Places} from './excel';
import {answerOf, type Worked, type WorkedStep} from './work';
import {plainText} from './words';

export type Style = 'title' | 'note' | 'heading' | 'text' | 'figure' | 'input' | 'difference';

/** A cell of the working; rows and columns count from 0. A formula has no equals sign. */
export interface SheetCell {
  readonly row: number;
  readonly column: number;
  readonly style: Style;
  readonly value?: number | string;
  readonly formula?: string;
  /** What the second engine says the formula comes to; NaN for #N/A. */
  readonly expected?: number | string;
  /** Where a formula comes from: its step, and the row of its column. */
  readonly step?: {readonly symbol: string; readonly index: number | undefined};
}

export interface WorkingSheet {
  readonly cells: readonly SheetCell[];
  readonly rows: number;
  readonly columns: number;
  /** Cells with the difference between working and function, one for each figure of the answer. */
  readonly differences: readonly {readonly answer: AnswerOf; readonly row: number; readonly column: number}[];
}

/** Why a working is not laid out as a sheet, in a sentence for the person who asked for it. */
export interface NotLaidOut {
  readonly refused: string;
}

/** What a sheet needs to know of the user's workbook. */
export interface Surroundings {
  /** Address of a cell of an argument, or undefined when the argument is no range. */
  address(cell: CellOf): string | undefined;
  /** Address or value of the function's own figure; NaN for one that does not exist. */
  answer(answer: AnswerOf): {readonly address: string} | {readonly value: number | string};
  /** First lines: what is worked out here. */
  readonly title: string;
  readonly note: string;
  /** Row in which the working begins, from 0. */
  readonly firstRow: number;
}

/** A sheet of more cells is no longer read by anyone, and a file with many of them becomes slow. */
export const MOST_CELLS = 6000;
/** Excel's own limits: characters of a formula, and columns in LINEST (the latter from memory). */
const LONGEST_FORMULA = 8192;
const WIDEST_BLOCK = 60;

const [STEP, SYMBOL, MEANING, FORMULA, VALUE, UNIT, FIRST_COLUMN] = [0, 1, 2, 3, 4, 5, 7];

/** The working as cells, or why it is none: too many cells, or a formula longer than Excel takes. */
export function workingSheet(worked: Worked, around: Surroundings): WorkingSheet | NotLaidOut {
  const count = cellCount(worked);
  if (count > MOST_CELLS) return tooLarge(worked, `would take ${count} cells, more than ${MOST_CELLS}`);
  const widest = Math.max(0, ...worked.steps.map((step) => (step.kind === 'block' ? step.columns.length : 0)));
  if (widest > WIDEST_BLOCK) return tooLarge(worked, `needs a fit of ${widest} columns, more than LINEST takes`);
  const sheet = new Layout(worked, around).sheet();
  const longest = Math.max(...sheet.cells.map(({formula}) => formula?.length ?? 0));
  if (longest >= LONGEST_FORMULA)
    return tooLarge(worked, `needs a formula of ${longest} characters, more than Excel takes`);
  return sheet;
}

const tooLarge = ({name}: Worked, why: string): NotLaidOut => ({
  refused: `The working of this WHEEL.${name} ${why}. WHEEL.WORKING lists its steps.`,
});

/** How many cells the working takes. */
function cellCount({steps, answers}: Worked): number {
  const figures = steps.reduce(
    (total, {results, result}) => total + (results?.length ?? 0) + (result === undefined ? 0 : 6),
    0,
  );
  return figures + 4 * answers.length;
}

class Layout {
  private readonly cells: SheetCell[] = [];
  private readonly head: number;
  private readonly first: number;
  private readonly single: readonly WorkedStep[];
  private readonly columns: readonly WorkedStep[];
  private readonly rowOf: ReadonlyMap<string, number>;
  private readonly columnOf: ReadonlyMap<string, {readonly step: WorkedStep; readonly column: number}>;

  constructor(
    private readonly worked: Worked,
    private readonly around: Surroundings,
  ) {
    this.head = around.firstRow + 3;
    this.first = this.head + 1;
    this.single = worked.steps.filter((step) => step.result !== undefined);
    this.rowOf = new Map(this.single.map((step, i) => [step.symbol, this.first + i]));
    this.columns = worked.steps.filter((step) => step.results !== undefined);
    this.columnOf = new Map(this.columns.map((step, i) => [step.symbol, {step, column: FIRST_COLUMN + i}]));
  }

  sheet(): WorkingSheet {
    const {around} = this;
    this.put(around.firstRow, 0, 'title', {value: around.title});
    this.put(around.firstRow + 1, 0, 'note', {value: around.note});
    this.headings(this.head, ['Step', 'Symbol', 'What it is', 'Formula', 'Value', 'Unit']);
    this.single.forEach((step, i) => this.figureRow(step, i));
    this.columns.forEach((step) => this.column(step));
    const answerHead = this.first + this.single.length + 1;
    this.headings(answerHead, ['', 'Figure', '', 'The function', 'This working', 'Difference']);
    const differences = this.worked.answers.map((answer, i) => this.answerRow(answer, answerHead + 1 + i));
    return {
      cells: this.cells,
      rows: this.cells.reduce((most, {row}) => Math.max(most, row), 0) + 1,
      columns: this.cells.reduce((most, {column}) => Math.max(most, column), 0) + 1,
      differences,
    };
  }

  private put(row: number, column: number, style: Style, content: Partial<SheetCell>): void {
    this.cells.push({row, column, style, ...content});
  }

  private headings(row: number, texts: readonly string[]): void {
    texts.forEach((text, i) => this.put(row, i, 'heading', {value: text}));
  }

  private figureRow(step: WorkedStep, i: number): void {
    const row = this.first + i;
    this.put(row, STEP, 'text', {value: i + 1});
    this.put(row, SYMBOL, 'text', {value: step.symbol});
    this.put(row, MEANING, 'text', {value: saysOf(step)});
    this.put(row, FORMULA, 'text', {value: step.tree === undefined ? sourceOf(step) : plainText(step.tree)});
    this.put(row, VALUE, step.kind === 'figure' ? 'figure' : 'input', this.singleCell(step));
    this.put(row, UNIT, 'text', {value: unitOf(step)});
  }

  private column(step: WorkedStep): void {
    const {column} = this.columnOf.get(step.symbol)!;
    this.put(this.head - 1, column, 'note', {value: step.tree === undefined ? saysOf(step) : plainText(step.tree)});
    this.put(this.head, column, 'heading', {value: step.symbol});
    step.results!.forEach((_, i) =>
      this.put(this.first + i, column, step.kind === 'column' ? 'figure' : 'input', this.columnCell(step, i)),
    );
  }

  private answerRow(answer: AnswerOf, row: number) {
    const own = this.around.answer(answer);
    const rows = this.worked.answers.some((a) => a.row > 1) ? ` (row ${answer.row})` : '';
    const value = answerOf(this.worked, answer);
    this.put(row, SYMBOL, 'text', {value: `${answer.part}${rows}`});
    this.put(row, FORMULA, 'input', 'address' in own ? {formula: own.address} : constant(own.value));
    this.put(row, VALUE, 'figure', {
      formula: this.answerCell(answer),
      expected: value,
      step: {symbol: answer.symbol, index: answer.index},
    });
    this.put(row, UNIT, 'difference', {formula: this.difference(row, answer, value), expected: 0});
    return {answer, row, column: UNIT};
  }

  private figureCell(symbol: string): string {
    return `$${letters(VALUE)}$${this.rowOf.get(symbol)! + 1}`;
  }

  private answerCell({symbol, index}: AnswerOf): string {
    if (index === undefined) return this.figureCell(symbol);
    return `$${letters(this.columnOf.get(symbol)!.column)}$${this.first + index + 1}`;
  }

  /** Where symbols stand, seen from a row of a row set or from none. */
  private places(rows?: string, index = 0): Places {
    const at = (symbol: string) => this.columnOf.get(symbol);
    const count = (symbol: string): number => at(symbol)!.step.results!.length;
    const rowsOf = (symbol: string): string | undefined => {
      const step = at(symbol)?.step;
      return step !== undefined && 'rows' in step ? step.rows : undefined;
    };
    const cell = (symbol: string, i: number): string => `$${letters(at(symbol)!.column)}${this.first + i + 1}`;
    return {
      within: rows === undefined ? [] : [rows],
      rowsOf,
      cell: (symbol) => {
        if (this.rowOf.has(symbol)) return this.figureCell(symbol);
        return rows !== undefined && rowsOf(symbol) === rows ? cell(symbol, index) : undefined;
      },
      range: (symbol) => this.span(at(symbol)!.column, at(symbol)!.column, count(symbol)),
      rangeToHere: (symbol) => this.span(at(symbol)!.column, at(symbol)!.column, index + 1),
      neighbor: (symbol, by, turns) => {
        const [i, n] = [index + by, count(symbol)];
        return turns || (i >= 0 && i < n) ? cell(symbol, (i + n) % n) : undefined;
      },
      block: (symbol) => {
        const step = this.worked.steps.find((s) => s.kind === 'block' && s.symbol === symbol);
        if (step?.kind !== 'block') return undefined;
        const columns = step.columns.map((name) => at(name)!.column);
        if (columns.some((column, i) => column !== columns[0] + i))
          throw new Error(`the columns of ${symbol} are not neighbors`);
        return {
          range: this.span(columns[0], columns[columns.length - 1], count(step.columns[0])),
          columns: columns.length,
        };
      },
    };
  }

  private span(from: number, to: number, count: number): string {
    return `$${letters(from)}$${this.first + 1}:$${letters(to)}$${this.first + count}`;
  }

  private singleCell(step: WorkedStep): Partial<SheetCell> {
    const expected = step.result!;
    const origin = {step: {symbol: step.symbol, index: undefined}};
    switch (step.kind) {
      case 'figure':
        return {formula: excelFormula(step.tree!, this.places()), expected, ...origin};
      case 'input': {
        const address = step.from === undefined ? undefined : this.around.address(step.from);
        if (address === undefined) return constant(step.value);
        return {formula: step.flag ? `N(${address})` : address, expected, ...origin};
      }
      case 'piece': {
        const text = this.around.address(step.from) ?? `"${step.text.replace(/"/g, '""')}"`;
        const mid = `MID(${text},${step.at + 1},${step.length})`;
        // When the text has changed its length the piece no longer stands where it was read.
        const read = typeof step.value === 'number' ? `VALUE(${mid})` : mid;
        return {formula: `IF(LEN(${text})=${step.text.length},${read},NA())`, expected, ...origin};
      }
      default:
        return constant(expected);
    }
  }

  private columnCell(step: WorkedStep, index: number): Partial<SheetCell> {
    const expected = step.results![index];
    const origin = {step: {symbol: step.symbol, index}};
    if (step.kind === 'column')
      return {formula: excelFormula(step.tree!, this.places(step.rows, index)), expected, ...origin};
    const address = step.kind === 'column input' ? this.around.address(step.from[index]) : undefined;
    if (address === undefined || step.kind !== 'column input') return {value: blank(expected)};
    return {
      formula: `IF(${address}="","",${step.flags[index] ? `N(${address})` : address})`,
      expected: blank(expected),
      ...origin,
    };
  }

  /** Function less working; around the circle for angles, 0 or 1 for words; 0 where neither has the figure. */
  private difference(row: number, answer: AnswerOf, value: number | string): string {
    const {around, vanishing} = answer;
    const [own, worked] = [`$${letters(FORMULA)}$${row + 1}`, `$${letters(VALUE)}$${row + 1}`];
    let formula = `${own}-${worked}`;
    if (typeof value === 'string') formula = `IF(${own}=${worked},0,1)`;
    else if (around !== undefined) formula = `(${own}-${worked})-${around}*ROUND((${own}-${worked})/${around},0)`;
    // A row of a column may come to have no figure but an empty text.
    if (typeof value !== 'string' && answer.index !== undefined)
      formula = `IF(ISNUMBER(${own})*ISNUMBER(${worked})=1,${formula},IF(${own}=${worked},0,1))`;
    if (this.worked.mayLack(answer) || Number.isNaN(value))
      formula = `IF(ISERROR(${own}),IF(ISNA(${worked}),0,1),${formula})`;
    if (vanishing !== undefined) {
      const nothing = `${this.figureCell(vanishing.size)}<=${ROUNDING}*${this.figureCell(vanishing.whole)}`;
      formula = `IF(${nothing.toUpperCase()},0,${formula})`;
    }
    return formula;
  }
}

const saysOf = (step: WorkedStep): string => (step.kind === 'block' ? '' : step.says);
const unitOf = (step: WorkedStep): string => (step.kind === 'block' ? '' : step.unit);

function sourceOf(step: WorkedStep): string {
  if (step.kind === 'input') return step.from === undefined ? 'left out' : `from ${step.from.argument}`;
  if (step.kind === 'piece') return `characters ${step.at + 1} to ${step.at + step.length}`;
  return 'found by the function';
}

const blank = (value: number | string): number | string =>
  typeof value === 'number' && Number.isNaN(value) ? '' : value;

/** A figure as a constant of a cell; one that does not exist is #N/A. */
const constant = (value: number | string): Partial<SheetCell> =>
  Number.isNaN(value) ? {formula: 'NA()', expected: value} : {value};
