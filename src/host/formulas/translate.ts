/**
 * From a formula as Excel writes and stores it to one that the calculation engine reads without misunderstanding:
 * references to tables, names and sheets become plain references, prefixes of the file format go, and what the engine
 * would change (texts that look like numbers, arrays of texts) is packed. What is wrong with a formula becomes an error
 * value with its message in that place alone, so that IFERROR and the like work as in Excel.
 */
import type {
  ArrayExpression,
  AstExpression,
  CallExpression,
  ErrorLiteral,
  LambdaExpression,
  LetExpression,
  Literal,
  ReferenceIdentifier,
} from '@borgar/fx';
import {COLUMNS, ROWS, type Place} from '../book/addresses';
import type {DefinedName, FormulaKind} from '../book/content';
import {ownFunction, tooMany} from './functionNames';
import {calculated, wantedOf, type Wanted} from './legacy';
import {array, literal} from './literals';
import {DEEPEST_NAME, definitionAt, findName, splitName} from './names';
import {HELPERS, packedConstant, packedFailure} from './packing';
import {madeOf, type Parts} from './parts';
import {intersection, isOneCell, isWhole, referenceText, type Reference, type Unresolved} from './references';
import {isAddress, resolve} from './resolve';
import type {Surroundings, Translation} from './surroundings';
import {FormulaSyntaxError, parseFormula} from './syntax';
import {dataRows} from './tables';

/** A formula, without "=" or with it, for the cell in which it stands. */
export function translate(formula: string, at: Place, kind: FormulaKind, surroundings: Surroundings): Translation {
  return new Translating(at, surroundings).whole(formula, kind);
}

/** Functions whose left-out arguments count as 0 where they are the answer. */
const ANSWERS_WITH_ARGUMENTS = new Set(['IF', 'IFERROR', 'IFNA', 'IFS', 'CHOOSE', 'SWITCH']);
/** Functions that give references back. */
const GIVES_REFERENCE = new Set(['INDEX', 'OFFSET', 'INDIRECT']);
const READS_MORE = new Set(['OFFSET', 'INDIRECT']);
/** Functions of any number of ranges, where a union of ranges is as good as several arguments. */
const TAKES_MANY = new Set(
  (
    'SUM COUNT COUNTA AVERAGE AVERAGEA MAX MAXA MIN MINA PRODUCT SUMSQ MEDIAN STDEV STDEV.S STDEV.P STDEVP VAR VAR.S VAR.P ' +
    'VARP AND OR XOR CONCAT GCD LCM DEVSQ AVEDEV GEOMEAN HARMEAN'
  ).split(' '),
);
/** Names that name each other twice over would unfold without an end in sight. */
const MOST_NAMES = 1000;
/** A range of more cells than this would fill the memory. */
const MOST_CELLS = 4 * ROWS;

class Translating implements Parts<string> {
  readonly #reads: Reference[] = [];
  #readsMore = false;
  #readsWhole = false;
  #ours = false;
  #named = false;
  #wrong: string | undefined;
  #beyond: string | undefined;
  #from = 0;
  #to = ROWS - 1;
  /** Variables of LET and LAMBDA in sight, in small letters. */
  #variables: readonly string[] = [];
  #depth = 0;
  #unfolded = 0;

  constructor(
    private readonly at: Place,
    private readonly surroundings: Surroundings,
  ) {}

  whole(formula: string, kind: FormulaKind): Translation {
    const text = this.#tree(formula, kind === 'plain' ? 'value' : 'array');
    return {
      text: `=${text}`,
      reads: this.#reads,
      readsMore: this.#readsMore,
      readsWhole: this.#readsWhole,
      ours: this.#ours,
      named: this.#named || this.#wrong !== undefined,
      ...(this.#wrong === undefined ? {} : {wrong: this.#wrong}),
      ...(this.#beyond === undefined ? {} : {beyond: this.#beyond}),
      rows: {from: this.#from, to: this.#to},
    };
  }

  #tree(formula: string, wanted: Wanted): string {
    try {
      return this.#print(parseFormula(formula), wanted);
    } catch (error) {
      if (error instanceof FormulaSyntaxError)
        return this.#fail({code: '#NAME?', message: error.message, beyond: true});
      if (error instanceof RangeError) {
        return this.#fail({code: '#VALUE!', message: 'the formula is nested too deeply', beyond: true});
      }
      throw error;
    }
  }

  #fail({code, message, beyond}: Unresolved): string {
    this.#wrong ??= message;
    if (beyond) this.#beyond ??= message;
    return packedFailure(code, message);
  }

  #print(node: AstExpression | null, wanted: Wanted): string {
    return madeOf(this, node, wanted);
  }

  leftOut(): string {
    return '0';
  }

  literal({value}: Literal): string {
    return literal(value);
  }

  error({value}: ErrorLiteral): string {
    return packedConstant({code: value});
  }

  array(node: ArrayExpression): string {
    return array(node);
  }

  lambda({params, body}: LambdaExpression): string {
    return this.#within(
      params.map(({name}) => name),
      (names) => `LAMBDA(${[...names, this.#print(body, 'array')].join(',')})`,
    );
  }

  unary(operator: string, operand: AstExpression, wanted: Wanted): string {
    switch (operator) {
      case '@':
        return this.#single(this.#print(operand, 'any'), operand);
      case '#': {
        const spill = `${HELPERS.spill}(${this.#print(operand, 'any')})`;
        return wanted === 'value' ? `${HELPERS.single}(${spill})` : spill;
      }
      case '+':
        return this.#print(operand, wanted);
      case '-':
        // As a difference: the engine stumbles over two signs in a row.
        return `(0-${this.#print(operand, calculated(wanted))})`;
      default:
        return `(${this.#print(operand, calculated(wanted))}/100)`;
    }
  }

  #single(text: string, operand: AstExpression): string {
    return operand.type === 'Literal' ? text : `${HELPERS.single}(${text})`;
  }

  binary(operator: string, left: AstExpression, right: AstExpression, wanted: Wanted): string {
    if (operator === ' ') return this.#common(left, right, wanted);
    if (operator === ',') {
      return this.#fail({code: '#VALUE!', message: 'a union of ranges cannot be calculated with here', beyond: true});
    }
    if (operator === ':') {
      const text = `${this.#print(left, 'any')}:${this.#print(right, 'any')}`;
      // Which cells lie between is known only when both ends are.
      this.#readsMore = true;
      return wanted === 'value' ? `${HELPERS.single}(${text})` : text;
    }
    const each = calculated(wanted);
    return `(${this.#print(left, each)}${operator}${this.#print(right, each)})`;
  }

  /** The cells that two ranges have in common. */
  #common(left: AstExpression, right: AstExpression, wanted: Wanted): string {
    const [a, b] = [this.#area(left), this.#area(right)];
    if (!a || !b) {
      return this.#fail({code: '#VALUE!', message: 'only plain ranges can be intersected here', beyond: true});
    }
    if ('code' in a) return this.#fail(a);
    if ('code' in b) return this.#fail(b);
    const both = intersection(a, b);
    return both ? this.#cells(both, wanted) : packedFailure('#NULL!', 'two ranges have no cell in common');
  }

  #area(node: AstExpression): Reference | Unresolved | undefined {
    if (node.type !== 'ReferenceIdentifier') return undefined;
    const references = this.#resolve(node);
    if (references === undefined || 'code' in references) return references;
    return references.length === 1 ? references[0] : undefined;
  }

  /** The cells of a range or of a table; undefined for a name. */
  #resolve(node: ReferenceIdentifier): readonly Reference[] | Unresolved | undefined {
    const found = resolve(node, this.at, this.surroundings, this.surroundings.tables);
    if (isAddress(node)) {
      if (node.value.includes('!')) this.#named = true;
      if (isWhole(node.value)) this.#readsWhole = true;
    } else {
      this.#named = true;
    }
    if (found === undefined) return undefined;
    if ('code' in found) {
      // The same formula in another row may well be in the table.
      if (!isAddress(node) && found.code === '#VALUE!') this.#rows(this.at.row, this.at.row);
      return found;
    }
    if (found.rowOf) {
      const {top, bottom} = dataRows(found.rowOf);
      this.#rows(top, bottom);
    }
    return found.references;
  }

  #rows(from: number, to: number): void {
    this.#from = Math.max(this.#from, from);
    this.#to = Math.min(this.#to, to);
  }

  reference(node: ReferenceIdentifier, wanted: Wanted): string {
    const references = this.#resolve(node);
    if (references === undefined) return this.#name(node.value, wanted);
    if ('code' in references) return this.#fail(references);
    if (references.length === 1) return this.#cells(references[0], wanted);
    return this.#fail({
      code: '#VALUE!',
      message: `${node.value} cannot be used over several sheets here`,
      beyond: true,
    });
  }

  #cells(reference: Reference, wanted: Wanted): string {
    const text = referenceText(reference, this.at.sheet);
    const {top, left, bottom, right} = reference;
    if ((bottom - top + 1) * (right - left + 1) > MOST_CELLS) {
      return this.#fail({code: '#VALUE!', message: `${text} has more cells than can be read here`, beyond: true});
    }
    this.#reads.push(reference);
    return wanted === 'value' && !isOneCell(reference) ? `${HELPERS.single}(${text})` : text;
  }

  #name(written: string, wanted: Wanted): string {
    const [sheet, bare] = splitName(written);
    if (sheet === undefined && this.#variables.includes(bare.toLowerCase())) return bare;
    const name = findName(this.surroundings.names, bare, sheet ?? this.at.sheet);
    if (!name) return this.#fail({code: '#NAME?', message: `there is no name ${written}`});
    return this.#definition(name, wanted);
  }

  #definition(name: DefinedName, wanted: Wanted): string {
    if (this.#depth >= DEEPEST_NAME) {
      return this.#fail({code: '#NAME?', message: `the name ${name.name} is defined by itself`});
    }
    if (this.#unfolded++ >= MOST_NAMES) {
      return this.#fail({code: '#VALUE!', message: `the names behind ${name.name} are too many`, beyond: true});
    }
    const variables = this.#variables;
    this.#variables = [];
    this.#depth++;
    const text = this.#tree(definitionAt(name, this.at), wanted);
    this.#depth--;
    this.#variables = variables;
    return text;
  }

  call(node: CallExpression, wanted: Wanted): string {
    // Called directly, a LAMBDA stands where else a function's name does.
    const callee = node.callee as CallExpression['callee'] | AstExpression;
    if (callee.type !== 'Identifier') return `${this.#print(callee, 'array')}${this.#arguments(node, () => 'array')}`;
    const name = callee.name.toUpperCase();
    switch (name) {
      case 'ANCHORARRAY':
        return this.unary('#', node.arguments[0], wanted);
      case 'SINGLE':
        return this.unary('@', node.arguments[0], wanted);
      default:
    }
    const own = ownFunction(name, this.surroundings.functions);
    if (own !== undefined) return this.#ownCall(own, node, wanted);
    if (this.#variables.includes(name.toLowerCase())) {
      return `${callee.name}${this.#arguments(node, () => 'array')}`;
    }
    const defined = findName(this.surroundings.names, callee.name, this.at.sheet);
    if (defined) {
      this.#named = true;
      return `${this.#definition(defined, 'array')}${this.#arguments(node, () => 'array')}`;
    }
    if (!this.surroundings.functions.native(name)) {
      this.#arguments(node, () => 'any');
      return this.#fail({code: '#NAME?', message: `there is no function ${callee.name} here`, beyond: true});
    }
    return this.#nativeCall(name, node, wanted);
  }

  #ownCall(name: string, node: CallExpression, wanted: Wanted): string {
    this.#ours = true;
    const {namespace, parameters} = this.surroundings.functions;
    const declared = parameters(name.slice(namespace.length + 1));
    if (!declared) return this.#fail({code: '#NAME?', message: `there is no function ${name}`});
    const message = tooMany(name, declared, node.arguments.length);
    if (message !== undefined) return this.#fail({code: '#VALUE!', message});
    return (
      name +
      this.#arguments(node, (i) => {
        if (wanted === 'array') return 'array';
        return (declared[i] ?? declared.at(-1)!).dimensionality === 'matrix' ? 'any' : 'value';
      })
    );
  }

  #nativeCall(name: string, node: CallExpression, wanted: Wanted): string {
    if (READS_MORE.has(name)) this.#readsMore = true;
    const [first] = node.arguments;
    if ((name === 'ROWS' || name === 'COLUMNS') && first?.type === 'ReferenceIdentifier' && first.kind === 'beam') {
      const whole = isWhole(first.value);
      if (whole === 'columns' && name === 'ROWS') return String(ROWS);
      if (whole === 'rows' && name === 'COLUMNS') return String(COLUMNS);
    }
    const text = name + this.#arguments(node, (i) => wantedOf(name, i, wanted), name);
    return wanted === 'value' && GIVES_REFERENCE.has(name) ? `${HELPERS.single}(${text})` : text;
  }

  #arguments(node: CallExpression, wantedAt: (argument: number) => Wanted, name = ''): string {
    const texts = node.arguments.map((argument: AstExpression | null, i) => {
      if (argument === null) return ANSWERS_WITH_ARGUMENTS.has(name) ? '0' : '';
      const several = TAKES_MANY.has(name) ? this.#several(argument) : undefined;
      return several ? several.join(',') : this.#print(argument, wantedAt(i));
    });
    return `(${texts.join(',')})`;
  }

  /** A union or a reference over several sheets, as several arguments. */
  #several(node: AstExpression): readonly string[] | undefined {
    if (node.type === 'BinaryExpression' && node.operator === ',') {
      return node.arguments.flatMap((part) => this.#several(part) ?? [this.#print(part, 'any')]);
    }
    if (node.type !== 'ReferenceIdentifier' || node.kind !== 'range') return undefined;
    const references = this.#resolve(node);
    if (!references || 'code' in references || references.length === 1) return undefined;
    return references.map((reference) => this.#cells(reference, 'any'));
  }

  let({declarations, body}: LetExpression, wanted: Wanted): string {
    const before = this.#variables;
    const parts: string[] = [];
    for (const {id, init} of declarations) {
      const {name} = id;
      parts.push(name, this.#print(init, wanted === 'array' ? 'array' : 'any'));
      this.#variables = [...this.#variables, name.toLowerCase()];
    }
    parts.push(this.#print(body, wanted));
    this.#variables = before;
    return `LET(${parts.join(',')})`;
  }

  #within(names: readonly string[], print: (names: readonly string[]) => string): string {
    const before = this.#variables;
    this.#variables = [...before, ...names.map((name) => name.toLowerCase())];
    const text = print(names);
    this.#variables = before;
    return text;
  }
}
