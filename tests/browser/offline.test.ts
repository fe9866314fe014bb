/** The network goes once the pane is there: nothing that it does needs it, but parts that it has not yet fetched. */
import {TestHost, type HostPage} from './support/host';

jest.setTimeout(120000);

let host: TestHost;
beforeAll(async () => {
  host = await TestHost.start();
});
afterEach(() => host.closePages());
afterAll(() => host.stop());

const working = (page: HostPage) =>
  page.pane.getByRole('region', {name: 'WHEEL.REMOUNT'}).getByRole('region', {name: 'Working'});

async function trace(page: HostPage): Promise<void> {
  await page.showView('Trace');
  await page.select('Remounts!B7');
}

test('everything goes on: finding, functions, tracing, every view', async () => {
  const page = await host.open();
  // Fetched when it is first asked for.
  await trace(page);
  await working(page).getByRole('listitem').first().waitFor();
  await page.showView('Wheel');
  await page.idle();
  await page.page.context().setOffline(true);
  page.problems.length = 0;
  const {pane} = page;
  await page.select(await page.rowWith('accept'));
  const accepted = await page.selected();
  await pane.getByRole('heading', {name: 'Accept', exact: true}).waitFor();
  await page.type('9');
  await page.select(accepted);
  await pane.getByRole('heading', {name: 'Accept', exact: true}).waitFor({state: 'detached'});
  await page.showSheet('Remounts');
  await page.select('Remounts!H30');
  await page.type('=WHEEL.STOCK(7,5)');
  expect(await page.value('Remounts!H30')).toBe(5);
  await page.select(accepted);
  for (const view of ['Vehicle', 'Columns', 'Cost', 'Trace', 'Functions', 'About', 'Wheel']) {
    await page.showView(view);
    await pane.getByRole('heading', {level: 1}).first().waitFor();
    await page.idle();
  }
  await trace(page);
  await working(page).getByRole('listitem').first().waitFor();
  // Excel's list of functions is a file that is served; its comparison is the one thing that asks for it again.
  expect(page.problems.filter((problem) => !/ERR_INTERNET_DISCONNECTED/.test(problem))).toEqual([]);
  expect(await page.answeredErrors()).toEqual([]);
});

test('what was not fetched before is told in words, and comes when the network is back', async () => {
  const page = await host.open();
  await page.page.context().setOffline(true);
  await trace(page);
  await page.pane
    .getByText(/^This part of the add-in could not be fetched\. Look whether there is a connection/)
    .waitFor();
  await page.page.context().setOffline(false);
  await page.showView('Wheel');
  await trace(page);
  await working(page).getByRole('listitem').first().waitFor();
});
