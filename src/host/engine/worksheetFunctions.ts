/** The worksheet functions as functions of the engine: a call arrives as Excel makes it, an answer leaves as Excel takes it. */
import {cellError, isError, type CellError, type CellValue} from '../book/cells';
import {CustomFunctionsError, type WorksheetFunction} from './functionsBundle';
import type {FunctionClass, UniverFormula, ValueObject, Variant} from './univerLibrary';
import {rowsFromEngine, valueObjects, type ValueObjects} from './valueObjects';

/** An argument as the engine has it; undefined when it is not written at all. */
type Given = Variant | undefined;

/** An argument as a function gets it: null when omitted. */
type Argument = CellValue | CellValue[][];

export function worksheetFunctionClasses(
  formula: UniverFormula,
  namespace: string,
  functions: readonly WorksheetFunction[],
): FunctionClass[] {
  const objects = valueObjects(formula);
  return functions.map((declared): FunctionClass => {
    class Called extends formula.BaseFunction {
      override minParams = 0;
      override maxParams = 255;

      /** Texts stay texts. */
      override isArgumentsIgnoreNumberPattern(): boolean {
        return true;
      }

      override calculate(...given: Variant[]) {
        return toEngine(answerOf(declared, given), objects) as ReturnType<
          UniverFormula['BaseFunction']['prototype']['calculate']
        >;
      }
    }
    return [Called as unknown as FunctionClass[0], `${namespace}.${declared.name}`];
  });
}

const toEngine = (answer: CellValue | CellValue[][], {toEngine: one, arrayToEngine}: ValueObjects) =>
  Array.isArray(answer) ? arrayToEngine(answer) : one(answer);

function answerOf({parameters, call}: WorksheetFunction, given: readonly Given[]): CellValue | CellValue[][] {
  const repeating = parameters.at(-1)?.repeating ? parameters.length - 1 : -1;
  const arrays: {index: number; rows: CellValue[][]}[] = [];
  const args = parameters.map(({dimensionality}, i): Argument | Argument[] => {
    const matrix = dimensionality === 'matrix';
    if (i === repeating) return given.slice(i).map((each) => argument(each, matrix));
    const one = argument(given[i], matrix);
    if (!matrix && Array.isArray(one)) arrays.push({index: i, rows: one});
    return one;
  });
  if (arrays.length === 0) return called(() => call(...args));

  // A single value is declared and several are given: Excel calls once for each, and the answers spill.
  const height = Math.max(...arrays.map(({rows}) => rows.length));
  const width = Math.max(...arrays.map(({rows}) => rows[0].length));
  return Array.from({length: height}, (_, r) =>
    Array.from({length: width}, (__, c): CellValue => {
      for (const {index, rows} of arrays) args[index] = pick(rows, r, c);
      const answer = called(() => call(...args));
      return Array.isArray(answer) ? answer[0][0] : answer;
    }),
  );
}

/** One row or one column goes with every row or column of the others; beyond its end there is nothing. */
function pick(rows: CellValue[][], r: number, c: number): CellValue {
  const row = rows.length === 1 ? rows[0] : rows[r];
  const value = row?.length === 1 ? row[0] : row?.[c];
  return value === undefined ? cellError('#N/A') : value;
}

function argument(given: Given, matrix: boolean): Argument {
  if (given === undefined || (!given.isReferenceObject() && !given.isArray() && (given as ValueObject).isNull()))
    return null;
  const rows = rowsFromEngine(given);
  for (const row of rows) {
    for (let i = 0; i < row.length; i++) row[i] = asArgument(row[i]);
  }
  return matrix ? rows : rows.length === 1 && rows[0].length === 1 ? rows[0][0] : rows;
}

/** Blank cells arrive as 0, errors as their code alone. */
function asArgument(value: CellValue): CellValue {
  if (value === null) return 0;
  return isError(value) ? {code: value.code} : value;
}

function called(call: () => unknown): CellValue | CellValue[][] {
  try {
    const answer = call();
    if (!Array.isArray(answer)) return toCell(answer);
    const width = Array.isArray(answer[0]) ? answer[0].length : 0;
    if (width === 0 || answer.some((row) => !Array.isArray(row) || row.length !== width)) {
      return fault('its answer is not a table of cells');
    }
    return (answer as unknown[][]).map((row) => row.map(toCell));
  } catch (error) {
    return error instanceof CustomFunctionsError
      ? toCell(error)
      : fault(error instanceof Error ? error.message : String(error));
  }
}

function toCell(value: unknown): CellValue {
  if (typeof value === 'string' || typeof value === 'boolean') return value;
  if (typeof value === 'number' && Number.isFinite(value)) return value === 0 ? 0 : value;
  if (value instanceof CustomFunctionsError) return cellError(value.code, value.message);
  // Excel would show 0 for these; here they must not pass for a figure.
  return fault(`it answers with ${String(value)} in a cell`);
}

const fault = (what: string): CellError =>
  cellError('#VALUE!', `a fault of this program, not of the workbook; please report it: ${what}`);
