/**
 * The estimator: what turning the tires of a job is worth, how the answer moves, and the formulas in the sheet. And the
 * weights of a wheel, written beside the ledger.
 */
import {TestHost} from './support/host';

let host: TestHost;
beforeAll(async () => {
  host = await TestHost.start();
});
afterEach(() => host.closePages());
afterAll(() => host.stop());

test('the estimator reads the cost of a job, moves an assumption and writes the formula block', async () => {
  const page = await host.open({pane: 320});
  const {pane} = page;
  await page.select('Wheels!I7');
  await page.showView('Cost');
  await pane.getByRole('heading', {name: 'Is turning worth it? J-401'}).waitFor();
  // 18 minutes at 72 an hour against 0.09 of 160: 21.60 − 14.40.
  await pane.getByRole('heading', {name: 'Not worth it: it costs 7.20 more than it brings'}).waitFor();
  await pane.getByText(/breaks even at 12 minutes/).waitFor();
  await pane.getByLabel('Share of weight left after a match').fill('0,4');
  // 25 g of weights, 15 g of them saved at 0.06.
  await pane.getByRole('heading', {name: 'Not worth it: it costs 6.30 more than it brings'}).waitFor();
  expect(await page.overflow()).toBe(0);
  expect(await page.accessibility()).toEqual([]);

  await pane.getByRole('button', {name: 'Write the formula block'}).click();
  const target = pane.getByRole('textbox', {name: 'Upper left cell on Wheels'});
  await target.fill('A3');
  await pane.getByRole('button', {name: 'Write', exact: true}).click();
  await pane.getByText(/cells there are filled:/).waitFor();
  await pane.getByText('A3: Job').waitFor();
  await pane.getByRole('button', {name: 'Leave them'}).click();
  expect(await page.value('Wheels!A3')).toBe('Job');

  await target.fill('DA7');
  await pane.getByRole('button', {name: 'Write', exact: true}).click();
  await pane.getByText('Written to DA7:DC26.').waitFor();
  await page.idle();
  expect(await page.value('Wheels!DA7')).toBe('Cost of turning: J-401');
  expect(await page.formula('Wheels!DB9')).toBe('=INDEX(Prices[Value],MATCH("Balance weight",Prices[Item],0))');
  expect(await page.value('Wheels!DB25')).toBeCloseTo(-6.3, 9);
  // A price that changes in its table changes the block, and the pane.
  await page.select('Prices!B5');
  await page.type('36');
  expect(await page.value('Wheels!DB25')).toBeCloseTo(4.5, 9);
  await page.select('Wheels!I7');
  await pane.getByRole('heading', {name: 'Worth it by 4.50'}).waitFor();
  await page.expectClean();
}, 180000);

test('weights of a wheel are written beside the ledger and taken back', async () => {
  const page = await host.open({pane: 420});
  const {pane} = page;
  await page.select('Wheels!I5');
  await pane.getByRole('heading', {name: 'Weights', exact: true}).waitFor();
  await pane.getByRole('strong').filter({hasText: '10 g'}).waitFor();
  await pane.getByRole('radio', {name: 'Behind spokes, outboard'}).check();
  await pane
    .getByRole('listitem')
    .filter({hasText: /^Outboard, next spoke/})
    .waitFor();
  await pane.getByText('Move the planes of the weights').click();
  const plane = pane.getByRole('slider', {name: 'Outboard plane'});
  await plane.press('ArrowLeft');
  expect(await plane.getAttribute('aria-valuetext')).toBe('position 74 mm, radius 200 mm');
  await pane.getByLabel('Outboard, radius').fill('190');
  expect(await plane.getAttribute('aria-valuetext')).toBe('position 74 mm, radius 190 mm');
  expect(await page.accessibility()).toEqual([]);

  await pane.getByRole('button', {name: 'Write these weights into the sheet'}).click();
  await pane.getByText(/^Fills /).waitFor();
  const fills = (await pane.getByText(/^Fills /).innerText()).replace(/^Fills |\.$/g, '');
  await pane.getByRole('button', {name: 'Write', exact: true}).click();
  await pane.getByText(`Written to ${fills}.`).waitFor();
  await page.idle();
  const corner = `Wheels!${fills.split(':')[0]}`;
  expect(await page.value(corner)).toBe('Weights of J-401 · RF');
  await pane.getByRole('button', {name: 'Take it back'}).click();
  await pane.getByText('Taken back; the cells are as they were.').waitFor();
  expect(await page.value(corner)).toBeNull();
  await page.expectClean();
}, 180000);
