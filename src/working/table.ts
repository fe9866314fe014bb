/** The written-out working as the rows of WHEEL.WORKING. */
import type {OutCell, Raw} from '../functions/cells';
import {unavailable} from '../maths/refusal';
import {workingAtOnce, type Working, type WorkingStep} from './working';

/** A row a step (step, symbol, formula, with figures, value, unit, source), last a row for each figure of the answer. */
export function workingTable(name: string, args: readonly Raw[]): OutCell[][] {
  const working = workingAtOnce(name, args);
  const steps = working.steps.map((step): OutCell[] => {
    const {symbol, says, formula, unit} = step;
    const value = step.value === undefined ? valuesText(step) : cell(step.value);
    if (step.kind !== 'formula') return [step.step, symbol, says, '', value, unit, formula];
    const withFigures = step.values === undefined ? step.withFigures : 'for every row';
    return [step.step, symbol, formula, withFigures, value, unit, says === '' ? working.declared.source : says];
  });
  return [...steps, ...answerRows(working, steps.length)];
}

function answerRows({figures, declared}: Working, before: number): OutCell[][] {
  const rows = new Set(figures.map(({row}) => row)).size > 1;
  return figures.map(({part, row, symbol, worked}, i) => [
    before + 1 + i,
    rows ? `${part} (${row})` : part,
    symbol,
    '',
    cell(worked),
    unitOf(declared.parts[part]?.unit),
    'the answer',
  ]);
}

const unitOf = (unit: string | undefined): string => unit ?? '';

const cell = (value: number | string): OutCell =>
  typeof value === 'number' && Number.isNaN(value)
    ? unavailable('this figure does not exist for these arguments')
    : value;

/** A few values are listed, more are counted. */
const MOST_LISTED = 40;

function valuesText({values}: WorkingStep): string {
  if (values!.length > MOST_LISTED) return `${values!.length} values`;
  return values!
    .map((v) => (typeof v === 'number' ? (Number.isNaN(v) ? '–' : String(Number(v.toPrecision(6)))) : v))
    .join('; ');
}
