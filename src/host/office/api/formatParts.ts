/** What parts of a range's format have in common. */
import type {Area} from '../../book/addresses';
import type {CellLook} from '../../files/looks';
import {isWholeColumns, isWholeRows} from '../areas';
import type {LookChange} from '../lookChange';
import {OfficeObject, text, type Surrounding} from './officeObject';
import {invalid} from './problem';

/** The cells whose format it is. */
export interface FormattedCells {
  readonly surrounding: Surrounding;
  readonly sheetId: string;
  readonly area: Area;
}

/** Looks of an area, at most so many cells of it: what is asked is whether they agree. */
export const MOST_COMPARED = 10_000;

function* looksOf({surrounding, sheetId, area}: FormattedCells): Iterable<CellLook> {
  const {book} = surrounding;
  const bottom = isWholeColumns(area) ? area.top : area.bottom;
  const right = isWholeRows(area) ? area.left : area.right;
  let count = 0;
  for (let row = area.top; row <= bottom; row++) {
    for (let column = area.left; column <= right; column++) {
      if (count++ > MOST_COMPARED) return;
      yield book.look(sheetId, row, column);
    }
  }
}

/** What all cells have; null when they differ. */
export function same<T>(cells: FormattedCells, read: (look: CellLook) => T): T | null {
  let first: {value: T} | undefined;
  for (const look of looksOf(cells)) {
    const value = read(look);
    if (first && first.value !== value) return null;
    first ??= {value};
  }
  return first ? first.value : null;
}

export abstract class FormatPart extends OfficeObject {
  constructor(readonly cells: FormattedCells) {
    super(cells.surrounding);
  }

  /** What all cells of the range have; null when they differ. */
  protected read<T>(of: (look: CellLook) => T): T | null {
    return same(this.cells, of);
  }

  protected change(change: LookChange): void {
    const {sheetId, area} = this.cells;
    this.mayChange(sheetId);
    this.surrounding.book.setLook(sheetId, area, change);
    this.surrounding.book.raise({kind: 'format', sheetId, area});
  }
}

export const BLACK = '#000000';
export const WHITE = '#FFFFFF';

/** What is no color is refused. */
const COLOR = /^#[0-9a-f]{6}$/i;
const NAMED_COLORS: Readonly<Record<string, string>> = {
  black: '#000000',
  white: '#FFFFFF',
  red: '#FF0000',
  green: '#008000',
  blue: '#0000FF',
  yellow: '#FFFF00',
  gray: '#808080',
  grey: '#808080',
  orange: '#FFA500',
};

/** @throws OfficeProblem when it is no color */
export function color(given: unknown): string {
  const written = text(given);
  const found = COLOR.test(written) ? written.toUpperCase() : NAMED_COLORS[written.toLowerCase()];
  if (!found) throw invalid();
  return found;
}
