/** The engine in Node, with the worksheet functions of the built bundle. */
import type {Engine} from '../engine/start';
import type {FunctionClass} from '../engine/univerLibrary';
import {bundledFunctions} from './bundle';
import univer from './univer.cjs';

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
