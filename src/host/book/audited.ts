/** Checking a workbook with what the engine calculates. */
import {check, type Checked} from '../../audit/check';
import type {Calculated} from '../../audit/context';
import type {Engine} from '../engine/start';
import {cellKey, oneCell, placeAddress} from './addresses';
import type {Book} from './content';
import {openBook, type FormulaCell, type Workbook} from './workbook';

/** Checks the content of a file, from `readWorkbook`. */
export async function checkBook(book: Book, engine: Engine): Promise<Checked> {
  const workbook = await openBook(book, engine);
  try {
    return check(book, {calculated: calculatedBy(workbook)});
  } finally {
    workbook.dispose();
  }
}

/** Functions that give something else whenever they are calculated. */
const CHANGING = /\b(?:NOW|TODAY|RAND|RANDBETWEEN|RANDARRAY)\s*\(/i;

function calculatedBy(workbook: Workbook): Calculated {
  const formulas = new Map<string, Map<number, FormulaCell>>(workbook.sheets.map((sheet) => [sheet, new Map()]));
  const changing: FormulaCell[] = [];
  for (const formula of workbook.formulas()) {
    formulas.get(formula.sheet)!.set(cellKey(formula.row, formula.column), formula);
    if (CHANGING.test(formula.formula)) changing.push(formula);
  }
  const moving = new Set(
    workbook.dependents(changing.map(({sheet, area}) => ({sheet, area}))).map((place) => placeAddress(place)),
  );
  return {
    at: ({sheet, row, column}) => workbook.at(sheet, row, column),
    area: ({sheet, row, column}) => formulas.get(sheet)?.get(cellKey(row, column))?.area ?? oneCell(row, column),
    cells: (place) => {
      const {sheet, row, column} = place;
      const formula = formulas.get(sheet)?.get(cellKey(row, column));
      if (!formula) return {unknown: 'it is no formula'};
      if (formula.kept !== undefined) return {unknown: formula.kept};
      if (moving.has(placeAddress(place))) return {unknown: 'it depends on today’s date or a random number'};
      const {top, left, bottom, right} = formula.area;
      return Array.from({length: bottom - top + 1}, (_, r) =>
        Array.from({length: right - left + 1}, (__, c) => workbook.at(sheet, top + r, left + c)),
      );
    },
  };
}
