/** Sheets that an audit adds: what they show when written, and taking them back. */
import {cellAddress} from '../addresses';
import {batch} from '../batch';
import type {CellValue} from '../ledger';

export {writeSheet} from '../record/write';

/** What single cells of a sheet show. */
export async function readCells(
  sheet: string,
  cells: readonly {readonly row: number; readonly column: number}[],
): Promise<CellValue[]> {
  return batch(async (context) => {
    const worksheet = context.workbook.worksheets.getItem(sheet);
    const ranges = cells.map(({row, column}) => {
      const range = worksheet.getRange(cellAddress(row, column));
      range.load('values');
      return range;
    });
    await context.sync();
    return ranges.map((range) => range.values[0][0] as CellValue);
  });
}

/** Takes a sheet away again that was just added. */
export async function removeSheet(name: string): Promise<void> {
  await batch(async (context) => {
    context.workbook.worksheets.getItem(name).delete();
    await context.sync();
  });
}
