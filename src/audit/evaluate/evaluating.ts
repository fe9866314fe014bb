/** One formula in one cell: what each of its parts comes to, and the calls of our functions on the way. */
import type {
  ArrayExpression,
  AstExpression,
  CallExpression,
  ErrorLiteral,
  LetExpression,
  Literal,
  ReferenceIdentifier,
} from '@borgar/fx';
import {find} from '../../functions/catalogue';
import type {Place} from '../../host/book/addresses';
import {cellError, isError} from '../../host/book/cells';
import type {FormulaKind} from '../../host/book/content';
import {tooMany} from '../../host/formulas/functionNames';
import {calculated, wantedOf, type Wanted} from '../../host/formulas/legacy';
import {DEEPEST_NAME, definitionAt, findName, splitName} from '../../host/formulas/names';
import {madeOf, type Parts} from '../../host/formulas/parts';
import {fixedReference, intersection, isOneCell, type Reference} from '../../host/formulas/references';
import {resolve} from '../../host/formulas/resolve';
import {bareFormula} from '../../host/formulas/syntax';
import {rawsOf, type ArgumentMade, type CallMade} from '../calls';
import type {IndexedBook} from '../indexed';
import {CellReader, type Values} from './cellReader';
import {nativeCall} from './nativeCalls';
import {operate} from './operators';
import {answerOf, isScalar, ownCall, rawOf} from './ours';
import {around, distinct, sameShape} from './ranges';
import {asNumber, Beyond, isGrid, isRange, type Grid, type Value} from './values';

export interface Evaluated {
  /** One cell, or all that the formula fills. */
  readonly cells: Grid;
  /** The cells that it passes on as they are, when it does no more than that. */
  readonly from: Reference | undefined;
  readonly calls: readonly CallMade[];
  /** Cells that it looked at. */
  readonly reads: readonly Reference[];
}

type Variables = ReadonlyMap<string, Value>;

export class Evaluating implements Parts<Value> {
  readonly #calls: CallMade[] = [];
  readonly #reader: CellReader;
  #reads: Reference[] = [];
  /** Variables of LET in sight, in small letters. */
  #variables: Variables = new Map();
  /** How deep in definitions of names. */
  #depth = 0;
  #text = '';

  constructor(
    private readonly book: IndexedBook,
    private readonly values: Values,
    private readonly at: Place,
    private readonly tree: (formula: string) => AstExpression,
  ) {
    this.#reader = new CellReader(values, at);
  }

  whole(formula: string, kind: FormulaKind): Evaluated {
    this.#text = bareFormula(formula);
    const value = this.part(this.tree(formula), kind);
    const grid = this.#reader.grid(value).map((row) => row.map((cell) => cell ?? 0));
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
    return madeOf(this, node, wanted);
  }

  leftOut(): Value {
    return 0;
  }

  literal({value}: Literal): Value {
    return value;
  }

  error({value}: ErrorLiteral): Value {
    return cellError(value);
  }

  array({elements}: ArrayExpression): Value {
    return elements.map((row) =>
      row.map((element) => {
        if (element.type === 'Literal') return element.value;
        return cellError(element.type === 'ErrorLiteral' ? element.value : '#VALUE!');
      }),
    );
  }

  lambda(): never {
    throw new Beyond('LAMBDA is not worked out here');
  }

  reference(node: ReferenceIdentifier, wanted: Wanted): Value {
    const found = resolve(node, this.at, this.book.list, this.book.book.tables);
    if (found === undefined) return this.#name(node.value, wanted);
    if ('code' in found) {
      if (found.beyond) throw new Beyond(found.message);
      return cellError(found.code, found.message);
    }
    const [reference, ...others] = found.references;
    if (others.length > 0) throw new Beyond(`${node.value} spans several sheets`);
    return this.#cells(reference, wanted);
  }

  #name(written: string, wanted: Wanted): Value {
    const [sheet, bare] = splitName(written);
    const variable = sheet === undefined ? this.#variables.get(bare.toLowerCase()) : undefined;
    if (variable !== undefined) return variable;
    const name = findName(this.book.book.names, bare, sheet ?? this.at.sheet);
    if (!name) return cellError('#NAME?', `there is no name ${written}`);
    if (this.#depth >= DEEPEST_NAME) throw new Beyond(`the name ${written} is defined by itself`);
    const variables = this.#variables;
    this.#variables = new Map();
    this.#depth++;
    const result = this.#value(this.tree(definitionAt(name, this.at)), wanted);
    this.#depth--;
    this.#variables = variables;
    return result;
  }

  #cells(reference: Reference, wanted: Wanted): Value {
    const own = wanted === 'value' && !isOneCell(reference) ? this.#reader.ownCell(reference) : reference;
    if (own === undefined)
      return cellError('#VALUE!', 'one value is wanted, and the range has no cell in the row or column of the formula');
    this.#reads.push(own);
    return {reference: own};
  }

  unary(operator: string, operand: AstExpression, wanted: Wanted): Value {
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
    return this.#reader.each([value], (cell) => {
      const number = asNumber(cell);
      return isError(number) ? number : operator === '-' ? 0 - number : number / 100;
    });
  }

  binary(operator: string, left: AstExpression, right: AstExpression, wanted: Wanted): Value {
    if (operator === ':' || operator === ' ') {
      const [a, b] = [this.#value(left, 'any'), this.#value(right, 'any')];
      if (!isRange(a) || !isRange(b)) throw new Beyond('only plain ranges can be joined or intersected here');
      const both = operator === ':' ? around(a.reference, b.reference) : intersection(a.reference, b.reference);
      return both ? this.#cells(both, wanted) : cellError('#NULL!', 'two ranges have no cell in common');
    }
    if (operator === ',') throw new Beyond('a union of ranges is not worked out here');
    const of = calculated(wanted);
    return this.#reader.each([this.#value(left, of), this.#value(right, of)], (a, b) => operate(operator, a, b));
  }

  call(node: CallExpression, wanted: Wanted): Value {
    // Called directly, a LAMBDA stands where else a function's name does.
    const callee = node.callee as CallExpression['callee'] | AstExpression;
    if (callee.type !== 'Identifier') return this.lambda();
    const name = callee.name.toUpperCase();
    const own = ownCall(name);
    if (own !== undefined) return this.#ownCall(own, node, wanted);
    if (name === 'ANCHORARRAY') return this.unary('#', node.arguments[0], wanted);
    if (name === 'SINGLE') return this.unary('@', node.arguments[0], wanted);
    const args = node.arguments as readonly (AstExpression | null)[];
    return nativeCall(name, {
      count: args.length,
      value: (i) => this.#value(args[i] ?? null, wantedOf(name, i, wanted)),
      cells: (reference) => this.#cells(reference, wanted),
      reader: this.#reader,
    });
  }

  #ownCall(name: string, node: CallExpression, wanted: Wanted): Value {
    const declaration = find(name);
    if (!declaration) return cellError('#NAME?', `there is no function ${name}`);
    const given = node.arguments as readonly (AstExpression | null)[];
    const wrong = tooMany(name, declaration.arguments, given.length);
    if (wrong !== undefined) return cellError('#VALUE!', wrong);
    const args = given.map((argument, i) =>
      this.#argument(
        argumentName(declaration.arguments, i),
        argument,
        wanted === 'array' ? 'array' : isScalar(declaration, i) ? 'value' : 'any',
      ),
    );
    const answer = answerOf(declaration, rawsOf(declaration, args));
    this.#calls.push({node, declaration, args, answer});
    return answer.length === 1 && answer[0].length === 1 ? answer[0][0] : answer;
  }

  #argument(name: string, node: AstExpression | null, wanted: Wanted): ArgumentMade {
    if (node === null) return {name, node, text: '', raw: null, from: undefined, reads: []};
    const before = this.#reads;
    this.#reads = [];
    const value = this.#value(node, wanted);
    const reads = distinct(this.#reads);
    this.#reads = [...before, ...reads];
    const isLone = !isGrid(value) && !isRange(value);
    const raw = rawOf(isLone ? value : this.#reader.grid(value));
    return {
      name,
      node,
      // Within the definition of a name it is no text of this formula.
      text: this.#depth > 0 || !node.loc ? '' : this.#text.slice(...node.loc),
      raw,
      from: isRange(value) ? value.reference : sameShape(reads, raw),
      reads,
    };
  }

  let({declarations, body}: LetExpression, wanted: Wanted): Value {
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

/** What an argument is called; those that a repeating one takes are numbered, from 1. */
function argumentName(declared: readonly {readonly name: string; readonly repeating?: boolean}[], i: number): string {
  if (i < declared.length && !declared[i].repeating) return declared[i].name;
  return `${declared.at(-1)!.name} ${i - declared.length + 2}`;
}
