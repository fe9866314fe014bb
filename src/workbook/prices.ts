/** The shop's prices and risks: a visible table with an item a row. */
import {batch} from './batch';
import type {CellValue} from './ledger';
import {quoted} from './escape';
import {columnsReference} from './references';

export const PRICES_TABLE = 'Prices';

/** What Wheel Ledger asks the table for; the words stand in it. */
export const PRICE_ITEMS = {
  weightPrice: 'Balance weight',
  laborRate: 'Labor',
  minutes: 'Minutes to turn a tire on its rim',
  comebackCost: 'Vehicle that comes back',
  riskBefore: 'Risk of coming back as it is',
  riskAfter: 'Risk of coming back after a match',
  weightLeft: 'Share of weight left after a match',
} as const;

export type PriceItem = keyof typeof PRICE_ITEMS;

export interface Price {
  readonly value: number;
  readonly unit: string;
}

export type Prices = ReadonlyMap<PriceItem, Price>;

const same = (a: unknown, b: string): boolean => String(a).trim().toLowerCase() === b.toLowerCase();

/** The prices that a table holds; items without a figure are left out. */
export function parsePrices(headings: readonly string[], rows: readonly (readonly unknown[])[]): Prices {
  const column = (name: string): number => headings.findIndex((heading) => same(heading, name));
  const [item, value, unit] = [column('Item'), column('Value'), column('Unit')];
  const found = new Map<PriceItem, Price>();
  if (item < 0 || value < 0) return found;
  for (const [key, words] of Object.entries(PRICE_ITEMS) as [PriceItem, string][]) {
    const row = rows.find((cells) => same(cells[item], words));
    const figure = row?.[value];
    if (row === undefined || typeof figure !== 'number' || figure < 0) continue;
    found.set(key, {value: figure, unit: unit < 0 ? '' : String(row[unit])});
  }
  return found;
}

/** Reads the table of prices; empty when the workbook has none. */
export async function readPrices(): Promise<Prices> {
  return batch(async (context) => {
    const table = context.workbook.tables.getItemOrNullObject(PRICES_TABLE);
    const [header, body] = [table.getHeaderRowRange(), table.getDataBodyRange()];
    header.load('values');
    body.load('values');
    await context.sync();
    return table.isNullObject
      ? new Map()
      : parsePrices((header.values[0] as CellValue[]).map(String), body.values as CellValue[][]);
  });
}

/** The cell of a price as a formula finds it. */
export const priceReference = (item: PriceItem): string =>
  `INDEX(${columnsReference(PRICES_TABLE, 'Value', 'Value')},MATCH(${quoted(PRICE_ITEMS[item])},${columnsReference(PRICES_TABLE, 'Item', 'Item')},0))`;
