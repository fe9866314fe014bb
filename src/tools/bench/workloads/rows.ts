/** EACHROW over many rows: against LibreOffice, how time grows, how much memory it takes. */
import {execFileSync} from 'node:child_process';
import path from 'node:path';
import {ROOT, SOURCES} from '../folders';
import {asCells, readingRows} from '../data';
import {calcIsThere, recalculationInCalc} from '../calc';
import {median, time, waited} from '../measure';
import {missing, ms, type Workload} from '../workload';
import {builtFunction} from './calls';

const POSITIONS = 16;

export const eachRow: Workload = {
  name: 'eachrow',
  run: async ({quick}) => {
    const rows = quick ? 10_000 : 100_000;
    const [workload, goal] = [`EACHROW of HARMONIC, ${rows} × 16 cells, end to end`, 'at least 50 × faster'];
    const against = 'native formulas recalculated in LibreOffice';
    if (!calcIsThere()) return [missing(workload, against, goal, 'LibreOffice is not installed')];
    const cells = asCells(readingRows(rows, POSITIONS), POSITIONS);
    const call = builtFunction('EACHROW');
    let answer: number[][] = [];
    const times: number[] = [];
    for (let round = 0; round <= 5; round++) {
      const took = await waited(() => (answer = call('HARMONIC', [...cells], null, null) as number[][]));
      if (round > 0) times.push(took);
    }
    const {time: theirs, first} = await recalculationInCalc(cells);
    const ours = median(times);
    const agrees = first.every(([amount], i) => Math.abs(amount - answer[i][0]) < 1e-9);
    const ratio = theirs / ours;
    return [
      {
        workload,
        against,
        ratio,
        goal,
        met: ratio >= 50 && agrees,
        note: `${ms(ours)} against ${ms(theirs)} (one recalculation, loading and saving taken off)${agrees ? '' : '; the answers differ'}`,
      },
    ];
  },
};

export const growth: Workload = {
  name: 'growth',
  run: async ({quick, rounds}) => {
    const call = builtFunction('EACHROW');
    const sizes = quick ? [1_000, 10_000] : [1_000, 10_000, 100_000];
    const sheets = sizes.map((rows) => asCells(readingRows(rows, POSITIONS), POSITIONS));
    const times = sizes.map((): number[] => []);
    for (let round = 0; round <= rounds; round++) {
      for (const [i, cells] of sheets.entries()) {
        // Small sheets several times over, so that a clock tick or a collection of garbage does not decide.
        const again = sizes[sizes.length - 1] / sizes[i];
        const took = time(() => {
          for (let n = 0; n < again; n++) call('HARMONIC', cells, null, null);
        });
        if (round > 0) times[i].push(took / again);
      }
    }
    return sizes.slice(1).map((rows, i) => {
      const ratio = median(times[i + 1]) / median(times[i]);
      return {
        workload: `EACHROW of HARMONIC, ${rows} rows`,
        against: `${sizes[i]} rows`,
        ratio,
        goal: 'at most 11 ×',
        met: ratio <= 11,
        note: `${ms(median(times[i + 1]))} against ${ms(median(times[i]))}`,
      };
    });
  },
};

export const memory: Workload = {
  name: 'memory',
  run: async ({quick}) => {
    const rows = quick ? 20_000 : 100_000;
    const script = path.join(SOURCES, 'memory.ts');
    const printed = execFileSync(process.execPath, ['--expose-gc', '--import', 'tsx', script, String(rows)], {
      cwd: ROOT,
      encoding: 'utf8',
    });
    const {input, more} = JSON.parse(printed) as {input: number; more: number};
    const ratio = more / input;
    const mib = (bytes: number): string => `${(bytes / 2 ** 20).toFixed(1)} MiB`;
    return [
      {
        workload: `memory at most used by EACHROW of HARMONIC, ${rows} × 16 cells`,
        against: 'the size of its input',
        ratio,
        goal: 'at most 4 ×',
        met: ratio <= 4,
        note: `${mib(more)} more resident memory at its peak, ${mib(input)} of input`,
      },
    ];
  },
};
