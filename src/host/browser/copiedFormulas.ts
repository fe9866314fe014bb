/**
 * Formulas that were copied within the grid. It copies what the engine has of them; here they are found again as they were
 * written, with names of tables and all, and brought to their new place.
 */
import {translateFormulaToA1, translateFormulaToR1C1} from '@borgar/fx';
import {cellAddress, type Place} from '../book/addresses';
import type {Calculation} from '../book/calculation';
import type {CellFormula} from '../book/content';
import type {Translation} from '../formulas/surroundings';

const addressOf = ({row, column}: Place): string => cellAddress(row, column);

/** The formula as written that the engine has as `text` when it stands at a place; undefined when there is none like it. */
export function writtenAt(calculation: Calculation, text: string, at: Place): CellFormula | undefined {
  const wanted = relative(text, at);
  const seen = new Set<Translation>();
  for (const {name: sheet, cells} of calculation.sheets) {
    for (const {row, column, formula} of cells.values()) {
      if (!formula || seen.has(formula.translation)) continue;
      seen.add(formula.translation);
      if (relative(formula.translation.text, formula.origin) !== wanted) continue;
      const own = relative(formula.content.text, {sheet, row, column});
      const kind = formula.content.kind === 'plain' ? 'plain' : 'dynamic';
      return {text: translateFormulaToA1(own, addressOf(at)), kind};
    }
  }
  return undefined;
}

const relative = (formula: string, at: Place): string =>
  translateFormulaToR1C1(formula.replace(/^=/, ''), addressOf(at));
