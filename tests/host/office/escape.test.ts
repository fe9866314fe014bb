/** @jest-environment ./tests/host/support/environment.cjs */
/** Words of the user in cells and formulas stay words: put into a workbook by way of the real office.js, and read back. */
import {parseA1Ref} from '@borgar/fx/xlsx';
import fc from 'fast-check';
import {fullAddress} from '../../../src/workbook/addresses';
import {columnName, plainText, quoted} from '../../../src/workbook/escape';
import {sheetName} from '../../../src/workbook/record/plan';
import {columnsReference} from '../../../src/workbook/references';
import {book} from '../support/books';
import {closePanes, openPane} from './support/panes';

jest.setTimeout(60_000);
afterEach(closePanes);

const HOSTILE = [
  '=1+1',
  '+1',
  '-2',
  '@SUM(A1)',
  "'quoted",
  "''",
  '"',
  '""&A1&""',
  '=HYPERLINK("x","y")',
  '=cmd|x!A1',
  '1-2',
  '3/4',
  '1e5',
  '007',
  '50 %',
  'TRUE',
  'false',
  '#REF!',
  '#N/A',
  'Mar 3',
  '\t=1',
  ' =1',
  '<b>&amp;',
  'naïve – “so”',
  'x'.repeat(600),
  `${'é"'.repeat(300)}`,
  '🛞'.repeat(200),
  'LF',
];

const text = fc.oneof(
  fc.constantFrom(...HOSTILE),
  fc
    .string({unit: 'binary', minLength: 1, maxLength: 300})
    .filter((some) => !/[\u0000-\u0008\u000b-\u001f\ufffe\uffff]/.test(some)),
  fc.string({unit: fc.constantFrom(...`='"+-@#[]!&(){}1a `), minLength: 1, maxLength: 20}),
);

const texts = (count: number, seed: number): string[] => [...HOSTILE, ...fc.sample(text, {numRuns: count, seed})];

test('a text in a cell: no formula, number, date or truth value', async () => {
  const all = texts(300, 1);
  const {run} = await openPane(book({Sheet1: {}}));
  await run(async (context) => {
    const range = context.workbook.worksheets.getItem('Sheet1').getRangeByIndexes(0, 0, all.length, 1);
    range.formulas = all.map((one) => [plainText(one)]);
    await context.sync();
    range.load('values,formulas');
    await context.sync();
    expect(range.values.map(([value]) => value as unknown)).toEqual(all);
  });
});

test('a text in a formula: the same text', async () => {
  const all = texts(200, 2);
  const {run} = await openPane(book({Sheet1: {}}));
  await run(async (context) => {
    const range = context.workbook.worksheets.getItem('Sheet1').getRangeByIndexes(0, 0, all.length, 1);
    range.formulas = all.map((one) => [`=${quoted(one)}&""`]);
    await context.sync();
    range.load('values');
    await context.sync();
    expect(range.values.map(([value]) => value as unknown)).toEqual(all);
  });
  // Excel takes no more than 255 characters between quotation marks.
  for (const one of all) {
    for (const [literal] of quoted(one).matchAll(/"(?:[^"]|"")*"/g)) {
      expect(literal.slice(1, -1).replace(/""/g, '"').length).toBeLessThanOrEqual(255);
    }
  }
});

test('headings of a table in its structured references', async () => {
  const headings = [...new Set(texts(60, 3).map((one) => one.replace(/\s+/g, ' ').trim().slice(0, 100)))].filter(
    (heading, i, all) => heading !== '' && all.findIndex((one) => one.toLowerCase() === heading.toLowerCase()) === i,
  );
  const {run} = await openPane(book({Data: {}, Sums: {}}));
  await run(async (context) => {
    const [sheet, sums] = ['Data', 'Sums'].map((name) => context.workbook.worksheets.getItem(name));
    const range = sheet.getRangeByIndexes(0, 0, 3, headings.length);
    range.formulas = [headings.map(plainText), headings.map((_, i) => i + 1), headings.map((_, i) => 100 * (i + 1))];
    const table = sheet.tables.add(range, true);
    table.name = 'Own';
    await context.sync();
    const out = sums.getRangeByIndexes(0, 0, headings.length, 2);
    out.formulas = headings.map((heading, i) => [
      `=SUM(${columnsReference('Own', heading, heading)})`,
      `=SUM(${columnsReference('Own', heading, headings[Math.min(i + 1, headings.length - 1)])})`,
    ]);
    const own = sheet.getRangeByIndexes(1, headings.length + 1, 1, 1);
    own.formulas = [[`=Own[[#This Row],[${columnName(headings[1])}]]`]];
    await context.sync();
    out.load('values');
    own.load('values');
    await context.sync();
    expect(out.values.map(([value]) => value as unknown)).toEqual(headings.map((_, i) => 101 * (i + 1)));
    expect(out.values[0][1]).toBe(101 * 3);
    expect(own.values).toEqual([[2]]);
  });
});

test('names of sheets in addresses', async () => {
  const names = [
    ...new Map(
      [...texts(60, 4), 'A1', 'R1C1', 'TRUE', 'C', 'Sheet 2', "it's"].map((one) => [
        sheetName(one).toLowerCase(),
        sheetName(one),
      ]),
    ).values(),
  ].filter((name) => name !== '');
  for (const sheet of names) {
    const address = fullAddress({sheet, row: 2, column: 1, rows: 1, columns: 1});
    expect(parseA1Ref(address)).toMatchObject({sheetName: sheet, range: {top: 2, left: 1, bottom: 2, right: 1}});
  }
  const {run} = await openPane(book({Start: {}}));
  await run(async (context) => {
    const {worksheets} = context.workbook;
    const start = worksheets.getItem('Start');
    names.forEach((name, i) => {
      worksheets.add(name).getRange('B3').values = [[i + 1]];
    });
    await context.sync();
    const range = start.getRangeByIndexes(0, 0, names.length, 1);
    range.formulas = names.map((sheet) => [`=${fullAddress({sheet, row: 2, column: 1, rows: 1, columns: 1})}`]);
    await context.sync();
    range.load('values');
    await context.sync();
    // The host's engine does not find a sheet with an exclamation mark in its name; how it is written is judged below.
    expect(names.filter((name, i) => !name.includes('!') && range.values[i][0] !== i + 1)).toEqual([]);
  });
});
