/** @jest-environment ./tests/host/support/environment.cjs */
import type {CellValue} from '../../src/host/book/cells';
import type {Evaluation, Workbook} from '../../src/host/book/workbook';
import {book, bundledFunctions, emptyWorkbook, open} from './support/books';

let empty: Workbook;
let readings: Workbook;

beforeAll(async () => {
  empty = await emptyWorkbook();
  readings = await open(
    book({
      Sheet1: {A1: 0.8, B1: 40, C1: 'x', D1: {code: '#DIV/0!'}, E1: true, G1: '007', A2: 0.6, B2: 100, A3: 0.5, B3: 0},
    }),
  );
});
afterAll(() => {
  empty.dispose();
  readings.dispose();
});

const valuesOf = (evaluation: Evaluation): readonly (readonly CellValue[])[] => {
  if ('error' in evaluation) throw new Error(`${evaluation.error.code} ${evaluation.error.message ?? ''}`);
  return evaluation.values;
};
const errorOf = (evaluation: Evaluation): string => {
  if (!('error' in evaluation)) throw new Error(`no error but ${JSON.stringify(evaluation.values)}`);
  return `${evaluation.error.code} ${evaluation.error.message ?? ''}`.trim();
};

describe('the built worksheet functions', () => {
  test('every example of the bundle is a function of the engine', async () => {
    for (const {name, parameters} of bundledFunctions()) {
      // Called without arguments, a function names the one that is missing, or needs none.
      const evaluation = await empty.evaluate(`=WHEEL.${name}()`);
      if (parameters.every(({optional}) => optional)) valuesOf(evaluation);
      else expect(errorOf(evaluation)).toMatch(/^#VALUE! .*this argument is missing/);
    }
  });

  test('full precision: the answer of MATCH to its last bit', async () => {
    const [[turn, after, before, gain]] = valuesOf(await empty.evaluate('=WHEEL.MATCH({0.8,40},{0.6,100})'));
    // Triangle of 0.8 and 0.6 at 60 degrees; opposite to each other afterwards.
    const sum = Math.sqrt(0.8 ** 2 + 0.6 ** 2 + 2 * 0.8 * 0.6 * Math.cos(Math.PI / 3));
    expect(turn).toBe(120);
    expect(after).toBe(0.8 - 0.6);
    expect(before).toBeCloseTo(sum, 14);
    expect(gain).toBe((before as number) - (after as number));
  });

  test('nested calls, and native functions around them', async () => {
    expect(valuesOf(await empty.evaluate('=SUM(WHEEL.MATCH({0.8,40},{0.6,100},"turn"),1)'))).toEqual([[121]]);
    expect(valuesOf(await empty.evaluate('=INDEX(WHEEL.MATCH({0.8,40},{0.6,100}),1,1)/2'))).toEqual([[60]]);
    const nested = valuesOf(await empty.evaluate('=WHEEL.RESULTANT(WHEEL.RESULTANT({1,0;1,90}),"amount")'));
    expect(nested[0][0]).toBeCloseTo(Math.SQRT2, 14);
    expect(valuesOf(await empty.evaluate('=ROUND(SUMPRODUCT(WHEEL.MATCH({0.8,40},{0.6,100})*{1,0,0,0}),0)'))).toEqual([
      [120],
    ]);
  });

  test('a refusal keeps its message, also through native functions', async () => {
    const message = '#VALUE! rim (row 1, column 2): an angle in degrees is wanted, found the text "x"';
    expect(errorOf(await empty.evaluate('=WHEEL.MATCH({0.8,"x"},{0.6,100})'))).toBe(message);
    expect(errorOf(await empty.evaluate('=1+SUM(WHEEL.MATCH({0.8,"x"},{0.6,100}))'))).toBe(message);
    expect(errorOf(await empty.evaluate('=LET(a,WHEEL.MATCH({0.8,"x"},{0.6,100}),INDEX(a,1,1))'))).toBe(message);
    expect(valuesOf(await empty.evaluate('=IFERROR(WHEEL.MATCH({0.8,"x"},{0.6,100}),"none")'))).toEqual([['none']]);
  });

  test('an error cell is named with its argument and its code', async () => {
    expect(errorOf(await readings.evaluate('=WHEEL.RESULTANT(A1:B1,D1)'))).toMatch(/part.*the error #DIV\/0!/);
    expect(errorOf(await readings.evaluate('=WHEEL.MATCH(C1:D1,A2:B2)'))).toMatch(
      /^#VALUE! rim \(row 1, column 1\).*"x"/,
    );
    expect(errorOf(await readings.evaluate('=WHEEL.MATCH(IF({1,0},A1,D1),A2:B2)'))).toMatch(
      /rim \(row 1, column 2\).*the error #DIV\/0!/,
    );
  });

  test('EACHROW: errors in their own rows, with their messages', async () => {
    const values = valuesOf(
      await empty.evaluate('=WHEEL.EACHROW("MATCH",{0.8,40;"x",2;0.5,0},{0.6,100;1,2;0.5,0},"turn")'),
    );
    expect(values).toEqual([[120], [{code: '#VALUE!', message: expect.stringContaining('rim')}], [180]]);
  });

  test('EACHROW over 100,000 rows', async () => {
    const formula = '=WHEEL.EACHROW("MATCH",HSTACK(SEQUENCE(100000)/100000,SEQUENCE(100000)),{0.6,100},"turn")';
    const values = valuesOf(await empty.evaluate(formula));
    expect(values).toHaveLength(100_000);
    // The rim at 1°, 2°, …: the tire's high point is turned to the opposite of it.
    expect(values[0][0]).toBe(81);
    expect(values[99][0]).toBe(180);
    expect(values[99_999][0]).toBeCloseTo((((180 + 100_000 - 100) % 360) + 360) % 360, 9);
  });

  test('too many arguments, an unknown function of the namespace', async () => {
    expect(errorOf(await empty.evaluate('=WHEEL.MATCH(1,2,3,4)'))).toBe(
      '#VALUE! WHEEL.MATCH takes 3 arguments, found 4',
    );
    expect(errorOf(await empty.evaluate('=WHEEL.NOSUCH(1)'))).toBe('#NAME? there is no function WHEEL.NOSUCH');
  });
});

describe('what the engine alone would get wrong', () => {
  test.each<[string, CellValue[][]]>([
    [
      '={"a","b,c";"d;e","5%"}',
      [
        ['a', 'b,c'],
        ['d;e', '5%'],
      ],
    ],
    ['={"a""b","{x}","it\'s","TRUE"}', [['a"b', '{x}', "it's", 'TRUE']]],
    [
      '={-1,2.5;-3E-7,1E+300}',
      [
        [-1, 2.5],
        [-3e-7, 1e300],
      ],
    ],
    ['={TRUE,FALSE,#N/A}', [[true, false, {code: '#N/A'}]]],
    ['="5%"', [['5%']]],
    ['=IF(TRUE,"2024-01-02")', [['2024-01-02']]],
    ['="007"&"1,000"', [['0071,000']]],
    ['=0.30000000000000004', [[0.30000000000000004]]],
    ['=1.7976931348623157E+308', [[1.7976931348623157e308]]],
    ['=5E-324', [[5e-324]]],
    ['=12345678901234567', [[12345678901234568]]],
    ['=-2^2', [[4]]],
    ['=0-2^2', [[-4]]],
    ['=--"3"', [[3]]],
    ['=10%%', [[0.001]]],
    ['=2^-1', [[0.5]]],
    ['=1--2', [[3]]],
    ['="x""y"', [['x"y']]],
    ['="line\nbreak"', [['line\nbreak']]],
    ['=IF(TRUE,,1)', [[0]]],
    ['=SUM((A1,A2:B2))', [[101.4]]],
    ['=A1:B2 B1:C3', [[40], [100]]],
    ['=A:A A2:C2', [[0.6]]],
    ['=sheet1!A1', [[0.8]]],
    ['=ROWS(A:A)', [[1048576]]],
    ['=SUM(A:A)', [[1.9]]],
    ['=SUM(1:1)', [[40.8]]],
    ['=@A1:A3', [[0.8]]],
    ['=_xlfn.SINGLE(A1:A3)+_xlfn.SEQUENCE(1)', [[1.8]]],
    ['=LET(r,2,c,3,r*c)', [[6]]],
    ['=LAMBDA(x,x+1)(3)', [[4]]],
    ['=MAP({1,2},LAMBDA(v,v*2))', [[2, 4]]],
    ['=F1', [[0]]],
    ['=G1', [['007']]],
    ['=E1', [[true]]],
    ['=A1:INDEX(A1:A3,2)', [[0.8], [0.6]]],
  ])('%s', async (formula, expected) => {
    const before = valuesOf(await readings.evaluate(formula.replace('SUM(1:1)', 'SUM(A1:B1)')));
    expect(before).toEqual(expected);
  });

  test('a sheet, a name, a table that is not there gives an error with words, and IFERROR still works', async () => {
    expect(errorOf(await empty.evaluate('=Nope!A1'))).toBe('#REF! there is no sheet Nope for Nope!A1');
    expect(errorOf(await empty.evaluate('=nosuchname+1'))).toBe('#NAME? there is no name nosuchname');
    expect(errorOf(await empty.evaluate('=Nope[A]'))).toBe('#NAME? there is no table Nope for Nope[A]');
    expect(errorOf(await empty.evaluate('=NOSUCH(1)'))).toBe('#NAME? there is no function NOSUCH here');
    expect(errorOf(await empty.evaluate('=[Other.xlsx]Sheet1!A1'))).toMatch(/^#REF! .*another workbook/);
    expect(valuesOf(await empty.evaluate('=IFERROR(Nope!A1,IFERROR(NOSUCH(1),7))'))).toEqual([[7]]);
  });

  test('native errors come with a plain message or none', async () => {
    expect(errorOf(await empty.evaluate('=1/0'))).toBe('#DIV/0!');
    expect(errorOf(await empty.evaluate('=SQRT(-1)'))).toBe('#NUM!');
    expect(errorOf(await empty.evaluate('=#REF!'))).toBe('#REF!');
    expect(errorOf(await empty.evaluate('=LAMBDA(x,x)'))).toMatch(/^#CALC!/);
  });

  test.each([
    ['=1+', 'something is missing at its end'],
    ['=SUM(1', 'a closing parenthesis is missing'],
    ['=SUM(1))', 'there is a closing parenthesis too many'],
    ['="abc', 'a quotation mark or a bracket is not closed'],
    ['=SUM(A1;B1)', 'unexpected ; at character 8; arguments are separated by commas'],
    ['=1 2', 'unexpected 2 at character 4'],
    ['=SUM("a" "b")', 'unexpected "b" at character 10'],
    ['=*2', 'unexpected * at character 2'],
    ['={1,A1}', /^braces hold numbers, texts/],
    ['=', 'empty'],
  ])('%s cannot be read, in words', async (formula, words) => {
    const text = errorOf(await empty.evaluate(formula));
    expect(text).toMatch(/^#NAME\? the formula (cannot be read|is empty)/);
    expect(text.replace(/^#NAME\? the formula (cannot be read: |is )/, '')).toEqual(
      words instanceof RegExp ? expect.stringMatching(words) : words,
    );
  });

  test('the "=" may be missing, and blanks around it do not matter', async () => {
    expect(valuesOf(await empty.evaluate('  1+1 '))).toEqual([[2]]);
    expect(valuesOf(await empty.evaluate(' = 1 + 1'))).toEqual([[2]]);
  });

  test('very large formulas', async () => {
    const terms = Array.from({length: 2000}, (_, i) => i + 1).join('+');
    expect(terms.length).toBeGreaterThan(8000);
    expect(valuesOf(await empty.evaluate(`=${terms}`))).toEqual([[2001000]]);
    const readingsText = Array.from({length: 2000}, (_, i) => (i % 2 ? 0.25 : -0.25)).join(',');
    expect(valuesOf(await empty.evaluate(`=SUM(ABS({${readingsText}}))`))).toEqual([[500]]);
    const texts = Array.from({length: 1000}, (_, i) => `"reading ${i}, 5%"`).join(';');
    const rows = valuesOf(await empty.evaluate(`={${texts}}`));
    expect(rows).toHaveLength(1000);
    expect(rows[999]).toEqual(['reading 999, 5%']);
    const nested = `${'IF(TRUE,'.repeat(60)}1${')'.repeat(60)}`;
    expect(valuesOf(await empty.evaluate(`=${nested}`))).toEqual([[1]]);
  });

  test('a formula is evaluated as if it stood in a cell', async () => {
    const at = {sheet: 'Sheet1', cell: 'D3'};
    expect(valuesOf(await readings.evaluate('=ROW()*10+COLUMN()', at))).toEqual([[34]]);
    expect(valuesOf(await readings.evaluate('=@A1:A3', at))).toEqual([[0.5]]);
    await expect(readings.evaluate('=1', {sheet: 'Nope', cell: 'A1'})).rejects.toThrow('there is no sheet Nope');
    await expect(readings.evaluate('=1', {sheet: 'Sheet1', cell: '1A'})).rejects.toThrow(
      '1A is not the address of a cell',
    );
  });
});
