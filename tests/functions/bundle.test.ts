/** The built bundle, as Excel loads it: every function of functions.json associated, answers and errors as Excel's. */
import {readFileSync} from 'node:fs';
import path from 'node:path';
import vm from 'node:vm';
import {functionsJson} from '../../src/tools/build/functionsJson';

const dist = (name: string): string => readFileSync(path.join(__dirname, '../../dist', name), 'utf8');

class ExcelError {
  constructor(
    readonly code: string,
    readonly message?: string,
  ) {}
}

type Associated = (...args: unknown[]) => unknown;
const associated = new Map<string, Associated>();

beforeAll(() => {
  const CustomFunctions = {
    associate: (id: string, f: Associated) => associated.set(id, f),
    Error: ExcelError,
    ErrorCode: {invalidValue: '#VALUE!', notAvailable: '#N/A'},
  };
  vm.runInNewContext(dist('functions.js'), {CustomFunctions});
});

/** Arrays of another realm, as plain ones. */
const plain = (answer: unknown): unknown => JSON.parse(JSON.stringify(answer));

test('functions.json is that of the declarations, and every function in it is associated', () => {
  const built = JSON.parse(dist('functions.json')) as ReturnType<typeof functionsJson>;
  const url = built.functions[0].helpUrl!.replace(/\/reference\.html#.*$/, '');
  expect(url).toMatch(/^https:\/\//);
  const development = built.functions.some(({id}) => id === 'PROBE');
  expect(built).toEqual(JSON.parse(JSON.stringify(functionsJson(url, development))));
  expect([...associated.keys()]).toEqual(built.functions.map(({id}) => id));
});

test('answers are rows of cells, whatever Excel appends to the arguments', () => {
  const invocation = {address: 'Sheet1!A1'};
  expect(plain(associated.get('MATCH')!([[0.8, 40]], [[0.6, 100]], 'turn', invocation))).toEqual([[120]]);
  expect(plain(associated.get('MATCH')!([[0.8, 40]], [[0.6, 100]], null, invocation))).toHaveLength(1);
  expect(plain(associated.get('EACHROW')!('STOCK', [[[12], [13]], 5], invocation))).toEqual([[10], [15]]);
});

test('a refusal is an Excel error with its message, of one of two codes', () => {
  const thrown = (name: string, ...args: unknown[]): ExcelError => {
    try {
      associated.get(name)!(...args);
    } catch (error) {
      expect(error).toBeInstanceOf(ExcelError);
      return error as ExcelError;
    }
    throw new Error('answered');
  };
  expect(thrown('MATCH', [[1, 'x']], [[1, 0]])).toMatchObject({
    code: '#VALUE!',
    message: 'rim (row 1, column 2): an angle in degrees is wanted, found the text "x"',
  });
  expect(thrown('HARMONIC', [[1, 2]])).toMatchObject({code: '#N/A'});
});

test('an error within a spill is a cell of it', () => {
  const [row] = associated.get('AVERAGE')!([[10, 0]], null) as unknown[][];
  expect(row[2]).toBeInstanceOf(ExcelError);
  expect(row[2]).toMatchObject({code: '#N/A', message: 'one spin alone shows no scatter; spin again'});
});
