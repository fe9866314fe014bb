/**
 * What WHEEL.WORKING lists workings with. It brings a second engine of arithmetic along and is fetched when it is first
 * asked for; from then on the function answers at once.
 */
import type {OutCell, Raw} from './cells';

/** Rows of a working: step, symbol, formula, with figures, value, unit, source. */
type ListWorking = (name: string, args: readonly Raw[]) => OutCell[][];

let fetchIt: (() => Promise<void>) | undefined;
let list: ListWorking | undefined;

/** @param fetching gets what lists workings and provides it */
export function setWorking(fetching: () => Promise<void>): void {
  fetchIt = fetching;
}

export function provideWorking(listing: ListWorking): void {
  list = listing;
}

/** Settles when workings can be listed; undefined when they can already. */
export const workingFetched = (): Promise<void> | undefined => (list === undefined ? fetchIt?.() : undefined);

/** @throws Error before {@link workingFetched} has settled */
export function listWorking(name: string, args: readonly Raw[]): OutCell[][] {
  if (list === undefined) throw new Error('what lists workings has not been fetched');
  return list(name, args);
}
