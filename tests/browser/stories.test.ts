/** What a person does with the add-in, in a real browser on the built bundles. */
import {TestHost, type HostPage} from './support/host';

let host: TestHost;
const pages: HostPage[] = [];
beforeAll(async () => {
  host = await TestHost.start();
});
afterAll(() => host?.stop());

const open: TestHost['open'] = async (opening) => {
  const page = await host.open(opening);
  pages.push(page);
  return page;
};

/** Nothing may have gone wrong on the way. */
afterEach(async () => {
  await host.closePages();
  for (const page of pages.splice(0)) expect(page.problems).toEqual([]);
});

test('first run: an empty workbook becomes a ledger, and one step takes it back', async () => {
  const page = await open({book: 'empty'});
  const {pane} = page;
  await pane.getByRole('heading', {name: 'Start a ledger'}).waitFor();
  await pane.getByRole('button', {name: 'Start a ledger'}).click();
  // The new ledger is shown with its first record selected, which has no readings yet.
  await pane
    .getByText(/reading/i)
    .first()
    .waitFor();
  await page.idle();
  expect(await page.sheets()).toEqual(['Sheet1', 'Wheels', 'Limits', 'Prices', 'Positions', 'Planes', 'Ledger map']);
  expect(await page.value('Wheels!A3')).toBe('Job');
  expect(await page.selected()).toBe('Wheels!A4');

  // Sixteen readings of each set: an assembly that is plainly out of round.
  await page.select('Wheels!A4');
  await page.type('J-1');
  await page.select('Wheels!D4');
  await page.type('passenger');
  await page.select('Wheels!I4');
  const turn = (peak: number, at: number): string[] =>
    Array.from({length: 16}, (_, i) => ((peak / 2) * Math.cos(((22.5 * i - at) * Math.PI) / 180)).toFixed(3));
  // As fast as the keyboard goes: nothing may get lost.
  for (const reading of [...turn(1.2, 100), ...turn(0.1, 10), ...turn(0.1, 10)]) {
    await page.page.keyboard.type(reading);
    await page.page.keyboard.press('Tab');
  }
  await page.idle();
  await page.select('Wheels!I4');
  await pane.getByRole('heading', {name: 'J-1'}).waitFor();
  await pane.getByRole('heading', {name: 'Replace the tire'}).waitFor();
  expect(await page.answeredErrors()).toEqual([]);
});

test('a wheel: its finding, the turn by the slider and the instruction; a changed reading changes the finding', async () => {
  const page = await open();
  const {pane} = page;
  await page.select('Wheels!I4');
  await pane.getByRole('heading', {name: 'J-401 · LF'}).waitFor();
  const finding = pane.locator('#finding');
  expect(await finding.textContent()).not.toBe('');

  await page.select(await page.rowWith('match mount'));
  await pane.getByRole('heading', {name: 'Turn the tire on the rim'}).first().waitFor();
  const slider = pane.getByRole('slider');
  await pane.getByRole('button', {name: 'As measured'}).click();
  await pane.getByText('As it is, the assembly has').waitFor();
  await slider.focus();
  for (let i = 0; i < 3; i++) await page.page.keyboard.press('ArrowRight');
  expect(await slider.getAttribute('aria-valuetext')).toMatch(/^3 degrees; the assembly then has [\d.]+ mm$/);
  await pane.getByText('The assembly then has').waitFor();
  await pane.getByRole('button', {name: 'Best turn'}).click();
  await pane.getByRole('heading', {name: 'How to turn it'}).waitFor();
  await pane.getByText(/^Turn it \d+° (counter-)?clockwise, seen from outboard/).waitFor();
  await pane.getByRole('note', {name: 'Cautions'}).waitFor();

  // An accepted wheel with a reading far off is accepted no longer.
  const accepted = await page.rowWith('accept');
  await page.select(accepted);
  await pane.getByRole('heading', {name: 'Accept', exact: true}).waitFor();
  await page.type('9');
  await page.select(accepted);
  await pane.getByRole('heading', {name: 'Accept', exact: true}).waitFor({state: 'detached'});
  await page.page.keyboard.press('Control+z');
  await pane.getByRole('heading', {name: 'Accept', exact: true}).waitFor();
  expect(await page.answeredErrors()).toEqual([]);
});

test('functions: found by a word, inserted, and computed in the grid; what is in the way is shown first', async () => {
  const page = await open({book: 'empty'});
  const {pane} = page;
  await page.select('B2');
  await page.showView('Functions');
  await pane.getByRole('searchbox', {name: 'Search functions'}).fill('dent');
  await pane.getByRole('button', {name: 'WHEEL.LOCAL', exact: true}).click();
  await pane.getByRole('button', {name: 'Write the example into the sheet'}).click();
  await pane.getByRole('button', {name: 'Write', exact: true}).click();
  await pane.getByText('Written to B2').waitFor();
  await page.idle();
  expect(await page.formula('Sheet1!B2')).toMatch(/^=WHEEL\.LOCAL\(/);
  const answer = await page.value('Sheet1!B2');
  expect(typeof answer).toBe('number');

  await pane.getByRole('button', {name: 'Write', exact: true}).click();
  await pane.getByText('Replace it?').waitFor();
  await pane.getByRole('button', {name: 'Leave it'}).click();
  expect(await page.value('Sheet1!B2')).toBe(answer);

  await page.page.locator('#grid canvas[id^="univer-sheet-main-canvas"]').click({position: {x: 300, y: 300}});
  await page.page.keyboard.press('Control+z');
  await page.idle();
  expect(await page.value('Sheet1!B2')).toBe(null);
  expect(await page.answeredErrors()).toEqual([]);
});

test('by keyboard alone: to the functions, through the search, into the sheet', async () => {
  const page = await open({book: 'empty', pane: 500});
  const {pane} = page;
  const press = (key: string): Promise<void> => page.page.keyboard.press(key);
  await pane.getByRole('tab', {name: 'Wheel', exact: true}).focus();
  await press('ArrowRight');
  for (let i = 0; i < 8 && !(await pane.getByRole('searchbox').isVisible()); i++) {
    await press('Enter');
    if (!(await pane.getByRole('searchbox').isVisible())) await press('ArrowRight');
  }
  await press('Tab');
  while (!(await pane.getByRole('searchbox').evaluate((box) => box === document.activeElement))) await press('Tab');
  await page.page.keyboard.type('average');
  const first = pane.getByRole('region', {name: 'Functions found'}).getByRole('button').first();
  while (!(await first.evaluate((button) => button === document.activeElement))) await press('Tab');
  await press('Enter');
  const example = pane.getByRole('button', {name: 'Write the example into the sheet'});
  await example.waitFor();
  for (let i = 0; i < 60 && !(await example.evaluate((one) => one === document.activeElement)); i++) await press('Tab');
  await press('Enter');
  const write = pane.getByRole('button', {name: 'Write', exact: true});
  for (let i = 0; i < 20 && !(await write.evaluate((one) => one === document.activeElement)); i++) await press('Tab');
  await press('Enter');
  await pane.getByText('Written to A1').waitFor();
  expect(await page.formula('Sheet1!A1')).toMatch(/^=WHEEL\./);
});

test('a request that fails is told in words, and the next one works', async () => {
  const page = await open();
  await page.select('Wheels!I4');
  await page.failNext();
  await page.select('Wheels!I5');
  await page.pane.getByText('internal error').waitFor();
  await page.select('Wheels!I6');
  await page.pane.getByRole('heading', {name: 'J-401 · LR'}).waitFor();
});

test('two panes see the same workbook, and late answers do no harm', async () => {
  const page = await open({panes: 2, delay: 150});
  await page.select('Wheels!I7');
  for (const index of [0, 1]) {
    await page.paneAt(index).getByRole('heading', {name: 'J-401 · RR'}).waitFor();
  }
  expect(await page.answeredErrors()).toEqual([]);
});
