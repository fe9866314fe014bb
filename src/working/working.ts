/** The working of a call as data: to read step by step, and to write into a sheet. */
import {Refusal} from '../maths/refusal';
import type {OutCell, Raw} from '../functions/cells';
import {find} from '../functions/catalogue';
import type {Declaration} from '../functions/declare';
import type {AnswerOf, CellOf} from '../functions/workings/steps';
import {cellAddress, type RangeOfSheet} from './addresses';
import {workingSheet, type NotLaidOut, type WorkingSheet} from './sheet';
import {typesetStep} from './typeset';
import {answerOf, figuresOf, work, type Worked, type WorkedStep} from './work';
import {plainText} from './words';

/** The range that an argument was read from; a repeated argument has its number behind its name: "arguments 2". */
export type Sources = (argument: string) => RangeOfSheet | undefined;

export interface WorkingStep {
  /** From 1. */
  readonly step: number;
  readonly symbol: string;
  /** What it is, in words. */
  readonly says: string;
  /** The formula as plain text; for what is read from cells or found by a search, where it comes from. */
  readonly formula: string;
  /** The formula with its figures put in; empty for what has none, and for a column. */
  readonly withFigures: string;
  /** MathML of "symbol = formula" and of it with the figures put in, without the <math> around; undefined without a formula. */
  readonly typeset: string | undefined;
  readonly typesetWithFigures: string | undefined;
  /** NaN for a figure that does not exist (#N/A); undefined for a column. */
  readonly value: number | string | undefined;
  /** Values of a column, row by row; NaN where a cell is empty. */
  readonly values: readonly (number | string)[] | undefined;
  /** Unit; "as …" for that of an argument. */
  readonly unit: string;
  /** input: from the user's cells. constant: fixed. found: by a search, proved by later steps. formula: worked out. */
  readonly kind: 'input' | 'constant' | 'found' | 'formula';
  /** Cells that an input was read from, with sheet, in the order of its values; empty when no source is known. */
  readonly addresses: readonly string[];
  /** The figures of the answer that this step gives. */
  readonly answers: readonly AnswerOf[];
}

export interface WorkingFigure {
  readonly part: string;
  /** Row of a table, or number of the cell of an array, from 1. */
  readonly row: number;
  readonly symbol: string;
  /** As the working has it and as the function answers; NaN for #N/A. */
  readonly worked: number | string;
  readonly answered: number | string;
  /** Which cell of the answer it is, row by row from 0. */
  readonly cell: number;
}

export interface Working {
  readonly name: string;
  readonly declared: Declaration;
  readonly steps: readonly WorkingStep[];
  readonly figures: readonly WorkingFigure[];
  /** For writeWorking. */
  readonly worked: Worked;
  readonly answer: readonly (readonly OutCell[])[];
  readonly sources: Sources;
}

/**
 * The working of a call, once what writes workings down is loaded.
 * @param name of the function, in any letter case, with or without the namespace
 * @param args as the function gets them: a range as rows of cells, an omitted argument as null
 * @throws Refusal as the function itself does
 * @throws Error when there is no such function
 */
export function workingAtOnce(name: string, args: readonly Raw[], sources: Sources = () => undefined): Working {
  const declared = find(name);
  if (declared === undefined) throw new Error(`there is no function ${name}`);
  const worked = work(declared, args);
  const answer = declared.evaluate(args);
  const figures = figuresOf(worked);
  const steps = worked.steps
    .filter((step) => step.kind !== 'block')
    .map((step, i) => described(step, i + 1, worked, figures, sources));
  const offset = offsets(declared, args);
  const cells = answer.flat();
  return {
    name: declared.name,
    declared,
    steps,
    figures: worked.answers.map((each) => ({
      part: each.part,
      row: each.row,
      symbol: each.symbol,
      worked: answerOf(worked, each),
      answered: asFigure(cells[offset(each)]),
      cell: offset(each),
    })),
    worked,
    answer,
    sources,
  };
}

function described(
  step: WorkedStep,
  number: number,
  {answers}: Worked,
  figures: ReadonlyMap<string, number | string>,
  sources: Sources,
): WorkingStep {
  if (step.kind === 'block') throw new Error('a block is no step of its own');
  const {symbol, says, unit, tree} = step;
  const cells = cellsOf(step);
  return {
    step: number,
    symbol,
    says,
    unit,
    formula: tree === undefined ? originOf(step) : plainText(tree),
    withFigures: tree === undefined || step.kind === 'column' ? '' : plainText(tree, figures),
    typeset: tree && typesetStep(symbol, tree),
    typesetWithFigures: tree && step.kind === 'figure' ? typesetStep(symbol, tree, figures) : undefined,
    value: step.result,
    values: step.results,
    kind: kindOf(step),
    addresses: cells.flatMap((cell) => addressOf(sources, cell) ?? []),
    answers: answers.filter((answer) => answer.symbol === symbol),
  };
}

function kindOf(step: WorkedStep): WorkingStep['kind'] {
  if (step.kind === 'figure' || step.kind === 'column') return 'formula';
  if (step.kind === 'found' || (step.kind === 'column constant' && step.found)) return 'found';
  return step.kind === 'column constant' ? 'constant' : 'input';
}

function originOf(step: WorkedStep): string {
  if (step.kind === 'input')
    return step.from === undefined ? 'left out' : `cell ${step.from.index + 1} of ${step.from.argument}`;
  if (step.kind === 'piece') return `characters ${step.at + 1} to ${step.at + step.length} of ${step.from.argument}`;
  if (step.kind === 'column input') return `cells of ${step.from[0]?.argument ?? 'an argument'}`;
  return kindOf(step) === 'found' ? 'found by the function; shown or proved here' : 'constants';
}

function cellsOf(step: WorkedStep): readonly CellOf[] {
  if (step.kind === 'column input') return step.from;
  return (step.kind === 'input' || step.kind === 'piece') && step.from !== undefined ? [step.from] : [];
}

function addressOf(sources: Sources, {argument, index}: CellOf): string | undefined {
  const range = sources(argument);
  return range && cellAddress(range, index);
}

/** A cell of an answer as a working has it: TRUE and FALSE count as 1 and 0. */
function asFigure(cell: OutCell): number | string {
  if (cell instanceof Refusal) return NaN;
  return typeof cell === 'boolean' ? Number(cell) : cell;
}

/** Number of the cell, among those of the answer, in which a figure stands. */
function offsets({arguments: list, answers, parts}: Declaration, args: readonly Raw[]) {
  const names = Object.keys(parts);
  const written = (name: string): boolean => {
    const at = list.findIndex((argument) => argument.kind === 'part' && argument.name === name);
    return at >= 0 && (args[at] ?? undefined) !== undefined;
  };
  const [onePart, oneRow] = [written('part'), written('row')];
  return ({part, row}: AnswerOf): number => {
    if (answers === 'array' || answers === 'cell') return row - 1;
    return (oneRow ? 0 : row - 1) * (onePart ? 1 : names.length) + (onePart ? 0 : names.indexOf(part));
  };
}

export interface Writing {
  /** First lines: what is worked out here. */
  readonly title: string;
  readonly note: string;
  /** Row in which the working begins, from 0; it takes the columns from the first on. */
  readonly firstRow: number;
  /** Where the function's own answer stands, its spill and all; without it the figures of today are compared with. */
  readonly answer?: RangeOfSheet | undefined;
}

/**
 * The working as cells of a sheet: native formulas that need no add-in, inputs referring to the user's own cells where
 * sources are known, last the difference to each of the function's figures.
 */
export function writeWorking(
  {worked, answer, sources, figures}: Working,
  {title, note, firstRow, answer: at}: Writing,
): WorkingSheet | NotLaidOut {
  const whole = at && {...at, columns: answer[0].length, rows: answer.length};
  return workingSheet(worked, {
    title,
    note,
    firstRow,
    address: (cell) => addressOf(sources, cell),
    answer: (each) => {
      const {cell, answered} = figures[worked.answers.indexOf(each)];
      const address = whole && cellAddress(whole, cell);
      return address === undefined ? {value: answered} : {address};
    },
  });
}
