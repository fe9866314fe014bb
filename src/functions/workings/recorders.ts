/** What writes the workings down, fetched once for all functions and then at hand. */
import {single, type Raw} from '../cells';
import type {Declaration} from '../declare';
import {Steps, type AnswerOf} from './steps';

type Recorder = Awaited<ReturnType<Declaration['working']>>;

const recorders = new Map<Declaration, Recorder>();

/** Fetches the recorders of functions that are not at hand yet. */
export async function loadRecorders(functions: readonly Declaration[]): Promise<void> {
  const wanted = functions.filter((declared) => !recorders.has(declared));
  await Promise.all(wanted.map(async (declared) => recorders.set(declared, await declared.working())));
}

/**
 * The steps of the working of a call.
 * @throws Refusal as the function itself does, for arguments that it refuses
 * @throws Error while the recorders have not been loaded
 */
export function record(declared: Declaration, args: readonly Raw[]): Steps {
  const recorder = recorders.get(declared);
  if (recorder === undefined) throw new Error(`the working of ${declared.name} is not loaded`);
  const given = declared.given(args);
  const steps = new Steps(declared.arguments, args);
  recorder(steps, given as never);
  return steps.keepAnswers(asked(declared, args));
}

/** What the arguments `part` and `row` leave of an answer. */
function asked({arguments: list, answers, parts}: Declaration, args: readonly Raw[]): (answer: AnswerOf) => boolean {
  if (answers !== 'row' && answers !== 'table') return () => true;
  const given = (name: string) => {
    const at = list.findIndex((argument) => argument.kind === 'part' && argument.name === name);
    const raw = at < 0 ? undefined : args[at];
    return raw === null || raw === undefined ? undefined : single(raw, name);
  };
  const [part, row] = [given('part'), given('row')];
  const wanted = typeof part === 'number' ? Object.keys(parts)[part - 1] : part;
  return (answer) =>
    (wanted === undefined || answer.part.toLowerCase() === String(wanted).trim().toLowerCase()) &&
    (row === undefined || answer.row === row);
}
