/**
 * The parts of the calculation engine (Univer) that the host uses. They are handed in, never imported: in Node they come
 * from its packages, in a page from its scripts.
 */
import type * as Core from '@univerjs/presets';
import type * as Formula from '@univerjs/preset-sheets-node-core';

export type UniverCore = Pick<
  typeof Core,
  'ICommandService' | 'IUniverInstanceService' | 'mergeWorksheetSnapshotWithDefault' | 'UniverInstanceType'
>;

/** Its lists of native functions; those of its operators and of its own inventions are left out. */
const FUNCTION_LISTS = [
  'functionArray',
  'functionCompatibility',
  'functionCube',
  'functionDatabase',
  'functionDate',
  'functionEngineering',
  'functionFinancial',
  'functionInformation',
  'functionLogical',
  'functionLookup',
  'functionMath',
  'functionStatistical',
  'functionText',
  'functionWeb',
] as const;

export type UniverFormula = Pick<
  typeof Formula,
  | 'ArrayValueObject'
  | 'AstTreeBuilder'
  | 'BaseFunction'
  | 'BaseReferenceObject'
  | 'BooleanValueObject'
  | 'CELL_INVERTED_INDEX_CACHE'
  | 'ErrorValueObject'
  | 'FormulaDataModel'
  | 'ICalculateFormulaService'
  | 'IFormulaCurrentConfigService'
  | 'IFormulaRuntimeService'
  | 'Interpreter'
  | 'Lexer'
  | 'NumberValueObject'
  | 'RangeReferenceObject'
  | 'SetFormulaCalculationNotificationMutation'
  | 'SetFormulaDataMutation'
  | 'SetTriggerFormulaCalculationStartMutation'
  | 'StringValueObject'
  | (typeof FUNCTION_LISTS)[number]
>;

export interface UniverLibrary {
  readonly core: UniverCore;
  readonly formula: UniverFormula;
}

/** A value, an array or a reference within the engine. */
export type Variant = Parameters<Formula.IFormulaRuntimeService['setRuntimeData']>[0];
export type ValueObject = Formula.BaseValueObject;

/** A workbook as the engine holds it. */
export type Workbook = Core.Workbook;

/** A class of worksheet functions, and the name under which formulas call it. */
export type FunctionClass = [new (name: string) => Formula.BaseFunction, string];

/** What the engine is started with. */
export type StartedUniver = ReturnType<typeof Core.createUniver>;
export type Injector = ReturnType<StartedUniver['univer']['__getInjector']>;
export type WorkbookData = Parameters<StartedUniver['univerAPI']['createWorkbook']>[0];
export type SheetData = NonNullable<WorkbookData['sheets']>[string];

/** The names of the native functions that the engine has. */
export const nativeFunctions = (formula: UniverFormula): ReadonlySet<string> =>
  new Set(FUNCTION_LISTS.flatMap((list) => formula[list].map(([, name]) => String(name))));
