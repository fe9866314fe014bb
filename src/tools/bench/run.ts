/** `npm run bench`: how fast, measured side by side. */
import {execFileSync} from 'node:child_process';
import {cpus, hostname, loadavg, platform} from 'node:os';
import {parseArgs} from 'node:util';
import {LEAST_ROUNDS, MOST_ROUNDS} from './measure';
import {exitCode, measureAll} from './measureAll';
import {asJson, asTable} from './table';
import type {Result, Run, Setting, Workload} from './workload';

/** Each is loaded alone: what the others load would fill the memory that it measures in, and have it swept more often. */
const WORKLOADS: Readonly<Record<string, () => Promise<Run>>> = {
  harmonics: async () => (await import('./workloads/harmonics')).evenHarmonics,
  uneven: async () => (await import('./workloads/uneven')).unevenHarmonics,
  call: async () => (await import('./workloads/calls')).harmonicCall,
  eachrow: async () => (await import('./workloads/rows')).eachRow,
  assess: async () => (await import('./workloads/assess')).assessments,
  matchcurve: async () => (await import('./workloads/searches')).curveMatches,
  stockpair: async () => (await import('./workloads/searches')).stockPairs,
  pair: async () => (await import('./workloads/searches')).pairings,
  host: async () => (await import('./workloads/host')).workbookHost,
  pane: async () => (await import('./workloads/pane')).functionsScript,
  growth: async () => (await import('./workloads/rows')).growth,
  memory: async () => (await import('./workloads/rows')).memory,
};

const HELP = `Measures the product against peers, both in turn on this machine, and prints the ratios of the medians.

  npm run bench
  npm run bench -- --quick        fewer rows and rounds: under two minutes
  npm run bench -- --json         the same as an array of {workload, against, ratio, goal, met}; null without a peer
  npm run bench -- --only NAME    one of ${Object.keys(WORKLOADS).join(', ')}

The spread is half of the range between the quartiles, in per cent of the median, of the less steady side.
Peers that are not installed (gcc, LibreOffice, Chromium) are said to be missing. Exit code 1: a workload failed.
`;

const {values: options} = parseArgs({
  options: {
    quick: {type: 'boolean', default: false},
    json: {type: 'boolean', default: false},
    only: {type: 'string'},
    results: {type: 'boolean', default: false},
    help: {type: 'boolean', default: false},
  },
});

if (options.help) console.log(HELP);
else process.exitCode = await measure();
process.exit();

async function measure(): Promise<number> {
  const {quick, json, only} = options;
  const chosen = Object.keys(WORKLOADS).filter((name) => only === undefined || name === only);
  if (chosen.length === 0) {
    console.error(`there is no workload ${only}; there are ${Object.keys(WORKLOADS).join(', ')}`);
    return 64;
  }
  const setting = {quick, rounds: quick ? LEAST_ROUNDS : MOST_ROUNDS};
  if (options.results) {
    console.log(JSON.stringify(await (await WORKLOADS[chosen[0]]())(setting)));
    return 0;
  }
  const apart = chosen.map((name): Workload => ({name, run: (each) => inItsOwnProcess(name, each)}));
  const results = await measureAll(apart, setting, (name) => console.error(`measuring ${name} …`));
  if (json) console.log(asJson(results));
  else console.log(`\n${machine()}\n\n${asTable(results)}`);
  results.filter(({failed}) => failed).forEach(({workload, note}) => console.error(`${workload} failed: ${note}`));
  return exitCode(results);
}

/** What one workload leaves in memory, and what it has the engine of JavaScript compile, is nothing to the next. */
async function inItsOwnProcess(name: string, {quick}: Setting): Promise<Result[]> {
  const args = [...process.execArgv, process.argv[1], '--results', '--only', name, ...(quick ? ['--quick'] : [])];
  try {
    return JSON.parse(execFileSync(process.execPath, args, {encoding: 'utf8', stdio: 'pipe'})) as Result[];
  } catch (error) {
    const {stderr = ''} = error as {stderr?: string};
    throw new Error(/^.*(?:Error:|Failed).*$/m.exec(stderr)?.[0].trim() ?? 'it ended without results', {cause: error});
  }
}

function machine(): string {
  const processor = cpus()[0]?.model ?? 'unknown processor';
  const load = loadavg()[0].toFixed(1);
  return `${hostname()}: ${processor}, ${cpus().length} cores, ${platform()}, Node ${process.version}, load ${load}`;
}
