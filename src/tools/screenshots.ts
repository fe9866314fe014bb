/**
 * `npm run screenshots [-- VIEW…]`: every view of the pane in every theme, narrow and wide, and the whole page, as pictures in
 * out/screenshots, to be looked at.
 */
import {existsSync, mkdirSync, rmSync} from 'node:fs';
import path from 'node:path';
import {fileURLToPath} from 'node:url';
import {chromium, type Browser, type Frame, type Page} from 'playwright-core';
import {serve} from '../host/server/serve';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const folder = path.join(root, 'out', 'screenshots');
/** Names of pictures; all by default. */
const wanted = process.argv.slice(2);
const THEMES = ['light', 'dark', 'forced'] as const;
/** Pixels: the narrowest pane of Excel, and a widened one. */
const WIDTHS = [320, 500];
const PROGRAMS = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

/** What is shown, and how a person gets there. */
interface Shot {
  readonly name: string;
  readonly book?: 'empty';
  readonly view?: string;
  readonly cell?: string;
  readonly reach?: (pane: Frame) => Promise<void>;
}

const SHOTS: readonly Shot[] = [
  {name: 'first-run', book: 'empty'},
  {name: 'wheel-elsewhere'},
  {name: 'wheel', cell: 'I5'},
  {
    name: 'wheel-turned',
    cell: 'I9',
    reach: async (pane) => {
      const best = pane.getByRole('button', {name: 'Best turn'});
      if (await best.isEnabled()) await best.click();
    },
  },
  {name: 'vehicle', cell: 'I5', view: 'Vehicle'},
  {name: 'columns', cell: 'I5', view: 'Columns'},
  {name: 'cost', cell: 'I5', view: 'Cost'},
  {name: 'trace', cell: 'BP5', view: 'Trace'},
  {name: 'functions', view: 'Functions'},
  {
    name: 'functions-found',
    view: 'Functions',
    reach: (pane) => pane.getByRole('searchbox').fill('heavy spot'),
  },
  {
    name: 'function',
    view: 'Functions',
    reach: async (pane) => {
      await pane.getByRole('button', {name: 'WHEEL.MATCH', exact: true}).click();
      await pane.getByRole('button', {name: 'Write the example into the sheet'}).click();
    },
  },
  {name: 'about', view: 'About'},
];

const unknown = wanted.filter((name) => !SHOTS.some((shot) => shot.name === name));
if (unknown.length > 0)
  throw new Error(`there is no picture ${unknown.join(', ')}; there are ${SHOTS.map(({name}) => name).join(', ')}`);
const executablePath = PROGRAMS.find((program) => program !== undefined && existsSync(program));
if (executablePath === undefined) throw new Error('Chromium is missing: install it, or name its program in CHROMIUM');
rmSync(folder, {recursive: true, force: true});
mkdirSync(folder, {recursive: true});
const serving = await serve({root}, 0);
const browser = await chromium.launch({executablePath, args: ['--no-sandbox']});
try {
  for (const theme of THEMES) for (const width of WIDTHS) await takeAll(browser, theme, width);
} finally {
  await browser.close();
  await serving.close();
}
console.log(`Wrote the pictures to ${path.relative(root, folder)}`);
process.exit(0);

async function takeAll(of: Browser, theme: (typeof THEMES)[number], width: number): Promise<void> {
  const context = await of.newContext({
    ignoreHTTPSErrors: true,
    viewport: {width: 1100 + width, height: 900},
    colorScheme: theme === 'dark' ? 'dark' : 'light',
    forcedColors: theme === 'forced' ? 'active' : 'none',
  });
  for (const shot of SHOTS.filter(({name}) => wanted.length === 0 || wanted.includes(name))) {
    const page = await context.newPage();
    const pane = await open(page, shot, width);
    await shot.reach?.(pane);
    // Charts and focus rings settle within a frame or two.
    await pane.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
    await page.screenshot({path: path.join(folder, `${shot.name}-${theme}-${width}-page.png`)});
    await wholePane(page, pane, path.join(folder, `${shot.name}-${theme}-${width}.png`));
    await page.close();
  }
  await context.close();
}

async function open(page: Page, {book, view, cell}: Shot, width: number): Promise<Frame> {
  await page.goto(`${serving.address}?book=${book ?? 'demo'}&pane=${width}`);
  await page.waitForFunction(() => 'workbookHost' in globalThis);
  const pane = (await (await page.waitForSelector('#panes iframe')).contentFrame())!;
  await pane.waitForSelector('main');
  await idle(page);
  if (cell !== undefined) {
    await page.locator('[data-u-comp="slide-tab-item"]').getByText('Wheels', {exact: true}).click();
    const box = page.locator('[data-u-comp="defined-name"] input');
    await box.fill(cell);
    await box.press('Enter');
    await pane.getByRole('heading', {name: 'No wheel selected'}).waitFor({state: 'hidden'});
  }
  if (view !== undefined) await go(pane, view);
  await idle(page);
  return pane;
}

async function idle(page: Page): Promise<void> {
  await page.evaluate(() => (globalThis as unknown as {workbookHost: {idle(): Promise<void>}}).workbookHost.idle());
}

async function go(pane: Frame, view: string): Promise<void> {
  const tab = pane.getByRole('tab', {name: view, exact: true});
  if (await tab.isVisible()) return tab.click();
  await pane.getByRole('navigation', {name: 'Views'}).getByRole('button').click();
  return pane.getByRole('menuitem', {name: view, exact: true}).click();
}

/** The pane as long as its content is. */
async function wholePane(page: Page, pane: Frame, file: string): Promise<void> {
  const height = await pane.evaluate(() => document.documentElement.scrollHeight);
  const {width} = page.viewportSize()!;
  await page.setViewportSize({width, height: Math.max(900, height + 120)});
  await page.locator('#panes iframe').screenshot({path: file});
}
