/** Functions over whole columns, and for the record. */
import {invalid, Refusal} from '../maths/refusal';
import {part} from './answers';
import {anything, fingerprintCell, optional, record, text} from './arguments';
import {grid, type Grid, type OutCell, type Raw} from './cells';
import {family, type Declaration} from './declare';
import {EDITION} from './edition';
import {fingerprint} from './fingerprint';

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
    mathematics: 'The function named, record by record.',
    source: 'none needed',
    errors: ['#VALUE!: no such function, one that answers with a table, or arguments of another number of rows'],
    example: {formula: '=WHEEL.EACHROW("MATCH",{0.8,40;0.5,0},{0.6,100;0.5,0},"turn")', gives: [[120], [180]]},
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
    mathematics: 'None.',
    source: 'none needed',
    example: {formula: '=WHEEL.EDITION()', gives: [[EDITION]]},
  });

  return functions;
}

function eachRow(find: Find, name: string, args: readonly Raw[]): OutCell[][] {
  const of = find(name.trim());
  if (of === undefined) throw invalid(`there is no function WHEEL.${bare(name)}`, 'name');
  if (of.answers === 'table' || of.name === 'EACHROW' || of.name === 'WORKING') {
    throw invalid(`WHEEL.${of.name} does not answer with one row a record`, 'name');
  }
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

  // One set of argument cells serves all records: what is shared stays, the rest gets its row put in.
  const call = args.map((raw, i): Raw => (grids[i] === undefined ? null : own(grids[i], i) ? [[]] : raw));
  const each = grids.flatMap((rows, i) =>
    rows !== undefined && own(rows, i) ? [{i, rows, cell: call[i] as unknown[]}] : [],
  );
  const answers = new Array<OutCell[] | Refusal | undefined>(records).fill(undefined);
  let width = 1;
  for (let r = 0; r < records; r++) {
    for (const {rows, cell} of each) cell[0] = rows[r];
    if (each.every(({rows}) => rows[r].every(empty))) continue;
    const answer = attempt(of, call);
    answers[r] = answer;
    if (!(answer instanceof Refusal)) width = Math.max(width, answer.length);
  }
  return answers.map((answer) => (Array.isArray(answer) && answer.length === width ? answer : filled(answer, width)));

  function own(rows: Grid, i: number): boolean {
    return i === 0 || (rows.length === records && records > 1);
  }
}

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
