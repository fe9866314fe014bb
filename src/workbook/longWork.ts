/**
 * Work that goes on part by part, such as filling thousands of rows: what follows the workbook waits until it is done,
 * because each look at cells makes Excel calculate what has been written so far.
 */
let running = 0;
const waiting = new Set<() => void>();

export async function longWork<T>(work: () => Promise<T>): Promise<T> {
  running++;
  try {
    return await work();
  } finally {
    running--;
    if (running === 0) {
      const acts = [...waiting];
      waiting.clear();
      acts.forEach((act) => act());
    }
  }
}

/** Acts at once, or once when no work goes on any more, however often it is asked meanwhile. */
export function atRest(act: () => void): void {
  if (running === 0) act();
  else waiting.add(act);
}
