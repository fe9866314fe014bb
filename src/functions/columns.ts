/** Functions over whole columns, and for the record. */
import {invalid, Refusal} from '../maths/refusal';
import {part} from './answers';
import {anything, fingerprintCell, optional, record, text} from './arguments';
import {grid, type Grid, type OutCell, type Raw} from './cells';
import {family, type Declaration} from './declare';
import {EDITION} from './edition';
import {fingerprint} from './fingerprint';
import {listWorking, workingFetched} from './listed';

const columnsWorking = () => import(/* webpackChunkName: "working" */ './workings/columns');

/** A function of the catalogue by its name in any letter case, with or without the namespace. */
export type Find = (name: string) => Declaration | undefined;

/** The family that calls other functions: it has to be told where to find them. */
export function columnFunctions(find: Find): readonly Declaration[] {
  const {functions, declareArray, declareCell} = family('Columns and audit');

  declareArray({
    name: 'EACHROW',
    summary: 'Any function that answers with one row, for every row of its arguments in one call.',
    notes: [
      'The first argument has a row for each record; every other one has as many rows, or one row that all records share.',
      'An empty record answers with an empty text, a failing one with its error, each in its own row alone.',
      'Excel hands a blank cell over as 0: write IF(range="","",range), or an empty record is taken for zeros.',
    ],
    arguments: {
      name: text('name of the function, such as "MATCH"'),
      arguments: anything('its arguments, in its own order'),
    },
    gives: part('answer of each record', ''),
    answer: ({name, arguments: args}) => eachRow(find, name, args),
    working: async () => (await columnsWorking()).eachRowSteps(find),
    mathematics: 'The function named, record by record.',
    source: 'none needed',
    errors: ['#VALUE!: no such function, one that answers with a table, or arguments of another number of rows'],
    example: {formula: '=WHEEL.EACHROW("MATCH",{0.8,40;0.5,0},{0.6,100;0.5,0},"turn")', gives: [[120], [180]]},
  });

  declareArray({
    name: 'WORKING',
    summary: 'The written-out working of any function: each step with its formula, its figures and its value.',
    notes: [
      'A row a step: number, symbol, formula, the formula with its figures put in, value, unit, source; the last rows are the answer.',
      'Arithmetic of its own works it out, not that of the function: the two check each other.',
      'The pane writes the same working into a sheet as formulas that need no add-in.',
    ],
    arguments: {
      name: text('name of the function, such as "MATCH"'),
      arguments: anything('its arguments, in its own order'),
    },
    gives: part('step, symbol, formula, with figures, value, unit, source', ''),
    answer: ({name, arguments: args}) => {
      const of = find(name);
      if (of === undefined) throw invalid(`there is no function WHEEL.${bare(name)}`, 'name');
      if (of.name === 'WORKING') throw invalid('the working of a working is not written out', 'name');
      return listWorking(of.name, callOf(of, args));
    },
    before: workingFetched,
    working: async () => (await columnsWorking()).workingSteps(find),
    mathematics: 'That of the function named.',
    source: 'none needed',
    errors: ['#VALUE!: no such function', 'what the function itself refuses, it refuses in the same words'],
    example: {
      formula: '=WHEEL.WORKING("STOCK",12,5)',
      gives: [
        [1, 'm', 'mass', '', 12, 'as mass', 'cell 1 of mass'],
        [2, 'd', 'step of the stock masses', '', 5, 'as mass', 'cell 1 of step'],
        [3, 'm_0', 'below this no weight is fitted', '', 0, 'as mass', 'left out'],
        [4, 'k', 'floor(m / d + 0.5 + 1e-9)', 'floor(12 / 5 + 0.5 + 1e-9)', 2, '', 'steps, halves up'],
        [5, 'stock', 'IF(m < m_0, 0, k · d)', 'IF(12 < 0, 0, 2 · 5)', 10, 'as mass', 'stock mass'],
        [6, 'stock', 'stock', '', 10, 'as mass', 'the answer'],
      ],
    },
  });

  declareCell({
    name: 'FINGERPRINT',
    summary:
      'Sixteen digits that change when the record changes; with `signed`, whether it is still the record that was signed.',
    notes: [
      'It shows accident and quiet change, not a forger who works it out anew: print it on the record.',
      'Chain records by giving the previous record’s fingerprint. Keep the signed one as text, not as a formula.',
    ],
    arguments: {
      range: record('cells of the record'),
      previous: optional(fingerprintCell('fingerprint of the record before'), undefined, 'no record before'),
      signed: optional(fingerprintCell('fingerprint kept as text at sign-off')),
    },
    gives: part('fingerprint; with `signed` TRUE or FALSE', '', 'the record is not signed yet'),
    answer: ({range, previous, signed}, given) => {
      const now = fingerprint(range, previous ?? '');
      if (!given('signed')) return now;
      return signed === undefined ? undefined : signed === now;
    },
    working: async () => (await columnsWorking()).fingerprintSteps,
    mathematics:
      'SHA-256 of the UTF-8 JSON of the rows (numbers at 12 significant digits, −0 as 0, texts in NFC, empty cells as null), then of the previous fingerprint; the first 16 hexadecimal digits.',
    source: 'FIPS 180-4',
    errors: ['#N/A: the record is not signed yet', '#VALUE!: an error cell, or a fingerprint that is not kept as text'],
    example: {formula: '=WHEEL.FINGERPRINT({"J-401","LF",0.46,TRUE})', gives: [['0ed44303f712bfe4']]},
  });

  declareCell({
    name: 'EDITION',
    summary: 'Edition of the product and of its calculations, for the record.',
    arguments: {},
    gives: part('edition', ''),
    answer: () => EDITION,
    working: async () => (await columnsWorking()).editionSteps,
    mathematics: 'None.',
    source: 'none needed',
    example: {formula: '=WHEEL.EDITION()', gives: [[EDITION]]},
  });

  return functions;
}

function eachRow(find: Find, name: string, args: readonly Raw[]): OutCell[][] {
  const of = find(name);
  if (of === undefined) throw invalid(`there is no function WHEEL.${bare(name)}`, 'name');
  if (of.answers === 'table' || of.name === 'EACHROW' || of.name === 'WORKING') {
    throw invalid(`WHEEL.${of.name} does not answer with one row a record`, 'name');
  }
  const call = rowsOfCall(of, args);
  const {records} = call;
  const answers = new Array<OutCell[] | Refusal | undefined>(records).fill(undefined);
  let width = 1;
  for (let r = 0; r < records; r++) {
    call.turnTo(r);
    if (isEmptyRow(call.own)) continue;
    const answer = attempt(of, call.args);
    answers[r] = answer;
    if (!(answer instanceof Refusal)) width = Math.max(width, answer.length);
  }
  // In place: a column of 100,000 records is not copied once more.
  for (let r = 0; r < records; r++) {
    const answer = answers[r];
    if (!Array.isArray(answer) || answer.length !== width) answers[r] = filled(answer, width);
  }
  return answers as OutCell[][];
}

/** The call for one record after the other: its cells serve all of them, so that a long column allocates none. */
interface RecordCall {
  readonly records: number;
  /** Puts the rows of a record in, counted from 0. */
  readonly turnTo: (record: number) => void;
  /** The arguments for that record. */
  readonly args: readonly Raw[];
  /** The rows that are that record's own. */
  readonly own: Grid;
  /** How many cells of the i-th argument stand before a record's row. */
  readonly offset: (i: number, record: number) => number;
}

/**
 * How many records the arguments of EACHROW hold, and the call for each of them.
 * @throws Refusal when the arguments do not go together
 */
export function rowsOfCall(of: Declaration, args: readonly Raw[]): RecordCall {
  if (args.length > of.arguments.length) {
    throw invalid(`WHEEL.${of.name} takes ${of.arguments.length} arguments, found ${args.length}`, 'arguments');
  }
  if (args.length === 0 || args[0] === null || args[0] === undefined)
    throw invalid('the first argument is missing', 'arguments');
  const grids = args.map((raw, i) => (raw === null || raw === undefined ? undefined : grid(raw, label(of, i))));
  const records = grids[0]!.length;
  grids.forEach((rows, i) => {
    if (rows !== undefined && rows.length !== records && rows.length !== 1) {
      throw invalid(
        `${records} rows as in ${of.arguments[0].name}, or one row for all, are wanted, found ${rows.length}`,
        label(of, i),
      );
    }
  });
  const isOwn = (rows: Grid, i: number): boolean => i === 0 || (rows.length === records && records > 1);
  // What is shared stays, the rest gets its row put in.
  const call = args.map((raw, i): Raw => (grids[i] === undefined ? null : isOwn(grids[i], i) ? [[]] : raw));
  const each = grids.flatMap((rows, i) =>
    rows !== undefined && isOwn(rows, i) ? [{rows, cell: call[i] as unknown[]}] : [],
  );
  const own = each.map(({rows}) => rows[0]);
  return {
    records,
    args: call,
    own,
    turnTo: (record) => {
      for (let k = 0; k < each.length; k++) each[k].cell[0] = own[k] = each[k].rows[record];
    },
    offset: (i, record) => {
      const rows = grids[i];
      return rows !== undefined && isOwn(rows, i) ? record * rows[0].length : 0;
    },
  };
}

/** The arguments of a call of a function from a list of them: what it takes repeatedly comes as one list. */
export function callOf(of: Declaration, args: readonly Raw[]): readonly Raw[] {
  const repeated = of.arguments.findIndex(({repeating}) => repeating);
  return repeated < 0 ? args : [...args.slice(0, repeated), args.slice(repeated) as unknown as Raw];
}

export const isEmptyRow = (own: Grid): boolean => own.every((row) => row.every(empty));

/** A row of the table: an answer narrower than the widest is filled up, an error and an empty record fill it. */
function filled(answer: OutCell[] | Refusal | undefined, width: number): OutCell[] {
  const row = new Array<OutCell>(width).fill(answer instanceof Refusal ? answer : '');
  if (Array.isArray(answer)) answer.forEach((cell, i) => (row[i] = cell));
  return row;
}

function attempt(of: Declaration, call: readonly Raw[]): OutCell[] | Refusal {
  try {
    const answer = of.evaluate(call);
    return answer.length === 1
      ? answer[0]
      : invalid(`WHEEL.${of.name} answers with ${answer.length} rows here`, 'name');
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
}

const empty = (cell: unknown): boolean => cell === '' || cell === null || cell === undefined;

const label = (of: Declaration, i: number): string => `arguments, ${of.arguments[i].name}`;

export const bare = (name: string): string =>
  name
    .trim()
    .toUpperCase()
    .replace(/^WHEEL\./, '');
