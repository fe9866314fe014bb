/** A bundle of worksheet functions from its two files. */
import {existsSync, readFileSync} from 'node:fs';
import path from 'node:path';
import vm from 'node:vm';
import {
  answeringAtOnce,
  loadFunctions,
  type BundleMetadata,
  type WorksheetFunction,
} from '../../host/engine/functionsBundle';

/**
 * The functions of a bundle, answering at once; its metadata lies beside it, in a file of the same name that ends in
 * .json, and in working.js what a page would fetch later.
 */
export async function functionsOf(bundle: string): Promise<readonly WorksheetFunction[]> {
  const later = path.join(path.dirname(bundle), 'working.js');
  const functions = loadFunctions(
    readFileSync(bundle, 'utf8'),
    JSON.parse(readFileSync(bundle.replace(/\.js$/, '.json'), 'utf8')) as BundleMetadata,
    (script, customFunctions) => {
      const run = (file: string, text: string): void =>
        vm.compileFunction(text, ['CustomFunctions'], {filename: file})(customFunctions);
      if (existsSync(later)) run(later, readFileSync(later, 'utf8'));
      run(bundle, script);
    },
  );
  await answeringAtOnce(functions);
  return functions;
}
