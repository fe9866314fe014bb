/** What stands over cells, and the units that it names. */
import type {Reference} from '../host/formulas/references';
import type {IndexedBook} from './indexed';

export type Unit = 'mm' | 'in' | 'g' | 'oz';

/** Rows looked up for a heading. */
const FARTHEST = 2000;

/** The heading over a range: of its table's first column, the nearest text above, or for a single cell that to its left. */
export function headingOf({sheet, top, left, bottom, right}: Reference, index: Headed): string | undefined {
  const table = index.book.tables.find(
    ({sheet: its, area}) =>
      its === sheet && left >= area.left && left <= area.right && top >= area.top && top <= area.bottom,
  );
  if (table) return table.columns[left - table.area.left];
  for (let row = top - 1; row >= Math.max(0, top - FARTHEST); row--) {
    const value = index.shown({sheet, row, column: left});
    if (typeof value === 'string' && value.trim() !== '' && !index.cell({sheet, row, column: left})?.formula)
      return value;
  }
  if (top !== bottom || left !== right || left === 0) return undefined;
  const label = index.shown({sheet, row: top, column: left - 1});
  return typeof label === 'string' ? label : undefined;
}

type Headed = Pick<IndexedBook, 'book' | 'shown' | 'cell'>;

/** A unit stands at the end or in brackets: "Runout mm", "Limit (in)". The word "in" elsewhere is no unit. */
const UNITS: readonly (readonly [Unit, RegExp])[] = [
  ['mm', /\bmm\b|\bmillimet(?:er|re)s?\b/i],
  ['in', /[\s([,]in\.?(?:[)\]]|\s*$)|\binch(?:es)?\b/],
  ['g', /[\s([,]g(?:[)\]]|\s*$)|\bgrams?\b/],
  ['oz', /\boz\b|\bounces?\b/i],
];

/** The units that a heading names. */
export function unitsOf(heading: string): readonly Unit[] {
  return UNITS.filter(([, pattern]) => pattern.test(heading)).map(([unit]) => unit);
}
