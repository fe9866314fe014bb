/** What kind of file some bytes are, before they are read as a workbook. */
import {FileProblem} from './problems';

const ZIP = [0x50, 0x4b];
const COMPOUND = [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1];

/**
 * Passes what can be an .xlsx workbook.
 * @throws FileProblem that says what the file is instead
 */
export function checkKindOfFile(bytes: Uint8Array): void {
  if (bytes.length === 0) throw new FileProblem('is empty');
  if (startsWith(bytes, ZIP)) return;
  if (!startsWith(bytes, COMPOUND)) throw new FileProblem('is no Excel workbook (.xlsx)');
  if (contains(bytes, utf16('EncryptedPackage'))) {
    throw new FileProblem('is protected by a password: save it without one first');
  }
  throw new FileProblem(
    contains(bytes, utf16('Workbook')) || contains(bytes, utf16('Book'))
      ? 'is a workbook of the old kind (.xls): save it as an Excel workbook (.xlsx) first'
      : 'is no Excel workbook (.xlsx)',
  );
}

const startsWith = (bytes: Uint8Array, head: readonly number[]): boolean => head.every((byte, i) => bytes[i] === byte);

/** Names of streams are stored in UTF-16, little endian. */
const utf16 = (text: string): number[] => [...text].flatMap((c) => [c.charCodeAt(0), 0]);

function contains(bytes: Uint8Array, wanted: readonly number[]): boolean {
  for (let at = bytes.indexOf(wanted[0]); at >= 0; at = bytes.indexOf(wanted[0], at + 1)) {
    if (wanted.every((byte, i) => bytes[at + i] === byte)) return true;
  }
  return false;
}
