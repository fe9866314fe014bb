/** After a request that failed: what of it is in the sheet all the same, and taking that back. */
import {alike} from './inspect';
import {areaAddress} from '../addresses';
import {WorkbookProblem} from '../problems';
import {takeBack, wasEmpty, type Part, type Undo} from './takeBack';
import type {TargetSheet} from './target';

/** What has become of the parts of a failed request. */
export interface Seen {
  readonly there: readonly Part[];
  /** Parts that could not be looked at. */
  readonly uncertain: readonly Part[];
}

/**
 * Looks which parts are in the sheet. Excel may have made some changes of a request before it fails, or all of them.
 * @param tableColumns columns that a table had, if it was to be widened
 */
export async function afterFailure(
  sheet: TargetSheet,
  sent: readonly Part[],
  tableColumns: number | undefined,
): Promise<Seen> {
  const there: Part[] = [];
  const uncertain: Part[] = [];
  const isWider = async (): Promise<boolean> => {
    const {columns} = await sheet.state();
    return tableColumns !== undefined && columns !== undefined && columns > tableColumns;
  };
  for (const part of sent) {
    try {
      const [cells, formulas] = [await sheet.read(part.block), part.formulas()];
      const isOurs = cells.some((row, i) =>
        row.some((cell, k) => alike(cell, formulas[i][k]) && !alike(cell, part.before[i][k])),
      );
      // A table that has become wider gives its new columns headings of its own.
      const hasChanged = cells.some((row, i) => row.some((cell, k) => cell !== part.before[i][k]));
      if (isOurs || (hasChanged && part.records === 0 && (await isWider()))) there.push(part);
    } catch {
      uncertain.push(part);
    }
  }
  return {there, uncertain};
}

/** New columns have their formats before anything else, also those whose formulas did not come. */
function dropFormats(sheet: TargetSheet, sent: readonly Part[], there: readonly Part[]): void {
  for (const part of sent)
    if (part.isFresh && wasEmpty(part) && !there.includes(part)) sheet.format(part.block, 'General');
}

/**
 * Takes a filling back, with what of it may be written and is found to be.
 * @throws WorkbookProblem when Excel still does not answer; nothing is changed then
 */
export async function takeBackFilled(sheet: TargetSheet, {tableColumns, blocks, uncertain}: Undo): Promise<void> {
  const seen = await afterFailure(sheet, uncertain, tableColumns);
  if (seen.uncertain.length > 0)
    throw new WorkbookProblem(
      `Excel does not answer whether ${seen.uncertain.map(({block}) => areaAddress(block)).join(', ')} was written. Nothing was taken back; try again.`,
    );
  const written = [...blocks, ...seen.there];
  dropFormats(sheet, uncertain, seen.there);
  await takeBack(sheet, {tableColumns: written.length === 0 ? undefined : tableColumns, blocks: written});
}

/** Takes a failed first request back, so that the next attempt finds the sheet as it was; whether that succeeded. */
export async function isTakenBack(
  sheet: TargetSheet,
  sent: readonly Part[],
  tableColumns: number | undefined,
  {there, uncertain}: Seen,
): Promise<boolean> {
  if (uncertain.length > 0) return false;
  try {
    dropFormats(sheet, sent, there);
    await takeBack(sheet, {tableColumns: there.length === 0 ? undefined : tableColumns, blocks: there});
    return true;
  } catch {
    return false;
  }
}
