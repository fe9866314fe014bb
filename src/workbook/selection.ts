/** What is selected, and being told when that changes. */
import type {Area} from './addresses';
import {batch} from './batch';

export async function readSelection(): Promise<Area> {
  return batch(async (context) => {
    const range = context.workbook.getSelectedRange();
    range.load('rowIndex,columnIndex,rowCount,columnCount');
    range.worksheet.load('name');
    await context.sync();
    return {
      sheet: range.worksheet.name,
      row: range.rowIndex,
      column: range.columnIndex,
      rows: range.rowCount,
      columns: range.columnCount,
    };
  });
}

/** Ends what a follow… function began. */
export type Unfollow = () => void;

/** Ends listening. What does not succeed any more has ended by itself. */
const unfollow = (handlers: readonly OfficeExtension.EventHandlerResult<unknown>[]): void => {
  for (const handler of handlers) {
    void Excel.run(handler.context, async (inner) => {
      handler.remove();
      await inner.sync();
    }).catch(() => undefined);
  }
};

/**
 * Calls back whenever a cell is changed in one of the sheets that there are now.
 * @returns once Excel listens
 */
export async function followChanges(onChange: () => void): Promise<Unfollow> {
  return batch(async (context) => {
    const {worksheets} = context.workbook;
    worksheets.load('items/id');
    const known = new Set<string>();
    const handler = worksheets.onChanged.add(async ({worksheetId}) => {
      // Until it is known which there are, every change counts.
      if (known.size === 0 || known.has(worksheetId)) onChange();
    });
    await context.sync();
    for (const {id} of worksheets.items) known.add(id);
    return () => unfollow([handler]);
  });
}

/**
 * Calls back whenever another cell is selected, and whenever a cell anywhere is changed.
 * @returns once Excel listens
 */
export async function followWorkbook(onSelection: () => void, onChange: () => void): Promise<Unfollow> {
  return batch(async (context) => {
    const handlers = [
      context.workbook.onSelectionChanged.add(async () => onSelection()),
      context.workbook.worksheets.onChanged.add(async () => onChange()),
    ];
    await context.sync();
    return () => unfollow(handlers);
  });
}

export async function select(area: Area): Promise<void> {
  await batch(async (context) => {
    const sheet = context.workbook.worksheets.getItem(area.sheet);
    sheet.activate();
    sheet.getRangeByIndexes(area.row, area.column, area.rows, area.columns).select();
    await context.sync();
  });
}
