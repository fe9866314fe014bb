/** The Trace view: a figure to its formula, and a check of the workbook. */
import {TestHost, type HostPage} from './support/host';

let host: TestHost;
const pages: HostPage[] = [];
beforeAll(async () => {
  host = await TestHost.start();
});
afterAll(() => host?.stop());
afterEach(async () => {
  await host.closePages();
  for (const page of pages.splice(0)) expect(page.problems).toEqual([]);
});

const open: TestHost['open'] = async (opening) => {
  const page = await host.open(opening);
  pages.push(page);
  return page;
};

test('a figure: its arguments, the cell of one of them, its working, and the working on a sheet with no difference', async () => {
  const page = await open();
  const {pane} = page;
  await page.showView('Trace');
  await page.select('Remounts!B7');
  const call = pane.getByRole('region', {name: 'WHEEL.REMOUNT'});
  await call.getByRole('heading', {name: 'WHEEL.REMOUNT'}).waitFor();
  await call.getByText('=WHEEL.REMOUNT(B5:C5,B6:C6,180,"amount")').waitFor();
  const working = call.getByRole('region', {name: 'Working'});
  await working.getByRole('listitem').first().waitFor();
  expect(await working.locator('math').count()).toBeGreaterThan(3);
  expect(await page.accessibility()).toEqual([]);
  expect(await page.overflow()).toBe(0);

  await call.getByRole('button', {name: 'Write the working to a sheet'}).click();
  await call.getByText(/Written to the new sheet “Working”\. Difference to the function’s figures?: 0/).waitFor();
  await page.idle();
  expect(await page.sheets()).toContain('Working');
  expect(String(await page.value('Working!A1'))).toBe('Working of Remounts!B7');

  await page.select('Remounts!B7');
  await pane.getByRole('button', {name: 'Go to Remounts!B6:C6'}).click();
  await pane.getByText('Remounts!B6', {exact: true}).first().waitFor();
  expect(await page.selected()).toBe('Remounts!B6');
  expect(await page.answeredErrors()).toEqual([]);
});

test('a formula of the table is followed to its readings', async () => {
  const page = await open({pane: 320});
  await page.showView('Trace');
  await page.select('Wheels!BL6');
  const {pane} = page;
  await pane.getByRole('heading', {name: 'WHEEL.READINGCHECK'}).waitFor();
  await pane.getByRole('button', {name: 'Go to Wheels!I6:X6'}).waitFor();
  expect(await page.overflow()).toBe(0);
});

test('the demo has nothing to find; a cell that is broken is found, and gone to; the list is written', async () => {
  const page = await open();
  const {pane} = page;
  await page.showView('Trace');
  await pane.getByRole('button', {name: 'Check this workbook'}).click();
  await pane.getByText(/formulas with WHEEL functions, nothing found/).waitFor();

  await page.select('Wheels!BO30');
  await page.type('accept');
  await pane.getByRole('button', {name: 'Check this workbook'}).click();
  await pane.getByText(/formulas with WHEEL functions, 1 finding/).waitFor();
  await pane.getByText('typed over', {exact: true}).waitFor();
  await page.select('Limits!A1');
  await pane.getByRole('button', {name: 'Go to Wheels!BO30'}).click();
  await pane.getByText('Wheels!BO30', {exact: true}).first().waitFor();
  await page.idle();
  expect(await page.selected()).toBe('Wheels!BO30');
  expect(await page.accessibility()).toEqual([]);

  await pane.getByRole('button', {name: 'Write the list to a sheet'}).click();
  await pane.getByText('Written to the new sheet “Check”.').waitFor();
  await page.idle();
  expect(await page.value('Check!B5')).toBe('BO30');
  expect(await page.value('Check!C5')).toBe('typed over');
  await pane.getByRole('button', {name: 'Take it back'}).click();
  await pane.getByText('Taken back; the sheet is gone.').waitFor();
  await page.idle();
  expect(await page.sheets()).not.toContain('Check');
  expect(await page.answeredErrors()).toEqual([]);
});

test('a check is cancelled', async () => {
  const page = await open({delay: 150});
  const {pane} = page;
  await page.showView('Trace');
  await pane.getByRole('button', {name: 'Check this workbook'}).click();
  await pane.getByRole('button', {name: 'Cancel'}).click();
  await pane.getByText('Cancelled; nothing was changed.').waitFor();
});
