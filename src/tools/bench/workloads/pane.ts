/** What Excel loads before the first function answers. */
import {readFileSync} from 'node:fs';
import path from 'node:path';
import {gzipSync} from 'node:zlib';
import {chromium} from 'playwright-core';
import {existsSync} from 'node:fs';
import {ROOT} from '../folders';
import {median} from '../measure';
import {missing, type Result, type Workload} from '../workload';

const BUDGET = 80 * 1024;
const CHROMIUM = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

export const functionsScript: Workload = {
  name: 'pane',
  run: async ({rounds}) => {
    const script = readFileSync(path.join(ROOT, 'dist', 'functions.js'), 'utf8');
    const size = gzipSync(script, {level: 9}).length;
    const foreign = ['SVGElement', 'mathjs'].filter((word) => script.includes(word));
    const results: Result[] = [
      {
        workload: 'functions bundle, compressed (gzip)',
        against: '80 KB',
        ratio: size / BUDGET,
        goal: 'at most 1 ×',
        met: size <= BUDGET && foreign.length === 0,
        note: `${(size / 1024).toFixed(1)} KB${foreign.length > 0 ? `; holds ${foreign.join(', ')}` : ''}`,
      },
    ];
    const executablePath = CHROMIUM.find(existsSync);
    const [workload, against] = ['functions associated after the load of their script', '150 ms'];
    if (executablePath === undefined)
      return [...results, missing(workload, against, 'at most 1 ×', 'Chromium is not installed')];
    const browser = await chromium.launch({executablePath, args: ['--no-sandbox']});
    try {
      const times: number[] = [];
      for (let round = 0; round < rounds; round++) {
        const page = await browser.newPage();
        times.push(await page.evaluate(association, script));
        await page.close();
      }
      const took = median(times);
      results.push({
        workload,
        against,
        ratio: took / 150,
        goal: 'at most 1 ×',
        met: took <= 150,
        note: `${took.toFixed(1)} ms in Chromium, parsing included`,
      });
    } finally {
      await browser.close();
    }
    return results;
  },
};

/** Runs in the page: milliseconds from the script's text to its last association. */
function association(script: string): number {
  let last = 0;
  class CustomFunctionsError extends Error {}
  (window as unknown as {CustomFunctions: object}).CustomFunctions = {
    associate: () => (last = performance.now()),
    Error: CustomFunctionsError,
    ErrorCode: {},
  };
  const element = document.createElement('script');
  element.textContent = script;
  const start = performance.now();
  document.head.append(element);
  if (last === 0) throw new Error('the script associated nothing');
  return last - start;
}
