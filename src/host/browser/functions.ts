/** The worksheet functions of the built bundle, run in this page as Excel runs them. */
import {
  answeringAtOnce,
  CustomFunctionsError,
  ERROR_CODES,
  loadFunctions,
  type BundleMetadata,
  type Callable,
  type WorksheetFunction,
} from '../engine/functionsBundle';

type Associated = [id: string | Readonly<Record<string, Callable>>, call?: Callable];

/**
 * Loads the bundle and what is declared of it.
 * @throws Error when one of them is missing, or they do not fit each other
 */
export async function builtFunctions(folder = '/dist'): Promise<readonly WorksheetFunction[]> {
  const associated: Associated[] = [];
  const runtime = {
    associate: (...what: Associated) => void associated.push(what),
    Error: CustomFunctionsError,
    ErrorCode: ERROR_CODES,
  };
  Object.assign(globalThis, {CustomFunctions: runtime});
  // The add-in's own page fetches the last script when it is needed; this page is another, and has it at hand.
  const [metadata] = await Promise.all([
    readMetadata(`${folder}/functions.json`),
    runScript(`${folder}/functions.js`),
    runScript(`${folder}/working.js`),
  ]);
  const functions = loadFunctions('', metadata, (_script, customFunctions) => {
    const {associate} = customFunctions as {associate: (...what: Associated) => void};
    associated.forEach((what) => associate(...what));
  });
  await answeringAtOnce(functions);
  return functions;
}

async function readMetadata(address: string): Promise<BundleMetadata> {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${address} cannot be loaded (${response.status}): build the add-in`);
  return (await response.json()) as BundleMetadata;
}

const runScript = (address: string): Promise<void> =>
  new Promise((resolve, reject) => {
    const script = document.createElement('script');
    script.src = address;
    script.addEventListener('load', () => resolve());
    script.addEventListener('error', () => reject(new Error(`${address} cannot be loaded: build the add-in`)));
    document.head.append(script);
  });
