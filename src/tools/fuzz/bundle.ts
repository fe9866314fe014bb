/** A bundle of worksheet functions from its two files. */
import {readFileSync} from 'node:fs';
import vm from 'node:vm';
import {loadFunctions, type BundleMetadata, type WorksheetFunction} from '../../host/engine/functionsBundle';

/** The functions of a bundle; its metadata lies beside it, in a file of the same name that ends in .json. */
export const functionsOf = (bundle: string): readonly WorksheetFunction[] =>
  loadFunctions(
    readFileSync(bundle, 'utf8'),
    JSON.parse(readFileSync(bundle.replace(/\.js$/, '.json'), 'utf8')) as BundleMetadata,
    (script, customFunctions) => {
      vm.compileFunction(script, ['CustomFunctions'], {filename: bundle})(customFunctions);
    },
  );
