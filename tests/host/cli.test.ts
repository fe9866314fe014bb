import {execFileSync, spawnSync} from 'node:child_process';
import {createHash} from 'node:crypto';
import {
  chmodSync,
  existsSync,
  linkSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {CATALOGUE} from '../../src/functions/catalogue';
import {richWorkbook} from '../files/richWorkbook';

const root = path.resolve(__dirname, '../..');
let folder: string;
const at = (name: string): string => path.join(folder, name);
const hash = (name: string): string =>
  createHash('sha256')
    .update(readFileSync(at(name)))
    .digest('hex');

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'workbook host '));
  writeFileSync(at('in.xlsx'), richWorkbook());
});
afterAll(() => rmSync(folder, {recursive: true, force: true}));

/** A command as npm starts it: in the folder of the package, with the user's own folder in INIT_CWD. */
function command(script: 'formula' | 'recalc' | 'check', args: readonly string[], input = '', user?: number) {
  const {status, stdout, stderr} = spawnSync(
    process.execPath,
    ['--import', 'tsx', path.join(root, `src/host/cli/${script}.ts`), ...args],
    {
      cwd: root,
      env: {...process.env, INIT_CWD: folder},
      input,
      encoding: 'utf8',
      ...(user === undefined ? {} : {uid: user}),
    },
  );
  return {status, stdout, stderr, lines: stdout.split('\n').filter(Boolean)};
}

describe('formula', () => {
  test('one line of JSON, with nothing else on either output', () => {
    const {status, stdout, stderr} = command('formula', ['=WHEEL.MATCH({0.8,40},{0.6,100})']);
    expect([status, stderr]).toEqual([0, '']);
    const {formula, values} = JSON.parse(stdout) as {formula: string; values: number[][]};
    expect(formula).toBe('=WHEEL.MATCH({0.8,40},{0.6,100})');
    expect(values[0].slice(0, 2)).toEqual([120, 0.8 - 0.6]);
  });

  test('every function answers its example', () => {
    const formulas = CATALOGUE.map(({example}) => example.formula);
    const {status, lines} = command('formula', [], formulas.join('\n'));
    expect(status).toBe(0);
    const answers = lines.map((line) => JSON.parse(line) as {formula: string; values?: unknown[][]});
    expect(answers.map(({formula}) => formula)).toEqual(formulas);
    answers.forEach(({values}, i) => expect([formulas[i], values?.length]).toEqual([formulas[i], expect.any(Number)]));
  });

  test('the working of a call, its answer last', () => {
    const {lines} = command('formula', ['=WHEEL.WORKING("MATCH",{0.8,40},{0.6,100})']);
    const {values} = JSON.parse(lines[0]) as {values: unknown[][]};
    expect(values.slice(-4).map(([, part, , , value]) => [part, value])).toEqual([
      ['turn', 120],
      ['after', 0.8 - 0.6],
      ['before', 1.2165525060596438],
      ['gain', 1.0165525060596439],
    ]);
  });

  test('formulas from standard input, a line each', () => {
    const formulas = [
      '=WHEEL.EACHROW("MATCH",{0.8,40;"x",2},{0.6,100},"turn")',
      'WHEEL.MATCH({0.8,"x"},{0.6,100})',
      '',
      '=1/0',
      '=1+',
      '={1,"a",TRUE,#N/A}',
      '=WHEEL.TIR({0,0.12,0.3})',
    ];
    const {status, lines} = command('formula', [], `${formulas.join('\r\n')}\n`);
    expect(status).toBe(0);
    const message = 'rim (row 1, column 2): an angle in degrees is wanted, found the text "x"';
    expect(lines.map((line) => JSON.parse(line) as unknown)).toEqual([
      {formula: formulas[0], values: [[120], ['#VALUE!']], messages: [[2, 1, expect.stringMatching(/^rim \(row 1/)]]},
      {formula: `=${formulas[1]}`, error: '#VALUE!', message},
      {formula: '=1/0', error: '#DIV/0!', message: 'a division by zero'},
      {formula: '=1+', error: '#NAME?', message: 'the formula cannot be read: something is missing at its end'},
      {formula: formulas[5], values: [[1, 'a', true, '#N/A']]},
      {formula: formulas[6], values: [[0.3]]},
    ]);
  });

  test('inside a workbook, which is only read', () => {
    const before = hash('in.xlsx');
    const {lines} = command('formula', [
      '--book',
      'in.xlsx',
      '--at',
      "'Wheel sets'!F6",
      '=[@Rim]+Limit',
      '=SUM(Turns)',
    ]);
    expect(lines.map((line) => (JSON.parse(line) as {values: unknown}).values)).toEqual([[[0.8]], [[332.5]]]);
    expect(hash('in.xlsx')).toBe(before);
  });

  test('help, and what is not understood', () => {
    const help = command('formula', ['--help']);
    expect([help.status, help.stderr]).toEqual([0, '']);
    expect(help.stdout).toMatch(/--book FILE/);
    expect(command('formula', ['--nope', '=1'])).toMatchObject({status: 64, stdout: ''});
    const at = command('formula', ['--book', 'in.xlsx', '--at', 'Nope!A1', '=1']);
    expect([at.status, at.stderr]).toEqual([64, expect.stringMatching(/^--at: the workbook has no sheet Nope/)]);
  });
});

describe('recalc', () => {
  test('writes the new file and says what it did', () => {
    const before = hash('in.xlsx');
    const {status, stdout, stderr} = command('recalc', ['in.xlsx', 'out.xlsx']);
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toMatch(
      /^out\.xlsx: 9 formulas with WHEEL functions and 15 that depend on them, 29 values changed, 4 errors/,
    );
    expect(stdout).toMatch(/^'Wheel sets'!F8 {2}#VALUE! {2}rim \(row 1, column 1\)/m);
    expect(hash('in.xlsx')).toBe(before);
    // Beside the two files there is nothing left.
    expect(readdirSync(folder).sort()).toEqual(['in.xlsx', 'out.xlsx']);
  });

  test('does not replace a file unless told so', () => {
    writeFileSync(at('there.xlsx'), 'mine');
    expect(command('recalc', ['in.xlsx', 'there.xlsx'])).toMatchObject({
      status: 2,
      stdout: '',
      stderr: 'there.xlsx exists: use --force to replace it\n',
    });
    expect(readFileSync(at('there.xlsx'), 'utf8')).toBe('mine');
    expect(command('recalc', ['in.xlsx', 'there.xlsx', '--force']).status).toBe(0);
    expect(hash('there.xlsx')).toBe(hash('out.xlsx'));
  });

  test('never writes onto its input, by whatever name', () => {
    const before = hash('in.xlsx');
    linkSync(at('in.xlsx'), at('link.xlsx'));
    for (const name of ['in.xlsx', './in.xlsx', at('in.xlsx'), 'link.xlsx']) {
      const {status, stderr} = command('recalc', ['in.xlsx', name, '--force']);
      expect([status, stderr]).toEqual([2, `${name} is the input itself: write to another file\n`]);
    }
    expect(hash('in.xlsx')).toBe(before);
  });

  test('problems of files: one sentence with the name, exit code 2', () => {
    mkdirSync(at('folder.xlsx'));
    writeFileSync(at('empty.xlsx'), '');
    writeFileSync(at('table.csv'), 'a,b\n1,2\n');
    writeFileSync(at('damaged.xlsx'), richWorkbook().slice(0, 4000));
    const problems: [string[], RegExp][] = [
      [['missing.xlsx', 'new.xlsx'], /^missing\.xlsx does not exist\n$/],
      [['folder.xlsx', 'new.xlsx'], /^folder\.xlsx is a folder, not a workbook\n$/],
      [['empty.xlsx', 'new.xlsx'], /^empty\.xlsx is empty\n$/],
      [['table.csv', 'new.xlsx'], /^table\.csv is no Excel workbook \(\.xlsx\)\n$/],
      [['damaged.xlsx', 'new.xlsx'], /^damaged\.xlsx is damaged: .*\n$/],
      [['in.xlsx', 'nowhere/new.xlsx'], /^nowhere\/new\.xlsx cannot be written: its folder does not exist\n$/],
      [['in.xlsx', 'new.xls'], /^new\.xls does not end with \.xlsx\n$/],
      [['in.xlsx', 'folder.xlsx', '--force'], /^folder\.xlsx is a folder\n$/],
    ];
    for (const [args, words] of problems) {
      expect(command('recalc', args)).toMatchObject({status: 2, stdout: '', stderr: expect.stringMatching(words)});
    }
    expect(command('formula', ['--book', 'missing.xlsx', '=1'])).toMatchObject({
      status: 2,
      stderr: 'missing.xlsx does not exist\n',
    });
    expect(existsSync(at('new.xlsx'))).toBe(false);
    expect(command('recalc', ['in.xlsx']).status).toBe(64);
  });

  test('a file without permission', () => {
    writeFileSync(at('closed.xlsx'), richWorkbook());
    chmodSync(at('closed.xlsx'), 0);
    // The administrator may read everything: then the command runs as somebody else.
    const nobody = process.getuid?.() === 0 ? 65534 : undefined;
    const {status, stderr} = command('recalc', ['closed.xlsx', 'new.xlsx'], '', nobody);
    expect(stderr).toMatch(/closed\.xlsx .*permission is missing/);
    expect(status).toBe(2);
  });
});

test('through npm, as a user calls it', () => {
  const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
  const output = execFileSync(npm, ['run', '--silent', 'formula', '--', '=WHEEL.MATCH({0.8,40},{0.6,100},"turn")'], {
    cwd: root,
    encoding: 'utf8',
  });
  expect(JSON.parse(output)).toEqual({formula: '=WHEEL.MATCH({0.8,40},{0.6,100},"turn")', values: [[120]]});
});

describe('check', () => {
  const demo = path.join(root, 'assets/demo.xlsx');

  test('a line for each finding: sheet, cell, kind, shown, computed, what to do; ends with 1; the file is only read', () => {
    const before = hash('in.xlsx');
    const {status, lines, stderr} = command('check', ['in.xlsx']);
    expect([status, stderr]).toEqual([1, '']);
    const stale = lines.find((line) => line.includes('stale value'))!.split('\t');
    expect(stale).toHaveLength(6);
    expect(stale.slice(3, 5).map((part) => part.split(':')[0])).toEqual(['shown', 'computed']);
    expect(lines.some((line) => line.includes('computed: #VALUE! (rim (row 1, column 1)'))).toBe(true);
    expect(hash('in.xlsx')).toBe(before);
  });

  test('the same as JSON', () => {
    const {status, stdout} = command('check', ['in.xlsx', '--json']);
    expect(status).toBe(1);
    const {file, formulas, findings} = JSON.parse(stdout) as {
      file: string;
      formulas: number;
      findings: Record<string, unknown>[];
    };
    expect(file).toBe('in.xlsx');
    expect(formulas).toBeGreaterThan(3);
    expect(Object.keys(findings[0])).toEqual(['sheet', 'cell', 'kind', 'shown', 'computed', 'toDo', 'more']);
  });

  test('nothing found in the demo: ends with 0', () => {
    const {status, stdout, stderr} = command('check', [demo]);
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toMatch(/formulas with WHEEL functions, nothing found\.\n$/);
  });

  test('a file that is not there, that is none, and a call without a file', () => {
    writeFileSync(at('none.xlsx'), 'no workbook');
    expect(command('check', ['gone.xlsx'])).toMatchObject({
      status: 2,
      stdout: '',
      stderr: 'gone.xlsx does not exist\n',
    });
    const none = command('check', ['none.xlsx']);
    expect([none.status, none.stdout]).toEqual([2, '']);
    expect(none.stderr).toMatch(/^none\.xlsx /);
    expect(command('check', []).status).toBe(64);
    expect(command('check', ['--help'])).toMatchObject({status: 0, stderr: ''});
  });
});
