/** EACHROW over many rows: against LibreOffice, how time grows, how much memory it takes. */
import {execFileSync} from 'node:child_process';
import path from 'node:path';
import {ROOT, SOURCES} from '../folders';
import {asCells, readingRows} from '../data';
import {calcIsThere, calcPeer} from '../calc';
import type {Callable} from '../../../host/engine/functionsBundle';
import {comparison, LEAST_ROUNDS, time, waited} from '../measure';
import {atLeast, goalAtLeast, judgedAtMost, missing, withinLimit, type Run} from '../workload';
import {builtFunction} from './calls';

const POSITIONS = 16;

/** As Excel hands over a call with arguments that may repeat: the first by itself, the others as a list. */
const harmonicOfEachRow = (call: Callable, cells: readonly number[][]): number[][] =>
  call('HARMONIC', [cells]) as number[][];

export const eachRow: Run = async ({quick}) => {
  const rows = quick ? 10_000 : 100_000;
  const workload = `EACHROW of HARMONIC, ${rows} × 16 cells, end to end`;
  const against = 'native formulas recalculated in LibreOffice';
  if (!calcIsThere()) return [missing(workload, against, goalAtLeast(50), 'LibreOffice is not installed')];
  const cells = asCells(readingRows(rows, POSITIONS), POSITIONS);
  const call = builtFunction('EACHROW');
  let ours: readonly number[] = [];
  let theirs: readonly number[] = [];
  const calc = await calcPeer(cells);
  return [
    await atLeast(50, {
      workload,
      against,
      // The engine of JavaScript compiles within the first rounds of a small sheet: several calls, one after the other.
      ours: async () => {
        const again = 100_000 / rows;
        const took = await waited(() => {
          for (let n = 0; n < again; n++) ours = harmonicOfEachRow(call, cells)[rows - 1];
        });
        return took / again;
      },
      theirs: () => {
        const {time: took, last} = calc();
        theirs = last;
        return took;
      },
      rounds: LEAST_ROUNDS,
      isSame: () => ours.every((figure, i) => Math.abs(figure - theirs[i]) < 1e-9 * (1 + Math.abs(figure))),
      note: 'loading and saving left out',
    }),
  ];
};

export const growth: Run = async ({quick, rounds}) => {
  const call = builtFunction('EACHROW');
  const sizes = quick ? [1_000, 10_000] : [1_000, 10_000, 100_000];
  const sheets = sizes.map((rows) => asCells(readingRows(rows, POSITIONS), POSITIONS));
  const times = sizes.map((): number[] => []);
  for (let round = 0; round <= rounds; round++) {
    for (const [i, cells] of sheets.entries()) {
      // Small sheets several times over, so that a clock tick or a collection of garbage does not decide.
      const again = sizes[sizes.length - 1] / sizes[i];
      const took = time(() => {
        for (let n = 0; n < again; n++) harmonicOfEachRow(call, cells);
      });
      if (round > 0) times[i].push(took / again);
    }
  }
  return sizes.slice(1).map((rows, i) => {
    const [ours, theirs] = [times[i + 1], times[i]];
    const named = {workload: `growth of EACHROW of HARMONIC, ${rows} rows`, against: `${sizes[i]} rows`};
    return judgedAtMost(11, named, comparison(ours, theirs));
  });
};

export const memory: Run = async ({quick}) => {
  const rows = quick ? 20_000 : 100_000;
  const script = path.join(SOURCES, 'memory.ts');
  const printed = execFileSync(process.execPath, ['--expose-gc', '--import', 'tsx', script, String(rows)], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  const {input, more} = JSON.parse(printed) as {input: number; more: number};
  const mib = (bytes: number): string => `${(bytes / 2 ** 20).toFixed(1)} MiB`;
  return [
    withinLimit(
      `memory at most used by EACHROW of HARMONIC, ${rows} × 16 cells`,
      'the size of its input',
      more / input,
      4,
      `${mib(more)} more at its peak, ${mib(input)} of input`,
    ),
  ];
};
