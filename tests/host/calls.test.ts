/** @jest-environment ./tests/host/support/environment.cjs */
/** How a call of a worksheet function arrives and how its answer leaves, seen by functions made for it. */
import {CustomFunctionsError, loadFunctions, type Callable} from '../../src/host/engine/functionsBundle';
import {startSession} from '../../src/host/engine/start';
import type {Workbook} from '../../src/host/book/workbook';
import {openBook} from '../../src/host/book/workbook';
import {book, nodeEngine} from './support/books';

const matrix = (name: string) => ({name, dimensionality: 'matrix' as const});
const scalar = (name: string) => ({name, dimensionality: 'scalar' as const});

let seen: unknown[][] = [];
const noting =
  (answer: (...args: unknown[]) => unknown): Callable =>
  (...args) => {
    seen.push(args);
    return answer(...args);
  };

const FUNCTIONS = [
  {id: 'SEE', name: 'SEE', parameters: [matrix('range'), scalar('one'), scalar('other')], call: noting(() => 'seen')},
  {
    id: 'MANY',
    name: 'MANY',
    parameters: [scalar('first'), {...matrix('rest'), repeating: true}],
    call: noting(() => 'seen'),
  },
  {id: 'TWICE', name: 'TWICE', parameters: [scalar('x')], call: noting((x) => [[(x as number) * 2, 'more']])},
  {
    id: 'SUMOF',
    name: 'SUMOF',
    parameters: [scalar('x'), scalar('y')],
    call: noting((x, y) => (x as number) + (y as number)),
  },
  {
    id: 'ANSWER',
    name: 'ANSWER',
    parameters: [scalar('which')],
    call: noting((which) => ANSWERS[which as keyof typeof ANSWERS]()),
  },
];
const ANSWERS = {
  text: () => '5%',
  empty: () => '',
  truth: () => true,
  zero: () => [[-0]],
  error: () => {
    throw new CustomFunctionsError('#N/A', 'not to be had');
  },
  inner: () => [[1, new CustomFunctionsError('#VALUE!', 'this one alone')]],
  crash: () => {
    throw new TypeError('undefined is not a function');
  },
  nan: () => [[1, NaN]],
  missing: () => [[undefined]],
  ragged: () => [[1, 2], [3]],
  nothing: () => [],
  string: () => 'TRUE',
};

let workbook: Workbook;
beforeAll(async () => {
  workbook = await openBook(
    book({S: {A1: 1, B1: 'x', C1: true, D1: {code: '#DIV/0!'}, F1: '007', G1: '', A2: 2, A3: 3}}),
    nodeEngine(FUNCTIONS),
  );
});
afterAll(() => workbook.dispose());
beforeEach(() => {
  seen = [];
});

const evaluated = async (formula: string) => {
  const evaluation = await workbook.evaluate(formula);
  return 'error' in evaluation ? evaluation.error : evaluation.values;
};

describe('arguments', () => {
  test.each<[string, unknown[]]>([
    ['=WHEEL.SEE(A1:B1,1,2)', [[[1, 'x']], 1, 2]],
    ['=WHEEL.SEE(A1,A1,A2)', [[[1]], 1, 2]],
    ['=WHEEL.SEE(7,"a",TRUE)', [[[7]], 'a', true]],
    // Omitted in the middle and at the end.
    ['=WHEEL.SEE(A1,,2)', [[[1]], null, 2]],
    ['=WHEEL.SEE(A1,)', [[[1]], null, null]],
    ['=WHEEL.SEE(A1)', [[[1]], null, null]],
    ['=WHEEL.SEE(,,)', [null, null, null]],
    ['=WHEEL.SEE()', [null, null, null]],
    // A blank is 0, in a range and alone; an empty text is not.
    [
      '=WHEEL.SEE(D2:E3,E1,G1)',
      [
        [
          [0, 0],
          [0, 0],
        ],
        0,
        '',
      ],
    ],
    ['=WHEEL.SEE(A1:G1,1,1)', [[[1, 'x', true, {code: '#DIV/0!'}, 0, '007', '']], 1, 1]],
    ['=WHEEL.SEE(IF(A1:G1="","",A1:G1),1,1)', [[[1, 'x', true, {code: '#DIV/0!'}, '', '007', '']], 1, 1]],
    // Errors reach the function, which has words for them.
    ['=WHEEL.SEE(1,D1,1/0)', [[[1]], {code: '#DIV/0!'}, {code: '#DIV/0!'}]],
    ['=WHEEL.SEE(#N/A,1,1)', [[[{code: '#N/A'}]], 1, 1]],
    // Texts stay texts.
    ['=WHEEL.SEE({"5%","TRUE","1E3"},"007","2024-01-02")', [[['5%', 'TRUE', '1E3']], '007', '2024-01-02']],
    ['=WHEEL.SEE({1;-2.5},"","a ""b""")', [[[1], [-2.5]], '', 'a "b"']],
    ['=WHEEL.SEE(A1>0,FALSE,TRUE())', [[[true]], false, true]],
    ['=WHEEL.SEE((A1:A3),A1+1,-A2)', [[[1], [2], [3]], 2, -2]],
    ['=wheel.see(A1,1,1)', [[[1]], 1, 1]],
    ['=_xldudf_WHEEL_SEE(A1,1,1)', [[[1]], 1, 1]],
  ])('%s', async (formula, args) => {
    expect(await evaluated(formula)).toEqual([['seen']]);
    expect(seen).toEqual([args]);
  });

  test('all arguments from a repeating one on come as one, each of them a range or null', async () => {
    await evaluated('=WHEEL.MANY("a",A1:B1,,3,{4;5})');
    expect(seen).toEqual([['a', [[[1, 'x']], null, [[3]], [[4], [5]]]]]);
    seen = [];
    await evaluated('=WHEEL.MANY("a")');
    expect(seen).toEqual([['a', []]]);
  });

  test('several values where one is declared: one call each, whose first figures spill', async () => {
    expect(await evaluated('=WHEEL.TWICE(A1:A3)')).toEqual([[2], [4], [6]]);
    expect(seen).toEqual([[1], [2], [3]]);
    expect(await evaluated('=WHEEL.TWICE({1,2;3,4})')).toEqual([
      [2, 4],
      [6, 8],
    ]);
    // A row and a column make a table; where one is too short there is nothing.
    expect(await evaluated('=WHEEL.SUMOF({1,2,3},{10;20})')).toEqual([
      [11, 12, 13],
      [21, 22, 23],
    ]);
    expect(await evaluated('=WHEEL.SUMOF({1,2},1)')).toEqual([[2, 3]]);
    seen = [];
    await evaluated('=WHEEL.SUMOF({1;2;3},{10;20})');
    expect(seen).toEqual([
      [1, 10],
      [2, 20],
      [3, {code: '#N/A'}],
    ]);
  });
});

describe('answers', () => {
  test.each<[string, unknown]>([
    ['text', [['5%']]],
    ['string', [['TRUE']]],
    ['empty', [['']]],
    ['truth', [[true]]],
    ['zero', [[0]]],
    ['error', {code: '#N/A', message: 'not to be had'}],
    ['inner', [[1, {code: '#VALUE!', message: 'this one alone'}]]],
    [
      'crash',
      {code: '#VALUE!', message: expect.stringMatching(/^a fault of this program.*undefined is not a function/)},
    ],
    ['ragged', {code: '#VALUE!', message: expect.stringContaining('not a table of cells')}],
    ['nothing', {code: '#VALUE!', message: expect.stringContaining('not a table of cells')}],
    // Excel would show 0, which would pass for a figure.
    ['nan', [[1, {code: '#VALUE!', message: expect.stringContaining('answers with NaN')}]]],
    ['missing', {code: '#VALUE!', message: expect.stringContaining('answers with undefined')}],
  ])('%s', async (which, expected) => {
    expect(await evaluated(`=WHEEL.ANSWER("${which}")`)).toEqual(expected);
  });

  test('-0 is shown as 0', async () => {
    expect(Object.is(((await evaluated('=WHEEL.ANSWER("zero")')) as number[][])[0][0], 0)).toBe(true);
  });
});

test('a formula on which the engine fails is an error in its cell, and the calculation ends', async () => {
  const session = startSession(nodeEngine([]));
  const cells = [
    {row: 0, column: 0, formula: {text: '=LAMBDA(SUM(1),1)(2)', kind: 'plain' as const}},
    {row: 1, column: 0, formula: {text: '=1+1', kind: 'plain' as const}},
  ];
  session.load([{id: 'a', name: 'S', cells, hiddenRows: []}]);
  await session.calculate();
  expect([...session.results('a').values()]).toEqual([
    [[{code: '#VALUE!', message: expect.stringContaining('the calculation engine fails on this formula')}]],
    [[2]],
  ]);
  session.dispose();
});

test('a bundle that does not define what its metadata say is refused', () => {
  const metadata = {
    functions: [
      {id: 'A', name: 'A', parameters: []},
      {id: 'B', name: 'B', parameters: []},
    ],
  };
  const run = (_: string, runtime: object): void => {
    (runtime as {associate(id: string, call: Callable): void}).associate('A', () => 1);
  };
  expect(() => loadFunctions('', metadata, run)).toThrow('does not define B');
});
