/** Checking the workbook that is open: reading it, then going through its formulas without holding up Excel. */
import {checking, type Checked} from '../../audit/check';
import {readBook, stopWhenAsked, type Reading} from './read';

export {Cancelled} from './read';
export type {Checked, Finding} from '../../audit/check';

/** How long the formulas are gone through before Excel gets its turn. */
const AT_ONCE_MS = 25;
/** Reading takes about this share of the time. */
const READING = 0.4;

/** Lets everything else that waits have its turn. */
const pause = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

/**
 * Checks the workbook.
 * @throws Cancelled when it was asked to leave off
 */
export async function checkWorkbook({onProgress, signal}: Reading): Promise<Checked> {
  const book = await readBook({signal, onProgress: (share, what) => onProgress(READING * share, `Reading ${what}`)});
  const steps = checking(book, {asSeen: true});
  let since = performance.now();
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    if (performance.now() - since < AT_ONCE_MS) continue;
    stopWhenAsked(signal);
    const {done, of} = step.value;
    onProgress(READING + ((1 - READING) * done) / Math.max(1, of), `Calculating ${done} of ${of} formulas`);
    await pause();
    since = performance.now();
  }
}
