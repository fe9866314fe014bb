/**
 * Brings a fresh checkout to where the commands can run: installs packages that are missing, builds dist/ when the
 * sources have changed. Plain JavaScript and Node alone, because nothing is installed when it starts.
 */
import {execFileSync} from 'node:child_process';
import {createHash} from 'node:crypto';
import {existsSync, readdirSync, readFileSync, statSync, writeFileSync} from 'node:fs';
import path from 'node:path';
import {fileURLToPath} from 'node:url';

export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');

const at = (...parts) => path.join(root, ...parts);

/** Runs a command in the repository; what it prints goes to standard error, so that results stay alone on output. */
export function run(command, args) {
  execFileSync(command, args, {cwd: root, stdio: ['ignore', process.stderr, process.stderr]});
}

const fingerprint = (files, words) => {
  const hash = createHash('sha256').update(JSON.stringify(words));
  for (const file of files) hash.update(path.relative(root, file)).update('\0').update(readFileSync(file)).update('\0');
  return hash.digest('hex');
};

const stampIs = (file, value) => existsSync(file) && readFileSync(file, 'utf8') === value;

/** Whether every package of the lock file is there in its version; npm keeps its own list beside them. */
function installed() {
  const list = at('node_modules', '.package-lock.json');
  if (!existsSync(list)) return false;
  const packages = (file) => JSON.parse(readFileSync(file, 'utf8')).packages;
  const there = packages(list);
  return Object.entries(packages(at('package-lock.json'))).every(
    ([name, {version, optional}]) => name === '' || optional || there[name]?.version === version,
  );
}

/** Installs the packages of the lock file when one is missing. */
export function install() {
  if (installed()) return;
  console.error('Installing packages (once) …');
  run('npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error']);
}

function filesBelow(folder) {
  return readdirSync(folder)
    .sort()
    .flatMap((name) => {
      const file = path.join(folder, name);
      return statSync(file).isDirectory() ? filesBelow(file) : [file];
    });
}

/** The language of formulas and the content of workbooks, which the audit shares with the host. */
const LANGUAGE = ['host/formulas', 'host/book'];

/** What the bundles are made of: the add-in's in dist/, the workbook host's page in out/host/. */
const BUNDLES = [
  {
    name: 'add-in',
    sources: ['maths', 'functions', 'working', 'audit', 'workbook', 'pane', 'entry', 'tools/build', ...LANGUAGE],
    stamp: ['dist', '.built'],
  },
  {name: 'host', sources: ['maths', 'functions', 'working', 'audit', 'host'], stamp: ['out', 'host', '.built']},
];

/** Addresses that are built in; see src/tools/build. */
const ADDRESSES = ['ADDIN_URL', 'SUPPORT_URL', 'PRIVACY_URL'];

/** What a bundle is made of, in one word: another one means that it has to be built anew. */
export function stampFor(name, environment = process.env) {
  const {sources} = BUNDLES.find((bundle) => bundle.name === name);
  const folders = [...sources.map((folder) => at('src', folder)), at('assets', 'icons')].filter(existsSync);
  const settings = ['package-lock.json', 'webpack.config.js', 'tsconfig.json', 'manifest/manifest.xml'].map((file) =>
    at(file),
  );
  const addresses = name === 'add-in' ? ADDRESSES.map((address) => environment[address] ?? '') : [];
  return fingerprint([...folders.flatMap(filesBelow), ...settings], addresses);
}

/** Builds the bundles whose sources or addresses have changed. */
export function build() {
  const outdated = BUNDLES.flatMap(({name, stamp}) => {
    const wanted = stampFor(name);
    return stampIs(at(...stamp), wanted) ? [] : [{name, stamp, wanted}];
  });
  if (outdated.length === 0) return;
  console.error('Building …');
  const named = outdated.flatMap(({name}) => ['--config-name', name]);
  run(process.execPath, [at('node_modules', 'webpack', 'bin', 'webpack.js'), ...named, '--stats', 'errors-warnings']);
  for (const {stamp, wanted} of outdated) writeFileSync(at(...stamp), wanted);
}

export function ready() {
  install();
  build();
}
