/** Changes of cells in a workbook file, which leave every other part of it, byte for byte, as it was. */
import {areaAddress, within, type Area} from '../book/addresses';
import type {CellValue} from '../book/cells';
import type {CellChange, StoredFormula} from './cellXml';
import {dynamicMark, dynamicMarks} from './dynamicMark';
import {removePart, setTextPart, textPart, workbookParts, type WorkbookParts} from './parts';
import {FileProblem} from './problems';
import {changedSheet} from './sheetXml';
import {storedFormulas, type StoredFormulaCell} from './storedFormulas';
import {packZip, unpackZip, type Parts} from './zip';

export interface CellEdit {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  /** What the cell shows. */
  readonly value: CellValue;
  /** The value comes from a formula, this cell's or that of a cell whose array it shows. */
  readonly calculated?: boolean;
  /** A new formula in the words of the file format (see `storedFormula`), or null for none. Left out, nothing changes. */
  readonly formula?: {readonly text: string; readonly dynamic: boolean} | null;
  /** The cells that the array of this cell fills. */
  readonly area?: Area | undefined;
  /** The number of another style. */
  readonly style?: number | undefined;
  /** What the cell holds stays as it is; only its style is another. */
  readonly keepsContent?: boolean;
}

/** The file with its cells changed. */
export function patchWorkbook(bytes: Uint8Array, edits: readonly CellEdit[]): Uint8Array {
  const parts = unpackZip(bytes);
  patchParts(parts, edits);
  return packZip(parts);
}

/** The same within parts that are changed in other ways too. */
export function patchParts(parts: Parts, edits: readonly CellEdit[]): void {
  const book = workbookParts(parts);
  const isDynamic = dynamicMarks(parts, book);
  let mark: number | undefined;
  const marked = (): number => (mark ??= dynamicMark(parts, book));
  for (const [path, ofSheet] of bySheet(book, edits)) {
    const xml = textPart(parts, path);
    const stored = ofSheet.some(touchesFormulas) ? storedFormulas(xml, isDynamic) : [];
    ofSheet.forEach((edit) => refusePartOfArray(edit, stored));
    const changes = new Map<number, Map<number, CellChange>>();
    const put = (row: number, column: number, change: CellChange): void => {
      if (!changes.has(row)) changes.set(row, new Map());
      changes.get(row)!.set(column, change);
    };
    for (const edit of ofSheet) {
      for (const cell of orphans(edit, stored)) {
        put(cell.row, cell.column, {value: cell.value, calculated: true, formula: {text: cell.text()}});
      }
    }
    for (const edit of ofSheet) put(edit.row, edit.column, changeOf(edit, marked));
    setTextPart(parts, path, changedSheet(xml, changes));
  }
  // An order of calculation that names cells without a formula counts as damage; Excel makes a new one.
  if (book.calcChain !== undefined && edits.some(({formula}) => formula !== undefined)) {
    removePart(parts, book, book.calcChain);
  }
}

const touchesFormulas = ({formula, calculated = false, keepsContent = false}: CellEdit): boolean =>
  formula !== undefined || (!calculated && !keepsContent);

function bySheet(book: WorkbookParts, edits: readonly CellEdit[]): Map<string, CellEdit[]> {
  const found = new Map<string, CellEdit[]>();
  for (const edit of edits) {
    const path = sheetPath(book, edit.sheet);
    if (!found.has(path)) found.set(path, []);
    found.get(path)!.push(edit);
  }
  return found;
}

/** The part of a sheet, by its name. */
export function sheetPath({sheets}: WorkbookParts, name: string): string {
  const sheet = sheets.find((one) => one.name === name);
  if (!sheet) throw new RangeError(`the workbook has no sheet ${name}`);
  return sheet.path;
}

function changeOf(edit: CellEdit, mark: () => number): CellChange {
  const {row, column, value, calculated = false, formula, area, style, keepsContent} = edit;
  const ref = areaAddress(area ?? {top: row, left: column, bottom: row, right: column});
  if (!formula) return {value, calculated, formula, ref: area && ref, style, keepsContent};
  const stored: StoredFormula = {text: formula.text, ...(formula.dynamic ? {dynamic: {ref, metadata: mark()}} : {})};
  return {value, calculated, formula: stored, style};
}

/** As in Excel, an array of fixed size is changed as a whole or not at all. */
function refusePartOfArray(edit: CellEdit, stored: readonly StoredFormulaCell[]): void {
  if (!touchesFormulas(edit)) return;
  const array = stored.find(({fixed}) => fixed && within(fixed, edit.row, edit.column) && !isOneCell(fixed));
  if (array) {
    const where = `${edit.sheet}!${areaAddress(array.fixed!)}`;
    throw new FileProblem(`has an array formula in ${where}, a part of which cannot be changed`);
  }
}

const isOneCell = ({top, left, bottom, right}: Area): boolean => top === bottom && left === right;

/** Cells that share the formula of this one, when it gets another: each needs its own text then. */
function orphans({row, column, formula}: CellEdit, stored: readonly StoredFormulaCell[]): readonly StoredFormulaCell[] {
  if (formula === undefined) return [];
  const master = stored.find((cell) => cell.row === row && cell.column === column && cell.master);
  return master ? stored.filter((cell) => cell !== master && cell.shared === master.shared) : [];
}
