/** `npm run fuzz`: calls every worksheet function with made-up arguments and says what it found. */
import {fileURLToPath} from 'node:url';
import {parseArgs} from 'node:util';
import {CATALOGUE} from '../../functions/catalogue';
import {callerOf} from './caller';
import {fuzz, type Finding, type Tally} from './fuzz';

const HELP = `Calls every worksheet function with made-up arguments, half of them near-valid, half of them hostile, and checks
that finite numbers, texts or the two errors come out, within a second, the same bits for the same arguments (after other
calls too), and that no argument is changed.

  npm run fuzz -- --runs 100000 --seed 7

  --runs N       calls in all (10000)
  --seed S       a whole number; the same calls for the same seed (1)
  --only NAMES   some functions alone, such as MATCH,PAIR
  --shares       prints for each function how many of its near-valid calls were answered
  --bundle FILE  functions to call (dist/functions.js), their metadata beside it in .json
  --patience S   seconds after which a call counts as one that never ends (20)
  --help         this text

Each finding is a line with the call and what is wrong; the last line has the figures. Ends with 0 when nothing was found,
1 when something was, 64 when the command was not understood.`;

const [DONE, FOUND, USAGE] = [0, 1, 64];

function options() {
  try {
    const {values} = parseArgs({
      options: {
        runs: {type: 'string', default: '10000'},
        seed: {type: 'string', default: '1'},
        only: {type: 'string', default: ''},
        shares: {type: 'boolean', default: false},
        bundle: {type: 'string', default: fileURLToPath(new URL('../../../dist/functions.js', import.meta.url))},
        patience: {type: 'string', default: '20'},
        help: {type: 'boolean', default: false},
      },
    });
    const [runs, seed] = [Number(values.runs), Number(values.seed)];
    if (!Number.isInteger(runs) || runs < 1) throw new Error('--runs: a whole number above 0 is wanted');
    if (!Number.isInteger(seed)) throw new Error('--seed: a whole number is wanted');
    const patience = Number(values.patience);
    if (!(patience > 0)) throw new Error('--patience: a number of seconds above 0 is wanted');
    const names = values.only === '' ? [] : values.only.toUpperCase().split(',');
    const unknown = names.find((name) => !CATALOGUE.some((declared) => declared.name === name));
    if (unknown !== undefined) throw new Error(`--only: there is no function ${unknown}`);
    return {...values, runs, seed, patience: 1000 * patience, names};
  } catch (error) {
    console.error(`${(error as Error).message}\n\n${HELP}`);
    process.exit(USAGE);
  }
}

/** A call as one can read it and make it again. */
const shown = ({call, fault}: Finding): string => {
  const text = JSON.stringify(call.args, (_, value: unknown) =>
    value === undefined || (typeof value === 'number' && !Number.isFinite(value)) || Object.is(value, -0)
      ? `‹${Object.is(value, -0) ? '-0' : String(value)}›`
      : value,
  );
  return `${call.name} ${text.length > 2000 ? `${text.slice(0, 2000)}… (${text.length} characters)` : text}\n  ${fault}`;
};

const share = ({calls, answered}: Tally): string => (calls === 0 ? '–' : `${((100 * answered) / calls).toFixed(1)} %`);

const {runs, seed, names, shares, bundle, patience, help} = options();
if (help) {
  console.log(HELP);
} else {
  const start = Date.now();
  const caller = callerOf(bundle, patience);
  const {findings, near, hostile, functions, slowest} = await fuzz(caller, runs, seed, names, (calls) => {
    if (process.stderr.isTTY) process.stderr.write(`\r${calls} calls`);
  });
  await caller.end();
  if (shares)
    for (const [name, tally] of functions)
      console.log(`${name.padEnd(16)} ${share(tally).padStart(8)} of ${tally.calls}`);
  findings.forEach((finding) => console.log(shown(finding)));
  console.log(
    `${near.calls + hostile.calls} calls of ${functions.size} functions (seed ${seed}): ${findings.length} findings; ` +
      `answered: ${share(near)} of ${near.calls} near-valid, ${share(hostile)} of ${hostile.calls} hostile; ` +
      `slowest ${(slowest.took / 1000).toFixed(2)} s (${slowest.name}); ${Math.round((Date.now() - start) / 1000)} s`,
  );
  process.exitCode = findings.length === 0 ? DONE : FOUND;
}
