/** `node run.mjs script.ts arguments…`: gets everything ready, then runs a TypeScript file with those arguments. */
import {spawnSync} from 'node:child_process';
import path from 'node:path';
import {ready, root} from './ready.mjs';

const [script, ...args] = process.argv.slice(2);
ready();
const {status, signal} = spawnSync(process.execPath, ['--import', 'tsx', path.join(root, script), ...args], {
  stdio: 'inherit',
});
// A file that wants too much time or memory ends the command by this signal; the code is that of a file problem.
process.exitCode = status ?? (signal === 'SIGTERM' ? 2 : 1);
