/**
 * A working laid out as cells: single figures in a list, columns beside it, native formulas throughout, inputs referring
 * to the user's own cells, and last the difference to the function's figure.
 */
import type {AnswerOf, CellOf} from '../functions/steps';
import {excelFormula, type Places} from './excel';
import {figuresOf, type Worked, type WorkedStep} from './work';
import {plainText} from './words';

export type Style = 'title' | 'note' | 'heading' | 'text' | 'figure' | 'input' | 'difference';

/** A cell of the working; rows and columns count from 0. A formula has no equals sign. */
export interface SheetCell {
  readonly row: number;
  readonly column: number;
  readonly style: Style;
  readonly value?: number | string;
  readonly formula?: string;
  /** What the second engine says the formula comes to. */
  readonly expected?: number | string;
}

export interface WorkingSheet {
  readonly cells: readonly SheetCell[];
  readonly rows: number;
  readonly columns: number;
  /** Cells with the difference between working and function, one for each figure of the answer. */
  readonly differences: readonly {readonly answer: AnswerOf; readonly row: number; readonly column: number}[];
}

/** What a sheet needs to know of the user's workbook. */
export interface Surroundings {
  /** Address of a cell of an argument, or undefined when the argument is no range. */
  address(cell: CellOf): string | undefined;
  /** Address or value of the function's own figure. */
  answer(answer: AnswerOf): {readonly address: string} | {readonly value: number | string};
  /** First lines: what is worked out here. */
  readonly title: string;
  readonly note: string;
  /** Row in which the working begins, from 0. */
  readonly firstRow: number;
}

const [STEP, SYMBOL, MEANING, FORMULA, VALUE, UNIT, FIRST_COLUMN] = [0, 1, 2, 3, 4, 5, 7];

/** Column letters of a column that counts from 0. */
export function letters(column: number): string {
  const rest = Math.floor(column / 26);
  return (rest > 0 ? letters(rest - 1) : '') + String.fromCharCode(65 + (column % 26));
}

export function workingSheet(worked: Worked, around: Surroundings): WorkingSheet {
  const cells: SheetCell[] = [];
  const put = (row: number, column: number, style: Style, content: Partial<SheetCell>): void => {
    cells.push({row, column, style, ...content});
  };
  const head = around.firstRow + 3;
  const first = head + 1;
  put(around.firstRow, 0, 'title', {value: around.title});
  put(around.firstRow + 1, 0, 'note', {value: around.note});
  ['Step', 'Symbol', 'What it is', 'Formula', 'Value', 'Unit'].forEach((text, i) =>
    put(head, i, 'heading', {value: text}),
  );

  const single = worked.steps.filter((step) => step.result !== undefined);
  const rowOf = new Map(single.map((step, i) => [step.symbol, first + i]));
  const columns = worked.steps.filter((step) => step.results !== undefined);
  const columnOf = new Map(columns.map((step, i) => [step.symbol, {step, column: FIRST_COLUMN + i}]));
  const places = (row?: number): Places => ({
    cell: (symbol) => {
      const figure = rowOf.get(symbol);
      if (figure !== undefined) return `$${letters(VALUE)}$${figure + 1}`;
      const at = columnOf.get(symbol);
      return at === undefined || row === undefined ? undefined : `$${letters(at.column)}${row + 1}`;
    },
    range: (symbol) => {
      const at = columnOf.get(symbol);
      return at === undefined ? undefined : span(at.column, at.column, first, at.step.results!.length);
    },
    block: (symbol) => {
      const step = worked.steps.find((s) => s.kind === 'block' && s.symbol === symbol);
      if (step?.kind !== 'block') return undefined;
      const at = step.columns.map((name) => columnOf.get(name)!.column);
      if (at.some((column, i) => column !== at[0] + i)) throw new Error(`the columns of ${symbol} are not neighbors`);
      const count = columnOf.get(step.columns[0])!.step.results!.length;
      return {range: span(at[0], at[at.length - 1], first, count), columns: at.length};
    },
  });

  const figures = figuresOf(worked);
  single.forEach((step, i) => {
    const row = first + i;
    put(row, STEP, 'text', {value: i + 1});
    put(row, SYMBOL, 'text', {value: step.symbol});
    put(row, MEANING, 'text', {value: saysOf(step)});
    put(row, FORMULA, 'text', {value: step.tree === undefined ? sourceOf(step) : plainText(step.tree)});
    put(row, VALUE, step.kind === 'figure' ? 'figure' : 'input', singleCell(step, places(), around));
    put(row, UNIT, 'text', {value: unitOf(step)});
  });
  columns.forEach((step) => {
    const {column} = columnOf.get(step.symbol)!;
    put(head - 1, column, 'note', {value: step.tree === undefined ? saysOf(step) : plainText(step.tree)});
    put(head, column, 'heading', {value: step.symbol});
    step.results!.forEach((_, i) => {
      put(
        first + i,
        column,
        step.kind === 'column' ? 'figure' : 'input',
        columnCell(step, i, places(first + i), around),
      );
    });
  });

  const answerHead = first + single.length + 1;
  ['', 'Figure', '', 'The function', 'This working', 'Difference'].forEach((text, i) =>
    put(answerHead, i, 'heading', {value: text}),
  );
  const differences = worked.answers.map((answer, i) => {
    const row = answerHead + 1 + i;
    const own = around.answer(answer);
    const rows = worked.answers.some((a) => a.row > 1) ? ` (row ${answer.row})` : '';
    put(row, SYMBOL, 'text', {value: `${answer.part}${rows}`});
    put(row, FORMULA, 'input', 'address' in own ? {formula: own.address} : {value: own.value});
    put(row, VALUE, 'figure', {
      formula: `$${letters(VALUE)}$${rowOf.get(answer.symbol)! + 1}`,
      expected: figures.get(answer.symbol)!,
    });
    put(row, UNIT, 'difference', {formula: difference(row, answer, figures.get(answer.symbol)!), expected: 0});
    return {answer, row, column: UNIT};
  });

  return {
    cells,
    rows: Math.max(...cells.map(({row}) => row)) + 1,
    columns: Math.max(...cells.map(({column}) => column)) + 1,
    differences,
  };
}

const span = (from: number, to: number, first: number, count: number): string =>
  `$${letters(from)}$${first + 1}:$${letters(to)}$${first + count}`;

const saysOf = (step: WorkedStep): string => (step.kind === 'block' ? '' : step.says);
const unitOf = (step: WorkedStep): string => (step.kind === 'block' ? '' : step.unit);

function sourceOf(step: WorkedStep): string {
  if (step.kind === 'input') return step.from === undefined ? 'left out' : `from ${step.from.argument}`;
  if (step.kind === 'piece') return `characters ${step.at + 1} to ${step.at + step.length}`;
  return 'found by the function';
}

function singleCell(step: WorkedStep, places: Places, around: Surroundings): Partial<SheetCell> {
  switch (step.kind) {
    case 'figure':
      return {formula: excelFormula(step.tree!, places), expected: step.result!};
    case 'input': {
      const address = step.from === undefined ? undefined : around.address(step.from);
      return address === undefined ? {value: step.value} : {formula: address, expected: step.value};
    }
    case 'piece': {
      const address = around.address(step.from);
      const text = address ?? `"${step.text.replace(/"/g, '""')}"`;
      const mid = `MID(${text},${step.at + 1},${step.length})`;
      // When the text has changed its length the piece no longer stands where it was read.
      const read = typeof step.value === 'number' ? `VALUE(${mid})` : mid;
      return {formula: `IF(LEN(${text})=${step.text.length},${read},NA())`, expected: step.value};
    }
    default:
      return {value: step.result!};
  }
}

function columnCell(step: WorkedStep, i: number, places: Places, around: Surroundings): Partial<SheetCell> {
  const expected = step.results![i];
  if (step.kind === 'column') return {formula: excelFormula(step.tree!, places), expected};
  const address = step.kind === 'column input' ? around.address(step.from[i]) : undefined;
  if (address !== undefined) return {formula: `IF(${address}="","",${address})`, expected: blank(expected)};
  return {value: blank(expected)};
}

const blank = (value: number | string): number | string =>
  typeof value === 'number' && Number.isNaN(value) ? '' : value;

/** Function less working; around the circle for angles, 0 or 1 for words. */
function difference(row: number, {around}: AnswerOf, value: number | string): string {
  const [own, worked] = [`$${letters(FORMULA)}$${row + 1}`, `$${letters(VALUE)}$${row + 1}`];
  if (typeof value === 'string') return `IF(${own}=${worked},0,1)`;
  if (around === undefined) return `${own}-${worked}`;
  return `(${own}-${worked})-${around}*ROUND((${own}-${worked})/${around},0)`;
}
