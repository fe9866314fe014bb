/** `npm start`: computes the demo ledger, prints its assessed wheels and says where the computed workbook lies. */
import {mkdirSync} from 'node:fs';
import path from 'node:path';
import {recompute} from '../book/recompute';
import {readWorkbook} from '../files/read';
import {nodeEngine} from '../node/engine';
import {readBytes, writeBytes} from '../node/files';
import univer from '../node/univer.cjs';
import {print, readArguments, runCommand} from './command';
import {wheelTable} from './wheelTable';

const HELP = `Computes the demo ledger (assets/demo.xlsx, an invented ferry workshop), prints its assessed wheels and writes the
computed workbook to out/demo-computed.xlsx.

  npm start
  npm start -- --no-serve   stop after that

  --help   this text`;

await runCommand(HELP, async () => {
  readArguments({'no-serve': {type: 'boolean'}});
  const demo = path.join(univer.root, 'assets', 'demo.xlsx');
  const output = path.join(univer.root, 'out', 'demo-computed.xlsx');
  const bytes = readBytes(demo);
  const computed = await recompute(bytes, await readWorkbook(bytes), nodeEngine());
  mkdirSync(path.dirname(output), {recursive: true});
  writeBytes(output, computed.bytes);
  await print(wheelTable(await readWorkbook(computed.bytes)));
  await print(`\n${computed.ours} formulas with WHEEL functions computed, ${computed.errors.length} errors.`);
  for (const {address, code, message} of computed.errors) await print(`${address}  ${code}  ${message}`);
  await print(`The computed workbook: ${path.relative(univer.root, output)}`);
});
