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
