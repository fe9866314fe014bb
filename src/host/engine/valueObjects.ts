/** Values of the host ⇄ value objects of the engine. */
import {cellError, isError, type CellValue} from '../book/cells';
import type {UniverFormula, ValueObject, Variant} from './univerLibrary';

export interface ValueObjects {
  /** The engine's object for a value. A blank becomes an empty text: what a formula gives is never blank. */
  readonly toEngine: (value: CellValue) => ValueObject;
  readonly arrayToEngine: (rows: readonly (readonly CellValue[])[]) => ValueObject;
}

/** The engine knows these codes; any other error is shown as #VALUE!. */
const CODES = new Set(['#DIV/0!', '#N/A', '#NAME?', '#NULL!', '#NUM!', '#REF!', '#VALUE!', '#SPILL!', '#CALC!']);

export function valueObjects({
  ArrayValueObject,
  BooleanValueObject,
  ErrorValueObject,
  NumberValueObject,
  StringValueObject,
}: UniverFormula): ValueObjects {
  type Code = Parameters<typeof ErrorValueObject.create>[0];
  const toEngine = (value: CellValue): ValueObject => {
    if (typeof value === 'number') return NumberValueObject.create(value);
    if (typeof value === 'boolean') return BooleanValueObject.create(value);
    // Through the class itself: the engine's factory would make a number of "5%" and a boolean of "TRUE".
    if (typeof value === 'string') return StringValueObject.create(value);
    if (!isError(value)) return StringValueObject.create('');
    return ErrorValueObject.create((CODES.has(value.code) ? value.code : '#VALUE!') as Code, value.message ?? '');
  };
  const arrayToEngine = (rows: readonly (readonly CellValue[])[]): ValueObject =>
    ArrayValueObject.create({
      calculateValueList: rows.map((row) => row.map(toEngine)),
      rowCount: rows.length,
      columnCount: rows[0].length,
      unitId: '',
      sheetId: '',
      row: -1,
      column: -1,
    });
  return {toEngine, arrayToEngine};
}

interface ErrorObject {
  getErrorType(): string;
  getErrorContent(): string;
}

interface ArrayObject {
  getArrayValue(): (ValueObject | null)[][];
  getRowCount(): number;
  getColumnCount(): number;
}

/** What an object of the engine stands for; a blank is null. */
export function fromEngine(object: ValueObject | null | undefined): CellValue {
  if (object === null || object === undefined || object.isNull()) return null;
  if (object.isError()) {
    const error = object as unknown as ErrorObject;
    // "#ERROR!" and the like are the engine's own; a workbook does not know them.
    const code = error.getErrorType();
    return cellError(CODES.has(code) ? code : '#VALUE!', error.getErrorContent());
  }
  if (object.isLambda()) return cellError('#CALC!', 'a LAMBDA that is not called has no value');
  const value = object.getValue();
  if (typeof value === 'number') return Number.isFinite(value) ? value : cellError('#NUM!');
  return value as CellValue;
}

/** The rows of a value, an array or a reference. */
export function rowsFromEngine(variant: Variant): CellValue[][] {
  const object = (variant.isReferenceObject() ? referenceToArray(variant) : variant) as ValueObject;
  if (!object.isArray()) return [[fromEngine(object)]];
  const array = object as unknown as ArrayObject;
  const width = array.getColumnCount();
  // Indexed: blank cells may be missing from a row.
  return array.getArrayValue().map((row) => Array.from({length: width}, (_, j) => fromEngine(row?.[j])));
}

const referenceToArray = (variant: Variant): ValueObject =>
  (variant as unknown as {toArrayValueObject(useCache: boolean): ValueObject}).toArrayValueObject(false);
