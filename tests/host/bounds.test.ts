/**
 * Hostile workbooks through the command line, with what each of them took: refused or answered within 60 seconds and
 * 1 GiB, however much there is of everything.
 */
import {spawn} from 'node:child_process';
import {mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {formulaRow, rawBook, stylesheet, type RawBook} from './support/rawBooks';

jest.setTimeout(180000);

const root = path.resolve(__dirname, '../..');
const SECONDS = 60;
const MEBIBYTES = 1024;
/** The watch looks from time to time: so much more may stand before it does. */
const BETWEEN = 256;

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'bounds-'));
});
afterEach(() => rmSync(folder, {recursive: true, force: true}));

interface Took {
  readonly status: number | null;
  readonly signal: string | null;
  readonly stderr: string;
  readonly seconds: number;
  /** The most memory that the process held, in MiB. */
  readonly most: number;
}

/** Runs the command and asks the system again and again what it holds. */
function recalc(book: RawBook): Promise<Took> {
  writeFileSync(path.join(folder, 'in.xlsx'), rawBook(book));
  const args = ['--import', 'tsx', path.join(root, 'src/host/cli/recalc.ts'), 'in.xlsx', 'out.xlsx'];
  const began = process.hrtime.bigint();
  const child = spawn(process.execPath, args, {cwd: root, env: {...process.env, INIT_CWD: folder}});
  let most = 0;
  let stderr = '';
  child.stderr.on('data', (chunk: Buffer) => (stderr += chunk.toString()));
  const watch = setInterval(() => {
    try {
      const [, kilobytes] = /VmHWM:\s+(\d+) kB/.exec(readFileSync(`/proc/${child.pid}/status`, 'utf8')) ?? [];
      most = Math.max(most, Number(kilobytes ?? 0) / 1024);
    } catch {
      // It has ended.
    }
  }, 20);
  return new Promise((resolve) =>
    child.on('close', (status, signal) => {
      clearInterval(watch);
      resolve({status, signal, stderr, most, seconds: Number(process.hrtime.bigint() - began) / 1e9});
    }),
  );
}

const row = (n: number, cell: (i: number) => string): string => Array.from({length: n}, (_, i) => cell(i)).join('');

const BOOKS: readonly (readonly [string, () => RawBook, 'refused' | 'answered' | 'either'])[] = [
  [
    'a million styles',
    () => ({
      rows: formulaRow({A1: 'WHEEL.STOCK(7,5)'}),
      styles: stylesheet(row(1000000, (i) => `<xf numFmtId="${i % 50}" fontId="0" fillId="0" borderId="0"/>`)),
    }),
    'either',
  ],
  [
    '1,048,576 rows',
    () => ({rows: row(1048576, (i) => `<row r="${i + 1}"><c r="A${i + 1}"><v>${i}</v></c></row>`)}),
    'either',
  ],
  [
    'one row of all 16,384 columns, and a cell in the last row',
    () => ({
      rows: '<row r="1"><c r="XFD1"><f>WHEEL.STOCK(7,5)</f><v>0</v></c></row><row r="1048576"><c r="XFD1048576"><v>1</v></c></row>',
    }),
    'answered',
  ],
  [
    'formulas nested 3,000 deep',
    () => ({rows: formulaRow({A1: `${'ABS('.repeat(3000)}1${')'.repeat(3000)}`, B1: 'WHEEL.STOCK(7,5)'})}),
    'answered',
  ],
  ['a circle of formulas', () => ({rows: formulaRow({A1: 'B1+1', B1: 'C1+1', C1: 'A1+WHEEL.STOCK(7,5)'})}), 'answered'],
  [
    'names that unfold to a million terms',
    () => ({
      rows: formulaRow({A1: 'Twice_19'}),
      names: Object.fromEntries(
        Array.from({length: 20}, (_, i) => [`Twice_${i}`, i === 0 ? '1' : `Twice_${i - 1}+Twice_${i - 1}`]),
      ),
    }),
    'answered',
  ],
  [
    'a part that is packed a thousandfold',
    () => ({parts: {'xl/media/image.bin': new Uint8Array(300_000_000)}}),
    'refused',
  ],
  ['an external entity', () => ({prolog: '<!DOCTYPE w [<!ENTITY x SYSTEM "file:///etc/hostname">]>'}), 'refused'],
  ['a sheet outside of the file', () => ({sheetTarget: '../../../../etc/hostname'}), 'refused'],
];

test.each(BOOKS)('%s', async (_name, book, expected) => {
  const {status, signal, stderr, seconds, most} = await recalc(book());
  const isAnswered = status === 0;
  // Refused with code 2, or by the signal of the watch; always in a sentence that names the file.
  if (!isAnswered) {
    expect([2, null]).toContain(status);
    expect(signal).toBe(status === null ? 'SIGTERM' : null);
    expect(stderr).toMatch(/^in\.xlsx .+\n$/);
    expect(readdirSync(folder)).toEqual(['in.xlsx']);
  }
  if (expected !== 'either') expect({isAnswered, stderr}).toEqual({isAnswered: expected === 'answered', stderr});
  expect(seconds).toBeLessThan(SECONDS + 5);
  if (process.platform === 'linux') {
    expect(most).toBeGreaterThan(20);
    expect(most).toBeLessThan(MEBIBYTES + BETWEEN);
  }
});
