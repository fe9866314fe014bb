/**
 * @jest-environment ./tests/host/support/environment.cjs
 *
 * Every example of the help, typed as a formula into a workbook that runs the built bundle.
 */
import {CATALOGUE} from '../../src/functions/catalogue';
import type {Workbook} from '../../src/host/book/workbook';
import {emptyWorkbook} from './support/books';

let workbook: Workbook;
beforeAll(async () => {
  workbook = await emptyWorkbook();
}, 30000);
afterAll(() => workbook.dispose());

test.each(CATALOGUE.map(({name, example}) => [name, example] as const))('%s', async (_, {formula, gives}) => {
  const evaluation = await workbook.evaluate(formula);
  if ('error' in evaluation) throw new Error(evaluation.error.message);
  const rows = evaluation.values;
  expect(rows.map((row) => row.length)).toEqual(gives.map((row) => row.length));
  rows.flat().forEach((cell, i) => {
    const wanted = gives.flat()[i];
    if (typeof wanted === 'number')
      expect(Math.abs((cell as number) - wanted)).toBeLessThan(5e-9 * Math.max(1, Math.abs(wanted)));
    else expect(cell).toBe(wanted);
  });
});

describe('wrong cells in a formula are refused in words', () => {
  test.each(CATALOGUE.filter(({arguments: list}) => list.some(({optional}) => !optional)).map(({name}) => [name]))(
    '%s without arguments',
    async (name) => {
      expect(await workbook.evaluate(`=WHEEL.${name}()`)).toEqual({
        error: {code: '#VALUE!', message: expect.stringMatching(/^[a-zA-Z0-9]+: .*missing$/)},
      });
    },
  );

  test.each([
    ['=WHEEL.MATCH({0.8,"x"},{0.6,100})', 'rim (row 1, column 2): an angle in degrees is wanted, found the text "x"'],
    ['=WHEEL.MATCH({0.8,TRUE},{0.6,100})', 'rim (row 1, column 2): an angle in degrees is wanted, found TRUE'],
    ['=WHEEL.MATCH({0.8,40},{-0.6,100})', 'tire (row 1, column 1): an amount, at least 0, is wanted, found -0.6'],
    ['=WHEEL.STOCK(1/0,5)', 'mass (row 1, column 1): a mass, at least 0, is wanted, found the error #DIV/0!'],
    ['=WHEEL.TIR({1,#N/A})', 'readings (row 1, column 2): a reading is wanted, found the error #N/A'],
    ['=WHEEL.STOCK(1E+300,5)', 'mass (row 1, column 1): a mass of a size up to 1E+15 is wanted, found 1e+300'],
  ])('%s', async (formula, message) => {
    expect(await workbook.evaluate(formula)).toEqual({error: {code: '#VALUE!', message}});
  });
});
