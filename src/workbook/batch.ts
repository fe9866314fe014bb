/** Requests to Excel: every access to the workbook goes through here. */
import {asProblem} from './problems';

/**
 * Runs one batch of requests.
 * @throws WorkbookProblem with plain words
 */
export async function batch<T>(requests: (context: Excel.RequestContext) => Promise<T>): Promise<T> {
  try {
    return await Excel.run(requests);
  } catch (error) {
    throw asProblem(error);
  }
}
