/** Has calls made by a thread under watch. */
import {Worker} from 'node:worker_threads';
import type {Call} from './calls';
import type {Verdict} from './judge';

export interface Caller {
  readonly make: (call: Call) => Promise<Verdict>;
  readonly patience: number;
  readonly end: () => Promise<void>;
}

/** @param patience milliseconds after which a call counts as one that never ends */
export function callerOf(bundle: string, patience: number): Caller {
  let worker: Promise<Worker> | undefined;

  async function start(): Promise<Worker> {
    const started = new Worker(new URL('./worker.mjs', import.meta.url), {workerData: bundle});
    await answered(started);
    return started;
  }

  async function end(): Promise<void> {
    const running = await worker;
    worker = undefined;
    await running?.terminate();
  }

  async function make(call: Call): Promise<Verdict> {
    const running = await (worker ??= start());
    const verdict = answered(running, patience);
    running.postMessage(call);
    const told = await verdict.catch((error: unknown) => ({error}));
    if (told !== undefined && !isFailure(told)) return told as Verdict;
    await end();
    if (isFailure(told)) throw told.error;
    return {outcome: 'refusal', took: patience, fault: `it has not ended after ${patience / 1000} s`};
  }

  // One after the other, even when the one before is not waited for any more.
  let last: Promise<unknown> = Promise.resolve();
  return {
    make: (call) => {
      const made = last.then(() => make(call));
      last = made.catch(() => undefined);
      return made;
    },
    patience,
    end,
  };
}

const isFailure = (told: unknown): told is {readonly error: unknown} =>
  typeof told === 'object' && told !== null && 'error' in told;

/** The next message of a thread; undefined when none comes in time. */
const answered = (worker: Worker, within?: number): Promise<unknown> =>
  new Promise((resolve, reject) => {
    const timer = within === undefined ? undefined : setTimeout(() => settle(() => resolve(undefined)), within);
    const settle = (done: () => void): void => {
      clearTimeout(timer);
      worker.off('message', told).off('error', failed);
      done();
    };
    const told = (message: unknown): void => settle(() => resolve(message));
    const failed = (error: unknown): void => settle(() => reject(error as Error));
    worker.on('message', told).on('error', failed);
  });
