/**
 * Works out what a formula gives, and notes the calls of our functions that it makes on the way: an argument's cells and
 * values are known only then, since a formula may choose between them. Functions that are not known here end it with
 * `Beyond`: better no answer than a wrong one.
 */
import {translateFormulaToA1, translateFormulaToR1C1, type AstExpression} from '@borgar/fx';
import {cellAddress, type Place} from '../../host/book/addresses';
import type {CellFormula, FormulaKind} from '../../host/book/content';
import {bareFormula, FormulaSyntaxError, parseFormula} from '../../host/formulas/syntax';
import type {IndexedBook} from '../indexed';
import type {Values} from './cellReader';
import {Evaluating, type Evaluated} from './evaluating';
import {Beyond, type Value} from './values';

export type {Values} from './cellReader';
export type {Evaluated} from './evaluating';

/** Different formulas of which the trees are kept. */
const KEPT_TREES = 4000;

export class Evaluator {
  readonly #trees = new Map<string, AstExpression>();

  constructor(
    private readonly book: IndexedBook,
    private readonly values: Values,
  ) {}

  /**
   * What a formula gives in a cell.
   * @throws Beyond when it asks for something that is not known here
   */
  evaluate({text, kind}: Pick<CellFormula, 'text' | 'kind'>, at: Place): Evaluated {
    return new Evaluating(this.book, this.values, at, (formula) => this.tree(formula)).whole(text, kind);
  }

  /**
   * What a part of a formula gives.
   * @throws Beyond as `evaluate` does
   */
  part(node: AstExpression, kind: FormulaKind, at: Place): Value {
    return new Evaluating(this.book, this.values, at, (formula) => this.tree(formula)).part(node, kind);
  }

  /** A formula as it reads when it is filled from one cell into another. */
  filled(formula: string, from: Pick<Place, 'row' | 'column'>, to: Pick<Place, 'row' | 'column'>): string {
    const text = bareFormula(formula);
    return translateFormulaToA1(
      translateFormulaToR1C1(text, cellAddress(from.row, from.column)),
      cellAddress(to.row, to.column),
    );
  }

  /** @throws Beyond when it cannot be read */
  tree(formula: string): AstExpression {
    const known = this.#trees.get(formula);
    if (known) return known;
    if (this.#trees.size >= KEPT_TREES) this.#trees.clear();
    try {
      const tree = parseFormula(formula);
      this.#trees.set(formula, tree);
      return tree;
    } catch (error) {
      if (error instanceof FormulaSyntaxError) throw new Beyond(error.message);
      throw error;
    }
  }
}
