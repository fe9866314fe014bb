/** What the rules of the check look at. */
import type {AstExpression} from '@borgar/fx';
import {cellKey, type Place} from '../host/book/addresses';
import type {CellFormula} from '../host/book/content';
import type {Reference} from '../host/formulas/references';
import type {CallMade} from './calls';
import type {Evaluated, Evaluator, Values} from './evaluate/evaluator';
import {ownCall} from './evaluate/ours';
import {Beyond, type Grid} from './evaluate/values';
import type {FormulaPlace, IndexedBook} from './indexed';

/** What the formulas give when everything is calculated anew. */
export interface Calculated extends Values {
  /** What the formula of a cell gives, or why that is not known. */
  readonly cells: (place: Place) => Grid | {readonly unknown: string};
  /** How it came to that, where that was noted on the way. */
  readonly evaluated?: (place: Place) => Evaluated | undefined;
}

/** A formula that calls one of our functions. */
export interface OwnFormula extends FormulaPlace {
  /** Names of our functions in it, called now or not, in capitals. */
  readonly names: readonly string[];
  /** How it came to what it gives; undefined when that could not be followed. */
  readonly evaluated: Evaluated | undefined;
  readonly result: Grid | {readonly unknown: string};
}

export interface Context {
  readonly book: IndexedBook;
  readonly calculated: Calculated;
  readonly evaluator: Evaluator;
  readonly own: readonly OwnFormula[];
  /** Formulas are as a person sees them; in a file the names of our functions have a prefix that Excel takes off. */
  readonly asSeen: boolean;
  /** Whether a formula of ours reads the cell. */
  readonly isRead: (place: Place) => boolean;
  readonly ownAt: (place: Place) => OwnFormula | undefined;
}

const named = new WeakMap<AstExpression, readonly string[]>();

/** Names of our functions that a formula calls, in capitals; none when it cannot be read. */
export function ownNames(formula: CellFormula, evaluator: Evaluator): readonly string[] {
  const {text} = formula;
  if (!/WHEEL[._]/i.test(text)) return [];
  try {
    const tree = evaluator.tree(text);
    const known = named.get(tree);
    if (known) return known;
    const names: string[] = [];
    visit(tree, (node) => {
      if (node.type !== 'CallExpression' || node.callee.type !== 'Identifier') return;
      const name = ownCall(node.callee.name);
      if (name !== undefined) names.push(name);
    });
    named.set(tree, names);
    return names;
  } catch (error) {
    if (error instanceof Beyond) return [];
    throw error;
  }
}

/** Looks at every part of a formula. */
export function visit(node: AstExpression | null, look: (node: AstExpression) => void): void {
  if (node === null) return;
  look(node);
  if (node.type === 'LetExpression') {
    node.declarations.forEach(({init}) => visit(init, look));
    visit(node.body, look);
  } else if (node.type === 'LambdaExpression') visit(node.body, look);
  else if ('arguments' in node) {
    for (const part of node.arguments as readonly (AstExpression | null)[]) visit(part, look);
  }
}

/** The formula at a place with how it came to what it gives. */
export function ownFormula(
  place: FormulaPlace,
  names: readonly string[],
  evaluator: Evaluator,
  calculated: Calculated,
): OwnFormula {
  const evaluated = calculated.evaluated ? calculated.evaluated(place) : followed(evaluator, place);
  return {...place, names, evaluated, result: calculated.cells(place)};
}

/** How a formula comes to what it gives; undefined when that is not known here. */
export function followed(evaluator: Evaluator, {formula, ...place}: FormulaPlace): Evaluated | undefined {
  try {
    return evaluator.evaluate(formula, place);
  } catch (error) {
    if (error instanceof Beyond) return undefined;
    throw error;
  }
}

/** Every call of our functions in a workbook, with the formula that makes it. */
export function* calls({own}: Context): Iterable<{readonly at: OwnFormula; readonly call: CallMade}> {
  for (const at of own) for (const call of at.evaluated?.calls ?? []) yield {at, call};
}

/** Larger ranges are looked through whole columns at a time and say little about single cells. */
const MOST_CELLS = 100_000;

/** A set of the cells of many references. */
export class CellSet {
  readonly #sheets = new Map<string, Set<number>>();
  readonly #seen = new Set<string>();

  add({sheet, top, left, bottom, right}: Reference): void {
    if ((bottom - top + 1) * (right - left + 1) > MOST_CELLS) return;
    const name = `${top} ${left} ${bottom} ${right} ${sheet}`;
    if (this.#seen.has(name)) return;
    this.#seen.add(name);
    const cells = this.#sheets.get(sheet) ?? new Set<number>();
    this.#sheets.set(sheet, cells);
    for (let r = top; r <= bottom; r++) for (let c = left; c <= right; c++) cells.add(cellKey(r, c));
  }

  has({sheet, row, column}: Place): boolean {
    return this.#sheets.get(sheet)?.has(cellKey(row, column)) ?? false;
  }
}
