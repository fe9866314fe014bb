/** What a workbook needs to be calculated: the engine and the worksheet functions. */
import type {KnownFunctions, Parameter} from '../formulas/surroundings';
import type {WorksheetFunction} from './functionsBundle';
import {helperFunctionClasses} from './helperFunctions';
import {Session, type Look} from './session';
import {nativeFunctions, type FunctionClass, type StartedUniver, type UniverLibrary} from './univerLibrary';
import {worksheetFunctionClasses} from './worksheetFunctions';

/** The namespace under which formulas call the worksheet functions; the manifest names it to Excel. */
export const NAMESPACE = 'WHEEL';

export interface Engine {
  readonly library: UniverLibrary;
  readonly functions: readonly WorksheetFunction[];
  /** Starts the engine with these functions, without calculating on its own when a workbook is created. */
  readonly start: (classes: FunctionClass[]) => StartedUniver;
  /** It is started once and serves one workbook after another. */
  readonly runsOn?: boolean;
}

/** Every function class that formulas need: the worksheet functions and the helpers of translated formulas. */
export const functionClasses = ({library, functions}: Engine): FunctionClass[] => [
  ...worksheetFunctionClasses(library.formula, NAMESPACE, functions),
  ...helperFunctionClasses(library.formula),
];

export const startSession = (engine: Engine, look?: Look): Session =>
  new Session(engine.library, engine.start(functionClasses(engine)), engine.runsOn ?? false, look);

/** The functions that formulas may call, as far as reading them goes. */
export function knownFunctions({functions, library}: Engine): KnownFunctions {
  const parameters = new Map(
    functions.map(({name, parameters: declared}): [string, Parameter[]] => [
      name.toUpperCase(),
      declared.map(({dimensionality = 'scalar', repeating = false}) => ({dimensionality, repeating})),
    ]),
  );
  const native = nativeFunctions(library.formula);
  return {
    namespace: NAMESPACE,
    parameters: (name) => parameters.get(name.toUpperCase()),
    native: (name) => native.has(name),
  };
}
