/** Edits of the workbook, and the steps in which a user undoes them. */

import {around} from './areas';
import type {CellsOf} from './state';

/** One change that can be taken back. */
export interface Edit {
  readonly apply: () => void;
  readonly revert: () => void;
  /** The cells whose contents it changes. */
  readonly cells?: CellsOf;
}

/** What a user undoes and redoes as one. The workbook has to be calculated afterwards. */
export class Step {
  /** @param tell told of the cells whose contents undoing or redoing has changed */
  constructor(
    private readonly edits: readonly Edit[],
    private readonly tell: (cells: CellsOf) => void,
  ) {}

  undo(): void {
    for (const {revert} of [...this.edits].reverse()) revert();
    this.#tellOfCells();
  }

  redo(): void {
    for (const {apply} of this.edits) apply();
    this.#tellOfCells();
  }

  /** Once for each sheet. */
  #tellOfCells(): void {
    const touched = new Map<string, CellsOf>();
    for (const {cells} of this.edits) {
      if (!cells) continue;
      const before = touched.get(cells.sheetId);
      touched.set(cells.sheetId, before ? {...before, area: around(before.area, cells.area)} : cells);
    }
    touched.forEach((cells) => this.tell(cells));
  }
}
