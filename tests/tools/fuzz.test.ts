/** Calls with made-up arguments: a small seeded run of the real functions, and faults planted to be found. */
import {spawnSync} from 'node:child_process';
import {mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {CATALOGUE} from '../../src/functions/catalogue';
import {CustomFunctionsError} from '../../src/host/engine/functionsBundle';
import {exampleArguments} from '../../src/tools/fuzz/examples';
import {judge} from '../../src/tools/fuzz/judge';
import {parseCall} from '../support/formula';

const root = path.resolve(__dirname, '../..');

function fuzz(...args: string[]) {
  const {status, stdout, stderr} = spawnSync(
    process.execPath,
    ['--import', 'tsx', path.join(root, 'src/tools/fuzz/run.ts'), ...args],
    {cwd: root, encoding: 'utf8'},
  );
  return {status, stdout, stderr, last: stdout.trimEnd().split('\n').at(-1)!};
}

describe('the command', () => {
  test('finds nothing in the functions that are delivered', () => {
    const {status, stdout, last} = fuzz('--runs', '2000', '--seed', '20260611');
    expect(stdout.trimEnd()).toBe(last);
    expect(last).toMatch(/^2000 calls of \d+ functions \(seed 20260611\): 0 findings; answered: /);
    expect(last).toContain(`of ${CATALOGUE.length} functions`);
    // Calls that are all refused would try little.
    expect(Number(/answered: ([\d.]+) % of/.exec(last)![1])).toBeGreaterThan(70);
    expect(status).toBe(0);
  }, 120000);

  test('says what it takes, and what it does not', () => {
    expect(fuzz('--help')).toMatchObject({status: 0, stdout: expect.stringContaining('npm run fuzz -- --runs')});
    expect(fuzz('--only', 'NONE')).toMatchObject({status: 64, stdout: ''});
  }, 120000);

  describe('functions with faults', () => {
    let folder: string;
    const bundle = () => path.join(folder, 'faulty.js');
    const plant = (body: string): void => {
      writeFileSync(bundle(), `CustomFunctions.associate('CLOCK', function (angle) { ${body} });`);
      writeFileSync(
        path.join(folder, 'faulty.json'),
        JSON.stringify({functions: [{id: 'CLOCK', name: 'CLOCK', parameters: []}]}),
      );
    };
    beforeAll(() => (folder = mkdtempSync(path.join(tmpdir(), 'fuzz-'))));
    afterAll(() => rmSync(folder, {recursive: true, force: true}));

    test('one that never ends is ended and found', () => {
      plant('if (angle > 0) for (;;); return [[1]];');
      const {status, stdout, last} = fuzz('--bundle', bundle(), '--patience', '1', '--runs', '20', '--only', 'CLOCK');
      expect(stdout).toMatch(/^CLOCK \[[^\n]*\n {2}it has not ended after 1 s$/m);
      expect(last).toMatch(/: [1-9]\d* findings;/);
      expect(status).toBe(1);
    }, 120000);
  });
});

describe('what is asked of a call', () => {
  const args = [[[1, 2]], {code: '#N/A'}] as const;
  const judged = (call: (...args: unknown[]) => unknown, clock?: () => number, times = 1) => {
    const judges = judge([{id: 'F', name: 'F', parameters: [], call}], clock);
    return Array.from({length: times}, () => judges({name: 'F', args: [...args]})).at(-1)!;
  };
  const error = (code: string, message: string) => new CustomFunctionsError(code, message);

  test('numbers, texts and the two errors are answers', () => {
    expect(judged(() => [[1, 'a', error('#N/A', 'none yet')]])).toMatchObject({outcome: 'answer'});
    expect(judged(() => [[1, 'a', error('#N/A', 'none yet')]]).fault).toBeUndefined();
    expect(judged(() => [[1]], undefined, 5).later).toBeUndefined();
    const refusing = judged(() => {
      throw error('#VALUE!', 'a number is wanted, found the text "undefined"');
    });
    expect(refusing).toMatchObject({outcome: 'refusal'});
    expect(refusing.fault).toBeUndefined();
  });

  test.each<[string, unknown, RegExp]>([
    ['NaN', [[NaN]], /answers with NaN/],
    ['an infinity', [[1, -Infinity]], /answers with -Infinity/],
    ['nothing', undefined, /no rows/],
    ['no row', [], /no rows/],
    ['an empty row', [[]], /not equally long, or empty/],
    ['a ragged table', [[1, 2], [3]], /not equally long/],
    ['a hole', [[null]], /answers with null/],
    ['a boolean', [[true]], /answers with true/],
    ['another error', [[error('#NUM!', 'no')]], /refuses with #NUM!/],
    ['an error without a word', [[error('#N/A', ' ')]], /without a word/],
    ['a word of the program', [['found undefined cells']], /it says/],
  ])('%s is a fault', (_, cells, says) => expect(judged(() => cells).fault).toMatch(says));

  test('a failure is a fault, and so is an error of another kind', () => {
    const failing = (thrown: unknown) =>
      judged(() => {
        throw thrown;
      }).fault;
    expect(failing(new TypeError('x is not a function'))).toMatch(/TypeError: x is not a function/);
    expect(failing('text')).toBe('it fails with text');
    expect(failing(error('#DIV/0!', 'no'))).toBe('it refuses with #DIV/0!');
  });

  test('arguments that are changed', () => {
    expect(judged((range) => [[((range as number[][])[0][0] = 5)]]).fault).toBe('the arguments were changed');
    expect(judged((range) => [[(range as number[][]).push([1])]]).fault).toBe('the arguments were changed');
  });

  test('another answer to the same arguments, at once or after other calls', () => {
    let calls = 0;
    expect(judged(() => [[++calls]]).fault).toMatch(/the answer is another: \[\[1\]\], then \[\[2\]\]/);
    calls = 0;
    expect(judged(() => [[0 * (calls++ % 2 === 0 ? 1 : -1)]]).fault).toMatch(/the answer is another/);
    calls = 0;
    expect(judged(() => [[calls++ < 2 ? 1 : 2]], undefined, 3).later?.fault).toMatch(/^after other calls the answer/);
    calls = 0;
    const refusing = () => {
      if (calls++ % 2 === 0) throw error('#N/A', 'no');
      return [[1]];
    };
    expect(judged(refusing).fault).toBe('it answers once and refuses once');
  });

  test('a call over a second, unless it was the machine: twice more it may try', () => {
    const clock = (...durations: number[]) => {
      let [now, n] = [0, 0];
      return () => (n++ % 2 === 0 ? now : (now += durations[(n / 2 - 1) % durations.length]));
    };
    expect(judged(() => [[1]], clock(1500)).fault).toBe('it took 1.5 s');
    expect(judged(() => [[1]], clock(1500, 1400, 900))).toEqual({outcome: 'answer', took: 900});
  });
});

test('the arguments of the examples are read as the formulas say', () => {
  const plain = (args: readonly unknown[]): unknown => JSON.parse(JSON.stringify(args));
  for (const declared of CATALOGUE) {
    const {args} = parseCall(declared.example.formula);
    expect(plain(exampleArguments(declared))).toEqual(plain(args));
  }
});
