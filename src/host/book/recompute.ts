/** Recalculating a workbook file: the cells of the worksheet functions, and what depends on them, get new values. */
import type {Engine} from '../engine/start';
import {storedError} from '../files/cellXml';
import {patchWorkbook, type CellEdit} from '../files/patch';
import {areaAddress, cellKey, placeAddress, sheetPrefix, type Area} from './addresses';
import {isError, plainMessage, sameValue, type CellValue} from './cells';
import type {Book} from './content';
import {openBook, type FormulaCell, type Workbook} from './workbook';

export interface Recomputed {
  /** The new file. */
  readonly bytes: Uint8Array;
  /** Formulas that call a worksheet function of ours. */
  readonly ours: number;
  /** Other formulas that depend on these. */
  readonly dependents: number;
  /** Cells that show something else than before. */
  readonly changed: number;
  /** Errors that the formulas give, cells of one row with the same error together. */
  readonly errors: readonly {readonly address: string; readonly code: string; readonly message: string}[];
  /** Formulas that this host cannot calculate, and why. Their stored values are kept. */
  readonly kept: readonly {readonly address: string; readonly reason: string}[];
}

/** Which formulas are calculated: those of ours and what depends on them, or each of the workbook. */
export type Reach = 'ours' | 'all';

/**
 * The workbook with the cells of the worksheet functions, and all that depends on them, calculated anew. Nothing else in
 * the file changes.
 * @param book the content of the file, from `readWorkbook`
 */
export async function recompute(
  bytes: Uint8Array,
  book: Book,
  engine: Engine,
  reach: Reach = 'ours',
): Promise<Recomputed> {
  const workbook = await openBook(book, engine);
  try {
    const formulas = reach === 'all' ? [...workbook.formulas()] : concerned(workbook);
    const {edits, changed} = changes(
      workbook,
      book,
      formulas.filter(({kept}) => kept === undefined),
    );
    const ours = formulas.filter((formula) => formula.ours).length;
    return {
      bytes: edits.length === 0 ? bytes : patchWorkbook(bytes, edits),
      ours,
      dependents: formulas.length - ours,
      changed,
      errors: formulas.flatMap((formula) => (formula.kept === undefined ? errors(workbook, formula) : [])),
      kept: formulas.flatMap((formula) =>
        formula.kept === undefined ? [] : [{address: placeAddress(formula), reason: formula.kept}],
      ),
    };
  } finally {
    workbook.dispose();
  }
}

/** Formulas of ours and what depends on them. */
function concerned(workbook: Workbook): FormulaCell[] {
  const formulas = [...workbook.formulas()];
  const seeds = formulas
    .filter(({ours}) => ours)
    .flatMap(({sheet, area, storedArea}) =>
      [area, ...(storedArea ? [storedArea] : [])].map((each) => ({sheet, area: each})),
    );
  const dependents = new Set(workbook.dependents(seeds).map(placeAddress));
  return formulas.filter((formula) => formula.ours || dependents.has(placeAddress(formula)));
}

function changes(
  workbook: Workbook,
  book: Book,
  formulas: readonly FormulaCell[],
): {edits: CellEdit[]; changed: number} {
  const edits: CellEdit[] = [];
  let changed = 0;
  for (const {name: sheet, cells, arrayValues} of book.sheets) {
    const now = new Map<number, CellValue>();
    for (const {row, column, value} of workbook.values(sheet)) now.set(cellKey(row, column), value);
    const before = new Map(arrayValues.map(({row, column, value}) => [cellKey(row, column), value]));
    // Cells with a content of their own are never written for another cell's array.
    const own = new Set(cells.map(({row, column}) => cellKey(row, column)));
    const done = new Set<number>();
    const compare = (row: number, column: number, stored: CellValue, area?: Area): void => {
      const key = cellKey(row, column);
      const value = now.get(key) ?? null;
      const differs = !sameValue(asStored(value), asStored(stored));
      if (done.has(key) || (!area && !differs)) return;
      done.add(key);
      if (differs) changed++;
      edits.push({sheet, row, column, value, calculated: true, area});
    };
    for (const formula of formulas) {
      if (formula.sheet !== sheet) continue;
      const {row, column, kind, stored, storedArea, area} = formula;
      const resized = kind === 'dynamic' && areaAddress(area) !== areaAddress(storedArea ?? area);
      compare(row, column, stored, resized ? area : undefined);
      for (const each of storedArea && resized ? [area, storedArea] : [area]) {
        for (const [r, c] of cellsBesides(each, row, column)) {
          if (!own.has(cellKey(r, c))) compare(r, c, before.get(cellKey(r, c)) ?? null);
        }
      }
    }
  }
  return {edits, changed};
}

function* cellsBesides({top, left, bottom, right}: Area, row: number, column: number): Iterable<[number, number]> {
  for (let r = top; r <= bottom; r++) {
    for (let c = left; c <= right; c++) if (r !== row || c !== column) yield [r, c];
  }
}

const asStored = (value: CellValue): CellValue => (isError(value) ? {code: storedError(value.code)} : value);

function errors(workbook: Workbook, {sheet, area}: FormulaCell): {address: string; code: string; message: string}[] {
  const found: {address: string; code: string; message: string}[] = [];
  for (let row = area.top; row <= area.bottom; row++) {
    for (let column = area.left; column <= area.right; column++) {
      const value = workbook.at(sheet, row, column);
      if (!isError(value)) continue;
      const {code, message = plainMessage(value.code)} = value;
      let last = column;
      while (last < area.right && same(workbook.at(sheet, row, last + 1), value)) last++;
      const address = sheetPrefix(sheet) + areaAddress({top: row, left: column, bottom: row, right: last});
      found.push({address, code, message});
      column = last;
    }
  }
  return found;
}

const same = (a: CellValue, b: CellValue): boolean =>
  isError(a) && isError(b) && a.code === b.code && a.message === b.message;
