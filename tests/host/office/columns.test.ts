/**
 * Columns filled through the real office.js.
 *
 * @jest-environment ./tests/host/support/environment.cjs
 */
import {Refusal} from '../../../src/maths/refusal';
import {fillWorkbook, takeBackFilling} from '../../../src/workbook/columns/fillWorkbook';
import {fromLedgerMap, toLedgerMap} from '../../../src/workbook/columns/ledgerMapping';
import {makePlan, type Choice, type Plan} from '../../../src/workbook/columns/plan';
import {readWorkbook} from '../../../src/workbook/columns/readWorkbook';
import {likelyLimits, settingsTablesOf} from '../../../src/workbook/columns/settings';
import {sourcesOf} from '../../../src/workbook/columns/source';
import {guessWorkbook} from '../../../src/workbook/guess/workbook';
import type {LedgerMap} from '../../../src/workbook/ledgerMap';
import {addSettings} from '../../../src/workbook/startLedger';
import {parseCell} from '../../../src/host/book/addresses';
import {renameSheet} from '../../../src/host/office/structure';
import {filledBook} from '../../workbook/columns/computed';
import {LAYOUTS, type Laid} from '../../workbook/columns/layouts';
import {closePanes, openPane, type Pane} from './support/panes';

jest.setTimeout(60000);
afterEach(closePanes);

const choice: Choice = {
  recipes: ['check', 'runout', 'finding', 'match', 'clock', 'weights'],
  reuse: true,
  from: undefined,
  spill: false,
  today: 46000,
};
const unwatched = {conflict: 'ask' as const, agreed: [], onProgress: () => {}, isCancelled: () => false};

interface Open {
  readonly pane: Pane;
  readonly plan: Plan;
  readonly map: LedgerMap;
}

async function plan(laid: Laid, change: Partial<Choice> = {}): Promise<{plan: Plan; map: LedgerMap}> {
  const read = await readWorkbook();
  const sources = read.sheets.flatMap(sourcesOf);
  const tables = settingsTablesOf(read.sheets);
  const confirmed = read.map && fromLedgerMap(read.map, sources);
  const mapping =
    confirmed?.mapping ?? guessWorkbook(sources).find(({mapping: {records}}) => records.sheet === laid.active)!.mapping;
  const limitsFrom = confirmed?.limitsFrom ?? likelyLimits(mapping, tables);
  return {
    plan: makePlan(mapping, {tables, limitsFrom}, {...choice, ...change}),
    map: toLedgerMap(mapping, limitsFrom, 'Curve'),
  };
}

async function opened(laid: Laid, change: Partial<Choice> = {}): Promise<Open> {
  const pane = await openPane(filledBook(laid.sheets));
  const Office = {context: {requirements: {isSetSupported: () => false}}};
  Object.assign(globalThis, {Excel: pane.office.Excel, Office});
  return {pane, ...(await plan(laid, change))};
}

const idOf = ({book}: Pane, sheet: string): string => book.sheets.find(({name}) => name === sheet)!.id;
const everything = ({book}: Pane, sheet: string): unknown[] => {
  const id = idOf({book} as Pane, sheet);
  return Array.from(
    {length: 60 * 120},
    (_, i) => book.formula(id, i % 60, Math.floor(i / 60)) ?? book.value(id, i % 60, Math.floor(i / 60)) ?? null,
  );
};

const names = Object.keys(LAYOUTS).filter((name) => !name.includes('in any order'));

test.each(names)('%s: filled, mapped, found filled again, taken back', async (name) => {
  const laid = LAYOUTS[name]();
  const {pane, plan: first, map} = await opened(laid);
  const was = everything(pane, laid.active);
  const {records} = first.mapping;
  const filled = await fillWorkbook(first, map, unwatched);
  expect(filled).toMatchObject({kind: 'done', records: first.rows.length});
  expect(filled).not.toHaveProperty('mapProblem');
  await pane.book.settle();
  const id = idOf(pane, laid.active);
  for (const column of first.columns)
    for (const record of first.rows) {
      const found = pane.book.value(id, records.firstRow + record, column.column);
      const figure = first.figure(column, record);
      if (typeof figure === 'number') expect(found).toBeCloseTo(figure, 9);
      else if (!(figure instanceof Refusal)) expect(found ?? '').toBe(figure);
    }
  // Read again, the map on its sheet tells the same, and nothing is left to fill.
  const again = await plan(laid);
  expect(again.map).toEqual(map);
  expect(again.plan.columns.every(({exists}) => exists)).toBe(true);
  expect(await fillWorkbook(again.plan, undefined, unwatched)).toMatchObject({
    kind: 'done',
    cells: 0,
    already: first.rows.length * first.columns.length,
  });
  if (filled.kind === 'asks') throw new Error('nothing was in the way');
  await takeBackFilling(records, filled.undo);
  await pane.book.settle();
  expect(everything(pane, laid.active)).toEqual(was);
});

test('a protected, a renamed and a deleted sheet', async () => {
  const laid = LAYOUTS['wide rows, limits and unbalance beside']();
  const {pane, plan: first} = await opened(laid);
  const was = everything(pane, 'Runout');
  await pane.office.Excel.run(async (context) => {
    context.workbook.worksheets.getItem('Runout').protection.protect();
    await context.sync();
  });
  await expect(fillWorkbook(first, undefined, unwatched)).rejects.toThrow(/Runout is protected.*Nothing was written/);
  await pane.office.Excel.run(async (context) => {
    context.workbook.worksheets.getItem('Runout').protection.unprotect();
    await context.sync();
  });
  renameSheet(pane.book, idOf(pane, 'Runout'), 'March');
  await expect(fillWorkbook(first, undefined, unwatched)).rejects.toThrow(
    /Runout is no longer in the workbook.*nothing was written/,
  );
  expect(everything(pane, 'March')).toEqual(was);
  const {plan: renamed} = await plan({...laid, active: 'March'});
  expect(await fillWorkbook(renamed, undefined, unwatched)).toMatchObject({kind: 'done'});
});

test('a sheet renamed while it is filled is filled to its end', async () => {
  const laid = LAYOUTS['wide rows, limits and unbalance beside']();
  const {pane, plan: first} = await opened(laid);
  let renamed = false;
  const filled = await fillWorkbook(first, undefined, {
    ...unwatched,
    isCancelled: () => {
      if (!renamed) renameSheet(pane.book, idOf(pane, 'Runout'), 'March');
      renamed = true;
      return false;
    },
  });
  expect(filled).toMatchObject({kind: 'done'});
  const {column} = first.columns.find((one) => one.id === 'finding')!;
  expect(pane.book.value(idOf(pane, 'March'), 1, column)).toBe(
    first.figure(
      first.columns.find((one) => one.id === 'finding')!,
      0,
    ),
  );
});

test('cells of the shop in the way are shown', async () => {
  const laid = LAYOUTS['a table with classes, settings beside']();
  const wide = laid.sheets[0].cells[0].length;
  const rows = laid.sheets[0].cells.map((row, i) => (i === 2 ? [...row, 'mine'] : [...row, '']));
  const {plan: first} = await opened({...laid, sheets: [{...laid.sheets[0], cells: rows}, ...laid.sheets.slice(1)]});
  const asked = await fillWorkbook(first, undefined, unwatched);
  expect(asked).toEqual({kind: 'asks', inTheWay: [{address: expect.stringMatching(/3$/), content: 'mine'}]});
  expect(parseCell((asked as unknown as {inTheWay: {address: string}[]}).inTheWay[0].address)!.column).toBe(wide);
});

test('sheets of settings come once', async () => {
  const {pane} = await opened(LAYOUTS['wide rows, limits and unbalance beside']());
  expect(await addSettings('us')).toEqual(['Limits', 'Prices', 'Positions', 'Planes']);
  expect(await addSettings('us')).toEqual([]);
  expect(pane.book.tables.map(({name}) => name)).toEqual(['Limits', 'Prices', 'Positions', 'Planes']);
});
