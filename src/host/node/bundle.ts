/** The worksheet functions of the built bundle, in Node. */
import {readFileSync} from 'node:fs';
import path from 'node:path';
import vm from 'node:vm';
import {loadFunctions, type BundleMetadata, type WorksheetFunction} from '../engine/functionsBundle';
import root from './root.cjs';

const BUNDLE = path.join(root, 'dist');

let loaded: readonly WorksheetFunction[] | undefined;

/** The worksheet functions of dist/, which `npm run build` makes. */
export function bundledFunctions(): readonly WorksheetFunction[] {
  return (loaded ??= loadFunctions(
    read('functions.js'),
    JSON.parse(read('functions.json')) as BundleMetadata,
    (script, customFunctions) => {
      // A page fetches the second script when it is needed; here it is at hand before the first asks for it.
      runScript('working.js', read('working.js'), customFunctions);
      runScript('functions.js', script, customFunctions);
    },
  ));
}

const read = (name: string): string => readFileSync(path.join(BUNDLE, name), 'utf8');

function runScript(name: string, script: string, customFunctions: object): void {
  vm.compileFunction(script, ['CustomFunctions'], {filename: path.join(BUNDLE, name)})(customFunctions);
}
