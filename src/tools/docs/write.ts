/** `npm run docs`: writes the reference page. */
import {writeFileSync} from 'node:fs';
import path from 'node:path';
import {fileURLToPath} from 'node:url';
import {referencePage} from './reference';

const file = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../../../assets/reference.md');
writeFileSync(file, referencePage());
console.log('Wrote assets/reference.md');
