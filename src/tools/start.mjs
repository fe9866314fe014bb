/** `npm start`: installs what is missing, builds, and runs the main job on the demo ledger. */
import {spawnSync} from 'node:child_process';
import path from 'node:path';
import {ready, root} from './ready.mjs';

ready();
const {status, signal} = spawnSync(
  process.execPath,
  ['--import', 'tsx', path.join(root, 'src/host/cli/start.ts'), ...process.argv.slice(2)],
  {stdio: 'inherit'},
);
process.exitCode = status ?? (signal ? 1 : 0);
