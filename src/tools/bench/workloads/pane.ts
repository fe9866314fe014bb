/** What Excel loads before the first function answers. */
import {existsSync, readFileSync} from 'node:fs';
import path from 'node:path';
import {gzipSync} from 'node:zlib';
import {chromium, type Browser} from 'playwright-core';
import {ROOT} from '../folders';
import {comparison} from '../measure';
import {goalAtMost, missing, withinLimit, type Result, type Run} from '../workload';

const MOST_BYTES = 80 * 1024;
const MOST_MS = 150;
const CHROMIUM = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
/** What only mathjs and only charts would bring along. */
const FOREIGN = ['mathjs', 'SVGElement', 'strokeWidth'];

export const functionsScript: Run = async ({rounds}) => {
  const script = readFileSync(path.join(ROOT, 'dist', 'functions.js'), 'utf8');
  return [sizeOf(script), await association(script, rounds)];
};

function sizeOf(script: string): Result {
  const size = gzipSync(script, {level: 9}).length;
  const foreign = FOREIGN.filter((word) => script.includes(word));
  const note = `${(size / 1024).toFixed(1)} KB, ${(script.length / 1024).toFixed(0)} KB unpacked`;
  const result = withinLimit('script of the functions, compressed (gzip)', '80 KB', size / MOST_BYTES, 1, note);
  return foreign.length === 0 ? result : {...result, met: false, note: `${note}; it holds ${foreign.join(', ')}`};
}

async function association(script: string, rounds: number): Promise<Result> {
  const [workload, against] = ['functions associated after the load of their script', `${MOST_MS} ms`];
  const executablePath = process.env.CHROMIUM ?? CHROMIUM.find(existsSync);
  if (executablePath === undefined) return missing(workload, against, goalAtMost(1), 'Chromium is not installed');
  const browser = await chromium.launch({executablePath, args: ['--no-sandbox']});
  try {
    const times: number[] = [];
    for (let round = 0; round < rounds; round++) times.push(await associated(browser, script));
    const {ours, spread} = comparison(times, times);
    const note = `${ours.toFixed(1)} ms in Chromium, compiling included`;
    return withinLimit(workload, against, ours / MOST_MS, 1, note, spread);
  } finally {
    await browser.close();
  }
}

/** Milliseconds from the script's text to its last association, in a page that nothing was loaded into before. */
async function associated(browser: Browser, script: string): Promise<number> {
  const context = await browser.newContext();
  try {
    const page = await context.newPage();
    await page.evaluate(RUNTIME);
    await page.evaluate((text) => {
      const element = document.createElement('script');
      element.textContent = text;
      performance.mark('script');
      document.head.append(element);
    }, script);
    const took = await page.evaluate<number>(
      'performance.getEntriesByName("associated").at(-1)?.startTime - performance.getEntriesByName("script")[0].startTime',
    );
    if (Number.isNaN(took)) throw new Error('the script associated nothing');
    return took;
  } finally {
    await context.close();
  }
}

/** What of Excel's runtime the script needs. As text: the loader of the tools adds helpers to functions, which a page lacks. */
const RUNTIME = `globalThis.CustomFunctions = {
  associate: () => performance.mark('associated'),
  Error: class extends Error {},
  ErrorCode: {},
};`;
