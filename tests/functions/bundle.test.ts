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
  context = vm.createContext({CustomFunctions});
  // The script that a page would fetch when it is first needed is at hand already.
  vm.runInContext(dist('working.js'), context);
  vm.runInContext(dist('functions.js'), context);
});

let context: object;

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

describe('WORKING brings a second engine of arithmetic', () => {
  test('of which the script that every workbook loads has nothing', () => {
    const engines = ['ConditionalNode', 'studentt'];
    const within = (name: string): boolean[] => engines.map((engine) => dist(name).includes(engine));
    expect(within('functions.js')).toEqual([false, false]);
    expect(within('working.js')).toEqual([true, true]);
  });

  test('which is fetched at the first call, for which Excel waits; then it answers at once', async () => {
    const working = associated.get('WORKING')!;
    const first = working('STOCK', [[[12]], [[5]]]) as Promise<unknown[][]>;
    expect(typeof first.then).toBe('function');
    const rows = plain(await first) as unknown[][];
    expect(rows.every((row) => row.length === 7)).toBe(true);
    expect(rows[rows.length - 1].slice(0, 5)).toEqual([6, 'stock', 'stock', '', 10]);
    expect(plain(working('STOCK', [[[12]], [[5]]]))).toEqual(rows);
    expect(() => working('STOCK', [[[12]]])).toThrow(ExcelError);
    expect(() => working('NOTHING', [])).toThrow(ExcelError);
  });

  test('what cannot be fetched is an error that says what to do', async () => {
    const own = new Map<string, Associated>();
    const failing = {
      CustomFunctions: {
        associate: (id: string, f: Associated) => own.set(id, f),
        Error: ExcelError,
        ErrorCode: {invalidValue: '#VALUE!', notAvailable: '#N/A'},
      },
      // A page whose scripts do not arrive.
      document: {
        getElementsByTagName: () => [],
        createElement: () => ({setAttribute: () => undefined, getAttribute: () => null}),
        head: {appendChild: (script: {onerror: (event: object) => void}) => script.onerror({type: 'error'})},
      },
      setTimeout: () => 0,
      clearTimeout: () => undefined,
    };
    vm.runInNewContext(dist('functions.js'), failing);
    await expect(own.get('WORKING')!('STOCK', [[[12]], [[5]]])).rejects.toMatchObject({
      code: '#N/A',
      message: expect.stringContaining('enter the formula again'),
    });
    expect(plain(own.get('STOCK')!(12, 5))).toEqual([[10]]);
  });
});
