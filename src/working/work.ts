/** Works out the recorded steps of a call with the second engine. */
import type {AnswerOf, Step} from '../functions/steps';
import type {Declaration} from '../functions/declare';
import type {Raw} from '../functions/cells';
import {parseStep} from './check';
import {columnKey, overRows, type Scope} from './engine';
import type {Node} from './nodes';

/** A step with its expression's tree and what it comes to: one value, or one for each row. */
export type WorkedStep = Step & {
  readonly tree: Node | undefined;
  readonly result: number | string | undefined;
  readonly results: readonly (number | string)[] | undefined;
};

export interface Worked {
  readonly name: string;
  readonly steps: readonly WorkedStep[];
  readonly answers: readonly AnswerOf[];
  readonly rowCounts: ReadonlyMap<string, number>;
}

/** @throws Refusal as the function itself does, for arguments that it refuses */
export function work(declared: Declaration, args: readonly Raw[]): Worked {
  const {steps, answers, rowCounts} = declared.record(args);
  const scope: Scope = new Map();
  const seen = new Map<string, Step>();
  const worked = steps.map((step): WorkedStep => {
    if (seen.has(step.symbol)) throw new Error(`the symbol ${step.symbol} of ${declared.name} is given twice`);
    const done = evaluate(step, scope, (symbol) => seen.has(symbol));
    seen.set(step.symbol, step);
    return done;
  });
  return {name: declared.name, steps: worked, answers, rowCounts};
}

function evaluate(step: Step, scope: Scope, known: (symbol: string) => boolean): WorkedStep {
  switch (step.kind) {
    case 'input':
    case 'piece':
    case 'found':
      scope.set(step.symbol, step.value);
      return {...step, tree: undefined, result: step.value, results: undefined};
    case 'column input':
    case 'column found':
      scope.set(columnKey(step.symbol), {rows: step.rows, values: step.values});
      return {...step, tree: undefined, result: undefined, results: step.values};
    case 'block':
      scope.set(columnKey(step.symbol), step.columns);
      return {...step, tree: undefined, result: undefined, results: undefined};
    case 'figure': {
      const tree = parseStep(step.expression, known);
      const result = tree.compile().evaluate(scope);
      scope.set(step.symbol, result);
      return {...step, tree, result, results: undefined};
    }
    case 'column': {
      const tree = parseStep(step.expression, known);
      const results = overRows(scope, tree);
      scope.set(columnKey(step.symbol), {rows: step.rows, values: results});
      return {...step, tree, result: undefined, results};
    }
  }
}

/** The figure that a step of the working gives for an answer. */
export const answerOf = (worked: Worked, {symbol}: AnswerOf): number | string =>
  worked.steps.find((step) => step.symbol === symbol)!.result!;

/** Values of all single figures by symbol, for putting them into a formula. */
export function figuresOf(worked: Worked): ReadonlyMap<string, number | string> {
  const figures = new Map<string, number | string>();
  for (const {symbol, result} of worked.steps) if (result !== undefined) figures.set(symbol, result);
  return figures;
}
