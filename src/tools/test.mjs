/**
 * `npm test`: installs what is missing, then types, lint, format and every test. The last line is the count. Arguments
 * go to jest: `npm test -- tests/maths`.
 */
import {spawnSync} from 'node:child_process';
import {mkdirSync, readFileSync, rmSync} from 'node:fs';
import path from 'node:path';
import {findPrograms} from './programs.mjs';
import {ready, root} from './ready.mjs';

ready();

const bin = (...parts) => path.join(root, 'node_modules', ...parts);

/** Runs a Node.js program of a package; true when it ends well. */
function node(program, args) {
  return spawnSync(process.execPath, [program, ...args], {cwd: root, stdio: 'inherit'}).status === 0;
}

const checks = {
  types: () => node(bin('typescript', 'bin', 'tsc'), ['--noEmit']),
  lint: () =>
    node(bin('eslint', 'bin', 'eslint.js'), ['--config', '.config/eslint.config.js', '--max-warnings', '0', '.']),
  format: () => node(bin('prettier', 'bin', 'prettier.cjs'), ['--check', '--log-level', 'warn', '.']),
};

let passed = 0;
let failed = 0;
const count = (name, well) => {
  if (well) passed++;
  else failed++;
  console.log(`${well ? 'passed' : 'FAILED'}: ${name}`);
};

for (const words of findPrograms()) count(words, false);
for (const [name, check] of Object.entries(checks)) count(name, check());

const report = path.join(root, 'out', 'jest.json');
mkdirSync(path.dirname(report), {recursive: true});
rmSync(report, {force: true});
const well = node(bin('jest', 'bin', 'jest.js'), ['--json', '--outputFile', report, ...process.argv.slice(2)]);
try {
  const {numPassedTests, numFailedTests, numRuntimeErrorTestSuites} = JSON.parse(readFileSync(report, 'utf8'));
  passed += numPassedTests;
  failed += numFailedTests + numRuntimeErrorTestSuites;
  // A run that ended badly without a failed test, such as an obsolete snapshot file, must not pass for good.
  if (!well && numFailedTests + numRuntimeErrorTestSuites === 0) failed++;
} catch {
  count('jest', false);
}

console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
