/**
 * Bounds of time and memory within which a workbook is read and calculated. The one thread that does so cannot watch
 * itself: another one does, and ends the process with a sentence when a file asks for too much.
 */
import {Worker} from 'node:worker_threads';

const SECONDS = 60;
const MEGABYTES = 1024;

/** The signal by which the process ends then. */
export const GIVEN_UP = 'SIGTERM';

const WATCH = `
const {workerData: {seconds, megabytes, signal}, parentPort} = require('node:worker_threads');
const {writeSync} = require('node:fs');
let name;
let since = 0;
parentPort.on('message', (message) => { name = message; since = Date.now(); });
function end(wants) {
  try { writeSync(2, name + ' is given up: it wants ' + wants + '. With --large it gets as much as there is.\\n'); } catch {}
  process.kill(process.pid, signal);
}
setInterval(() => {
  if (name === undefined) return;
  if (Date.now() - since > seconds * 1000) end('more than ' + seconds + ' seconds');
  else if (process.memoryUsage.rss() > megabytes * 1048576) end('more than ' + megabytes + ' MB of memory');
}, 50);
`;

export interface Bounds {
  /** Does something with a file, whose name leads the sentence when it is given up. */
  readonly within: <T>(name: string, act: () => Promise<T>) => Promise<T>;
}

/** Bounds for this process; none for files that are known to be large. */
export function bounds(large: boolean): Bounds {
  if (large) return {within: (_, act) => act()};
  const watch = new Worker(WATCH, {
    eval: true,
    workerData: {seconds: SECONDS, megabytes: MEGABYTES, signal: GIVEN_UP},
  });
  watch.unref();
  return {
    within: async (name, act) => {
      watch.postMessage(name);
      try {
        return await act();
      } finally {
        watch.postMessage(undefined);
      }
    },
  };
}
