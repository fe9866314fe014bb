/** The published values (checks.json), as data for the tests. */
import {readFileSync} from 'node:fs';
import path from 'node:path';

export interface Check {
  readonly id: string;
  /** published: the expected value is a publication's. derived, identity, definition: the digits were calculated. */
  readonly kind: 'published' | 'derived' | 'identity' | 'definition';
  // eslint-disable-next-line @typescript-eslint/no-explicit-any
  readonly inputs: any;
  // eslint-disable-next-line @typescript-eslint/no-explicit-any
  readonly expected: any;
  // eslint-disable-next-line @typescript-eslint/no-explicit-any
  readonly tolerance: any;
  readonly source: string;
  /** memory: recalled, the citation was not opened. */
  readonly provenance: 'read' | 'memory';
}

const file = (name: string): string => readFileSync(path.join(__dirname, name), 'utf8');

export const CHECKS: readonly Check[] = JSON.parse(file('checks.json'));

export const check = (id: string): Check => CHECKS.find((c) => c.id === id)!;

/** What a test of a check is called: id, source, and whether the value is from memory. */
export const titled = ({id, kind, source, provenance}: Check): string =>
  `${id} (${kind}${provenance === 'memory' ? ', value from memory' : ''}): ${source}`;

/** NIST StRD ENSO: monthly pressure differences, y at x = 1 … 168. */
export const enso: number[] = file('data/ENSO.dat')
  .split(/\r?\n/)
  .slice(60, 228)
  .map((line) => Number(line.trim().split(/\s+/)[0]));

/** NIST LEW: 200 beam deflections. */
export const lew: number[] = file('data/LEW.DAT')
  .split(/\r?\n/)
  .slice(25)
  .map((line) => line.trim())
  .filter((line) => line !== '')
  .map(Number);
