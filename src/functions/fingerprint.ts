/** Fingerprint of a record: SHA-256 over its cells, so that accident and quiet change show. */
import {sha256} from 'js-sha256';
import {invalid} from '../maths/refusal';
import {found, wrongCell, type Cell, type Grid} from './cells';

const DIGITS = 16;

/** Excel shows and compares 15 digits; 12 leave room for what a recalculation on another machine may change. */
const SIGNIFICANT = 12;

/** A cell as it enters the fingerprint; the same however it was typed or computed. */
function canonical(cell: Cell, row: number, column: number): number | string | boolean | null {
  if (cell === null || cell === undefined || cell === '') return null;
  if (typeof cell === 'string') return cell.normalize('NFC');
  if (typeof cell === 'boolean') return cell;
  if (typeof cell === 'number' && Number.isFinite(cell)) return Number(cell.toPrecision(SIGNIFICANT)) + 0;
  throw wrongCell('range', row, column, 'a number, text, TRUE, FALSE or an empty cell', cell);
}

/**
 * The first 16 hexadecimal digits of SHA-256 over the UTF-8 JSON of the rows (numbers at 12 significant digits, −0 as
 * 0, texts in NFC, empty cells as null), followed by the previous fingerprint, if there is one.
 */
export const fingerprint = (rows: Grid, previous: string): string =>
  fingerprintText(rows, previous).digest.slice(0, DIGITS);

/** The JSON of the rows, and the whole digest of it and the previous fingerprint. */
export function fingerprintText(rows: Grid, previous: string): {readonly json: string; readonly digest: string} {
  const json = JSON.stringify(canonicalRows(rows));
  return {json, digest: sha256(json + previous)};
}

/** The cells as they enter the fingerprint. */
export const canonicalRows = (rows: Grid) => rows.map((row, r) => row.map((cell, c) => canonical(cell, r, c)));

/** A cell that holds a fingerprint, or none yet: an empty text, or 0, as which Excel hands over a blank cell. */
export function readFingerprint(cell: Cell, name: string): string | undefined {
  if (cell === '' || cell === 0 || cell === null || cell === undefined) return undefined;
  if (typeof cell === 'string' && new RegExp(`^[0-9a-f]{${DIGITS}}$`, 'i').test(cell.trim()))
    return cell.trim().toLowerCase();
  if (typeof cell === 'number') {
    throw invalid(
      `a fingerprint kept as text is wanted, found the number ${found(cell)}; format the cell as text`,
      `${name} (row 1, column 1)`,
    );
  }
  throw wrongCell(name, 0, 0, `a fingerprint of ${DIGITS} hexadecimal digits`, cell);
}
