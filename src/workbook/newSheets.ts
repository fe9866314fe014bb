/** Adding sheets that are then filled: all of them, or none. */
import {withSequel} from './problems';

interface Added {
  readonly name: string;
  readonly id: string;
}

/**
 * Adds sheets at the end and has them filled. When that fails they are taken away again, so that the next attempt finds
 * the workbook as it was; a sheet of that name that somebody else has added meanwhile stays.
 * @param fill sends its requests itself
 * @throws WorkbookProblem that says what has become of the sheets
 */
export async function withNewSheets<T>(
  context: Excel.RequestContext,
  names: readonly string[],
  fill: (sheets: readonly Excel.Worksheet[]) => Promise<T>,
): Promise<T> {
  const {worksheets} = context.workbook;
  const added: Added[] = [];
  /** Asked for last: without an answer it may be there or not. */
  let unanswered: string | undefined;
  try {
    for (const name of names) {
      unanswered = name;
      const sheet = worksheets.add(name);
      sheet.load('id');
      await context.sync();
      added.push({name, id: sheet.id});
      unanswered = undefined;
    }
    // By its id a sheet is found even when somebody renames it.
    return await fill(added.map(({id}) => worksheets.getItem(id)));
  } catch (error) {
    const isTaken = (error as {code?: string}).code === 'ItemAlreadyExists';
    throw withSequel(error, sequel(await takeAway(context, added, isTaken ? undefined : unanswered)));
  }
}

/** Takes added sheets away again, and one that may have been added if it is empty; names of those that may be left. */
async function takeAway(
  context: Excel.RequestContext,
  added: readonly Added[],
  unanswered: string | undefined,
): Promise<string[]> {
  const {worksheets} = context.workbook;
  const find = (key: string): Excel.Worksheet => worksheets.getItemOrNullObject(key);
  try {
    const own = added.map(({id}) => find(id));
    own.forEach((sheet) => sheet.load('name'));
    const maybe = unanswered === undefined ? undefined : find(unanswered);
    const used = maybe?.getUsedRangeOrNullObject();
    maybe?.load('name');
    used?.load('address');
    await context.sync();
    for (const sheet of own) if (!sheet.isNullObject) sheet.delete();
    if (maybe?.isNullObject === false && used!.isNullObject) maybe.delete();
    await context.sync();
    return [];
  } catch {
    return [...added.map(({name}) => name), ...(unanswered === undefined ? [] : [unanswered])];
  }
}

const sequel = (left: readonly string[]): string =>
  left.length === 0
    ? 'Nothing was added to the workbook.'
    : `What was begun could not be taken away again: delete ${left.map((name) => `“${name}”`).join(', ')} if there, then try again.`;
