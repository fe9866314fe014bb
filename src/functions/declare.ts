/**
 * The shape of a declaration. A worksheet function is declared once; Excel's metadata, the reading of cells, error
 * messages, help and examples follow from it.
 */
import {Refusal, invalid} from '../maths/refusal';
import {alone, outCell, type Figure, type Part, type Parts} from './answers';
import {takeBackBuffers, type Kind} from './arguments';
import {single, wrongCell, type OutCell, type Raw} from './cells';
import type {Steps} from './workings/steps';

/** An argument of any kind; what it yields is known where the function is declared. */
// eslint-disable-next-line @typescript-eslint/no-explicit-any
type AnyKind = Kind<any>;

type Arguments = Readonly<Record<string, AnyKind>>;

/** The typed arguments that a declaration's answer receives. */
export type Given<A extends Arguments> = {readonly [N in keyof A]: A[N] extends Kind<infer T> ? T : never};

type Row<P extends Parts> = {readonly [N in keyof P]: Figure};

/** What every declaration tells the reader of the help. */
interface About {
  /** In capitals, without the namespace. Never changed after release: files store it. */
  readonly name: string;
  readonly summary: string;
  /** What a user should know beyond the arguments. */
  readonly notes?: readonly string[];
  /** What is worked out, in formulas. */
  readonly mathematics: string;
  /** Where the mathematics comes from. */
  readonly source: string;
  /** What is refused beyond cells of the wrong kind: the error, and when. */
  readonly errors?: readonly string[];
  readonly example: Example;
}

/** Writes the working of a call down, from its typed arguments. */
type Recorder<A extends Arguments> = (steps: Steps, given: Given<A>) => void;

/** Fetches what writes the working down: it is read by few and stays out of the script that every workbook loads. */
type Working<A extends Arguments> = () => Promise<Recorder<NoInfer<A>>>;

export interface Example {
  readonly formula: string;
  readonly gives: readonly (readonly (number | string | boolean)[])[];
}

export interface Argument extends AnyKind {
  readonly name: string;
}

export interface Declaration extends About {
  readonly family: string;
  readonly notes: readonly string[];
  readonly errors: readonly string[];
  /** All arguments in order, `part` and `row` included. */
  readonly arguments: readonly Argument[];
  /** cell: one figure. row: one row of parts. table: a row of parts each. array: cells in the shape of the input. */
  readonly answers: 'cell' | 'row' | 'table' | 'array';
  readonly parts: Readonly<Record<string, Part>>;
  /**
   * Arguments as cells to an answer as cells.
   * @throws Refusal and nothing else
   */
  readonly evaluate: (args: readonly Raw[]) => OutCell[][];
  /**
   * The typed arguments.
   * @throws Refusal as evaluate does, also where only the answer is refused
   */
  readonly given: (args: readonly Raw[]) => Readonly<Record<string, unknown>>;
  readonly working: () => Promise<(steps: Steps, given: never) => void>;
  /** Fetches what the function needs before it can answer; nothing to wait for when it is undefined or gives undefined. */
  readonly before?: () => Promise<unknown> | undefined;
}

/** The four ways to declare; each adds a function to the family. */
export interface Family {
  readonly functions: readonly Declaration[];
  readonly declare: typeof declareRow;
  readonly declareTable: typeof declareTable;
  readonly declareCell: typeof declareCell;
  readonly declareArray: typeof declareArray;
}

/** A family of functions, in the order in which they are declared. */
export function family(name: string): Family {
  const functions: Declaration[] = [];
  const adding =
    <D>(declare: (d: D) => Undocketed) =>
    (d: D): Declaration => {
      const declared = {...declare(d), family: name};
      functions.push(declared);
      return declared;
    };
  return {
    functions,
    declare: adding(declareRow) as Family['declare'],
    declareTable: adding(declareTable) as Family['declareTable'],
    declareCell: adding(declareCell) as Family['declareCell'],
    declareArray: adding(declareArray) as Family['declareArray'],
  };
}

type Undocketed = Omit<Declaration, 'family'>;

/** A function that answers with one row of figures, or with one of them. */
function declareRow<const A extends Arguments, const P extends Parts>(
  d: About & {arguments: A; parts: P; answer: (given: Given<A>) => Row<P>; working: Working<A>},
): Undocketed {
  const names = Object.keys(d.parts);
  const absent = names.map((name) => d.parts[name].absent);
  const at = d.arguments;
  const last = Object.keys(at).length;
  return finish(d, 'row', {...at, part: partKind(names)}, d.parts, (given, args) => {
    const answer = d.answer(given as Given<A>) as Row<Parts>;
    const chosen = args[last];
    if (chosen !== null && chosen !== undefined) {
      const index = partIndex(chosen, names);
      return alone(outCell(answer[names[index]], absent[index]));
    }
    const row = new Array<OutCell>(names.length);
    for (let i = 0; i < names.length; i++) row[i] = outCell(answer[names[i]], absent[i]);
    return [row];
  });
}

/** A function that answers with a table, a row of figures each; `part` picks a column, `row` a row, both a cell. */
function declareTable<const A extends Arguments, const P extends Parts>(
  d: About & {arguments: A; parts: P; answer: (given: Given<A>) => readonly Row<P>[]; working: Working<A>},
): Undocketed {
  const names = Object.keys(d.parts);
  const last = Object.keys(d.arguments).length;
  return finish(d, 'table', {...d.arguments, part: partKind(names), row: rowKind}, d.parts, (given, args) => {
    const table = d.answer(given as Given<A>) as readonly Row<Parts>[];
    const [part, row] = [args[last], args[last + 1]];
    const columns = part === null || part === undefined ? names : [names[partIndex(part, names)]];
    const rows = row === null || row === undefined ? table : [table[rowIndex(row, table.length)]];
    const cells = rows.map((r) => columns.map((name) => outCell(r[name], d.parts[name].absent)));
    return rows.length === 1 && columns.length === 1 ? alone(cells[0][0]) : cells;
  });
}

/** A function that answers with one figure. */
function declareCell<const A extends Arguments>(
  d: About & {
    arguments: A;
    gives: Part;
    answer: (given: Given<A>, written: (name: keyof A) => boolean) => Figure;
    working: Working<A>;
  },
): Undocketed {
  const names = Object.keys(d.arguments);
  return finish(d, 'cell', d.arguments, {[d.name.toLowerCase()]: d.gives}, (given, args) => {
    // Whether an argument was written at all, for the rare answer that depends on it.
    const written = (name: keyof A): boolean => (args[names.indexOf(String(name))] ?? undefined) !== undefined;
    return alone(outCell(d.answer(given as Given<A>, written), d.gives.absent));
  });
}

/** A function that answers with cells in a shape of its own. */
function declareArray<const A extends Arguments>(
  d: About & {
    arguments: A;
    gives: Part;
    answer: (given: Given<A>) => Figure[][] | OutCell[][];
    working: Working<A>;
    before?: Declaration['before'];
  },
): Undocketed {
  return finish(d, 'array', d.arguments, {[d.name.toLowerCase()]: d.gives}, (given) => {
    // In place: the rows were made for this answer.
    const cells = d.answer(given as Given<A>) as OutCell[][];
    for (const row of cells) {
      for (let i = 0; i < row.length; i++) {
        const cell = row[i];
        if (!(cell instanceof Refusal)) row[i] = outCell(cell, d.gives.absent);
      }
    }
    return cells.length === 1 && cells[0].length === 1 ? alone(cells[0][0]) : cells;
  });
}

type Evaluate = (given: Record<string, unknown>, args: readonly Raw[]) => OutCell[][];

function finish(
  about: About & {working: Declaration['working']; before?: Declaration['before']},
  answers: Declaration['answers'],
  kinds: Arguments,
  parts: Readonly<Record<string, Part>>,
  evaluate: Evaluate,
): Undocketed {
  const list = Object.entries(kinds).map(([name, kind]): Argument => ({...kind, name}));
  const slots = list.filter(({kind}) => kind !== 'part').map(slot);
  const given = Object.fromEntries(slots.map(({name, fallback}) => [name, fallback]));
  return {
    name: about.name,
    summary: about.summary,
    notes: about.notes ?? [],
    mathematics: about.mathematics,
    source: about.source,
    errors: about.errors ?? [],
    example: about.example,
    arguments: list,
    answers,
    parts,
    evaluate: (args) => {
      takeBackBuffers();
      // One object for all calls, as with the buffers of readings: no answer keeps it.
      return evaluate(read(slots, args, given), args);
    },
    given: (args) => {
      takeBackBuffers();
      const given = read(slots, args, {});
      evaluate(given, args);
      return given;
    },
    working: about.working,
    ...(about.before === undefined ? {} : {before: about.before}),
  };
}

/** What reading an argument needs of its declaration: a few fields in one shape, which the runtime finds at once. */
interface Slot {
  readonly name: string;
  readonly optional: boolean;
  readonly fallback: unknown;
  readonly read: AnyKind['read'];
}

const slot = ({name, optional, fallback, read}: Argument): Slot => ({name, optional, fallback, read});

function read(slots: readonly Slot[], args: readonly Raw[], given: Record<string, unknown>): Record<string, unknown> {
  for (let i = 0; i < slots.length; i++) {
    const {name, optional, fallback, read} = slots[i];
    const raw = args[i];
    if (raw === null || raw === undefined) {
      if (!optional) throw invalid('this argument is missing', name);
      given[name] = fallback;
    } else {
      given[name] = read(raw, name, given);
    }
  }
  return given;
}

// `part` and `row` are read from the raw arguments, for speed and because their range depends on the answer; the kinds
// below only describe them.

const describing = (says: string, takes: string): Kind<undefined> => ({
  kind: 'part',
  says,
  takes,
  dimension: 'scalar',
  optional: true,
  fallback: undefined,
  read: () => undefined,
});

const partKind = (names: readonly string[]): Kind<undefined> =>
  describing(`one figure alone: ${names.join(', ')}, or its number`, 'a name in any letter case, or a number from 1');

const rowKind = describing('one row alone, by its number', 'a whole number from 1');

function partIndex(raw: Raw, names: readonly string[]): number {
  const cell = single(raw, 'part');
  const index =
    typeof cell === 'string'
      ? names.findIndex((name) => name.toLowerCase() === cell.trim().toLowerCase())
      : typeof cell === 'number' && Number.isInteger(cell)
        ? cell - 1
        : -1;
  if (index >= 0 && index < names.length) return index;
  throw wrongCell('part', 0, 0, `one of ${names.join(', ')}, or its number from 1 to ${names.length},`, cell);
}

function rowIndex(raw: Raw, rows: number): number {
  const cell = single(raw, 'row');
  if (typeof cell === 'number' && Number.isInteger(cell) && cell >= 1 && cell <= rows) return cell - 1;
  throw wrongCell('row', 0, 0, `a whole number from 1 to ${rows}`, cell);
}
