/** The written-out working as the rows of WHEEL.WORKING. */
import type {Declaration} from '../functions/declare';
import type {Raw} from '../functions/cells';
import {answerOf, figuresOf, work, type Worked, type WorkedStep} from './work';
import {plainText} from './words';

export interface WorkingRow {
  readonly step: number;
  readonly symbol: string;
  readonly formula: string;
  readonly withFigures: string;
  readonly value: number | string;
  readonly unit: string;
  readonly source: string;
}

export function workingTable(declared: Declaration, args: readonly Raw[]): WorkingRow[] {
  const worked = work(declared, args);
  const figures = figuresOf(worked);
  const rows = worked.steps
    .filter((step) => step.kind !== 'block')
    .map((step, i): WorkingRow => ({step: i + 1, ...described(step, figures, declared.source)}));
  const answers = answerRows(worked);
  return [...rows, ...answers.map((row, i) => ({step: rows.length + i + 1, ...row}))];
}

const FOUND = 'found by the function; shown or proved here';

type Described = Omit<WorkingRow, 'step'>;

function described(step: WorkedStep, figures: ReadonlyMap<string, number | string>, source: string): Described {
  const symbol = step.symbol;
  if (step.kind === 'block') throw new Error('a block is no step of its own');
  const {says, unit} = step;
  const value = step.result ?? `${step.results!.length} values`;
  const plain = (formula: string, from: string): Described => ({
    symbol,
    formula,
    withFigures: '',
    value,
    unit,
    source: from,
  });
  switch (step.kind) {
    case 'input':
      return plain(says, step.from === undefined ? 'left out' : `cell ${step.from.index + 1} of ${step.from.argument}`);
    case 'piece':
      return plain(says, `characters ${step.at + 1} to ${step.at + step.length} of ${step.from.argument}`);
    case 'found':
      return plain(says, FOUND);
    case 'column input':
      return plain(says, `cells of ${step.from[0].argument}`);
    case 'column constant':
      return plain(says, step.found ? FOUND : 'constants');
    case 'column':
    case 'figure': {
      const withFigures = step.kind === 'figure' ? plainText(step.tree!, figures) : 'for every row';
      return {symbol, formula: plainText(step.tree!), withFigures, value, unit, source: says === '' ? source : says};
    }
  }
}

/** The answer itself, last: one row a figure. */
function answerRows(worked: Worked): Described[] {
  return worked.answers.map((answer) => ({
    symbol: answer.part,
    formula: answer.symbol,
    withFigures: '',
    value: answerOf(worked, answer),
    unit: '',
    source: worked.answers.some(({row}) => row > 1) ? `row ${answer.row} of the answer` : 'the answer',
  }));
}
