/** Turning ordinary formulas of a file into formulas that spill. */
import {parseArea, parseCell} from '../book/addresses';
import {dynamicMarks} from './dynamicMark';
import {textPart, workbookParts} from './parts';
import {patchWorkbook, sheetPath, type CellEdit} from './patch';
import {storedFormulas, type StoredFormulaCell} from './storedFormulas';
import {unpackZip} from './zip';

export interface DynamicCell {
  readonly sheet: string;
  /** Such as "R5". */
  readonly cell: string;
  /** The cells that its result fills, such as "R5:U5"; the cell alone by default. */
  readonly ref?: string;
}

/**
 * The file with ordinary formulas turned into formulas that spill, as Excel stores what is entered today. Stored as
 * ordinary ones, Excel would take one cell of each range in them.
 */
export function markDynamicArrays(bytes: Uint8Array, cells: readonly DynamicCell[]): Uint8Array {
  const parts = unpackZip(bytes);
  const book = workbookParts(parts);
  const isDynamic = dynamicMarks(parts, book);
  const bySheet = new Map<string, StoredFormulaCell[]>();
  const edits = cells.map(({sheet, cell, ref = cell}): CellEdit => {
    const at = parseCell(cell);
    const area = parseArea(ref);
    if (!at || !area) throw new RangeError(`${sheet}!${cell}: ${ref} is not the address of cells`);
    let stored = bySheet.get(sheet);
    if (!stored) bySheet.set(sheet, (stored = storedFormulas(textPart(parts, sheetPath(book, sheet)), isDynamic)));
    const formula = stored.find(({row, column}) => row === at.row && column === at.column);
    if (!formula) throw new RangeError(`${sheet}!${cell} has no formula to be marked`);
    return {sheet, ...at, value: formula.value, calculated: true, formula: {text: formula.text(), dynamic: true}, area};
  });
  return patchWorkbook(bytes, edits);
}
