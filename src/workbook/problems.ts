/** What can go wrong with a workbook, in words for the person at it. */

/** A problem with its plain words; the pane shows them as they are. */
export class WorkbookProblem extends Error {
  /** @param code what Excel calls it */
  constructor(
    message: string,
    readonly code?: string,
  ) {
    super(message);
  }
}

/** Excel's error codes that a person can do something about. */
const WORDS: Readonly<Record<string, string>> = {
  AccessDenied: 'The sheet is protected. Take off its protection and try again.',
  InvalidOperationInCellEditMode: 'A cell is being edited. Press Enter or Esc in the sheet and try again.',
  ItemNotFound: 'What this refers to is no longer in the workbook. It may have been deleted or renamed.',
  InvalidReference: 'The cells that this refers to are no longer there.',
  ItemAlreadyExists: 'The name is taken already.',
  InsertDeleteConflict: 'Excel cannot insert cells there, because other cells would be pushed off the sheet.',
  RequestAborted: 'Excel ended the request. Try again.',
  Busy: 'Excel is busy. Try again in a moment.',
};

/** A problem, and behind it what has become of the cells. */
export const withSequel = (error: unknown, sequel: string): WorkbookProblem => {
  const {message, code} = asProblem(error);
  return new WorkbookProblem(`${message}${/[.!?]$/.test(message) ? '' : '.'} ${sequel}`, code);
};

/** Any error as one with plain words; what Excel said is added where nothing better is known. */
export function asProblem(error: unknown): WorkbookProblem {
  if (error instanceof WorkbookProblem) return error;
  const {code, message} = error as {code?: string; message?: string};
  const known = code === undefined ? undefined : WORDS[code];
  return new WorkbookProblem(known ?? `Excel could not do this: ${message ?? String(error)}`, code);
}
