/** The workbook host in a real browser: server and browser once a test file, a page of its own for each test. */
import {existsSync, readFileSync} from 'node:fs';
import path from 'node:path';
import axe, {type AxeResults} from 'axe-core';
import {chromium, type Browser, type BrowserContext, type Frame, type Page} from 'playwright-core';
import {serve, type Serving} from '../../../src/host/server/serve';
import {cellAddress, parseArea, parseCell} from '../../../src/host/book/addresses';
import type {HostBook} from '../../../src/host/office/hostBook';

/** The machine may be busy. */
jest.setTimeout(300_000);
const TIMEOUT = 60_000;
/** A pane that asks for nothing for so many milliseconds has nothing more to ask. */
const QUIET = 300;

const root = path.resolve(__dirname, '../../..');

export interface Opening {
  /** The demo by default. */
  readonly book?: 'demo' | 'empty';
  /** Width of the pane in pixels. */
  readonly pane?: number;
  /** Panes beside each other. */
  readonly panes?: number;
  /** The batch, from 1, that fails. */
  readonly fail?: number;
  /** Milliseconds by which every answer is late. */
  readonly delay?: number;
  readonly theme?: 'light' | 'dark' | 'forced';
  readonly width?: number;
  readonly height?: number;
}

/** What the grid says of cells that are narrow on the screen; it has no consequence. */
const OF_GRID = /^The column width is less than 0/;

/** The page's own object for tests. */
interface WorkbookHost {
  readonly book: HostBook;
  readonly faults: {readonly errors: string[]; failingBatch: number | undefined; batches: number};
  idle(): Promise<void>;
}

/** A browser that is installed, or the one that is named by CHROMIUM. */
export function chromiumPath(): string {
  const known = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
  const found = known.find((file) => file !== undefined && existsSync(file));
  if (found === undefined) throw new Error('Chromium is missing: install it, or name its program in CHROMIUM');
  return found;
}

export class TestHost {
  readonly #contexts: BrowserContext[] = [];

  private constructor(
    private readonly serving: Serving,
    private readonly browser: Browser,
  ) {}

  /** @param dist folder of the add-in, when it is not the one that it was built into */
  static async start(dist?: string): Promise<TestHost> {
    for (const built of ['dist/taskpane.html', 'out/host/host.js']) {
      if (!existsSync(path.join(root, built))) throw new Error(`${built} is missing: run npm run build first`);
    }
    const [serving, browser] = await Promise.all([
      serve({root, dist}, 0),
      chromium.launch({executablePath: chromiumPath(), args: ['--no-sandbox']}),
    ]);
    return new TestHost(serving, browser);
  }

  /** A page with a workbook in the grid and the pane beside it, both ready. */
  async open({theme = 'light', width = 1400, height = 900, ...asked}: Opening = {}): Promise<HostPage> {
    const context = await this.browser.newContext({
      ignoreHTTPSErrors: true,
      viewport: {width, height},
      colorScheme: theme === 'dark' ? 'dark' : 'light',
      forcedColors: theme === 'forced' ? 'active' : 'none',
      acceptDownloads: true,
    });
    this.#contexts.push(context);
    const address = new URL(this.serving.address);
    for (const [name, value] of Object.entries(asked)) address.searchParams.set(name, String(value));
    const opened = new HostPage(await context.newPage(), this.serving.address);
    await opened.load(address.href);
    return opened;
  }

  async closePages(): Promise<void> {
    await Promise.all(this.#contexts.splice(0).map((context) => context.close()));
  }

  async stop(): Promise<void> {
    await this.closePages();
    await this.browser.close();
    await this.serving.close();
  }
}

export class HostPage {
  /** What went wrong in the page or the pane, and requests that left this machine. */
  readonly problems: string[] = [];
  #panes: readonly Frame[] = [];

  constructor(
    readonly page: Page,
    private readonly origin: string,
  ) {
    page.on('console', (message) => {
      if (message.type() === 'error' && !OF_GRID.test(message.text())) this.problems.push(`console: ${message.text()}`);
    });
    page.on('pageerror', (error) => this.problems.push(`exception: ${error.message}`));
    page.on('request', (request) => {
      const address = request.url();
      if (!address.startsWith(this.origin) && !/^(data|blob|about):/.test(address)) {
        this.problems.push(`request: ${address}`);
      }
    });
    page.on('response', (response) => {
      if (response.status() >= 400) this.problems.push(`${response.status()}: ${response.url()}`);
    });
  }

  async load(address: string): Promise<void> {
    this.page.setDefaultTimeout(TIMEOUT);
    await this.page.goto(address);
    await this.page.waitForFunction(() => 'workbookHost' in globalThis, undefined);
    await this.findPanes();
    await this.idle();
  }

  /** The frame of the pane; of the first one, when there are several. */
  get pane(): Frame {
    return this.paneAt(0);
  }

  paneAt(index: number): Frame {
    if (!this.#panes[index]) throw new Error(`there is no pane ${index + 1}`);
    return this.#panes[index];
  }

  /** Takes the panes anew, after another workbook has been opened. */
  async findPanes(): Promise<void> {
    const frames = await this.page.locator('#panes iframe').elementHandles();
    this.#panes = await Promise.all(frames.map(async (frame) => (await frame.contentFrame())!));
    await Promise.all(this.#panes.map((pane) => pane.waitForSelector('main')));
  }

  /** When the workbook has done all that was asked of it, and the panes ask for nothing more. */
  async idle(): Promise<void> {
    await this.page.evaluate(async (quiet) => {
      const {workbookHost: page} = globalThis as unknown as {workbookHost: WorkbookHost};
      for (let before = -1; before !== page.faults.batches;) {
        before = page.faults.batches;
        await page.idle();
        await new Promise((resolve) => setTimeout(resolve, quiet));
      }
    }, QUIET);
  }

  /** Goes to cells as a person does who types an address into the name box, such as "Wheels!A4" or "B2:D5". */
  async select(address: string): Promise<void> {
    const [cells, sheet] = address.split('!').reverse();
    if (sheet !== undefined) await this.showSheet(sheet);
    const box = this.page.locator('[data-u-comp="defined-name"] input');
    await box.click();
    await box.fill(cells);
    await box.press('Enter');
    await this.idle();
  }

  /** Clicks on the tab of a sheet. */
  async showSheet(name: string): Promise<void> {
    await this.page.locator('[data-u-comp="slide-tab-item"]').getByText(name, {exact: true}).click();
    await this.idle();
  }

  /** Types into the selected cell and confirms. */
  async type(text: string): Promise<void> {
    await this.page.keyboard.type(text);
    await this.page.keyboard.press('Enter');
    await this.idle();
  }

  /** Goes to another view of the pane, by its tab or in the menu into which the tabs fold. */
  async showView(name: string): Promise<void> {
    const tab = this.pane.getByRole('tab', {name, exact: true});
    if (await tab.isVisible()) return tab.click();
    await this.pane.getByRole('navigation', {name: 'Views'}).getByRole('button').click();
    await this.pane.getByRole('menuitem', {name, exact: true}).click();
  }

  /** What a cell shows, such as "Wheels!A4". */
  value(address: string): Promise<unknown> {
    return this.#asked(address, 'value');
  }

  formula(address: string): Promise<unknown> {
    return this.#asked(address, 'formula');
  }

  #asked(address: string, what: 'value' | 'formula'): Promise<unknown> {
    const end = address.lastIndexOf('!');
    const at = parseCell(address.slice(end + 1))!;
    const sheet = address.slice(0, end);
    return this.page.evaluate(
      ({sheet: name, row, column, what: asked}) => {
        const {book} = (globalThis as unknown as {workbookHost: WorkbookHost}).workbookHost;
        const {id} = book.sheets.find((one) => one.name === name)!;
        return book[asked](id, row, column);
      },
      {sheet, row: at.row, column: at.column, what},
    );
  }

  /** Names of the sheets. */
  sheets(): Promise<string[]> {
    return this.page.evaluate(() =>
      (globalThis as unknown as {workbookHost: WorkbookHost}).workbookHost.book.sheets.map(({name}) => name),
    );
  }

  /** The workbook as "Save a copy" writes it. */
  async savedCopy(): Promise<Uint8Array> {
    const [download] = await Promise.all([
      this.page.waitForEvent('download'),
      this.page.getByRole('button', {name: 'Save a copy'}).click(),
    ]);
    return readFileSync((await download.path())!);
  }

  /** All texts that cells of an area show. */
  texts(sheet: string, area: string): Promise<string[]> {
    return this.page.evaluate(
      ([name, {top, left, bottom, right}]) => {
        const {book} = (globalThis as unknown as {workbookHost: WorkbookHost}).workbookHost;
        const {id} = book.sheets.find((one) => one.name === name)!;
        const found: string[] = [];
        for (let row = top; row <= bottom; row++) {
          for (let column = left; column <= right; column++) {
            const value = book.value(id, row, column);
            if (typeof value === 'string' && value !== '') found.push(value);
          }
        }
        return found;
      },
      [sheet, parseArea(area)!] as const,
    );
  }

  /** The first selected cell, such as "Wheels!A4". */
  async selected(): Promise<string> {
    const {sheet, row, column} = await this.page.evaluate(() => {
      const {book} = (globalThis as unknown as {workbookHost: WorkbookHost}).workbookHost;
      const [{top, left}] = book.selection();
      return {sheet: book.sheet(book.activeSheet).name, row: top, column: left};
    });
    return `${sheet}!${cellAddress(row, column)}`;
  }

  /** The cell of the first assembly reading of the first wheel of the demo with a finding. */
  async rowWith(finding: string): Promise<string> {
    const row = await this.page.evaluate((wanted) => {
      const {book} = (globalThis as unknown as {workbookHost: WorkbookHost}).workbookHost;
      const {id} = book.sheets.find(({name}) => name === 'Wheels')!;
      const headings = Array.from({length: 100}, (_, column) => book.value(id, 2, column));
      const column = headings.indexOf('Finding');
      for (let r = 3; r < 100; r++) if (book.value(id, r, column) === wanted) return r;
      throw new Error(`no wheel of the demo has the finding ${wanted}`);
    }, finding);
    return `Wheels!I${row + 1}`;
  }

  /** The next batch of a pane fails. */
  async failNext(): Promise<void> {
    await this.page.evaluate(() => {
      const {faults} = (globalThis as unknown as {workbookHost: WorkbookHost}).workbookHost;
      faults.failingBatch = faults.batches + 1;
    });
  }

  /** Errors with which the workbook answered the pane. */
  answeredErrors(): Promise<string[]> {
    return this.page.evaluate(
      () => (globalThis as unknown as {workbookHost: WorkbookHost}).workbookHost.faults.errors as string[],
    );
  }

  /** Nothing went wrong in the page, and the workbook refused the pane nothing. */
  async expectClean(): Promise<void> {
    expect(await this.answeredErrors()).toEqual([]);
    expect(this.problems).toEqual([]);
  }

  /** What is wrong with the accessibility of the pane as it is now. */
  async accessibility(): Promise<string[]> {
    await this.pane.evaluate(axe.source);
    const {violations} = (await this.pane.evaluate(
      'axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]})',
    )) as AxeResults;
    return violations.flatMap(({id, nodes}) => nodes.map(({html}) => `${id}: ${html.slice(0, 200)}`));
  }

  /** Pixels by which the pane's content is wider than the pane. */
  overflow(): Promise<number> {
    return this.pane.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  }
}
