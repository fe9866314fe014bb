/** The signed records of the demo. */
import {fingerprint} from '../../functions/fingerprint';
import type {CellValue} from '../../host/book/cells';
import type {Book} from '../../host/book/content';
import {COLUMNS} from './columns';

/** The wheels of the first four vehicles. */
export const SIGNED_RECORDS = 16;

/** Fingerprints of what was typed for the first wheels, each with that of the wheel before. */
export function fingerprintsOf({sheets, tables}: Book): string[] {
  const {area, sheet: name} = tables.find((table) => table.name === 'Wheels')!;
  const cells = new Map(
    sheets.find((sheet) => sheet.name === name)!.cells.map(({row, column, value}) => [`${row} ${column}`, value]),
  );
  const typed = COLUMNS.findIndex(({formula}) => formula !== undefined);
  const kept: string[] = [];
  for (let i = 0; i < SIGNED_RECORDS; i++) {
    const row = Array.from({length: typed}, (_, c): CellValue => cells.get(`${area.top + 1 + i} ${c}`) ?? null);
    kept.push(fingerprint([row], kept[i - 1] ?? ''));
  }
  return kept;
}
