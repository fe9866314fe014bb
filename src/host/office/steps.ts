/** Edits of the workbook, and the steps in which a user undoes them. */

/** One change that can be taken back. */
export interface Edit {
  readonly apply: () => void;
  readonly revert: () => void;
}

/** What a user undoes and redoes as one. The workbook has to be calculated afterwards. */
export class Step {
  constructor(private readonly edits: readonly Edit[]) {}

  undo(): void {
    for (const {revert} of [...this.edits].reverse()) revert();
  }

  redo(): void {
    for (const {apply} of this.edits) apply();
  }
}
