/** Faults on purpose, by which tests see what a pane does when a workbook fails, is slow or is shown twice. */

export interface Faults {
  /** The number of the batch, from 1, that fails; those of office.js itself count too. */
  failingBatch: number | undefined;
  /** Every answer comes that much later. */
  delayMilliseconds: number;
  /** Batches answered since the page was opened. */
  batches: number;
  /** The errors with which batches were answered, such as "ItemNotFound: …". */
  readonly errors: string[];
}

/** As the address of the page asks: "?fail=3&delay=500". */
export function faultsAsked(address: URLSearchParams): Faults {
  const asked = (name: string): number => Math.max(0, Number(address.get(name)) || 0);
  return {failingBatch: asked('fail') || undefined, delayMilliseconds: asked('delay'), batches: 0, errors: []};
}

const FAILURE = {
  Results: [],
  Error: {
    ActionIndex: 0,
    Code: 'GeneralException',
    Message: 'There was an internal error while processing the request.',
    HttpStatusCode: 500,
    Location: '',
  },
};

/** Answers a batch, with the faults that were asked for. */
export async function withFaults(faults: Faults, answer: () => Promise<string>): Promise<string> {
  const number = ++faults.batches;
  if (faults.delayMilliseconds > 0) await new Promise((resolve) => setTimeout(resolve, faults.delayMilliseconds));
  const answered = number === faults.failingBatch ? JSON.stringify(FAILURE) : await answer();
  const {Error: failed} = JSON.parse(answered) as {Error?: {Code: string; Message: string}};
  if (failed) faults.errors.push(`${failed.Code}: ${failed.Message}`);
  return answered;
}
