/**
 * @jest-environment ./tests/host/support/environment.cjs
 *
 * What the check works out by itself, held against the engine.
 */
import {readFileSync} from 'node:fs';
import path from 'node:path';
import {Recalculated} from '../../src/audit/evaluate/recalculated';
import {IndexedBook} from '../../src/audit/indexed';
import {placeAddress} from '../../src/host/book/addresses';
import {isError, sameValue, type CellValue} from '../../src/host/book/cells';
import type {Book} from '../../src/host/book/content';
import {readWorkbook} from '../../src/host/files/read';
import {richWorkbook} from '../files/richWorkbook';
import {book, dynamic, open, plain} from './support/books';

/** Every formula by both: those that differ, and those that are not worked out. */
async function both(content: Book) {
  const workbook = await open(content);
  const recalculated = new Recalculated(new IndexedBook(content));
  const different: string[] = [];
  const unknown: string[] = [];
  let compared = 0;
  for (const {sheet, row, column, area, formula} of workbook.formulas()) {
    const place = {sheet, row, column};
    const result = recalculated.result(place)!;
    if ('unknown' in result) {
      unknown.push(`${placeAddress(place)} ${result.unknown}`);
      continue;
    }
    for (let r = area.top; r <= area.bottom; r++)
      for (let c = area.left; c <= area.right; c++) {
        compared++;
        const [here, there] = [result.cells[r - row]?.[c - column] ?? null, workbook.at(sheet, r, c)];
        if (!alike(here, there))
          different.push(`${placeAddress({sheet, row: r, column: c})} ${formula}: ${show(here)} / ${show(there)}`);
      }
  }
  workbook.dispose();
  return {different, unknown, compared};
}

const show = (value: CellValue): string => JSON.stringify(value);

const alike = (a: CellValue, b: CellValue): boolean =>
  typeof a === 'number' && typeof b === 'number'
    ? Math.abs(a - b) <= 1e-12 * Math.max(1, Math.abs(a))
    : sameValue(a, b) && (!isError(a) || !isError(b) || b.message === undefined || a.message === b.message);

const demo = new Uint8Array(readFileSync(path.join(__dirname, '../../assets/demo.xlsx')));

test('every formula of the demo', async () => {
  const {different, unknown, compared} = await both(await readWorkbook(demo));
  expect(different).toEqual([]);
  expect(unknown).toEqual([]);
  expect(compared).toBeGreaterThan(1500);
}, 60000);

test('a workbook of another program', async () => {
  const {different, compared} = await both(await readWorkbook(richWorkbook()));
  // It reads a cell of an array that was never calculated, of which the file does not say how far it reaches.
  expect(different.filter((line) => !line.includes('=M5*2'))).toEqual([]);
  expect(compared).toBeGreaterThan(5);
});

test('operators, references, functions around ours', async () => {
  const data = {A1: 1, A2: 2.5, A3: 'text', A4: true, A6: -4, B1: 3, B2: 'x', B3: '7', C1: {code: '#DIV/0!'}};
  const formulas = [
    'A1+B3', 'A3+1', '-A2^2', '2^-1', '50%*A2', 'A1&B2&A4', 'A3="TEXT"', 'A5=""', 'A5=0', 'A4>A3', 'A3>5', 'A1/A5',
    'SUM(A1:A6,"3")', 'COUNT(A1:A6)', 'COUNTA(A1:B6)', 'COUNTBLANK(A1:A6)', 'AVERAGE(A1:A6)', 'MAX(A1:A6)', 'MIN(A1:A6)',
    'AND(A1>0,A2>2)', 'OR(A1>1,A4)', 'NOT(A4)', 'IF(A1>1,1/0,"no")', 'IF(A1<1,2)', 'IFERROR(A1/A5,"none")', 'IFERROR(C1,5)',
    'INDEX(A1:B3,2,1)', 'SUM(INDEX(A1:B3,1,0))', 'SUM(INDEX(A1:B2,0,1))', 'INDEX(A1:A4,2)', 'MATCH(2.5,A1:A4,0)',
    'MATCH("TEXT",A1:A4,0)', 'MATCH(3,{1,2,4})', 'MATCH(9,A1:A4,0)', 'CHOOSE(2,A1,A2)', 'ROUND(A2,0)', 'ROUND(-2.5,0)',
    'MOD(-7,360)', 'INT(-0.5)', 'ATAN2(1,2)', 'DEGREES(PI())', 'RADIANS(180)', 'SQRT(-1)', 'ABS(A6)', 'LEN(A3)', 'LEFT(A3,2)',
    'MID(A3,2,2)', 'UPPER(A3)', 'ISNUMBER(A3)', 'ISTEXT(A3)', 'ISBLANK(A5)', 'ISERROR(C1)', 'N(A3)', 'ROWS(A1:B3)', 'COLUMNS(A1:B3)',
    'ROW()', 'COLUMN(B1)', 'CONVERT(1,"in","mm")', 'LET(x,A1,y,x+1,y*2)', 'SUM(A1:A2 A2:A3)', 'Rim*2', 'C1+1',
    'WHEEL.MATCH({0.8,40},{0.6,100},"turn")', 'WHEEL.CLOCK(A5)', 'WHEEL.CLOCK(A1:A2)', 'WHEEL.TIR(A1:A6)', 'WHEEL.TIR(IF(A1:A2="","",A1:A2))',
    'WHEEL.MATCH({0.8,40},{0.6,100},,1)', 'WHEEL.CLOCK()', 'WHEEL.NOTHING(1)', '1+WHEEL.STOCK(A2,5)', 'WHEEL.TIR(C1:C1)', 'NOWHERE+1',
    'WHEEL.EACHROW("CLOCK",{10;"x";200})', 'SUM(WHEEL.HARMONIC({1,2,3,4,5,6}))', 'A1:A2*B1', 'SUM((A1:A2)*{1;2})', 'T(A3)', 'EXACT("a","A")',
  ]; // prettier-ignore
  const cells = Object.fromEntries(formulas.map((text, i) => [`E${1 + 3 * i}`, dynamic(text)]));
  const plains = Object.fromEntries(formulas.map((text, i) => [`K${1 + 3 * i}`, plain(text)]));
  const names = [{name: 'Rim', formula: 'Sheet1!$A$2'}];
  const {different, unknown} = await both(book({Sheet1: {...data, ...cells, ...plains}}, {names}));
  expect(different).toEqual([]);
  expect(unknown).toEqual([]);
}, 30000);

test('names: a variable hides one, but not within its definition; names limited to a sheet', async () => {
  const sheet = "Bob's wheels";
  const formulas = ['LET(rim,100,rim+Twice)', `'Bob''s wheels'!Own+1`, 'WHEEL.CLOCK(Twice,1,2,3)', 'Round+1'];
  const content = book(
    {
      Sheet1: {A2: 3, ...Object.fromEntries(formulas.map((text, i) => [`E${1 + 3 * i}`, dynamic(text)]))},
      [sheet]: {A1: 20},
    },
    {
      names: [
        {name: 'Rim', formula: 'Sheet1!$A$2'},
        {name: 'Twice', formula: 'Rim*2'},
        {name: 'Own', formula: `'Bob''s wheels'!$A$1`, sheet},
      ],
    },
  );
  const {different, unknown} = await both(content);
  expect({different, unknown}).toEqual({different: [], unknown: []});
  const recalculated = new Recalculated(new IndexedBook(content));
  expect(recalculated.result({sheet: 'Sheet1', row: 0, column: 4})).toMatchObject({cells: [[106]]});
  expect(recalculated.result({sheet: 'Sheet1', row: 3, column: 4})).toMatchObject({cells: [[21]]});
});
