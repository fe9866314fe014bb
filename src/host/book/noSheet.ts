/** A sheet that is asked for and not, or no longer, in the workbook. */
export class NoSheetProblem extends RangeError {
  constructor(id: string) {
    super(`there is no sheet with the id ${id}`);
  }
}
