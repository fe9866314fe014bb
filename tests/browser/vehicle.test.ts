/**
 * The owner: from the ledger to a vehicle whose wheels are paired and placed, and to its record sheet.
 */
import {writeFileSync} from 'node:fs';
import path from 'node:path';
import {printedAlone} from '../support/printed';
import {TestHost} from './support/host';

let host: TestHost;
beforeAll(async () => {
  host = await TestHost.start();
});
afterEach(() => host.closePages());
afterAll(() => host.stop());

test('the owner pairs and places the wheels of a job and writes its record sheet', async () => {
  const page = await host.open({pane: 420});
  const {pane} = page;
  await page.select('Wheels!I7');
  await page.showView('Vehicle');
  await pane.getByRole('heading', {name: 'J-401 · Pool car 1'}).waitFor();
  // The record under the cursor is RR, which is to be matched; LF, RF, LR are of the same job.
  await pane.getByText('Mount the tire of RR on its rim', {exact: false}).waitFor();
  await pane.getByRole('note', {name: 'Cautions'}).waitFor();
  await pane.getByRole('radio', {name: /^Pair tires and rims anew/}).check();
  await pane
    .getByText(/Mount the tire of \S+ on the rim of/)
    .first()
    .waitFor();
  await pane.getByRole('switch', {name: /^Directional/}).check();
  await pane.getByText(/every tire stays on its side/).waitFor();

  const before = await page.sheets();
  await pane.getByRole('button', {name: 'Write the record sheet'}).click();
  await pane.getByText('Written: Record J-401.').waitFor({timeout: 60000});
  await page.idle();
  expect((await page.sheets()).sort()).toEqual([...before, 'Record J-401'].sort());
  expect(await page.value('Record J-401!A1')).toBe('Wheel record J-401 · Pool car 1');
  expect(await page.value('Record J-401!B7')).toBe('replace tire');
  expect(await page.formula('Record J-401!C6')).toMatch(/^=WHEEL\.ASSESSREADINGS\(IF\(Wheels!/);

  // A second time: another sheet, the first one as it was.
  await page.showView('Vehicle');
  await page.select('Wheels!I7');
  await pane.getByRole('button', {name: 'Write the record sheet'}).click();
  await pane.getByText('Written: Record J-401 (2).').waitFor({timeout: 60000});
  await page.expectClean();

  const bytes = await page.savedCopy();
  const shown = await page.texts('Record J-401', 'A1:L80');
  const {pages, pdf} = printedAlone(bytes, 'Record J-401');
  if (process.env.RECORD_SHEET_FOLDER) {
    writeFileSync(path.join(process.env.RECORD_SHEET_FOLDER, 'saved.pdf'), pdf);
    writeFileSync(path.join(process.env.RECORD_SHEET_FOLDER, 'saved.xlsx'), bytes);
  }
  expect(pages.length).toBe(1);
  // Every text of the printed area is on the paper whole, lines of a wrapped text one after the other; headings that
  // wrap stand beside each other, line by line.
  const paper = pages[0].replace(/\s/g, '');
  expect(shown.length).toBeGreaterThan(60);
  const headings = ['Assembly mm', 'After a match'];
  const missing = shown.filter((text) => !paper.includes(text.replace(/\s/g, '')));
  expect(missing.filter((text) => !headings.includes(text))).toEqual([]);
  for (const line of ['Assembly', 'mm', 'Aftera', 'match']) expect(paper).toContain(line);
  expect(paper).not.toContain('###');
  // Titles of the charts, and the lines above and below the page.
  for (const words of ['LF:runoutovertheturn', 'RR:runoutovertheturn', 'Harmonicsoftheassemblies', 'Page1of1']) {
    expect(paper).toContain(words);
  }
  expect(paper).toContain('Limitsaretheshop’sown.');
}, 240000);

test('another job is picked; the selection does not change it', async () => {
  const page = await host.open({pane: 320});
  const {pane} = page;
  await page.select('Wheels!I4');
  await page.showView('Vehicle');
  const box = pane.getByRole('combobox', {name: 'Job'});
  await box.click();
  await box.fill('shuttle bus a');
  await pane.getByRole('option', {name: 'J-407 · Shuttle bus A'}).click();
  await pane.getByRole('heading', {name: 'J-407 · Shuttle bus A'}).waitFor();
  await page.select('Wheels!I8');
  await pane.getByRole('heading', {name: 'J-407 · Shuttle bus A'}).waitFor();
  await pane.getByRole('button', {name: 'Follow the selection'}).click();
  await pane.getByRole('heading', {name: /^J-402/}).waitFor();
  expect(await page.overflow()).toBe(0);
  expect(await page.accessibility()).toEqual([]);
  await page.expectClean();
}, 120000);

test('record sheets of all jobs: progress, and stopped on the way', async () => {
  const page = await host.open({pane: 420, delay: 100});
  const {pane} = page;
  await page.select('Wheels!I4');
  await page.showView('Vehicle');
  await pane.getByRole('button', {name: 'For all 15 jobs …'}).click();
  await pane.getByRole('button', {name: 'Add 15 sheets'}).click();
  await pane.getByText(/^[1-9]\d? of 15 sheets written/).waitFor({timeout: 120000});
  await pane.getByRole('button', {name: 'Stop'}).click();
  await pane.getByText(/Stopped before the rest/).waitFor({timeout: 60000});
  const written = (await page.sheets()).filter((name) => name.startsWith('Record'));
  expect(written.length).toBeGreaterThanOrEqual(1);
  expect(written.length).toBeLessThan(15);
  await page.expectClean();
}, 240000);
