/**
 * Works out what a formula gives, and notes the calls of our functions that it makes on the way: an argument's cells and
 * values are known only then, since a formula may choose between them. Functions that are not known here end it with
 * `Beyond`: better no answer than a wrong one.
 */
import {
  translateFormulaToA1,
  translateFormulaToR1C1,
  type AstExpression,
  type CallExpression,
  type LetExpression,
  type ReferenceIdentifier,
} from '@borgar/fx';
import {find, NAMESPACE} from '../../functions/catalogue';
import {cellAddress, type Area, type Place} from '../../host/book/addresses';
import {cellError, isError, type CellValue} from '../../host/book/cells';
import type {CellFormula, FormulaKind} from '../../host/book/content';
import {ownName} from '../../host/formulas/functionNames';
import {wantedOf, type Wanted} from '../../host/formulas/legacy';
import {definitionAt, findName} from '../../host/formulas/names';
import {
  fixedReference,
  intersection,
  isOneCell,
  resolveReference,
  type Reference,
} from '../../host/formulas/references';
import {bareFormula, FormulaSyntaxError, parseFormula} from '../../host/formulas/syntax';
import {resolveTable} from '../../host/formulas/tables';
import {rawsOf, type ArgumentMade, type CallMade} from '../calls';
import type {IndexedBook} from '../indexed';
import {aggregate, applied, ELEMENTWISE, isAggregate, matchPosition, TESTS, type Given} from './natives';
import {answerOf, isScalar, rawOf} from './ours';
import {asFlag, asNumber, asText, Beyond, compare, each, isGrid, isRange, type Grid, type Value} from './values';

/** What cells hold when everything is calculated. */
export interface Values {
  readonly at: (place: Place) => CellValue;
  /** The cells that the formula of a cell fills. */
  readonly area: (place: Place) => Area;
}

export interface Evaluated {
  /** One cell, or all that the formula fills. */
  readonly cells: Grid;
  /** The cells that it passes on as they are, when it does no more than that. */
  readonly from: Reference | undefined;
  readonly calls: readonly CallMade[];
  /** Cells that it looked at. */
  readonly reads: readonly Reference[];
}

/** More cells than this are not read for one formula. */
const MOST_CELLS = 1_000_000;
/** Different formulas of which the trees are kept. */
const KEPT_TREES = 4000;
const DEEPEST_NAME = 20;

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

type Variables = ReadonlyMap<string, Value>;

class Evaluating {
  readonly #calls: CallMade[] = [];
  #reads: Reference[] = [];
  #variables: Variables = new Map();
  #depth = 0;
  #text = '';

  constructor(
    private readonly book: IndexedBook,
    private readonly values: Values,
    private readonly at: Place,
    private readonly tree: (formula: string) => AstExpression,
  ) {}

  whole(formula: string, kind: FormulaKind): Evaluated {
    this.#text = bareFormula(formula);
    const value = this.part(this.tree(formula), kind);
    const grid = this.#grid(value).map((row) => row.map((cell) => cell ?? 0));
    return {
      cells: kind === 'plain' ? [[grid[0][0]]] : grid,
      from: isRange(value) ? value.reference : undefined,
      calls: this.#calls,
      reads: this.#reads,
    };
  }

  part(node: AstExpression, kind: FormulaKind): Value {
    return this.#value(node, kind === 'plain' ? 'value' : 'array');
  }

  #value(node: AstExpression | null, wanted: Wanted): Value {
    if (node === null) return 0;
    switch (node.type) {
      case 'Literal':
        return node.value;
      case 'ErrorLiteral':
        return cellError(node.value);
      case 'ArrayExpression':
        return node.elements.map((row) =>
          row.map((element) => {
            if (element.type === 'Literal') return element.value;
            return cellError(element.type === 'ErrorLiteral' ? element.value : '#VALUE!');
          }),
        );
      case 'ReferenceIdentifier':
        return this.#reference(node, wanted);
      case 'UnaryExpression':
        return this.#unary(node.operator, node.arguments[0], wanted);
      case 'BinaryExpression':
        return this.#binary(node.operator, node.arguments[0], node.arguments[1], wanted);
      case 'CallExpression':
        return this.#call(node, wanted);
      case 'LetExpression':
        return this.#let(node, wanted);
      default:
        throw new Beyond('LAMBDA is not worked out here');
    }
  }

  // ---- references

  #reference(node: ReferenceIdentifier, wanted: Wanted): Value {
    const {kind, value} = node;
    const {tables, names} = this.book.book;
    const isTable = tables.some(({name}) => name.toLowerCase() === value.toLowerCase());
    if (kind === 'range' || kind === 'beam') {
      const found = resolveReference(value, this.at.sheet, this.book.list);
      if ('code' in found) {
        if (found.beyond) throw new Beyond(found.message);
        return cellError(found.code, found.message);
      }
      if (found.length > 1) throw new Beyond(`${value} spans several sheets`);
      return this.#cells(found[0], wanted);
    }
    if (kind === 'table' || isTable) {
      const found = resolveTable(value, this.at, tables);
      return 'code' in found ? cellError(found.code, found.message) : this.#cells(found.reference, wanted);
    }
    const variable = this.#variables.get(value.toLowerCase());
    if (variable !== undefined) return variable;
    const end = value.lastIndexOf('!');
    const name = findName(names, value.slice(end + 1), end < 0 ? this.at.sheet : value.slice(0, end).replace(/'/g, ''));
    if (!name) return cellError('#NAME?', `there is no name ${value}`);
    if (this.#depth >= DEEPEST_NAME) throw new Beyond(`the name ${value} is defined by itself`);
    this.#depth++;
    const result = this.#value(this.tree(definitionAt(name, this.at)), wanted);
    this.#depth--;
    return result;
  }

  #cells(reference: Reference, wanted: Wanted): Value {
    const own = wanted === 'value' && !isOneCell(reference) ? this.#ownCell(reference) : reference;
    if (own === undefined)
      return cellError('#VALUE!', 'one value is wanted, and the range has no cell in the row or column of the formula');
    this.#reads.push(own);
    return {reference: own};
  }

  /** The one cell of a range in the row or column of the formula. */
  #ownCell(reference: Reference): Reference | undefined {
    const {sheet, top, left, bottom, right} = reference;
    const {row, column} = this.at;
    if (left === right && row >= top && row <= bottom)
      return fixedReference(sheet, {top: row, left, bottom: row, right});
    if (top === bottom && column >= left && column <= right)
      return fixedReference(sheet, {top, left: column, bottom, right: column});
    return undefined;
  }

  #grid(value: Value): Grid {
    if (isGrid(value)) return value;
    if (!isRange(value)) return [[value]];
    const {sheet, top, left, bottom, right} = value.reference;
    if ((bottom - top + 1) * (right - left + 1) > MOST_CELLS) throw new Beyond('it reads more than a million cells');
    return Array.from({length: bottom - top + 1}, (_, r) =>
      Array.from({length: right - left + 1}, (__, c) => this.values.at({sheet, row: top + r, column: left + c})),
    );
  }

  #single(value: Value): CellValue {
    if (isRange(value) && !isOneCell(value.reference)) {
      const own = this.#ownCell(value.reference);
      return own ? this.#single({reference: own}) : cellError('#VALUE!');
    }
    return this.#grid(value)[0][0];
  }

  // ---- operators

  #unary(operator: string, operand: AstExpression, wanted: Wanted): Value {
    if (operator === '@') {
      const value = this.#value(operand, 'any');
      return isRange(value) && !isOneCell(value.reference) ? this.#cells(value.reference, 'value') : value;
    }
    if (operator === '#') {
      const value = this.#value(operand, 'any');
      if (!isRange(value)) return cellError('#REF!');
      const {sheet, top: row, left: column} = value.reference;
      return this.#cells(fixedReference(sheet, this.values.area({sheet, row, column})), wanted);
    }
    const value = this.#value(operand, calculated(wanted));
    if (operator === '+') return value;
    return this.#each([value], (cell) => {
      const number = asNumber(cell);
      return isError(number) ? number : operator === '-' ? 0 - number : number / 100;
    });
  }

  #binary(operator: string, left: AstExpression, right: AstExpression, wanted: Wanted): Value {
    if (operator === ':' || operator === ' ') {
      const [a, b] = [this.#value(left, 'any'), this.#value(right, 'any')];
      if (!isRange(a) || !isRange(b)) throw new Beyond('only plain ranges can be joined or intersected here');
      const both = operator === ':' ? around(a.reference, b.reference) : intersection(a.reference, b.reference);
      return both ? this.#cells(both, wanted) : cellError('#NULL!', 'two ranges have no cell in common');
    }
    if (operator === ',') throw new Beyond('a union of ranges is not worked out here');
    const of = calculated(wanted);
    return this.#each([this.#value(left, of), this.#value(right, of)], (a, b) => operate(operator, a, b));
  }

  #each(values: readonly Value[], calculate: (...cells: CellValue[]) => CellValue): Value {
    const result = each(
      values.map((value) => this.#grid(value)),
      calculate,
    );
    return result.length === 1 && result[0].length === 1 ? result[0][0] : result;
  }

  // ---- calls

  #call(node: CallExpression, wanted: Wanted): Value {
    const callee = node.callee as CallExpression['callee'] | AstExpression;
    if (callee.type !== 'Identifier') throw new Beyond('LAMBDA is not worked out here');
    const name = callee.name.toUpperCase();
    const own = ownFunction(name);
    if (own !== undefined) return this.#ownCall(own, node, wanted);
    if (name === 'ANCHORARRAY') return this.#unary('#', node.arguments[0], wanted);
    if (name === 'SINGLE') return this.#unary('@', node.arguments[0], wanted);
    return this.#native(name, node.arguments as readonly (AstExpression | null)[], wanted);
  }

  #ownCall(name: string, node: CallExpression, wanted: Wanted): Value {
    const declaration = find(name);
    if (!declaration) return cellError('#NAME?', `there is no function ${name}`);
    const given = node.arguments as readonly (AstExpression | null)[];
    const {arguments: declared} = declaration;
    if (given.length > declared.length && !declared.at(-1)?.repeating)
      return cellError('#VALUE!', `${name} takes ${declared.length} arguments, found ${given.length}`);
    const args = given.map((argument, i): ArgumentMade => {
      const label =
        declared[i]?.repeating || i >= declared.length
          ? `${declared.at(-1)!.name} ${i - declared.length + 2}`
          : declared[i].name;
      if (argument === null) return {name: label, node: null, text: '', raw: null, from: undefined, reads: []};
      const before = this.#reads;
      this.#reads = [];
      const value = this.#value(argument, wanted === 'array' ? 'array' : isScalar(declaration, i) ? 'value' : 'any');
      const reads = distinct(this.#reads);
      this.#reads = [...before, ...reads];
      const isLone = !isGrid(value) && !isRange(value);
      const raw = rawOf(isLone ? value : this.#grid(value));
      return {
        name: label,
        node: argument,
        text: this.#depth > 0 || !argument.loc ? '' : this.#text.slice(...argument.loc),
        raw,
        from: isRange(value) ? value.reference : sameShape(reads, raw),
        reads,
      };
    });
    const answer = answerOf(declaration, rawsOf(declaration, args));
    this.#calls.push({node, declaration, args, answer});
    return answer.length === 1 && answer[0].length === 1 ? answer[0][0] : answer;
  }

  #native(name: string, args: readonly (AstExpression | null)[], wanted: Wanted): Value {
    const value = (i: number): Value => this.#value(args[i] ?? null, wantedOf(name, i, wanted));
    const single = (i: number, otherwise: CellValue): CellValue =>
      args[i] === undefined ? otherwise : this.#single(value(i));
    switch (name) {
      case 'IF':
        return this.#if(value(0), () => value(1), args.length > 2 ? () => value(2) : () => false);
      case 'IFERROR':
      case 'IFNA': {
        const caught = (cell: CellValue): boolean => isError(cell) && (name === 'IFERROR' || cell.code === '#N/A');
        const first = value(0);
        const cells = this.#grid(first);
        if (!cells.some((row) => row.some(caught))) return first;
        return this.#each([cells, value(1)], (cell, instead) => (caught(cell) ? instead : cell));
      }
      case 'CHOOSE': {
        const number = asNumber(this.#single(value(0)));
        if (isError(number)) return number;
        const chosen = Math.trunc(number);
        return chosen >= 1 && chosen < args.length ? value(chosen) : cellError('#VALUE!');
      }
      case 'INDEX':
        return this.#index(value(0), asNumber(single(1, 0)), asNumber(single(2, null)), args.length, wanted);
      case 'MATCH': {
        const list = this.#grid(value(1)).flat();
        const type = asNumber(single(2, 1));
        if (isError(type)) return type;
        const wantedValue = value(0);
        if (isText(this.#grid(wantedValue)) && type === 0) throw new Beyond('MATCH with * or ? is not worked out here');
        return this.#each([wantedValue], (cell) => matchPosition(cell, list, type));
      }
      case 'ROWS':
      case 'COLUMNS': {
        const of = value(0);
        const {top, bottom, left, right} = isRange(of)
          ? of.reference
          : {top: 1, left: 1, bottom: this.#grid(of).length, right: this.#grid(of)[0].length};
        return name === 'ROWS' ? bottom - top + 1 : right - left + 1;
      }
      case 'ROW':
      case 'COLUMN': {
        const of = args.length === 0 ? undefined : value(0);
        if (of !== undefined && (!isRange(of) || !isOneCell(of.reference)))
          throw new Beyond(`${name} of several cells is not worked out here`);
        const at = of === undefined ? this.at : {row: of.reference.top, column: of.reference.left};
        return (name === 'ROW' ? at.row : at.column) + 1;
      }
      case 'ISBLANK':
        return this.#each([value(0)], (cell) => cell === null);
      case 'NA':
        return cellError('#N/A');
      case 'TRUE':
      case 'FALSE':
        return name === 'TRUE';
      default:
    }
    if (isAggregate(name))
      return aggregate(
        name,
        args.map((_, i) => this.#given(value(i))),
      );
    const test = TESTS[name];
    if (test) return this.#each([value(0)], test);
    const function_ = Object.hasOwn(ELEMENTWISE, name) ? ELEMENTWISE[name] : undefined;
    if (!function_) throw new Beyond(`${name} is not worked out here`);
    if (args.length === 0) return applied(function_, []);
    return this.#each(
      args.map((_, i) => value(i)),
      (...cells) => applied(function_, cells),
    );
  }

  #given(value: Value): Given {
    return isRange(value) || isGrid(value) ? {cells: this.#grid(value)} : {single: value};
  }

  #if(condition: Value, yes: () => Value, no: () => Value): Value {
    const tested = this.#grid(condition);
    if (tested.length === 1 && tested[0].length === 1) {
      const flag = asFlag(tested[0][0]);
      return isError(flag) ? flag : flag ? yes() : no();
    }
    return this.#each([tested, yes(), no()], (cell, a, b) => {
      const flag = asFlag(cell);
      return isError(flag) ? flag : flag ? a : b;
    });
  }

  #index(of: Value, first: CellValue, second: CellValue, given: number, wanted: Wanted): Value {
    if (isError(first)) return first;
    if (isError(second)) return second;
    const {top, left, bottom, right} = isRange(of)
      ? of.reference
      : {top: 0, left: 0, bottom: this.#grid(of).length - 1, right: this.#grid(of)[0].length - 1};
    // With one number, a single row is counted along.
    const along = given < 3 && top === bottom;
    const row = Math.trunc(along ? 1 : (first as number));
    const column = Math.trunc(along ? (first as number) : given < 3 ? (left === right ? 1 : 0) : (second as number));
    if (row < 0 || column < 0 || row > bottom - top + 1 || column > right - left + 1)
      return cellError('#REF!', 'INDEX points outside of its range');
    const area = {
      top: row === 0 ? top : top + row - 1,
      bottom: row === 0 ? bottom : top + row - 1,
      left: column === 0 ? left : left + column - 1,
      right: column === 0 ? right : left + column - 1,
    };
    if (isRange(of)) return this.#cells(fixedReference(of.reference.sheet, area), wanted);
    return this.#grid(of)
      .slice(area.top, area.bottom + 1)
      .map((cells) => cells.slice(area.left, area.right + 1));
  }

  #let({declarations, body}: LetExpression, wanted: Wanted): Value {
    const before = this.#variables;
    for (const {id, init} of declarations) {
      const value = this.#value(init, wanted === 'array' ? 'array' : 'any');
      this.#variables = new Map([...this.#variables, [id.name.toLowerCase(), value]]);
    }
    const result = this.#value(body, wanted);
    this.#variables = before;
    return result;
  }
}

/** "WHEEL.MATCH" for a call of ours, as written or as a file stores it; undefined for any other function. */
export function ownFunction(name: string): string | undefined {
  const upper = name.toUpperCase();
  if (upper.startsWith(`${NAMESPACE}.`)) return upper;
  if (!upper.startsWith('_XLDUDF_')) return undefined;
  return ownName(upper.slice('_XLDUDF_'.length), NAMESPACE, (rest) => (find(rest) ? [] : undefined));
}

function operate(operator: string, a: CellValue, b: CellValue): CellValue {
  if (operator === '&') {
    const [left, right] = [asText(a), asText(b)];
    return isError(left) ? left : isError(right) ? right : left + right;
  }
  if (/^[<>=]/.test(operator)) {
    const order = compare(a, b);
    if (isError(order)) return order;
    return {'=': order === 0, '<>': order !== 0, '<': order < 0, '>': order > 0, '<=': order <= 0, '>=': order >= 0}[
      operator
    ]!;
  }
  const [x, y] = [asNumber(a), asNumber(b)];
  if (isError(x)) return x;
  if (isError(y)) return y;
  if (operator === '/' && y === 0) return cellError('#DIV/0!');
  const result = {'+': x + y, '-': x - y, '*': x * y, '/': x / y, '^': x ** y}[operator];
  if (result === undefined) throw new Beyond(`the operator ${operator} is not worked out here`);
  return Number.isFinite(result) ? result : cellError('#NUM!');
}

const calculated = (wanted: Wanted): Wanted => (wanted === 'array' ? 'array' : 'value');

const isText = (grid: Grid): boolean =>
  grid.some((row) => row.some((cell) => typeof cell === 'string' && /[*?~]/.test(cell)));

const around = (a: Reference, b: Reference): Reference =>
  fixedReference(a.sheet, {
    top: Math.min(a.top, b.top),
    left: Math.min(a.left, b.left),
    bottom: Math.max(a.bottom, b.bottom),
    right: Math.max(a.right, b.right),
  });

const sameCells = (a: Reference, b: Reference): boolean =>
  a.sheet === b.sheet && a.top === b.top && a.left === b.left && a.bottom === b.bottom && a.right === b.right;

const distinct = (references: readonly Reference[]): readonly Reference[] =>
  references.filter((reference, i) => references.findIndex((other) => sameCells(other, reference)) === i);

/** The one range that an argument was made from, cell by cell, such as that of IF(range="","",range). */
function sameShape(reads: readonly Reference[], raw: unknown): Reference | undefined {
  if (reads.length !== 1) return undefined;
  const [{top, left, bottom, right}] = reads;
  const [rows, columns] = Array.isArray(raw) ? [raw.length, (raw[0] as unknown[]).length] : [1, 1];
  return rows === bottom - top + 1 && columns === right - left + 1 ? reads[0] : undefined;
}
