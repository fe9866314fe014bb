/** Workings of the functions over whole columns and for the record. */
import {Refusal} from '../../maths/refusal';
import type {Grid, Raw} from '../cells';
import {callOf, isEmptyRow, rowsOfCall, type Find} from '../columns';
import type {Declaration} from '../declare';
import {EDITION} from '../edition';
import {canonicalRows, fingerprintText} from '../fingerprint';
import {record} from './recorders';
import type {AnswerOf, CellOf, Steps} from './steps';

/** More records than these are not written out one by one. */
const MOST_RECORDS = 200;

interface Named {
  readonly name: string;
  readonly arguments: readonly Raw[];
}

/** The working of each record's call, one below the other. */
export const eachRowSteps =
  (find: Find) =>
  (s: Steps, {name, arguments: args}: Named): void => {
    const of = find(name)!;
    const call = rowsOfCall(of, args);
    const {records} = call;
    const shown = Math.min(records, MOST_RECORDS);
    const widths = Array.from({length: records}, (_, r) => {
      call.turnTo(r);
      return widthOf(of, call);
    });
    const width = widths.reduce((most, each) => Math.max(most, each), 1);
    for (let r = 0; r < shown; r++) {
      call.turnTo(r);
      if (isEmptyRow(call.own)) continue;
      const mark = records === 1 ? '' : `_row${r + 1}`;
      const place = (column: number): number => r * width + column + 1;
      const inner = attempt(of, call.args);
      if (inner instanceof Refusal) {
        s.figure(`refused${mark}`, 'none()', {says: `record ${r + 1}: ${inner.message}`});
        for (let c = 0; c < width; c++) s.answer(`refused${mark}`, {part: 'eachrow', row: place(c)});
        continue;
      }
      s.adopt(
        inner,
        ({argument, index}) => {
          const i = of.arguments.findIndex((one) => one.name === argument);
          return {argument: `arguments ${i + 1}`, index: call.offset(i, r) + index};
        },
        (answer) => ({...answer, part: 'eachrow', row: place(columnOf(of, inner, answer))}),
        mark,
      );
    }
    if (shown < records)
      s.figure('more', `${records - shown}`, {
        says: `records after the first ${shown}, which are not written out here`,
      });
  };

/** In which cell of its row a figure stands. */
function columnOf({answers, parts}: Declaration, inner: Steps, {part, row}: AnswerOf): number {
  if (answers === 'array') return row - 1;
  return new Set(inner.answers.map((each) => each.part)).size === 1 ? 0 : Object.keys(parts).indexOf(part);
}

function attempt(of: Declaration, args: readonly Raw[]): Steps | Refusal {
  try {
    return record(of, args);
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
}

function widthOf(of: Declaration, {args, own}: {args: readonly Raw[]; own: Grid}): number {
  if (isEmptyRow(own)) return 1;
  try {
    return of.evaluate(args)[0].length;
  } catch (error) {
    if (error instanceof Refusal) return 1;
    throw error;
  }
}

/** The working that WORKING lists is its own. */
export const workingSteps =
  (find: Find) =>
  (s: Steps, {name, arguments: args}: Named): void => {
    const of = find(name)!;
    s.adopt(
      record(of, callOf(of, args)),
      ({argument, index}: CellOf) => {
        const i = of.arguments.findIndex((one) => one.name === argument);
        return {argument: `arguments ${i + 1}`, index};
      },
      () => undefined,
    );
  };

interface Signed {
  readonly range: Grid;
  readonly previous: string | undefined;
  readonly signed: string | undefined;
}

/** A text of a cell may have 32,767 characters; nobody reads so many. */
const MOST_SHOWN = 1000;

/** A digest is no arithmetic: the text that goes in, its digest, and whether the cells are still those that went in. */
export function fingerprintSteps(s: Steps, {range, previous, signed}: Signed): void {
  const {json, digest} = fingerprintText(range, previous ?? '');
  const cells = canonicalRows(range).flat();
  s.rows('record', cells.length)
    .columnInput('record', 'a', 'range', 'cell of the record', undefined, '')
    .columnFound(
      'record',
      'k',
      cells.map((cell) => (typeof cell === 'boolean' ? Number(cell) : (cell ?? ''))),
      'what goes in: numbers at 12 significant digits; TRUE and FALSE stand here as 1 and 0',
    )
    .column(
      'record',
      'kept',
      'isnumber(a) == 1 and isnumber(k) == 1 ? (abs(a - k) <= 1E-11*abs(k) ? 1 : 0) : (same(a, k) ? 1 : 0)',
      '1 while the cell holds it, but for letter case',
    )
    .figure('unchanged', 'min(kept)', {says: '1 while every cell does'})
    .found('text', json.length > MOST_SHOWN ? `${json.slice(0, MOST_SHOWN)}…` : json, '', 'the record as JSON')
    .input('before', 'previous', 0, '', 'fingerprint of the record before, which goes behind it')
    .found('digest', digest, '', 'SHA-256 of both in UTF-8, in hexadecimal digits: no arithmetic of a sheet')
    .figure('fingerprint', 'unchanged == 1 ? mid(digest, 1, 16) : none()', {
      says: 'its first 16 digits',
      ...(s.written('signed') ? {} : {part: 'fingerprint'}),
    });
  if (signed === undefined) return;
  s.input('signed', 'signed', 0, '', 'fingerprint kept at sign-off').figure(
    'fits',
    'unchanged == 1 ? (same(signed, fingerprint) ? 1 : 0) : 0',
    {says: '1 when the record is the one that was signed', part: 'fingerprint'},
  );
}

export const editionSteps = (s: Steps): void => {
  s.figure('edition', `"${EDITION}"`, {says: 'product and count of changes that could move a figure', part: 'edition'});
};
