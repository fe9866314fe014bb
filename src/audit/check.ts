/** Checks a workbook: every formula of ours is calculated anew and held against what its cells show. */
import {cellKey, type Place} from '../host/book/addresses';
import type {Book} from '../host/book/content';
import {CellSet, followed, ownFormula, ownNames, type Calculated, type Context, type OwnFormula} from './context';
import {Evaluator} from './evaluate/evaluator';
import {Recalculated} from './evaluate/recalculated';
import {settled, type Finding} from './findings';
import {IndexedBook} from './indexed';
import {blankFindings} from './rules/blanks';
import {columnFindings} from './rules/columns';
import {fingerprintFindings} from './rules/fingerprints';
import {mixedFindings} from './rules/mixed';
import {otherFindings, ownFindings} from './rules/values';

export type {Finding, Kind} from './findings';
export {KINDS} from './findings';

export interface Checked {
  readonly findings: readonly Finding[];
  /** Formulas with functions of ours. */
  readonly formulas: number;
  /** Those that could not be calculated here, and why. */
  readonly unknown: readonly {readonly place: Place; readonly reason: string}[];
}

export interface Options {
  /** What the formulas give; without it they are worked out from each other. */
  readonly calculated?: Calculated;
  /** Formulas are as a person sees them in Excel, not as a file stores them. */
  readonly asSeen?: boolean;
}

/** How far a check has come: formulas done, of how many. */
export interface Progress {
  readonly done: number;
  readonly of: number;
}

/**
 * Checks a workbook step by step, so that the caller can show how far it is and leave off.
 * @returns what was found, in the order of the sheets, by rows
 */
export function* checking(book: Book, {calculated: given, asSeen = false}: Options = {}): Generator<Progress, Checked> {
  const index = new IndexedBook(book);
  const calculated = given ?? workedOut(index);
  const evaluator = new Evaluator(index, calculated);
  const places = [...index.formulas()];
  const own: OwnFormula[] = [];
  const ownByPlace = new Map<string, Map<number, OwnFormula>>(book.sheets.map(({name}) => [name, new Map()]));
  const read = new CellSet();
  let done = 0;
  for (const place of places) {
    const names = ownNames(place.formula, evaluator);
    if (names.length > 0) {
      const formula = ownFormula(place, names, evaluator, calculated);
      own.push(formula);
      ownByPlace.get(place.sheet)!.set(cellKey(place.row, place.column), formula);
      formula.evaluated?.reads.forEach((area) => read.add(area));
    }
    yield {done: ++done, of: places.length};
  }
  const context: Context = {
    book: index,
    calculated,
    evaluator,
    own,
    asSeen,
    isRead: (place) => read.has(place),
    ownAt: ({sheet, row, column}) => ownByPlace.get(sheet)?.get(cellKey(row, column)),
  };
  const findings: Finding[] = [];
  const end = {done, of: places.length};
  for (const formula of own) {
    findings.push(...ownFindings(formula, context));
    yield end;
  }
  for (const place of places) {
    if (context.ownAt(place) || !context.isRead(place) || !followed(evaluator, place)) continue;
    const result = calculated.cells(place);
    if (!('unknown' in result)) findings.push(...otherFindings(place, result, context));
    yield end;
  }
  for (const rule of [columnFindings, blankFindings, mixedFindings, fingerprintFindings]) {
    for (const each of rule(context)) {
      findings.push(each);
      yield end;
    }
    yield end;
  }
  const unknown = own.flatMap(({result, sheet, row, column}) =>
    'unknown' in result ? [{place: {sheet, row, column}, reason: result.unknown}] : [],
  );
  return {findings: settled(findings, index.list.sheets), formulas: own.length, unknown};
}

/** The same at once. */
export function check(book: Book, options: Options = {}): Checked {
  const steps = checking(book, options);
  for (let step = steps.next(); ; step = steps.next()) if (step.done) return step.value;
}

function workedOut(index: IndexedBook): Calculated {
  const recalculated = new Recalculated(index);
  return {
    at: recalculated.at,
    area: recalculated.area,
    cells: (place) => {
      const result = recalculated.result(place);
      if (!result) return {unknown: 'its formulas read each other in a circle'};
      return 'unknown' in result ? result : result.cells;
    },
    evaluated: (place) => {
      const result = recalculated.result(place);
      return result && !('unknown' in result) ? result : undefined;
    },
  };
}
