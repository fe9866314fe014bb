/** Functions, pane and Excel's list of functions may come from different editions, as browsers and Excel keep files. */
import {cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {EDITION} from '../../src/functions/edition';
import {TestHost} from './support/host';

jest.setTimeout(120000);

const root = path.resolve(__dirname, '../..');
const OTHER = EDITION.replace(/[\d.]+/, '0.0.1');
let folder: string;

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'edition-'));
  cpSync(path.join(root, 'dist'), folder, {recursive: true});
});
afterEach(() => rmSync(folder, {recursive: true, force: true}));

function change(name: string, was: string, is: string): void {
  const file = path.join(folder, name);
  const text = readFileSync(file, 'utf8');
  expect(text).toMatch(was);
  writeFileSync(file, text.replaceAll(was, is));
}

async function about(): Promise<string[]> {
  const host = await TestHost.start(folder);
  try {
    const page = await host.open();
    await page.showView('About');
    const list = page.pane.locator('dl', {hasText: 'list of functions'});
    await list.waitFor();
    await page.pane.getByText('being compared …').waitFor({state: 'hidden'});
    return await list.locator('dd').allInnerTexts();
  } finally {
    await host.stop();
  }
}

test('all of one edition', async () => {
  const [functions, pane, list] = await about();
  expect(functions).toContain(EDITION);
  expect(pane).toBe(EDITION);
  expect(list).toBe('the same');
});

test('functions of another edition than the pane', async () => {
  change('functions.js', EDITION, OTHER);
  const [functions, pane, list] = await about();
  expect(functions).toContain(OTHER);
  expect(pane).toBe(`${EDITION} – not the edition of the functions: reload the add-in`);
  expect(list).toBe('the same');
});

test('a pane of another edition than the functions', async () => {
  change('pane.js', EDITION, OTHER);
  const [functions, pane] = await about();
  expect(functions).toContain(EDITION);
  expect(pane).toBe(`${OTHER} – not the edition of the functions: reload the add-in`);
});

test('a list of functions that Excel keeps from before', async () => {
  const list = JSON.parse(readFileSync(path.join(folder, 'functions.json'), 'utf8')) as {functions: object[]};
  writeFileSync(path.join(folder, 'functions.json'), JSON.stringify({...list, functions: list.functions.slice(1)}));
  const [, pane, kept] = await about();
  expect(pane).toBe(EDITION);
  expect(kept).toBe('another edition: restart Excel, which keeps its list for up to a day');
});
