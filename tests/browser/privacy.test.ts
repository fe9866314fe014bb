/** The add-in as static files in any folder: it asks nobody for anything, and runs no script that is not a file of its own. */
import {cpSync, mkdtempSync, readdirSync, readFileSync, rmSync} from 'node:fs';
import {createServer, type Server} from 'node:http';
import type {AddressInfo} from 'node:net';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {DOMParser} from '@xmldom/xmldom';
import express from 'express';
import {chromium, type Browser, type Page} from 'playwright-core';
import {chromiumPath, TestHost} from './support/host';

const root = path.resolve(__dirname, '../..');
const office = path.join(root, 'node_modules', '@microsoft', 'office-js', 'dist');
/** Where the pages get office.js from; the test answers in its place. */
const OFFICIAL = 'https://appsforoffice.microsoft.com/lib/1/hosted/';

const elsewhere = mkdtempSync(path.join(tmpdir(), 'wheel-ledger-'));
const dist = path.join(elsewhere, 'any folder', 'ledger');
let host: TestHost;
let server: Server;
let browser: Browser;

beforeAll(async () => {
  cpSync(path.join(root, 'dist'), dist, {recursive: true});
  server = createServer(express().use('/some/where', express.static(dist))).listen(0, '127.0.0.1');
  [host, browser] = await Promise.all([
    TestHost.start(dist),
    chromium.launch({executablePath: chromiumPath(), args: ['--no-sandbox']}),
  ]);
});

afterAll(async () => {
  await browser?.close();
  await host?.stop();
  server?.close();
  rmSync(elsewhere, {recursive: true, force: true});
});

const pages = (): string[] => readdirSync(path.join(root, 'dist')).filter((name) => name.endsWith('.html'));

/** A page loaded from static files: what it asked others for, and what its policy forbade. */
async function loaded(page: Page, name: string): Promise<{foreign: string[]; violations: string[]; errors: string[]}> {
  const own = `http://127.0.0.1:${(server.address() as AddressInfo).port}/some/where/`;
  const [foreign, violations, errors]: string[][] = [[], [], []];
  await page.route(`${OFFICIAL}**`, (route) => {
    const file = decodeURIComponent(new URL(route.request().url()).pathname).slice('/lib/1/hosted/'.length);
    return route.fulfill({path: path.join(office, file)});
  });
  page.on('request', (request) => {
    if (!request.url().startsWith(own) && !request.url().startsWith('data:')) foreign.push(request.url());
  });
  page.on('pageerror', ({message}) => errors.push(message));
  await page.exposeFunction('tellViolation', (words: string) => violations.push(words));
  await page.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', ({violatedDirective, blockedURI, sourceFile}) =>
      (globalThis as unknown as {tellViolation(words: string): void}).tellViolation(
        `${violatedDirective}: ${blockedURI} in ${sourceFile}`,
      ),
    );
  });
  await page.goto(`${own}${name}`, {waitUntil: 'networkidle'});
  return {foreign, violations, errors};
}

test('there are pages, each with a policy and without inline scripts', () => {
  expect(pages()).toEqual(['reference.html', 'taskpane.html']);
  for (const name of pages()) {
    const page = readFileSync(path.join(root, 'dist', name), 'utf8');
    const document = new DOMParser({onError: () => undefined}).parseFromString(page, 'text/html');
    const policies = Array.from(document.getElementsByTagName('meta')).filter(
      (meta) => meta.getAttribute('http-equiv') === 'Content-Security-Policy',
    );
    expect([name, policies.length]).toEqual([name, 1]);
    expect(policies[0].getAttribute('content')).toMatch(/^default-src '(self|none)'/);
    expect(policies[0].getAttribute('content')).not.toMatch(/script-src[^;]*unsafe|\*/);
    for (const script of Array.from(document.getElementsByTagName('script'))) {
      expect(script.getAttribute('src')).toBeTruthy();
      expect(script.textContent).toBe('');
    }
    expect(page).not.toMatch(/<[^>]+\son[a-z]+\s*=/i);
  }
});

test('served from static files, a page asks for nothing but office.js and breaks no rule of its policy', async () => {
  for (const name of pages()) {
    const page = await browser.newPage();
    const {foreign, violations, errors} = await loaded(page, name);
    const asked = new Set(foreign.filter((address) => !address.startsWith(OFFICIAL)));
    expect([name, [...asked], violations, errors]).toEqual([name, [], [], []]);
    if (name === 'taskpane.html') expect(foreign).toContain(`${OFFICIAL}office.js`);
    await page.close();
  }
});

test('a request or a script that the policy forbids would be found', async () => {
  const page = await browser.newPage();
  const {foreign, violations} = await loaded(page, 'taskpane.html');
  await page.evaluate(async () => {
    const script = document.createElement('script');
    script.textContent = 'globalThis.ranInline = true';
    document.head.append(script);
    await fetch('https://elsewhere.invalid/').catch(() => undefined);
  });
  await page.waitForTimeout(100);
  expect(violations.map((words) => words.split(':')[0]).sort()).toEqual(['connect-src', 'script-src-elem']);
  expect(await page.evaluate(() => 'ranInline' in globalThis)).toBe(false);
  expect(foreign.filter((address) => !address.startsWith(OFFICIAL))).toEqual([]);
  await page.close();
});

test('the folder as it is works in the workbook host: every view, and a finding', async () => {
  const page = await host.open();
  await page.select(await page.rowWith('match mount'));
  await page.pane
    .getByRole('heading', {name: 'Finding'})
    .or(page.pane.getByRole('heading', {level: 1}))
    .first()
    .waitFor();
  for (const view of ['Vehicle', 'Columns', 'Cost', 'Trace', 'Functions', 'About', 'Wheel']) {
    await page.showView(view);
    await page.pane.getByRole('heading', {level: 1}).first().waitFor();
    await page.idle();
  }
  await page.pane.getByRole('button', {name: 'Best turn'}).waitFor();
  expect(page.problems).toEqual([]);
});
