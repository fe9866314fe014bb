/** Columns of the demo's table of wheels: those of a new ledger, filled with what was drawn. */
import {ledgerColumns, POSITIONS, type LedgerColumn} from '../../workbook/ledgerColumns';
import type {DrawnWheel} from './draw';

type Value = string | number | Date | undefined;

export const COLUMNS: readonly LedgerColumn[] = ledgerColumns('metric');

/** What the clerk typed, by column. */
const TYPED: Readonly<Record<string, (wheel: DrawnWheel) => Value>> = {
  Job: (w) => w.vehicle.job,
  Date: (w) => w.vehicle.date,
  Vehicle: (w) => w.vehicle.name,
  Class: (w) => w.limits.class,
  Position: (w) => w.position,
  Size: (w) => w.vehicle.size,
  Supplier: (w) => w.supplier.name,
  TIN: (w) => w.tin,
  ...readings('A', (w) => w.assembly),
  ...readings('I', (w) => w.inner),
  ...readings('O', (w) => w.outer),
  ...Object.fromEntries(
    ['In g', 'In °', 'Out g', 'Out °'].map((name, i) => [name, (w: DrawnWheel) => w.unbalance?.[i]]),
  ),
};

function readings(letter: string, of: (w: DrawnWheel) => readonly (number | undefined)[]) {
  return Object.fromEntries(
    Array.from({length: POSITIONS}, (_, i) => [`${letter}${i + 1}`, (w: DrawnWheel): Value => of(w)[i]]),
  );
}

export const typed = ({name}: LedgerColumn, wheel: DrawnWheel): Value => TYPED[name](wheel);

/** Index of a column by its name. */
export const columnIndex = (name: string): number => COLUMNS.findIndex((column) => column.name === name);
