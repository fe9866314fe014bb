/**
 * `npm start`: computes the demo ledger, prints its assessed wheels, says where the computed workbook lies, and serves the
 * workbook host until it is stopped.
 */
import {mkdirSync} from 'node:fs';
import path from 'node:path';
import {recompute} from '../book/recompute';
import {readWorkbook} from '../files/read';
import {nodeEngine} from '../node/engine';
import {readBytes, writeBytes} from '../node/files';
import root from '../node/root.cjs';
import {serve} from '../server/serve';
import {print, readArguments, runCommand} from './command';
import {wheelTable} from './wheelTable';

const HELP = `Computes the demo ledger (assets/demo.xlsx, an invented ferry workshop), prints its assessed wheels and writes the
computed workbook to out/demo-computed.xlsx. Then serves the local workbook host, in which the add-in can be tried without
Excel: a grid beside the task pane. It answers to this machine alone, until Ctrl+C.

  npm start
  npm start -- --no-serve   stop after the table

  --help   this text`;

/** Until Ctrl+C, or until the process is ended. */
const stopped = (): Promise<void> =>
  new Promise((resolve) => {
    process.once('SIGINT', resolve);
    process.once('SIGTERM', resolve);
  });

await runCommand(HELP, async () => {
  const {values} = readArguments({'no-serve': {type: 'boolean'}});
  const demo = path.join(root, 'assets', 'demo.xlsx');
  const output = path.join(root, 'out', 'demo-computed.xlsx');
  const bytes = readBytes(demo);
  const computed = await recompute(bytes, await readWorkbook(bytes), nodeEngine());
  mkdirSync(path.dirname(output), {recursive: true});
  writeBytes(output, computed.bytes);
  await print(wheelTable(await readWorkbook(computed.bytes)));
  await print(`\n${computed.ours} formulas with WHEEL functions computed, ${computed.errors.length} errors.`);
  for (const {address, code, message} of computed.errors) await print(`${address}  ${code}  ${message}`);
  await print(`The computed workbook: ${path.relative(root, output)}`);
  if (values['no-serve']) return;
  const {address, trusted} = await serve({root});
  await print(`\nThe local workbook host (not Excel): ${address}   Ctrl+C stops it.`);
  if (!trusted) {
    await print('Its certificate was made for this run, so the browser asks once before it shows the page.');
  }
  await stopped();
});
