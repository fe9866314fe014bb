/**
 * The written-out working of a call, as data: a declaration records its steps here, src/working evaluates, typesets and
 * prints them. Expressions are texts in the closed vocabulary of src/working/vocabulary.ts.
 *
 * Symbols of single figures and of columns share one name space. A column has a value for every row of its row set; a
 * figure has one value and may sum over the columns of one row set.
 */
import type {Argument} from '../declare';
import {isGrid, type Cell, type Raw} from '../cells';

/**
 * One cell of an argument: its number among the cells, row by row, from 0. An argument that takes all further ones, as
 * EACHROW's, has a number behind its name: "arguments 2" is the second of them.
 */
export interface CellOf {
  readonly argument: string;
  readonly index: number;
}

interface Said {
  readonly symbol: string;
  readonly says: string;
  readonly unit: string;
}

/** A figure taken from a cell of an argument, or what an omitted argument stands for. */
export interface InputStep extends Said {
  readonly kind: 'input';
  readonly from: CellOf | undefined;
  readonly value: number | string;
  /** The cell holds TRUE or FALSE, which count as 1 and 0. */
  readonly flag: boolean;
}

/** A number or a few symbols read from within a text cell: `length` characters from `at`, counted from 0. */
export interface PieceStep extends Said {
  readonly kind: 'piece';
  readonly from: CellOf;
  readonly text: string;
  readonly at: number;
  readonly length: number;
  readonly value: number | string;
}

/** A result that a search or a reading of words found; the steps behind it show or prove that it is right. */
export interface FoundStep extends Said {
  readonly kind: 'found';
  readonly value: number | string;
}

export interface FigureStep extends Said {
  readonly kind: 'figure';
  readonly expression: string;
}

/** Cells of an argument as a column; NaN where a cell is empty. */
export interface ColumnInputStep extends Said {
  readonly kind: 'column input';
  readonly rows: string;
  readonly from: readonly CellOf[];
  readonly values: readonly (number | string)[];
  /** Which cells hold TRUE or FALSE, which count as 1 and 0. */
  readonly flags: readonly boolean[];
}

/** A constant for each row: position numbers, a table of a standard, or, when `found`, what a search found. */
export interface ColumnConstantStep extends Said {
  readonly kind: 'column constant';
  readonly rows: string;
  readonly values: readonly (number | string)[];
  readonly found: boolean;
}

export interface ColumnStep extends Said {
  readonly kind: 'column';
  readonly rows: string;
  readonly expression: string;
}

/** Neighboring columns under one name, as the regressors of a least-squares fit. */
export interface BlockStep {
  readonly kind: 'block';
  readonly symbol: string;
  readonly rows: string;
  readonly columns: readonly string[];
}

export type Step =
  InputStep | PieceStep | FoundStep | FigureStep | ColumnInputStep | ColumnConstantStep | ColumnStep | BlockStep;

/** Which step gives which figure of the answer; rows of a table, and cells of an array, count from 1. */
export interface AnswerOf {
  readonly symbol: string;
  /** The row of the column, from 0, when the symbol is one. */
  readonly index: number | undefined;
  readonly part: string;
  readonly row: number;
  /** Angles are compared around a circle of this many degrees. */
  readonly around: number | undefined;
  readonly vanishing: Vanishing | undefined;
}

/** An angle says nothing when the figure `size`, its amount, is less than {@link ROUNDING} of the figure `whole`. */
export interface Vanishing {
  readonly size: string;
  readonly whole: string;
}

/** Share of the amounts in play below which a vector is what rounding left. */
export const ROUNDING = 1e-12;

export interface FigureOptions {
  readonly unit?: string;
  readonly says?: string;
  /** The figure of the answer that this step gives. */
  readonly part?: string | undefined;
  readonly row?: number;
  readonly around?: number;
  readonly vanishing?: Vanishing;
}

/** Kinds of argument whose cells hold TRUE and FALSE. */
const FLAGS = ['flag', 'flags', 'flags or empty'];

/** Records the steps of one call. */
export class Steps {
  readonly steps: Step[] = [];
  readonly answers: AnswerOf[] = [];
  readonly rowCounts = new Map<string, number>();

  constructor(
    private readonly list: readonly Argument[],
    private readonly args: readonly Raw[],
  ) {}

  /** Whether an argument was written. */
  written(argument: string): boolean {
    return (this.raw(argument) ?? undefined) !== undefined;
  }

  /** How many cells an argument has; 0 when it was left out. */
  cellCount(argument: string): number {
    return this.written(argument) ? flat(this.raw(argument)).length : 0;
  }

  /** A figure from a cell of an argument. */
  input(symbol: string, argument: string, index = 0, unit = '', says = ''): this {
    const {fallback, kind} = this.argument(argument);
    const flag = FLAGS.includes(kind);
    if (!this.written(argument)) {
      const value = known(Array.isArray(fallback) ? fallback[index] : (fallback as Cell));
      return this.add({kind: 'input', symbol, says, unit, from: undefined, value, flag});
    }
    const value = known(flat(this.raw(argument))[index]);
    return this.add({kind: 'input', symbol, says, unit, from: {argument, index}, value, flag});
  }

  /** Amount and angle of a vector, the `index`-th of its argument. */
  vector(amount: string, angle: string, argument: string, index = 0, says = argument): this {
    this.input(amount, argument, 2 * index, `as ${argument}`, `${says}: amount`);
    return this.input(angle, argument, 2 * index + 1, '°', `${says}: angle`);
  }

  piece(symbol: string, argument: string, at: number, length: number, unit: string, says: string): this {
    const text = String(flat(this.raw(argument))[0]);
    const part = text.slice(at, at + length);
    const value = part.trim() === '' || Number.isNaN(Number(part)) ? part : Number(part);
    return this.add({kind: 'piece', symbol, says, unit, from: {argument, index: 0}, text, at, length, value});
  }

  found(symbol: string, value: number | string, unit: string, says: string, options: FigureOptions = {}): this {
    this.add({kind: 'found', symbol, says, unit, value});
    return this.answer(symbol, options);
  }

  figure(symbol: string, expression: string, options: FigureOptions = {}): this {
    this.add({kind: 'figure', symbol, expression, says: options.says ?? '', unit: options.unit ?? ''});
    return this.answer(symbol, options);
  }

  /** Marks a step as a figure of the answer. */
  answer(symbol: string, {part, row = 1, around, vanishing}: FigureOptions, index?: number): this {
    if (part !== undefined) this.answers.push({symbol, index, part, row, around, vanishing});
    return this;
  }

  /** Marks the rows of a column as the rows of one part of the answer. */
  answerColumn(symbol: string, part: string, count: number, around?: number): this {
    for (let i = 0; i < count; i++) this.answer(symbol, {part, row: i + 1, ...(around ? {around} : {})}, i);
    return this;
  }

  /** A row set; its columns have a value for each row. */
  rows(rows: string, count: number): this {
    this.rowCounts.set(rows, count);
    return this;
  }

  /** Cells of an argument as a column: all of them, or those at `indices`. */
  columnInput(
    rows: string,
    symbol: string,
    argument: string,
    says: string,
    indices?: readonly number[],
    unit = `as ${argument}`,
  ): this {
    const cells = flat(this.raw(argument));
    const {kind} = this.argument(argument);
    const chosen = indices ?? cells.map((_, i) => i);
    return this.add({
      kind: 'column input',
      rows,
      symbol,
      says,
      unit,
      from: chosen.map((index) => ({argument, index})),
      values: chosen.map((index) => (isEmpty(cells[index]) ? NaN : known(cells[index]))),
      flags: chosen.map((index) => FLAGS.includes(kind) || typeof cells[index] === 'boolean'),
    });
  }

  /** Constants as a column: positions, a table. */
  columnConstant(rows: string, symbol: string, values: readonly (number | string)[], says: string, unit = ''): this {
    return this.add({kind: 'column constant', rows, symbol, says, unit, values, found: false});
  }

  /** What a search found for each row. */
  columnFound(rows: string, symbol: string, values: readonly (number | string)[], says: string, unit = ''): this {
    return this.add({kind: 'column constant', rows, symbol, says, unit, values, found: true});
  }

  column(rows: string, symbol: string, expression: string, says = '', unit = ''): this {
    return this.add({kind: 'column', rows, symbol, expression, says, unit});
  }

  block(rows: string, symbol: string, columns: readonly string[]): this {
    return this.add({kind: 'block', rows, symbol, columns});
  }

  /**
   * Takes over the steps of a call within this one.
   * @param cell where a cell of that call's arguments stands in this one's
   * @param answer what a figure of that call is in this one's answer
   * @param mark behind every symbol and row set, so that several calls stand in one working
   */
  adopt(
    inner: Steps,
    cell: (cell: CellOf) => CellOf,
    answer: (answer: AnswerOf) => AnswerOf | undefined,
    mark = '',
  ): this {
    const own = new Set(inner.steps.map(({symbol}) => symbol));
    const name = (symbol: string): string => `${symbol}${mark}`;
    const text = (expression: string): string => (mark === '' ? expression : marked(expression, own, mark));
    for (const [rows, count] of inner.rowCounts) this.rows(name(rows), count);
    for (const step of inner.steps) {
      const symbol = name(step.symbol);
      const rows = 'rows' in step ? {rows: name(step.rows)} : {};
      if (step.kind === 'column input') this.add({...step, ...rows, symbol, from: step.from.map(cell)});
      else if (step.kind === 'piece') this.add({...step, symbol, from: cell(step.from)});
      else if (step.kind === 'input') this.add({...step, symbol, from: step.from && cell(step.from)});
      else if (step.kind === 'block') this.add({...step, ...rows, symbol, columns: step.columns.map(name)});
      else if (step.kind === 'figure') this.add({...step, symbol, expression: text(step.expression)});
      else if (step.kind === 'column') this.add({...step, ...rows, symbol, expression: text(step.expression)});
      else this.add({...step, ...rows, symbol});
    }
    for (const each of inner.answers) {
      const {vanishing} = each;
      const here = answer(each);
      if (here === undefined) continue;
      this.answers.push({
        ...here,
        symbol: name(here.symbol),
        vanishing: vanishing && {size: name(vanishing.size), whole: name(vanishing.whole)},
      });
    }
    return this;
  }

  /** Keeps those figures of the answer that a call asks for. */
  keepAnswers(wanted: (answer: AnswerOf) => boolean): this {
    this.answers.splice(0, this.answers.length, ...this.answers.filter(wanted));
    return this;
  }

  private argument(name: string): Argument {
    return this.list.find((argument) => argument.name === name)!;
  }

  private raw(argument: string): Raw {
    return this.args[this.list.findIndex(({name}) => name === argument)];
  }

  private add(step: Step): this {
    this.steps.push(step);
    return this;
  }
}

/** Texts in quotes, numbers such as 1E-12 and words of the vocabulary stay as they are. */
const marked = (expression: string, symbols: ReadonlySet<string>, mark: string): string =>
  expression.replace(/"[^"]*"|\d[\d.]*(?:[eE][-+]?\d+)?|[\p{L}_][\p{L}\p{N}_]*/gu, (word) =>
    symbols.has(word) ? `${word}${mark}` : word,
  );

const flat = (raw: Raw): readonly Cell[] => (isGrid(raw) ? raw.flat() : [raw]);

const isEmpty = (cell: Cell): boolean => cell === '' || cell === null || cell === undefined;

/** Booleans count as 1 and 0 in a working; an empty cell that is asked for by itself is an empty text. */
function known(cell: Cell): number | string {
  if (typeof cell === 'boolean') return cell ? 1 : 0;
  return typeof cell === 'number' || typeof cell === 'string' ? cell : '';
}
