/** Excel.WorksheetProtection and Excel.WorksheetFreezePanes. */
import {columnCount, rowCount, WHOLE_SHEET} from '../areas';
import {isGiven, number, OfficeObject, text, type Surrounding} from './officeObject';
import {OfficeProblem, present} from './problem';
import {Range} from './range';
import {Worksheet} from './worksheet';

abstract class SheetPart extends OfficeObject {
  constructor(
    surrounding: Surrounding,
    readonly sheetId: string,
  ) {
    super(surrounding);
  }
}

export class WorksheetProtection extends SheetPart {
  readonly officeType = 'WorksheetProtection';

  get #state() {
    return this.surrounding.book.state(this.sheetId).protection;
  }

  get protected(): boolean {
    return this.#state !== undefined;
  }

  get options(): unknown {
    return this.#state?.options ?? null;
  }

  protect(options: unknown, password: unknown): null {
    if (this.#state) throw new OfficeProblem('InvalidOperation', 'The sheet is protected already.');
    this.surrounding.book.setSheet(
      this.sheetId,
      {
        protection: {
          password: isGiven(password) ? text(password) : undefined,
          options: (options as Record<string, unknown> | null) ?? {},
        },
      },
      'sheet',
    );
    return null;
  }

  unprotect(password: unknown): null {
    const wanted = this.#state?.password;
    if (wanted !== undefined && wanted !== password) {
      throw new OfficeProblem('AccessDenied', 'The password is not the right one.');
    }
    this.surrounding.book.setSheet(this.sheetId, {protection: undefined}, 'sheet');
    return null;
  }
}

export class WorksheetFreezePanes extends SheetPart {
  readonly officeType = 'WorksheetFreezePanes';

  #freeze(frozenRows: number, frozenColumns: number): null {
    this.surrounding.book.setSheet(this.sheetId, {frozenRows, frozenColumns}, 'sheet');
    return null;
  }

  /** The rows above and the columns left of the end of the range stay in view. */
  freezeAt(given: unknown): null {
    const range = given instanceof Range ? given : new Worksheet(this.surrounding, this.sheetId).getRange(given);
    const {area} = range;
    return this.#freeze(range.isEntireColumn ? 0 : area.bottom + 1, range.isEntireRow ? 0 : area.right + 1);
  }

  freezeRows(count: unknown = 1): null {
    return this.#freeze(number(count), 0);
  }

  freezeColumns(count: unknown = 1): null {
    return this.#freeze(0, number(count));
  }

  unfreeze(): null {
    return this.#freeze(0, 0);
  }

  getLocation(): Range {
    return present(this.getLocationOrNullObject());
  }

  getLocationOrNullObject(): Range | null {
    const {frozenRows, frozenColumns} = this.surrounding.book.state(this.sheetId);
    if (frozenRows === 0 && frozenColumns === 0) return null;
    return new Range(this.surrounding, this.sheetId, {
      top: 0,
      left: 0,
      bottom: frozenRows === 0 ? rowCount(WHOLE_SHEET) - 1 : frozenRows - 1,
      right: frozenColumns === 0 ? columnCount(WHOLE_SHEET) - 1 : frozenColumns - 1,
    });
  }
}
