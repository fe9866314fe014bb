/** `npm run bench`: how fast, measured side by side. */
import {cpus} from 'node:os';
import {parseArgs} from 'node:util';
import {MOST_ROUNDS} from './measure';
import type {Result, Setting, Workload} from './workload';
import {assessments} from './workloads/assess';
import {harmonicCall} from './workloads/calls';
import {evenHarmonics} from './workloads/harmonics';
import {workbookHost} from './workloads/host';
import {functionsScript} from './workloads/pane';
import {eachRow, growth, memory} from './workloads/rows';
import {curveMatches, pairings, stockPairs} from './workloads/searches';
import {unevenHarmonics} from './workloads/uneven';

const WORKLOADS: readonly Workload[] = [
  evenHarmonics,
  unevenHarmonics,
  harmonicCall,
  eachRow,
  assessments,
  curveMatches,
  stockPairs,
  pairings,
  workbookHost,
  functionsScript,
  growth,
  memory,
];

const HELP = `Measures the product against peers, both in turn on this machine, and prints the ratios of the medians.

  npm run bench
  npm run bench -- --quick        fewer rows and rounds: under two minutes
  npm run bench -- --json         the same as an array of {workload, against, ratio, goal, met, …}
  npm run bench -- --only NAME    one of ${WORKLOADS.map(({name}) => name).join(', ')}

Peers that are not installed (gcc, LibreOffice, Chromium) are said to be missing.
`;

const {values: options} = parseArgs({
  options: {
    quick: {type: 'boolean', default: false},
    json: {type: 'boolean', default: false},
    only: {type: 'string'},
    help: {type: 'boolean', default: false},
  },
});

if (options.help) console.log(HELP);
else process.exitCode = await measure();
process.exit();

async function measure(): Promise<number> {
  const {quick, json, only} = options;
  const chosen = WORKLOADS.filter(({name}) => only === undefined || name === only);
  if (chosen.length === 0) {
    console.error(`there is no workload ${only}; there are ${WORKLOADS.map(({name}) => name).join(', ')}`);
    return 2;
  }
  const setting: Setting = {quick, rounds: quick ? 5 : MOST_ROUNDS};
  if (!json)
    console.log(`${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores, Node ${process.version}\n`);
  const results: Result[] = [];
  for (const {name, run} of chosen) {
    console.error(`measuring ${name} …`);
    const found = await run(setting);
    results.push(...found);
    if (!json) found.forEach((result) => console.log(line(result)));
  }
  if (json) console.log(JSON.stringify(results, null, 2));
  else console.log(`\n${results.filter(({met}) => met).length} of ${results.length} goals met`);
  return 0;
}

function line({workload, against, ratio, goal, met, spread, note}: Result): string {
  const verdict = met === undefined ? 'peer missing' : met ? 'met' : 'NOT MET';
  const steady = spread === undefined ? '' : ` ± ${(100 * spread).toFixed(0)} %`;
  return [
    workload.padEnd(66),
    `against ${against}`.padEnd(52),
    `${ratio === undefined ? '–' : ratio.toPrecision(3)}${steady}`.padEnd(14),
    goal.padEnd(24),
    verdict.padEnd(13),
    note,
  ].join(' ');
}
