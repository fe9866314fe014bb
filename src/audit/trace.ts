/** One cell taken apart: the calls of our functions that its formula makes, from the cells that it reads. */
import type {Place} from '../host/book/addresses';
import type {Book, CellFormula} from '../host/book/content';
import {definitionAt, findName} from '../host/formulas/names';
import {resolveReference, type Reference} from '../host/formulas/references';
import {resolveTable} from '../host/formulas/tables';
import type {CallMade} from './calls';
import {visit} from './context';
import {Recalculated} from './evaluate/recalculated';
import {Evaluator} from './evaluate/evaluator';
import {Beyond} from './evaluate/values';
import {IndexedBook} from './indexed';

export type {ArgumentMade, CallMade} from './calls';
export type {Book, CellContent, CellFormula, DefinedName, SheetContent, Table} from '../host/book/content';
export type {CellValue} from '../host/book/cells';

export interface Traced {
  /** The outermost call first. */
  readonly calls: readonly CallMade[];
  /** The first call is all that the formula is. */
  readonly isWhole: boolean;
  /** Why the formula could not be followed. */
  readonly unknown: string | undefined;
}

const DEEPEST_NAME = 20;

/**
 * The cells that a formula may read, in the words of a workbook whose tables, names and sheets are known. What it only
 * finds when it is calculated (OFFSET, INDIRECT) is not among them.
 */
export function cellsReadBy(formula: CellFormula, at: Place, book: Book): readonly Reference[] {
  const index = new IndexedBook(book);
  const evaluator = new Evaluator(index, new Recalculated(index));
  const found: Reference[] = [];
  const look = (text: string, depth: number): void => {
    visit(evaluator.tree(text), (node) => {
      if (node.type !== 'ReferenceIdentifier') return;
      const {kind, value} = node;
      const isTable = book.tables.some(({name}) => name.toLowerCase() === value.toLowerCase());
      if (kind === 'range' || kind === 'beam') {
        const references = resolveReference(value, at.sheet, index.list);
        if (!('code' in references)) found.push(...references);
      } else if (kind === 'table' || isTable) {
        const resolved = resolveTable(value, at, book.tables);
        if (!('code' in resolved)) found.push(resolved.reference);
      } else {
        const end = value.lastIndexOf('!');
        const sheet = end < 0 ? at.sheet : value.slice(0, end).replace(/'/g, '');
        const name = findName(book.names, value.slice(end + 1), sheet);
        if (name && depth < DEEPEST_NAME) look(definitionAt(name, at), depth + 1);
      }
    });
  };
  try {
    look(formula.text, 0);
  } catch (error) {
    if (!(error instanceof Beyond)) throw error;
  }
  return found;
}

/** The calls of our functions in the formula of a cell. The book holds what the cells that it reads show. */
export function trace(formula: CellFormula, at: Place, book: Book): Traced {
  const index = new IndexedBook(book);
  const {evaluator} = new Recalculated(index);
  try {
    const {calls} = evaluator.evaluate(formula, at);
    const tree = evaluator.tree(formula.text);
    const isWhole = tree.type === 'CallExpression' && calls.at(-1)?.node === tree;
    return {calls: [...calls].reverse(), isWhole, unknown: undefined};
  } catch (error) {
    if (error instanceof Beyond) return {calls: [], isWhole: false, unknown: error.message};
    throw error;
  }
}
