/** `npm run demo`: draws the demo ledger and writes assets/demo.xlsx, computed. */
import {writeFileSync} from 'node:fs';
import path from 'node:path';
import {fileURLToPath} from 'node:url';
import {recompute} from '../../host/book/recompute';
import {readWorkbook} from '../../host/files/read';
import {nodeEngine} from '../../host/node/engine';
import {layOut} from './book';
import {drawWheels} from './draw';
import {asFile} from './file';
import {fingerprintsOf} from './signed';

const target = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../../../assets/demo.xlsx');
const wheels = drawWheels();
// What was kept at sign-off follows from what was typed.
const unsigned = await readWorkbook(await asFile(layOut(wheels)));
const bytes = await asFile(layOut(wheels, fingerprintsOf(unsigned)));
const computed = await recompute(bytes, await readWorkbook(bytes), nodeEngine(), 'all');
writeFileSync(target, computed.bytes);
console.log(
  `Wrote assets/demo.xlsx: ${wheels.length} wheels, ${computed.ours} formulas of ours, ${computed.errors.length} errors`,
);
for (const {address, code, message} of computed.errors) console.log(`${address}  ${code}  ${message}`);
process.exit(0);
