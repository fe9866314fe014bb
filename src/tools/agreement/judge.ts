/** The three engines side by side: the functions' own TypeScript, mathjs, and a spreadsheet's formulas. */
import type {Raw} from '../../functions/cells';
import type {Declaration} from '../../functions/declare';
import {isGuard, openGuards} from '../../working/guards';
import {workingAtOnce, type Working} from '../../working/workingOf';
import {randomFrom} from '../random';
import {AgreementBook, type WrittenCase} from './book';
import {cases} from './cases';
import {changed} from './change';
import {conditionFactor, differs, saysNothing, scaleOf, TOLERANCE} from './compare';
import {Draw} from './draw';
import type {Calculated} from './spreadsheet';

export interface Judged {
  /** Figures compared. */
  figures: number;
  /** Largest difference in relation to the scale of the figure. */
  largest: number;
  /** What does not agree, in words; empty when all does. */
  readonly problems: string[];
}

const inWords = (args: readonly Raw[]): string => JSON.stringify(args).slice(0, 300);

function note(judged: Judged, difference: number, what: () => string): void {
  judged.figures++;
  if (difference <= TOLERANCE) judged.largest = Math.max(judged.largest, difference);
  else judged.problems.push(what());
}

export interface SecondEngine extends Judged {
  /** Most steps of a working. */
  steps: number;
  /** In how many of the workings a guard is not 1: the proof is left open. */
  open: number;
}

/** mathjs against the function itself, for so many random calls. */
export function secondEngine(declared: Declaration, count: number): SecondEngine {
  const judged: SecondEngine = {figures: 0, largest: 0, problems: [], steps: 0, open: 0};
  for (const args of cases(declared, count)) {
    const working = workingAtOnce(declared.name, args);
    const factor = conditionFactor(declared, args);
    judged.steps = Math.max(judged.steps, working.steps.length);
    if (openGuards(working.steps).length > 0) judged.open++;
    working.figures.forEach(({part, row, worked, answered}, i) => {
      const answer = working.worked.answers[i];
      if (saysNothing(working, answer)) return;
      const difference = differs(worked, answered, scaleOf(working, answer), answer.around) / factor;
      note(judged, difference, () => `${part} ${row}: mathjs ${worked}, function ${answered}, for ${inWords(args)}`);
    });
    judged.problems.push(...unmarked(working).map((what) => `${what}, for ${inWords(args)}`));
  }
  return judged;
}

/** Cells of the answer that no step gives. An empty text in a row of EACHROW is no figure. */
function unmarked({declared, figures, answer}: Working): string[] {
  // What WORKING lists is another function's working, and its cells are no figures.
  if (declared.name === 'WORKING') return [];
  const marked = new Set(figures.map(({cell}) => cell));
  return answer.flat().flatMap((cell, i) => (marked.has(i) || cell === '' ? [] : [`no step gives cell ${i + 1}`]));
}

export interface Books {
  /** As written, and with an input cell changed in each. */
  readonly written: AgreementBook;
  readonly changed: AgreementBook;
  /** What the cells hold in the second one. */
  readonly then: ReadonlyMap<WrittenCase, readonly Raw[]>;
}

/** Two workbooks of workings: the same formulas, and in the second one input of each changed. */
export function books(functions: readonly Declaration[], count: number): Books {
  const [written, second] = [new AgreementBook(), new AgreementBook()];
  const then = new Map<WrittenCase, readonly Raw[]>();
  for (const declared of functions) {
    const draw = new Draw(randomFrom(99));
    for (const args of cases(declared, count)) {
      written.add(declared, args);
      const next = changed(workingAtOnce(declared.name, args), args, draw);
      if (next === undefined) continue;
      second.add(declared, args, next);
      then.set(second.cases[second.cases.length - 1], next);
    }
  }
  return {written, changed: second, then};
}

export interface Spreadsheet extends Judged {
  /** Most cells of a working. */
  cells: number;
  /** Workings in which an input was changed, and those of them that say themselves that what was found is out of date. */
  changed: number;
  outdated: number;
}

/** The spreadsheet against the functions themselves, by the name of the function. */
export function judgeBooks(
  {written, changed: second, then}: Books,
  [first, other]: readonly Calculated[],
): Map<string, Spreadsheet> {
  const all = new Map<string, Spreadsheet>();
  const of = ({declared}: WrittenCase): Spreadsheet => {
    const known = all.get(declared.name);
    if (known !== undefined) return known;
    const made = {figures: 0, largest: 0, problems: [], cells: 0, changed: 0, outdated: 0};
    all.set(declared.name, made);
    return made;
  };
  for (const one of written.cases) {
    const judged = of(one);
    judged.cells = Math.max(judged.cells, one.sheet.cells.length);
    guards(one, first).forEach(({symbol, value, expected}) => {
      if (value !== expected)
        judged.problems.push(`${symbol}: spreadsheet ${value}, mathjs ${expected}, for ${inWords(one.args)}`);
    });
    judgeCase(judged, one, one.args, first, false);
  }
  for (const one of second.cases) {
    const judged = of(one);
    judged.changed++;
    if (judgeCase(judged, one, then.get(one)!, other, true)) judged.outdated++;
  }
  return all;
}

/** @returns whether the working says itself that it is out of date */
function judgeCase(
  judged: Judged,
  one: WrittenCase,
  args: readonly Raw[],
  calculated: Calculated,
  later: boolean,
): boolean {
  const {declared, sheet, sheetName, working} = one;
  const now = later ? workingAtOnce(declared.name, args) : working;
  const outdated = later && guards(one, calculated).some(({value}) => value !== 1);
  const factor = conditionFactor(declared, args);
  for (const {answer, row, column} of sheet.differences) {
    const own = now.figures.find(({part, row: r}) => part === answer.part && r === answer.row);
    const step = working.steps.find(({symbol}) => symbol === answer.symbol)!;
    // Sentences are the function's own; the difference beside them shows that they have changed.
    if (later && step.kind === 'found' && typeof step.value === 'string') continue;
    if (own !== undefined && saysNothing(now, now.worked.answers[now.figures.indexOf(own)])) continue;
    const answered = own?.answered ?? '';
    const scale = own === undefined ? 1 : scaleOf(now, answer) * factor;
    const value = calculated(sheetName, row, VALUE) ?? '';
    const apart = differs(value, answered, scale, answer.around);
    if (outdated && !(apart <= TOLERANCE)) continue;
    const says = (what: string) => () => `${answer.part} ${answer.row}: ${what}, for ${inWords(args)}`;
    note(judged, apart, says(`spreadsheet ${value}, function ${answered}${later ? ', after a change' : ''}`));
    if (!(apart <= TOLERANCE)) continue;
    const shown = calculated(sheetName, row, column);
    const difference =
      typeof shown === 'number' ? Math.abs(shown) / (answer.around === undefined ? scale : 360) : Infinity;
    note(judged, difference, says(`the difference shows ${shown}`));
  }
  return outdated;
}

/** Column of the working's own figure beside the function's. */
const VALUE = 4;

/** What the guards of a working come to in the spreadsheet. */
function guards({working, sheet, sheetName}: WrittenCase, calculated: Calculated) {
  return working.steps
    .filter((step) => isGuard(step) && step.value !== undefined)
    .map(({symbol, value: expected}) => {
      const cell = sheet.cells.find(({step}) => step?.symbol === symbol && step.index === undefined)!;
      return {symbol, expected, value: calculated(sheetName, cell.row, cell.column)};
    });
}
