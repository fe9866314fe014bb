/** Corrections of the engine. */
import {cellError} from '../book/cells';
import {packedFailure} from '../formulas/packing';
import type {Injector, UniverFormula, UniverLibrary, Workbook} from './univerLibrary';
import {valueObjects} from './valueObjects';

const corrected = new WeakSet<object>();

/** CellValueType.STRING of the engine. */
const TEXT = 1;

/** A cell with an empty text, which the engine does not take for a blank one because it seems to have a formula. */
const EMPTY_TEXT = {v: '', t: TEXT, f: '='};

/** What the engine does wrong or slowly, put right once for each loaded library. */
export function correctEngine({BaseReferenceObject, CELL_INVERTED_INDEX_CACHE: index}: UniverFormula): void {
  if (corrected.has(BaseReferenceObject)) return;
  corrected.add(BaseReferenceObject);

  // The engine keeps an index of the values of every column, whose upkeep is quadratic in the number of rows.
  index.set = () => undefined;
  index.setContinueBuildingCache = () => undefined;

  // A formula that gives "" leaves a text: to a formula that reads the cell it is not blank, and not 0.
  const references = BaseReferenceObject.prototype as {getCellData: CellReader};
  const getCellData = references.getCellData;
  references.getCellData = function (row, column) {
    const cell = getCellData.call(this, row, column);
    return cell && cell.v === '' && cell.t === TEXT ? EMPTY_TEXT : cell;
  };
}

type CellReader = (
  this: unknown,
  row: number,
  column: number,
) => {v?: unknown; t?: number | null; f?: string} | null | undefined;

/**
 * Hidden rows are asked for before every calculation, and the engine looks at all 1,048,576 of each sheet: those beyond
 * the last cell and the last row with a height of its own are visible.
 */
export function seekFewHiddenRows({core, formula}: UniverLibrary, injector: Injector): void {
  const instances = injector.get(core.IUniverInstanceService);
  injector.get(formula.FormulaDataModel).getHiddenRowsFiltered = () =>
    Object.fromEntries(
      instances
        .getAllUnitsForType<Workbook>(core.UniverInstanceType.UNIVER_SHEET)
        .map((book) => [
          book.getUnitId(),
          Object.fromEntries(book.getSheets().map((sheet) => [sheet.getSheetId(), hiddenRows(sheet)])),
        ]),
    );
}

function hiddenRows(sheet: ReturnType<Workbook['getSheets']>[number]): Record<number, {hd: number}> {
  const hidden: Record<number, {hd: number}> = {};
  const ownHeight = Object.keys(sheet.getRowManager().getRowData()).map(Number);
  const last = Math.max(sheet.getLastRowWithContent(), ...ownHeight.slice(-1));
  for (let row = 0; row <= last; row++) if (!sheet.getRowVisible(row)) hidden[row] = {hd: 1};
  return hidden;
}

const guarded = new WeakSet<object>();

/** An exception within the engine would leave its calculation without an end: it becomes an error in its cell. */
export function guardEngine(formula: UniverFormula, injector: Injector): void {
  if (guarded.has(injector)) return;
  guarded.add(injector);
  const {AstTreeBuilder, Interpreter, Lexer} = formula;
  const {toEngine} = valueObjects(formula);
  const said = (error: unknown): string =>
    `the calculation engine fails on this formula: ${error instanceof Error ? error.message : String(error)}`;

  const interpreter = injector.get(Interpreter);
  const execute = interpreter.execute.bind(interpreter);
  interpreter.execute = (node) => {
    try {
      return execute(node);
    } catch (error) {
      return toEngine(cellError('#VALUE!', said(error)));
    }
  };

  const lexer = injector.get(Lexer);
  const read = lexer.treeBuilder.bind(lexer);
  const failure = (error: unknown) => read(`=${packedFailure('#VALUE!', said(error))}`);
  lexer.treeBuilder = (text, ...rest) => {
    try {
      return read(text, ...rest);
    } catch (error) {
      return failure(error);
    }
  };

  const builder = injector.get(AstTreeBuilder);
  const parse = builder.parse.bind(builder);
  builder.parse = (tree) => {
    try {
      return parse(tree);
    } catch (error) {
      return parse(failure(error) as typeof tree);
    }
  };
}
