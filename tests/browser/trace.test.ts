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

/** Errors but for those of looking just when somebody began to type: it is read again when the cell has changed. */
const otherThanTyping = (errors: readonly string[]): string[] =>
  errors.filter((error) => !error.startsWith('InvalidOperationInCellEditMode'));

/** A column of the sheet with the working, from its first row on. */
const workingColumn = async (page: HostPage, letter: string, what: 'value' | 'formula'): Promise<unknown[]> =>
  Promise.all(Array.from({length: 60}, (_, row) => page[what](`Working!${letter}${row + 1}`)));

/** The differences at the end of the working: the figures below the heading of that name. */
async function differences(page: HostPage): Promise<number[]> {
  const cells = await workingColumn(page, 'F', 'value');
  const from = cells.indexOf('Difference');
  expect(from).toBeGreaterThan(0);
  return cells.slice(from + 1).filter((cell): cell is number => typeof cell === 'number');
}

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

  await pane.getByRole('button', {name: 'Go to Remounts!B6:C6'}).first().click();
  await pane.getByText('Remounts!B6', {exact: true}).first().waitFor();
  expect(await page.selected()).toBe('Remounts!B6');

  await page.select('Remounts!B7');
  await call.getByRole('button', {name: 'Write the working to a sheet'}).click();
  const written =
    /^Written to the new sheet “Working”\. Difference to the function’s figure when it was written: 0( but for rounding \(at most \de-1\d\))?\.$/;
  await pane.getByText(written).waitFor();
  await page.idle();
  expect(await page.sheets()).toContain('Working');
  expect(String(await page.value('Working!A1'))).toBe('Working of Remounts!B7');
  // The input refers to the user's own cell, and the spreadsheet calculates the steps by itself.
  const formulas = [...(await workingColumn(page, 'D', 'formula')), ...(await workingColumn(page, 'E', 'formula'))];
  expect(formulas).toEqual(expect.arrayContaining([expect.stringContaining("'Remounts'!$B$5")]));
  const [difference, ...others] = await differences(page);
  expect(others).toEqual([]);
  expect(Math.abs(difference)).toBeLessThan(1e-12);

  await pane.getByRole('button', {name: 'Go to the sheet'}).click();
  await pane.getByText('Working!A1', {exact: true}).first().waitFor();

  // Another input: function and working come to another figure, and to the same one.
  const before = Number(await page.value('Remounts!B7'));
  await page.select('Remounts!B6');
  await page.type('0.3');
  await page.select('Remounts!B7');
  await pane.getByText(/^Remounts!B7 shows /).waitFor();
  expect(Math.abs(Number(await page.value('Remounts!B7')) - before)).toBeGreaterThan(0.01);
  expect(Math.abs((await differences(page))[0])).toBeLessThan(1e-12);
  expect(otherThanTyping(await page.answeredErrors())).toEqual([]);
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
  const outdated = pane.getByText('Checked before the last change: what is said here may no longer hold. Check again.');
  expect(await outdated.count()).toBe(0);

  await page.select('Wheels!BO30');
  await page.type('accept');
  await outdated.waitFor();
  await pane.getByRole('button', {name: 'Check this workbook'}).click();
  await pane.getByText(/formulas with WHEEL functions, 1 finding/).waitFor();
  await pane.getByText('typed over', {exact: true}).waitFor();
  expect(await outdated.count()).toBe(0);
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
  // The list is none of what was checked.
  expect(await outdated.count()).toBe(0);
  await pane.getByRole('button', {name: 'Take it back'}).click();
  await pane.getByText('Taken back; the sheet is gone.').waitFor();
  await page.idle();
  expect(await page.sheets()).not.toContain('Check');
  expect(otherThanTyping(await page.answeredErrors())).toEqual([]);
});

test('a check is cancelled', async () => {
  const page = await open({delay: 150});
  const {pane} = page;
  await page.showView('Trace');
  await pane.getByRole('button', {name: 'Check this workbook'}).click();
  await pane.getByRole('button', {name: 'Cancel'}).click();
  await pane.getByText('Cancelled; nothing was changed.').waitFor();
});
