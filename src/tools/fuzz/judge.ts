/** What is asked of every call, whatever its arguments. */
import {CustomFunctionsError, type WorksheetFunction} from '../../host/engine/functionsBundle';
import {isSpill, type Call, type Given} from './calls';

/** Milliseconds that no call may exceed; one that does gets two more chances, as the machine may be busy. */
export const LONGEST = 1000;

/** As many earlier calls wait to be made again. */
const REMEMBERED = 200;

export interface Verdict {
  readonly outcome: 'answer' | 'refusal';
  /** What is wrong, if anything is. */
  readonly fault?: string;
  /** An earlier call that gives another answer now. */
  readonly later?: {readonly call: Call; readonly fault: string};
  /** Milliseconds of the call. */
  readonly took: number;
}

type Answer = {readonly cells: unknown} | {readonly thrown: unknown};

interface Made {
  readonly call: Call;
  readonly args: readonly unknown[];
  readonly answer: Answer;
}

/** Milliseconds for which this process has had a processor: other programs do not make a call slow. */
function processorTime(): number {
  const {user, system} = process.cpuUsage();
  return (user + system) / 1000;
}

/**
 * Judges calls of the functions of a bundle, one after the other.
 * @param now milliseconds of a clock
 */
export function judge(
  functions: readonly WorksheetFunction[],
  now: () => number = processorTime,
): (call: Call) => Verdict {
  const byId = new Map(functions.map((declared) => [declared.id, declared]));
  const earlier: Made[] = [];
  let calls = 0;

  function make({name}: Call, args: readonly unknown[]): Answer {
    try {
      return {cells: byId.get(name)!.call(...args)};
    } catch (thrown) {
      return {thrown};
    }
  }

  /** Cells as they arrive: those of a call within a call are its answer. */
  function resolved(given: Given): unknown {
    if (!isSpill(given)) return Array.isArray(given) && given.some(isSpill) ? given.map(resolved) : given;
    const answer = make(given.spill, given.spill.args.map(resolved));
    if ('cells' in answer) {
      return (answer.cells as unknown[][]).map((row) => row.map((cell) => (isError(cell) ? {code: cell.code} : cell)));
    }
    return {code: isError(answer.thrown) ? answer.thrown.code : '#VALUE!'};
  }

  function timed(call: Call, args: readonly unknown[]): {answer: Answer; took: number} {
    const start = now();
    const answer = make(call, args);
    return {answer, took: now() - start};
  }

  function again(): Verdict['later'] {
    const made = earlier[(calls * 7919) % earlier.length];
    const fault = difference(made.answer, make(made.call, copy(made.args)));
    return fault === undefined ? undefined : {call: made.call, fault: `after other calls ${fault}`};
  }

  return (call) => {
    const args = call.args.map(resolved);
    const before = copy(args);
    const first = timed(call, args);
    const took = Math.min(
      first.took,
      ...(first.took > LONGEST ? [1, 2].map(() => timed(call, copy(before)).took) : []),
    );
    const second = took > LONGEST ? first.answer : make(call, copy(before));
    const fault =
      wrong(first.answer, call) ??
      (same(args, before) ? undefined : 'the arguments were changed') ??
      (took > LONGEST ? `it took ${(took / 1000).toFixed(1)} s` : undefined) ??
      difference(first.answer, second);
    const later = calls % 2 === 0 && earlier.length > 0 ? again() : undefined;
    if (fault === undefined && took < 20)
      earlier[earlier.length < REMEMBERED ? earlier.length : calls % REMEMBERED] = {
        call,
        args: before,
        answer: first.answer,
      };
    calls++;
    return {
      outcome: 'cells' in first.answer ? 'answer' : 'refusal',
      took,
      ...(fault === undefined ? {} : {fault}),
      ...(later === undefined ? {} : {later}),
    };
  };
}

const isError = (cell: unknown): cell is CustomFunctionsError => cell instanceof CustomFunctionsError;

/** The one function that answers with TRUE or FALSE. */
const answersBooleans = new Set(['FINGERPRINT']);

/** What is wrong with an answer as such. */
function wrong(answer: Answer, {name}: Call): string | undefined {
  if ('thrown' in answer) {
    const {thrown} = answer;
    return isError(thrown)
      ? wrongError(thrown)
      : `it fails with ${thrown instanceof Error ? thrown.stack : String(thrown)}`;
  }
  const {cells} = answer;
  if (!Array.isArray(cells) || cells.length === 0) return 'it answers with no rows';
  const width = (cells[0] as unknown[]).length;
  for (const row of cells as unknown[][]) {
    if (!Array.isArray(row) || row.length !== width || width === 0) return 'its rows are not equally long, or empty';
    for (const cell of row) {
      const fault = isError(cell) ? wrongError(cell) : wrongCell(cell, name);
      if (fault !== undefined) return fault;
    }
  }
  return undefined;
}

function wrongCell(cell: unknown, name: string): string | undefined {
  if (typeof cell === 'number' && Number.isFinite(cell)) return undefined;
  if (typeof cell === 'string') return wrongText(cell);
  // EACHROW hands on what the function that it calls answers with.
  if (typeof cell === 'boolean' && (answersBooleans.has(name) || name === 'EACHROW')) return undefined;
  return `it answers with ${typeof cell === 'object' ? JSON.stringify(cell) : String(cell)}`;
}

function wrongError({code, message}: CustomFunctionsError): string | undefined {
  if (code !== '#VALUE!' && code !== '#N/A') return `it refuses with ${code}`;
  if (message.trim() === '') return `it refuses with ${code} without a word`;
  return wrongText(message);
}

/** Words that no sentence for a user holds; a text that was handed in may. */
const wrongText = (text: string): string | undefined =>
  /\bundefined\b|\[object|\bfunction\b *\(/.test(text.replace(/"[^"]*"/gs, ''))
    ? `it says ${JSON.stringify(text.slice(0, 300))}`
    : undefined;

function difference(first: Answer, second: Answer): string | undefined {
  if ('thrown' in first && 'thrown' in second) {
    return same(said(first.thrown), said(second.thrown))
      ? undefined
      : `the refusal is another: ${shown(said(first.thrown))}, then ${shown(said(second.thrown))}`;
  }
  if ('cells' in first && 'cells' in second) {
    return same(first.cells, second.cells)
      ? undefined
      : `the answer is another: ${shown(first.cells)}, then ${shown(second.cells)}`;
  }
  return 'it answers once and refuses once';
}

const said = (thrown: unknown): unknown =>
  thrown instanceof Error ? [thrown.message, (thrown as {code?: string}).code] : thrown;

const shown = (value: unknown): string => {
  const text = JSON.stringify(value) ?? String(value);
  return text.length > 200 ? `${text.slice(0, 200)}…` : text;
};

function copy<T>(value: T): T {
  if (Array.isArray(value)) return value.map(copy) as T;
  return typeof value === 'object' && value !== null ? ({...value} as T) : value;
}

/** Equal bit for bit. */
function same(a: unknown, b: unknown): boolean {
  if (Array.isArray(a) && Array.isArray(b)) return a.length === b.length && a.every((each, i) => same(each, b[i]));
  if (isError(a) && isError(b)) return a.code === b.code && a.message === b.message;
  if (typeof a === 'object' && a !== null && typeof b === 'object' && b !== null) {
    return Object.is((a as {code?: string}).code, (b as {code?: string}).code);
  }
  return Object.is(a, b);
}
