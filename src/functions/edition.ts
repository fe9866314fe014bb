/** Edition of the product; package.json says the same. */
export const VERSION = '0.1.0';

/** Counts the changes that could move a figure. A record that names it can be recomputed as it was. */
export const CALCULATIONS = 1;

export const EDITION = `Wheel Ledger ${VERSION}, calculations ${CALCULATIONS}`;
