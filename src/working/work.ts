/** Works out the recorded steps of a call with the second engine. */
import {record} from '../functions/workings/recorders';
import type {AnswerOf, Step, Steps} from '../functions/workings/steps';
import type {Declaration} from '../functions/declare';
import type {Raw} from '../functions/cells';
import {parseStep} from './check';
import {columnKey, eachRow, evaluate, type Scope} from './engine';
import type {Node} from './nodes';
import {isOverRows, VOCABULARY} from './vocabulary';

/** A step with its expression's tree and what it comes to: one value, or one for each row. NaN is a figure that does not exist. */
export type WorkedStep = Step & {
  readonly tree: Node | undefined;
  readonly result: number | string | undefined;
  readonly results: readonly (number | string)[] | undefined;
};

export interface Worked {
  readonly name: string;
  readonly steps: readonly WorkedStep[];
  /** Figures of the answer; the one alone that `part` and `row` pick, if they are given. */
  readonly answers: readonly AnswerOf[];
  readonly rowCounts: ReadonlyMap<string, number>;
  /** Whether a figure may be absent from the answer. */
  readonly mayLack: (answer: AnswerOf) => boolean;
}

/** @throws Refusal as the function itself does, for arguments that it refuses */
export function work(declared: Declaration, args: readonly Raw[]): Worked {
  return workOut(declared, record(declared, args));
}

/** Works out steps that have been recorded. */
export function workOut(declared: Declaration, {steps, rowCounts, answers}: Steps): Worked {
  const values = new Map<string, unknown>();
  const seen = new Set<string>();
  const worked = steps.map((step): WorkedStep => {
    const {symbol} = step;
    if (seen.has(symbol)) throw new Error(`the symbol ${symbol} of ${declared.name} is given twice`);
    if (isOverRows(symbol) || VOCABULARY[symbol] !== undefined)
      throw new Error(`the symbol ${symbol} of ${declared.name} is a word of the vocabulary`);
    const done = evaluated(step, values, (name) => seen.has(name), rowCounts);
    seen.add(symbol);
    return done;
  });
  const mayLack = ({part}: AnswerOf): boolean => declared.parts[part]?.absent !== undefined;
  return {name: declared.name, steps: worked, answers, rowCounts, mayLack};
}

function evaluated(
  step: Step,
  scope: Map<string, unknown>,
  known: (symbol: string) => boolean,
  rowCounts: ReadonlyMap<string, number>,
): WorkedStep {
  const nothing = {tree: undefined, result: undefined, results: undefined};
  switch (step.kind) {
    case 'input':
    case 'piece':
    case 'found':
      scope.set(step.symbol, step.value);
      return {...step, ...nothing, result: step.value};
    case 'column input':
    case 'column constant':
      scope.set(columnKey(step.symbol), {rows: step.rows, values: step.values});
      return {...step, ...nothing, results: step.values};
    case 'block':
      scope.set(columnKey(step.symbol), step.columns);
      return {...step, ...nothing};
    case 'figure': {
      const tree = parseStep(step.expression, known);
      const result = evaluate(tree, scope as Scope);
      scope.set(step.symbol, result);
      return {...step, ...nothing, tree, result};
    }
    case 'column': {
      const tree = parseStep(step.expression, known, step.symbol);
      const values: (number | string)[] = [];
      scope.set(columnKey(step.symbol), {rows: step.rows, values});
      eachRow(scope as Scope, tree, step.rows, rowCounts.get(step.rows)!, values);
      return {...step, ...nothing, tree, results: values};
    }
  }
}

/** The figure that a step of the working gives for an answer. */
export function answerOf(worked: Worked, {symbol, index}: AnswerOf): number | string {
  const step = worked.steps.find((s) => s.symbol === symbol)!;
  return index === undefined ? step.result! : step.results![index];
}

/** Values of all single figures by symbol, for putting them into a formula. */
export function figuresOf(worked: Worked): ReadonlyMap<string, number | string> {
  const figures = new Map<string, number | string>();
  for (const {symbol, result} of worked.steps) if (result !== undefined) figures.set(symbol, result);
  return figures;
}
