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
    readFileSync(path.join(BUNDLE, 'functions.js'), 'utf8'),
    JSON.parse(readFileSync(path.join(BUNDLE, 'functions.json'), 'utf8')) as BundleMetadata,
    (script, customFunctions) => {
      vm.compileFunction(script, ['CustomFunctions'], {filename: path.join(BUNDLE, 'functions.js')})(customFunctions);
    },
  ));
}

/** The engine of this process. */
export const nodeEngine = (functions = bundledFunctions()): Engine => ({
  library: univer,
  functions,
  start: (classes: FunctionClass[]) => {
    const {createUniver, LocaleType, LogLevel} = univer.core;
    return createUniver({
      locale: LocaleType.EN_US,
      locales: {[LocaleType.EN_US]: {}},
      logLevel: LogLevel.SILENT,
      presets: [
        univer.formula.UniverSheetsNodeCorePreset({
          formula: {
            function: classes as never,
            initialFormulaComputing: univer.formula.CalculationMode.NO_CALCULATION,
          },
        }),
      ],
    });
  },
});
