/** The engine in Node, with the worksheet functions of the built bundle. */
import {readFileSync} from 'node:fs';
import path from 'node:path';
import vm from 'node:vm';
import {loadFunctions, type BundleMetadata, type WorksheetFunction} from '../engine/functionsBundle';
import type {Engine} from '../engine/start';
import type {FunctionClass} from '../engine/univerLibrary';
import univer from './univer.cjs';

const BUNDLE = path.join(univer.root, 'dist');

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

type Plugins = ReturnType<typeof univer.formula.UniverSheetsNodeCorePreset>['plugins'];

/** Takes the place of what adds up the heights of all 1,048,576 rows of every sheet for a grid; nothing is drawn here. */
class NoSkeletons {
  getSkeleton(): undefined {
    return undefined;
  }
}

function undrawn(plugin: Plugins[number]): Plugins[number] {
  const {SheetSkeletonService, UniverSheetsPlugin} = univer.formula;
  const override = [[SheetSkeletonService, {useClass: NoSkeletons}]];
  return plugin === UniverSheetsPlugin ? [UniverSheetsPlugin, {override}] : plugin;
}

/** The engine of this process. */
export const nodeEngine = (functions = bundledFunctions()): Engine => ({
  library: univer,
  functions,
  start: (classes: FunctionClass[]) => {
    const {createUniver, LocaleType, LogLevel} = univer.core;
    const {CalculationMode, UniverSheetsNodeCorePreset} = univer.formula;
    const {plugins} = UniverSheetsNodeCorePreset({
      formula: {function: classes as never, initialFormulaComputing: CalculationMode.NO_CALCULATION},
    });
    return createUniver({
      locale: LocaleType.EN_US,
      locales: {[LocaleType.EN_US]: {}},
      logLevel: LogLevel.SILENT,
      presets: [{plugins: plugins.map(undrawn)}],
    });
  },
});
