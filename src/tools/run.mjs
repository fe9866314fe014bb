/** `node run.mjs script.ts arguments…`: gets everything ready, then runs a TypeScript file with those arguments. */
import {spawnSync} from 'node:child_process';
import path from 'node:path';
import {ready, root} from './ready.mjs';

const [script, ...args] = process.argv.slice(2);
ready();
const {status, signal} = spawnSync(process.execPath, ['--import', 'tsx', path.join(root, script), ...args], {
  stdio: 'inherit',
});
process.exitCode = status ?? (signal ? 1 : 0);
