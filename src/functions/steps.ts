/**
 * The written-out working of a call, as data: a declaration records its steps here, src/working evaluates, typesets and
 * prints them. Expressions are texts in the closed vocabulary of src/working/vocabulary.ts.
 *
 * Symbols of single figures and of columns share one name space. A column has a value for every row of its row set; a
 * figure has one value and may sum over the columns of one row set.
 */
import type {Argument} from './declare';
import {isGrid, type Cell, type Raw} from './cells';

/** One cell of an argument: its number among the cells, row by row, from 0. */
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
}

/** A number read from within a text cell: `length` characters from `at`, counted from 0. */
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
}

/** Constants as a column: position numbers, grid angles, or what a search found for each row. */
export interface ColumnFoundStep extends Said {
  readonly kind: 'column found';
  readonly rows: string;
  readonly values: readonly (number | string)[];
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
  InputStep | PieceStep | FoundStep | FigureStep | ColumnInputStep | ColumnFoundStep | ColumnStep | BlockStep;

/** Which step gives which figure of the answer; rows of a table count from 1. */
export interface AnswerOf {
  readonly symbol: string;
  readonly part: string;
  readonly row: number;
  /** Angles are compared around a circle of this many degrees. */
  readonly around: number | undefined;
}

export interface FigureOptions {
  readonly unit?: string;
  readonly says?: string;
  /** The figure of the answer that this step gives. */
  readonly part?: string;
  readonly row?: number;
  readonly around?: number;
}

/** Records the steps of one call. */
export class Steps {
  readonly steps: Step[] = [];
  readonly answers: AnswerOf[] = [];
  readonly rowCounts = new Map<string, number>();

  constructor(
    private readonly list: readonly Argument[],
    private readonly args: readonly Raw[],
  ) {}

  /** A figure from a cell of an argument. */
  input(symbol: string, argument: string, index: number, unit = '', says = ''): this {
    const raw = this.raw(argument);
    if (raw === null || raw === undefined) {
      const fallback = this.list.find(({name}) => name === argument)!.fallback as number | string | boolean;
      return this.add({kind: 'input', symbol, says, unit, from: undefined, value: known(fallback)});
    }
    const cell = isGrid(raw) ? raw.flat()[index] : raw;
    return this.add({kind: 'input', symbol, says, unit, from: {argument, index}, value: known(cell)});
  }

  /** Amount and angle of a vector, the `index`-th of its argument. */
  vector(amount: string, angle: string, argument: string, index = 0, says = argument): this {
    this.input(amount, argument, 2 * index, `as ${argument}`, `${says}: amount`);
    return this.input(angle, argument, 2 * index + 1, '°', `${says}: angle`);
  }

  piece(symbol: string, argument: string, at: number, length: number, unit: string, says: string): this {
    const raw = this.raw(argument);
    const text = String(isGrid(raw) ? raw[0][0] : raw);
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
  answer(symbol: string, {part, row = 1, around}: FigureOptions): this {
    if (part !== undefined) this.answers.push({symbol, part, row, around});
    return this;
  }

  /** A row set; its columns have a value for each row. */
  rows(rows: string, count: number): this {
    this.rowCounts.set(rows, count);
    return this;
  }

  /** Cells of an argument as a column: all of them, or those at `indices`. */
  columnInput(rows: string, symbol: string, argument: string, says: string, indices?: readonly number[]): this {
    const raw = this.raw(argument);
    const flat: readonly Cell[] = isGrid(raw) ? raw.flat() : [raw];
    const chosen = indices ?? flat.map((_, i) => i);
    return this.add({
      kind: 'column input',
      rows,
      symbol,
      says,
      unit: `as ${argument}`,
      from: chosen.map((index) => ({argument, index})),
      values: chosen.map((index) => (isEmpty(flat[index]) ? NaN : known(flat[index]))),
    });
  }

  columnFound(rows: string, symbol: string, values: readonly (number | string)[], says: string, unit = ''): this {
    return this.add({kind: 'column found', rows, symbol, says, unit, values});
  }

  column(rows: string, symbol: string, expression: string, says = '', unit = ''): this {
    return this.add({kind: 'column', rows, symbol, expression, says, unit});
  }

  block(rows: string, symbol: string, columns: readonly string[]): this {
    return this.add({kind: 'block', rows, symbol, columns});
  }

  private raw(argument: string): Raw {
    return this.args[this.list.findIndex(({name}) => name === argument)];
  }

  private add(step: Step): this {
    this.steps.push(step);
    return this;
  }
}

const isEmpty = (cell: Cell): boolean => cell === '' || cell === null || cell === undefined;

/** Booleans count as 1 and 0 in a working; an empty cell that is asked for by itself is an empty text. */
function known(cell: Cell): number | string {
  if (typeof cell === 'boolean') return cell ? 1 : 0;
  return typeof cell === 'number' || typeof cell === 'string' ? cell : '';
}
