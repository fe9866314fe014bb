/** `npm run icons`: draws the PNG icons of assets/icons from their SVG sources, in Chromium. */
import {readFileSync, writeFileSync} from 'node:fs';
import path from 'node:path';
import {fileURLToPath} from 'node:url';
import {chromium} from 'playwright-core';

const folder = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../../assets/icons');

const ICONS: readonly (readonly [string, readonly number[]])[] = [
  ['icon', [16, 20, 24, 32, 40, 48, 64, 80]],
  ['fill', [16, 32, 80]],
  ['trace', [16, 32, 80]],
];

const browser = await chromium.launch({executablePath: '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu']});
const page = await browser.newPage();
for (const [name, sizes] of ICONS) {
  const svg = readFileSync(path.join(folder, `${name}.svg`), 'utf8');
  for (const size of sizes) {
    await page.setViewportSize({width: size, height: size});
    await page.setContent(`<style>body{margin:0}svg{display:block;width:${size}px;height:${size}px}</style>${svg}`);
    writeFileSync(path.join(folder, `${name}-${size}.png`), await page.screenshot({omitBackground: true}));
  }
}
await browser.close();
