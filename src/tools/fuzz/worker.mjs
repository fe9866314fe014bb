/** Start of the thread: a thread has to be told anew how TypeScript is read. */
import {tsImport} from 'tsx/esm/api';

await tsImport('./work.ts', import.meta.url);
