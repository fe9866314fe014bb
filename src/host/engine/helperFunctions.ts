/** The helper functions that translated formulas call. */
import {cellError, type CellValue} from '../book/cells';
import {HELPERS, unpack} from '../formulas/packing';
import type {FunctionClass, UniverFormula, ValueObject, Variant} from './univerLibrary';
import {fromEngine, valueObjects} from './valueObjects';

type Answer = ReturnType<UniverFormula['BaseFunction']['prototype']['calculate']>;

export function helperFunctionClasses(formula: UniverFormula): FunctionClass[] {
  const {toEngine, arrayToEngine} = valueObjects(formula);

  /** The packed text of an argument, untouched by the engine. */
  abstract class Packed extends formula.BaseFunction {
    override minParams = 1;
    override maxParams = 1;

    override isArgumentsIgnoreNumberPattern(): boolean {
      return true;
    }

    override calculate(packed: Variant): Answer {
      return this.made(unpack(String(fromEngine(packed as ValueObject)))) as Answer;
    }

    protected abstract made(value: unknown): ValueObject;
  }

  class Constant extends Packed {
    protected made(value: unknown): ValueObject {
      return Array.isArray(value) ? arrayToEngine(value as CellValue[][]) : toEngine(value as CellValue);
    }
  }

  class Fail extends Packed {
    protected made(value: unknown): ValueObject {
      const [code, message] = value as [string, string];
      return toEngine(cellError(code, message));
    }
  }

  class Single extends formula.BaseFunction {
    override minParams = 1;
    override maxParams = 1;
    override needsReferenceObject = true;

    override calculate(of: Variant): Answer {
      return single(of, this.row, this.column, toEngine) as Answer;
    }
  }

  class Spill extends formula.BaseFunction {
    override minParams = 1;
    override maxParams = 1;
    override needsReferenceObject = true;

    override calculate(of: Variant): Answer {
      if (!of.isReferenceObject())
        return toEngine(cellError('#REF!', '# wants the cell of a formula that spills')) as Answer;
      const reference = of as Reference;
      const {startRow: row, startColumn: column, endRow, endColumn} = reference.getRangePosition();
      if (row !== endRow || column !== endColumn) {
        return toEngine(cellError('#REF!', '# wants one cell, not a range')) as Answer;
      }
      const range =
        reference.getCurrentRuntimeActiveArrayFormulaRange()?.[row]?.[column] ??
        reference.getCurrentActiveArrayFormulaRange()?.[row]?.[column];
      if (!range) return toEngine(cellError('#REF!', '# wants a cell whose formula spills')) as Answer;
      const spilled = new formula.RangeReferenceObject(range, reference.getSheetId(), reference.getUnitId());
      spilled.setDefaultSheetId(reference.getDefaultSheetId());
      spilled.setDefaultUnitId(reference.getDefaultUnitId());
      return spilled as unknown as Answer;
    }
  }

  return [
    [Constant, HELPERS.constant],
    [Fail, HELPERS.fail],
    [Single, HELPERS.single],
    [Spill, HELPERS.spill],
  ] as unknown as FunctionClass[];
}

type Reference = InstanceType<UniverFormula['RangeReferenceObject']>;

/**
 * The one value that belongs to a cell, of several: from a reference the cell in the same row or column, from an array
 * the first.
 */
export function single(
  of: Variant,
  row: number,
  column: number,
  toEngine: (value: CellValue) => ValueObject,
): ValueObject {
  if (!of.isReferenceObject()) {
    return of.isArray()
      ? ((of as unknown as {getFirstCell(): ValueObject}).getFirstCell() ?? toEngine(0))
      : (of as ValueObject);
  }
  const reference = of as Reference;
  const {startRow, startColumn, endRow, endColumn} = reference.getRangePosition();
  const r = startRow === endRow ? startRow : row;
  const c = startColumn === endColumn ? startColumn : column;
  if (r < startRow || r > endRow || c < startColumn || c > endColumn) {
    return toEngine(
      cellError('#VALUE!', 'one value is wanted, and the range has no cell in the row or column of the formula'),
    );
  }
  const cell = reference.getCellData(r, c);
  return cell ? reference.getCellValueObject(cell) : toEngine(0);
}
