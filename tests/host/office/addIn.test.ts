/** @jest-environment ./tests/host/support/environment.cjs */
import {findLedger, readRecord} from '../../../src/workbook/ledger';
import {inTheWay, insertFormula, readReference} from '../../../src/workbook/insert';
import {followWorkbook, readSelection, select} from '../../../src/workbook/selection';
import {startLedger} from '../../../src/workbook/startLedger';
import {WorkbookProblem} from '../../../src/workbook/problems';
import {enter} from '../../../src/host/office/writing';
import {book} from '../support/books';
import {closePanes, nextTurn, openPane, type Pane} from './support/panes';

afterEach(closePanes);

/** The add-in's own code finds the office.js of the pane as it does in a page. */
async function paneOf(content = book({Sheet1: {A1: 'mine'}})): Promise<Pane> {
  const pane = await openPane(content);
  Object.assign(globalThis, {Excel: pane.office.Excel});
  return pane;
}

const reading = (amount: number, low: number): number[] =>
  Array.from(
    {length: 16},
    (_, i) => Math.round(500 * amount * (1 - Math.cos(((i * 22.5 - low) * Math.PI) / 180))) / 1000,
  );

test('a new ledger is started, filled by hand, and read back', async () => {
  const pane = await paneOf();
  await startLedger('metric');
  const names = pane.book.sheets.map(({name}) => name);
  expect(names).toEqual(['Sheet1', 'Wheels', 'Limits', 'Prices', 'Positions', 'Planes', 'Ledger map']);
  expect(pane.book.tables.map(({name}) => name)).toContain('Wheels');
  const selection = await readSelection();
  expect([selection.sheet, selection.row]).toEqual(['Wheels', 3]);

  const ledger = await findLedger(selection);
  expect(ledger?.map.origin).toBe('map');
  const wheels = pane.book.sheets[1];
  const at = (name: string): number => ledger!.headings.indexOf(name);
  const entries: [string, string | number][] = [
    ['Job', 101],
    ['Class', 'passenger'],
    ['Position', 'LF'],
    ...reading(1.2, 45).map((value, i): [string, number] => [`A${i + 1}`, value]),
    ...reading(0.8, 60).map((value, i): [string, number] => [`I${i + 1}`, value]),
    ...reading(0.8, 60).map((value, i): [string, number] => [`O${i + 1}`, value]),
    ['In g', 30],
    ['In °', 40],
    ['Out g', 20],
    ['Out °', 200],
  ];
  enter(
    pane.book,
    wheels.id,
    entries.map(([name, value]) => ({row: 3, column: at(name), value})),
  );
  await pane.book.settle();
  const record = await readRecord(ledger!, selection);
  expect(record?.cells('Job')).toEqual([101]);
  expect(record?.cells('Assembly readings')).toHaveLength(16);
  expect(record?.cells('Stock step')).toEqual([5]);
  const finding = pane.book.value(wheels.id, 3, at('Finding'));
  const runout = pane.book.value(wheels.id, 3, at('Assembly'));
  expect(finding).toBe('match mount');
  expect(runout).toBeCloseTo(1.2, 2);
  // Rows that nobody has filled yet show nothing, not errors.
  expect(pane.book.value(wheels.id, 4, at('Finding'))).toBe('');
  // A weight of the stock is a multiple of the step.
  expect(Number(pane.book.value(wheels.id, 3, at('In stock'))) % 5).toBe(0);
}, 60_000);

test('what is there already is named, and nothing is changed', async () => {
  const pane = await paneOf(book({Limits: {A1: 'mine'}}));
  await expect(startLedger('us')).rejects.toThrow(WorkbookProblem);
  await expect(startLedger('us')).rejects.toThrow(/Limits/);
  expect(pane.book.sheets.map(({name}) => name)).toEqual(['Limits']);
}, 30_000);

test('a formula is inserted where the selection is, and what is in the way is told before', async () => {
  const pane = await paneOf(book({Sheet1: {A1: 1, A2: 2, A3: 3, A4: 4}}));
  await select({sheet: 'Sheet1', row: 0, column: 2, rows: 1, columns: 1});
  const area = await readSelection();
  expect(await inTheWay(area)).toBeUndefined();
  expect(await inTheWay({...area, column: 0})).toEqual({address: 'A1', content: '1'});
  const inserted = await insertFormula(area, '=A1:A4*2');
  expect(inserted.area).toEqual({sheet: 'Sheet1', row: 0, column: 2, rows: 4, columns: 1});
  expect(inserted.values).toEqual([[2], [4], [6], [8]]);
  expect(await readReference('Sheet1!A2:A3', 'Sheet1')).toEqual([[2], [3]]);
  pane.book.setSheet('s0', {protection: {password: undefined, options: {}}}, 'sheet');
  await expect(insertFormula(area, '=1')).rejects.toThrow('The sheet is protected');
});

test('the pane follows changes until it stops', async () => {
  const pane = await paneOf();
  const heard: string[] = [];
  const stop = await followWorkbook(
    () => heard.push('selection'),
    () => heard.push('change'),
  );
  enter(pane.book, 's0', [{row: 0, column: 0, value: 2}]);
  await nextTurn();
  pane.book.select('s0', [{top: 1, left: 1, bottom: 1, right: 1}]);
  await nextTurn();
  expect(heard).toEqual(['change', 'selection']);
  stop();
  await nextTurn();
  await new Promise((resolve) => setTimeout(resolve, 100));
  enter(pane.book, 's0', [{row: 0, column: 0, value: 3}]);
  pane.book.select('s0', [{top: 2, left: 1, bottom: 2, right: 1}]);
  await nextTurn();
  expect(heard).toEqual(['change', 'selection']);
});
