/** A person's own file in the page: opened, changed in the grid and by the pane, saved as a copy. */
import {mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {unpackZip} from '../../src/host/files/zip';
import {richWorkbook, SHEET} from '../files/richWorkbook';
import {TestHost, type HostPage} from './support/host';

let host: TestHost;
let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'own file '));
  host = await TestHost.start();
});
afterEach(() => host.closePages());
afterAll(async () => {
  await host?.stop();
  rmSync(folder, {recursive: true, force: true});
});

async function choose(page: HostPage, name: string, bytes: Uint8Array): Promise<void> {
  writeFileSync(path.join(folder, name), bytes);
  await page.page.locator('#file').setInputFiles(path.join(folder, name));
}

async function saved(page: HostPage): Promise<{name: string; parts: ReturnType<typeof unpackZip>}> {
  const [download] = await Promise.all([
    page.page.waitForEvent('download'),
    page.page.getByRole('button', {name: 'Save a copy'}).click(),
  ]);
  return {name: download.suggestedFilename(), parts: unpackZip(readFileSync((await download.path())!))};
}

test('an own workbook comes back with the changes and all its other parts', async () => {
  const page = await host.open({book: 'empty'});
  await choose(page, 'shop.xlsx', richWorkbook());
  await page.page.locator('#name').getByText('shop.xlsx').waitFor();
  await page.findPanes();
  const before = unpackZip(richWorkbook());
  expect(await page.sheets()).toContain(SHEET);

  await page.select(`${SHEET}!H20`);
  await page.type('=1+1');
  expect(await page.value(`${SHEET}!H20`)).toBe(2);
  const {name, parts} = await saved(page);
  expect(name).toBe('shop (copy).xlsx');
  const differing = [...before.keys()].filter((part) => {
    const now = parts.get(part);
    return !now || !Buffer.from(now).equals(Buffer.from(before.get(part)!));
  });
  expect(differing.filter((part) => /chart|drawing|comment|vml|media|theme|styles/i.test(part))).toEqual([]);
  expect(await page.page.locator('#status').textContent()).toBe('Saved as shop (copy).xlsx.');
  expect(page.problems).toEqual([]);
});

test('a ledger started by the pane is in the copy, and can be opened again', async () => {
  const page = await host.open({book: 'empty'});
  await page.pane.getByRole('button', {name: 'Start a ledger'}).click();
  await page.pane.getByText('This record has no readings yet.').waitFor();
  const {name, parts} = await saved(page);
  expect([...parts.keys()].filter((part) => part.startsWith('xl/tables/')).length).toBe(6);
  writeFileSync(path.join(folder, name), '');
  const [download] = await Promise.all([
    page.page.waitForEvent('download'),
    page.page.getByRole('button', {name: 'Save a copy'}).click(),
  ]);
  await choose(page, 'again.xlsx', readFileSync((await download.path())!));
  await page.page.locator('#name').getByText('again.xlsx').waitFor();
  await page.findPanes();
  await page.select('Wheels!A5');
  await page.pane.getByText('This record has no readings yet.').waitFor();
  expect(await page.formula('Wheels!BI4')).toMatch(/^=IF\(Wheels\[@Class\]/);
  expect(page.problems).toEqual([]);
});

test('a file that is no workbook is refused in words; what was open stays', async () => {
  const page = await host.open({book: 'empty'});
  await page.select('B2');
  await page.type('mine');
  await choose(page, 'notes.xlsx', new TextEncoder().encode('no workbook'));
  await page.page.locator('#status').getByText('notes.xlsx is no Excel workbook (.xlsx).').waitFor();
  expect(await page.value('Sheet1!B2')).toBe('mine');
});
