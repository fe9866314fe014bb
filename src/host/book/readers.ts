/** Which formulas of an open workbook read which cells. */
import {Dependents, type Reader, type SheetArea} from '../formulas/dependents';
import {shifted} from '../formulas/references';
import {oneCell, type Place} from './addresses';
import type {FormulaState, Sheet} from './cellStates';
import type {Extent} from './extent';

export interface Readers {
  /** Where the formulas stand, by their number. */
  readonly places: readonly Place[];
  readonly dependents: Dependents;
}

export function readersOf(sheets: readonly Sheet[], extent: Extent): Readers {
  const places: Place[] = [];
  const readers: Reader[] = [];
  const all = everywhere(sheets, extent);
  for (const {name: sheet, cells, areas} of sheets) {
    for (const [at, {row, column, formula}] of cells) {
      if (!formula) continue;
      places.push({sheet, row, column});
      readers.push({
        shows: {sheet, area: areas.get(at) ?? oneCell(row, column)},
        reads: formula.translation.readsMore ? all : readBy(formula, row, column),
      });
    }
  }
  return {places, dependents: new Dependents(readers)};
}

const readBy = ({translation, origin}: FormulaState, row: number, column: number): SheetArea[] =>
  translation.reads.map((reference) => {
    const {sheet, ...area} = shifted(reference, row - origin.row, column - origin.column);
    return {sheet, area};
  });

/** What a formula may read whose references are only known when it is calculated. */
const everywhere = (sheets: readonly Sheet[], {rows, columns}: Extent): SheetArea[] =>
  sheets.map(({name: sheet}) => ({sheet, area: {top: 0, left: 0, bottom: rows - 1, right: columns - 1}}));

/** The cells of an array other than the one with its formula. */
export function withoutAnchor({sheet, area: {top, left, bottom, right}}: SheetArea): SheetArea[] {
  return [
    ...(right > left ? [{sheet, area: {top, left: left + 1, bottom: top, right}}] : []),
    ...(bottom > top ? [{sheet, area: {top: top + 1, left, bottom, right}}] : []),
  ];
}
