/**
 * Files that nobody should make, and some do: refused in a sentence or read within bounds. And saving: what was there
 * stays whole whatever happens.
 * @jest-environment ./tests/host/support/environment.cjs
 */
import {execFileSync, spawnSync} from 'node:child_process';
import {
  chmodSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {readWithLooks, readWorkbook} from '../../src/host/files/read';
import {openWorkbook} from './support/books';
import {formulaRow, rawBook, type RawBook} from './support/rawBooks';

const root = path.resolve(__dirname, '../..');

describe('a file that is refused', () => {
  const utf16 = Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from('<!DOCTYPE a><a/>', 'utf16le')]);
  test.each<[string, RawBook, string]>([
    [
      'a document type with an external entity',
      {prolog: '<!DOCTYPE w [<!ENTITY x SYSTEM "file:///etc/hostname">]>'},
      'is refused: one of its parts declares a document type',
    ],
    [
      'a document type in a part that is not looked at otherwise',
      {parts: {'docProps/app.xml': '<!DOCTYPE a><a/>'}},
      'is refused: one of its parts declares a document type',
    ],
    [
      'a part in another encoding',
      {parts: {'docProps/app.xml': utf16}},
      'is refused: one of its parts is not written in UTF-8',
    ],
    [
      'a sheet that would lie outside',
      {sheetTarget: '../../../../etc/hostname'},
      'is damaged: its part etc/hostname is missing',
    ],
    [
      'a cell beyond all columns and rows',
      {rows: '<row r="99999999"><c r="ZZZZ99999999"><v>1</v></c></row>'},
      'is damaged: ZZZZ99999999 is not the address of a cell',
    ],
    [
      'an array formula over the whole sheet',
      {rows: '<row r="1"><c r="A1"><f t="array" ref="A1:XFD1048576">1</f><v>1</v></c></row>'},
      'is refused: an array formula on its sheet S fills A1:XFD1048576',
    ],
    [
      'parts that are all of bearable size, but too many',
      {parts: Object.fromEntries(Array.from({length: 9}, (_, i) => [`xl/media/${i}.bin`, new Uint8Array(60_000_000)]))},
      'is too large: unpacked it would exceed 512 MB',
    ],
  ])(
    '%s',
    async (_, book, message) => {
      await expect(readWorkbook(rawBook(book))).rejects.toThrow(message);
    },
    60000,
  );
});

describe('a file that is read all the same', () => {
  const opened = (book: RawBook) => openWorkbook(rawBook(book));
  const kept = async (book: RawBook): Promise<(string | undefined)[]> => {
    const workbook = await opened(book);
    const reasons = [...workbook.formulas()].map((formula) => formula.kept);
    // What cannot be calculated keeps the value that the file has.
    reasons.forEach((reason, i) => {
      if (reason !== undefined) expect(workbook.at('S', 0, i)).toBe(7);
    });
    workbook.dispose();
    return reasons;
  };

  test('without styles', async () => {
    const plain = {rows: formulaRow({A1: 'WHEEL.STOCK(7,5)'}), styles: undefined};
    expect((await readWithLooks(rawBook(plain))).looks().sheets).toHaveLength(1);
    const workbook = await opened(plain);
    expect(workbook.value('S', 'A1')).toBe(5);
    workbook.dispose();
  });

  test('with all cells merged into one', async () => {
    const workbook = await opened({
      rows: formulaRow({A1: 'WHEEL.STOCK(7,5)', B1: 'A1+1'}),
      behind:
        '<mergeCells><mergeCell ref="A1:XFD1048576"/><mergeCell ref="A2:XFD9999"></mergeCell><mergeCell ref="B2:C3"/></mergeCells>',
    });
    expect([workbook.value('S', 'A1'), workbook.value('S', 'B1')]).toEqual([5, 6]);
    workbook.dispose();
  });

  test('with formulas that are nested too deeply, which keep their values', async () => {
    const deep = `${'ABS('.repeat(3000)}1${')'.repeat(3000)}`;
    const long = `${'1+'.repeat(100000)}1`;
    expect(await kept({rows: formulaRow({A1: deep, B1: 'WHEEL.STOCK(7,5)', C1: long})})).toEqual([
      'the formula is nested too deeply',
      undefined,
      'the formula is nested too deeply',
    ]);
  });

  test('with ranges of more cells than there is memory for', async () => {
    const far = '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>';
    const rows = formulaRow({A1: 'WHEEL.TIR(A2:XFD1048576)', B1: 'SUM(C:XFD)', C1: 'WHEEL.STOCK(7,5)'}) + far;
    const [own, sum, other] = await kept({rows});
    expect([own, sum]).toEqual([
      expect.stringContaining('has more cells than can be read here'),
      'C:XFD has more cells than can be read here',
    ]);
    expect(other).toBeUndefined();
  });

  test('with names that unfold without end, and names that mean themselves', async () => {
    const doubling = Object.fromEntries(
      Array.from({length: 20}, (_, i) => [`Twice_${i}`, i === 0 ? '1' : `Twice_${i - 1}+Twice_${i - 1}`]),
    );
    const [reason] = await kept({rows: formulaRow({A1: 'Twice_19'}), names: doubling});
    expect(reason).toMatch(/^the names behind Twice_\d+ are too many$/);
    const workbook = await opened({rows: formulaRow({A1: 'One_'}), names: {One_: 'Other_+1', Other_: 'One_+1'}});
    expect(workbook.value('S', 'A1')).toMatchObject({code: '#NAME?'});
    expect(workbook.message('S', 'A1')).toMatch(/is defined by itself$/);
    workbook.dispose();
  });

  test('with formulas that go round in a circle', async () => {
    const workbook = await opened({rows: formulaRow({A1: 'B1+1', B1: 'WHEEL.STOCK(A1,5)', C1: 'WHEEL.STOCK(7,5)'})});
    expect(workbook.value('S', 'C1')).toBe(5);
    workbook.dispose();
  });
});

describe('the command line', () => {
  let folder: string;
  const at = (name: string): string => path.join(folder, name);
  const text = (name: string): string => readFileSync(at(name), 'latin1');
  const input = rawBook({
    rows: formulaRow({A1: 'WHEEL.STOCK(7,5)'}),
    parts: {'docProps/note.bin': new Uint8Array(5000).map((_, i) => (i * i * 31) >> 3)},
  });

  beforeEach(() => {
    folder = mkdtempSync(path.join(tmpdir(), 'hostile-'));
    writeFileSync(at('in.xlsx'), input);
    chmodSync(folder, 0o777);
  });
  afterEach(() => {
    expect(readFileSync(at('in.xlsx'))).toEqual(Buffer.from(input));
    rmSync(folder, {recursive: true, force: true});
  });

  const CLI = ['--import', 'tsx', path.join(root, 'src/host/cli/recalc.ts')];
  const options = (user?: number) => ({
    cwd: root,
    env: {...process.env, INIT_CWD: folder},
    encoding: 'utf8' as const,
    ...(user === undefined ? {} : {uid: user}),
  });
  const recalc = (args: readonly string[], before: readonly string[] = [], user?: number) =>
    spawnSync(process.execPath, [...before, ...CLI, ...args], options(user));

  /** The administrator may write everything: then the command runs as somebody else. */
  const nobody = process.getuid?.() === 0 ? 65534 : undefined;

  test('a million rows are given up in a sentence, and nothing is written', () => {
    const rows = Array.from({length: 1048576}, (_, i) => `<row r="${i + 1}"><c r="A${i + 1}"><v>${i}</v></c></row>`);
    writeFileSync(at('rows.xlsx'), rawBook({rows: rows.join('')}));
    const {status, signal, stdout, stderr} = recalc(['rows.xlsx', 'out.xlsx']);
    expect([status, signal, stdout]).toEqual([null, 'SIGTERM', '']);
    expect(stderr).toMatch(/^rows\.xlsx is given up: it wants more than (1024 MB of memory|60 seconds)\. With --large/);
    expect(readdirSync(folder).sort()).toEqual(['in.xlsx', 'rows.xlsx']);
  }, 180000);

  test('a link as output stays a link: what it leads to is written', () => {
    mkdirSync(at('else'));
    writeFileSync(at('else/real.xlsx'), 'mine');
    symlinkSync(at('else/real.xlsx'), at('link.xlsx'));
    expect(recalc(['in.xlsx', 'link.xlsx'])).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/link\.xlsx exists/),
    });
    expect(text('else/real.xlsx')).toBe('mine');
    expect(recalc(['in.xlsx', 'link.xlsx', '--force'])).toMatchObject({status: 0, stderr: ''});
    expect(lstatSync(at('link.xlsx')).isSymbolicLink()).toBe(true);
    expect(text('else/real.xlsx')).toMatch(/^PK/);
    expect(readdirSync(at('else'))).toEqual(['real.xlsx']);
  }, 60000);

  test('a link that leads nowhere, back to the input, or to what is no file', () => {
    symlinkSync(at('nowhere.xlsx'), at('dangling.xlsx'));
    symlinkSync(at('in.xlsx'), at('back.xlsx'));
    execFileSync('mkfifo', [at('pipe')]);
    symlinkSync(at('pipe'), at('pipe.xlsx'));
    const refused = (name: string, words: string) =>
      expect(recalc(['in.xlsx', name, '--force'])).toMatchObject({status: 2, stderr: `${name} ${words}\n`});
    refused('dangling.xlsx', 'is a link to a file that does not exist');
    refused('back.xlsx', 'is the input itself: write to another file');
    refused('pipe.xlsx', 'is no ordinary file');
    expect(lstatSync(at('pipe')).isFIFO()).toBe(true);
    expect(recalc(['pipe.xlsx', 'out.xlsx'])).toMatchObject({status: 2, stderr: 'pipe.xlsx is no ordinary file\n'});
  }, 60000);

  test('a read-only file is not replaced, though its folder would allow it', () => {
    writeFileSync(at('there.xlsx'), 'mine');
    chmodSync(at('there.xlsx'), 0o444);
    expect(recalc(['in.xlsx', 'there.xlsx', '--force'], [], nobody)).toMatchObject({
      status: 2,
      stderr: 'there.xlsx cannot be written: it is read-only\n',
    });
    expect(text('there.xlsx')).toBe('mine');
  }, 60000);

  test('a folder in which nothing may be written', () => {
    mkdirSync(at('closed'), 0o555);
    expect(recalc(['in.xlsx', 'closed/out.xlsx'], [], nobody)).toMatchObject({
      status: 2,
      stderr: 'closed/out.xlsx cannot be written: permission is missing\n',
    });
    expect(readdirSync(at('closed'))).toEqual([]);
  }, 60000);

  test('a disk that takes no more: what was there stays, nothing is left beside it', () => {
    writeFileSync(at('there.xlsx'), 'mine');
    const command = ['ulimit -f 4; exec "$0" "$@"', process.execPath, ...CLI, 'in.xlsx', 'there.xlsx', '--force'];
    const {status, stderr} = spawnSync('sh', ['-c', ...command], options());
    expect(stderr).toBe('there.xlsx cannot be written: the disk takes no file of this size\n');
    expect(status).toBe(2);
    expect(text('there.xlsx')).toBe('mine');
    expect(readdirSync(folder).sort()).toEqual(['in.xlsx', 'there.xlsx']);
  }, 60000);

  test('power that goes while the file is written: what was there stays, and the next attempt succeeds', () => {
    writeFileSync(at('there.xlsx'), 'mine');
    const cut =
      'import fs from "node:fs"; import {syncBuiltinESMExports} from "node:module";' +
      'fs.fsyncSync = () => process.kill(process.pid, "SIGKILL"); syncBuiltinESMExports();';
    const args = ['in.xlsx', 'there.xlsx', '--force'];
    expect(recalc(args, ['--import', `data:text/javascript,${encodeURIComponent(cut)}`])).toMatchObject({
      status: null,
      signal: 'SIGKILL',
    });
    expect(text('there.xlsx')).toBe('mine');
    expect(recalc(args)).toMatchObject({status: 0, stderr: ''});
    expect(text('there.xlsx')).toMatch(/^PK/);
  }, 60000);
});
