/** Requests to Excel: every access to the workbook goes through here. */
import {asProblem} from './problems';

/**
 * Runs one batch of requests. While somebody types into a cell it waits, where Excel can.
 * @throws WorkbookProblem with plain words
 */
export async function batch<T>(requests: (context: Excel.RequestContext) => Promise<T>): Promise<T> {
  try {
    return await Excel.run({delayForCellEdit: true}, requests);
  } catch (error) {
    throw asProblem(error);
  }
}

/** Whether Excel can undo several requests in one step. */
export const mergesUndo = (): boolean => Office.context?.requirements?.isSetSupported('ExcelApi', '1.20') === true;

/**
 * Runs requests that the person can undo in one step, however often they are sent, where Excel can do that.
 * @throws WorkbookProblem with plain words
 */
export async function undoableBatch<T>(requests: (context: Excel.RequestContext) => Promise<T>): Promise<T> {
  if (!mergesUndo()) return batch(requests);
  try {
    return await Excel.run({mergeUndoGroup: true, delayForCellEdit: true}, requests);
  } catch (error) {
    throw asProblem(error);
  }
}
