/** Every view in every theme at the narrowest width: readable, reachable, and without scrolling sideways. */
import {TestHost, type HostPage} from './support/host';

let host: TestHost;
beforeAll(async () => {
  host = await TestHost.start();
});
afterEach(() => host.closePages());
afterAll(() => host?.stop());

const check = async (page: HostPage, what: string): Promise<void> => {
  await page.idle();
  expect([what, await page.accessibility()]).toEqual([what, []]);
  expect([what, await page.overflow()]).toEqual([what, 0]);
};

test.each(['light', 'dark', 'forced'] as const)('with the colors "%s", 320 pixels wide', async (theme) => {
  const page = await host.open({theme, pane: 320});
  const {pane} = page;
  await check(page, 'nothing selected');
  await page.select('Wheels!I5');
  await pane.getByRole('heading', {name: 'J-401 · RF'}).waitFor();
  await check(page, 'a wheel');
  await pane.getByRole('button', {name: 'Best turn'}).click();
  for (const summary of await pane.locator('summary').all()) await summary.click();
  await check(page, 'a wheel, turned, with all tables open');
  for (const view of ['Vehicle', 'Columns', 'Cost', 'Trace']) {
    await page.showView(view);
    await check(page, view);
  }
  await page.showView('Functions');
  await pane.getByRole('heading', {name: 'Functions', exact: true}).waitFor();
  await check(page, 'functions');
  await pane.getByRole('button', {name: 'WHEEL.STOCKPAIR', exact: true}).click();
  await pane.getByRole('heading', {name: 'WHEEL.STOCKPAIR'}).waitFor();
  await check(page, 'a function');
  await page.showView('About');
  // The list that the host was given, the probe of development builds besides.
  await pane.getByText('the same', {exact: true}).waitFor();
  await check(page, 'about');
  expect(page.problems).toEqual([]);
  expect(await page.answeredErrors()).toEqual([]);
});

test('the first run, and the page around the pane', async () => {
  const page = await host.open({book: 'empty', pane: 320});
  await page.pane.getByRole('heading', {name: 'Start a ledger'}).waitFor();
  await check(page, 'first run');
  // Whoever sees the page knows that it is not Excel.
  expect(await page.page.locator('#banner').innerText()).toContain('not Excel');
  expect(page.problems).toEqual([]);
});
