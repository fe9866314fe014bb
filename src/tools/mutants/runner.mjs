/**
 * A test runner for StrykerJS that makes whole runs of the mathematics and the functions possible. Jest starts anew for
 * every mutant and has no way to stop at the first test that fails: some seconds a mutant. Here the sources are
 * translated once a process; for every mutant the test files that reach it are loaded with modules of their own, so that
 * nothing a module keeps outlives a mutant, and tests run, those that take least time first, until one fails. Tests are
 * gathered by Jest's own `describe` and `test`, and judged by its `expect`, with its snapshots.
 */
import {existsSync, readFileSync, readdirSync, statSync, writeFileSync} from 'node:fs';
import {createRequire} from 'node:module';
import path from 'node:path';
import vm from 'node:vm';
import {declareFactoryPlugin, PluginKind} from '@stryker-mutator/api/plugin';
import {DryRunStatus, determineHitLimitReached, toMutantRunResult} from '@stryker-mutator/api/test-runner';
import {transformSync} from 'esbuild';

const require = createRequire(import.meta.url);
const circus = require('jest-circus');
const ofCircus = createRequire(require.resolve('jest-circus/package.json'));
const {jestExpect} = ofCircus('@jest/expect');
const {SnapshotState} = ofCircus('jest-snapshot');

const stryker = (globalThis.__stryker__ ??= {});
const {describe, test, it, beforeAll, beforeEach, afterAll, afterEach} = circus;
const jest = {setTimeout: () => jest};
Object.assign(globalThis, {describe, test, it, beforeAll, beforeEach, afterAll, afterEach, expect: jestExpect, jest});

const SNAPSHOTS = {
  updateSnapshot: 'none',
  expand: false,
  snapshotFormat: {escapeString: false, printBasicPrototype: false},
};

/** In the folder of the run. */
const TIMES = 'test-times.json';

/** Translated modules of this process; each load of a test file has module objects of its own. */
class Modules {
  #translated = new Map();

  #translate(file) {
    let made = this.#translated.get(file);
    if (made === undefined) {
      const {code} = transformSync(readFileSync(file, 'utf8'), {
        loader: 'ts',
        format: 'cjs',
        target: 'es2022',
        supported: {'dynamic-import': false},
        sourcefile: file,
      });
      const names = ['exports', 'require', 'module', '__filename', '__dirname'];
      const outside = createRequire(file);
      made = {run: vm.compileFunction(code, names, {filename: file}), outside, found: new Map()};
      this.#translated.set(file, made);
    }
    return made;
  }

  static #resolve(from, name) {
    const file = path.resolve(path.dirname(from), name);
    for (const candidate of [file, `${file}.ts`, `${file}.tsx`, path.join(file, 'index.ts')])
      if (statSync(candidate, {throwIfNoEntry: false})?.isFile()) return candidate;
    throw new Error(`${from} asks for ${name}, which is not there`);
  }

  /** Loads a file and what it asks for, all of it anew; packages are those of the process. */
  load(file) {
    const loaded = new Map();
    const get = (file) => {
      let module = loaded.get(file);
      if (module !== undefined) return module.exports;
      module = {exports: {}};
      loaded.set(file, module);
      if (file.endsWith('.json')) return (module.exports = JSON.parse(readFileSync(file, 'utf8')));
      const {run, outside, found} = this.#translate(file);
      const ask = (name) => {
        if (!name.startsWith('.')) return outside(name);
        let target = found.get(name);
        if (target === undefined) found.set(name, (target = Modules.#resolve(file, name)));
        return get(target);
      };
      run(module.exports, ask, module, file, path.dirname(file));
      return module.exports;
    };
    get(file);
  }
}

/** The tests below a block, with the hooks around each. */
function* testsOf(block, hooks = [], names = []) {
  const around = [...hooks, block.hooks];
  for (const child of block.children) {
    const path = [...names, child.name];
    if (child.type === 'describeBlock') yield* testsOf(child, around, path);
    else if (child.mode !== 'skip' && child.mode !== 'todo') yield {name: path.join(' '), fn: child.fn, hooks: around};
  }
}

class Runner {
  #modules = new Modules();
  #files;
  #skipped;
  /** Milliseconds a test, by its id, from the run without mutants, which another process may have made. */
  #times;

  constructor(options) {
    const {roots, except, skip} = options.loadedTests;
    const left = new RegExp(except ?? '^$');
    this.#skipped = new RegExp(skip ?? '^$');
    this.#files = roots
      .flatMap((root) =>
        statSync(root).isFile() ? [root] : readdirSync(root, {recursive: true}).map((name) => path.join(root, name)),
      )
      .filter((name) => name.endsWith('.test.ts') && !left.test(name))
      .map((name) => path.resolve(name));
  }

  capabilities() {
    return {reloadEnvironment: true};
  }

  init() {
    for (const file of this.#files) this.#load(file);
  }

  #load(file) {
    circus.resetState();
    this.#modules.load(file);
    const tests = [...testsOf(circus.getState().rootDescribeBlock)].filter(({name}) => !this.#skipped.test(name));
    return tests.map((test, i) => ({...test, id: `${path.relative('.', file)} ${i} ${test.name}`}));
  }

  #time(id) {
    this.#times ??= new Map(existsSync(TIMES) ? JSON.parse(readFileSync(TIMES, 'utf8')) : []);
    return this.#times.get(id) ?? 0;
  }

  /** Runs tests of a file: all, or those asked for. Hooks that precede all run before the first of them. */
  async #run(file, isWanted, bail) {
    const snapshotPath = path.join(path.dirname(file), '__snapshots__', `${path.basename(file)}.snap`);
    const results = [];
    const fails = (id, name, error, began) =>
      results.push({
        id,
        name,
        fileName: file,
        status: 1,
        failureMessage: String(error?.message ?? error),
        timeSpentMs: performance.now() - began,
      });
    let tests;
    let began = performance.now();
    try {
      tests = this.#load(file);
    } catch (error) {
      fails(`${file} load`, file, error, began);
      return results;
    }
    const wanted = tests.filter(({id}) => isWanted(id));
    if (bail) wanted.sort((a, b) => this.#time(a.id) - this.#time(b.id));
    const snapshotState = new SnapshotState(snapshotPath, {...SNAPSHOTS, rootDir: process.cwd()});
    const begun = new Set();
    for (const {id, name, fn, hooks} of wanted) {
      stryker.currentTestId = id;
      jestExpect.setState({
        snapshotState,
        currentTestName: name,
        testPath: file,
        assertionCalls: 0,
        expectedAssertionsNumber: null,
        isExpectingAssertions: false,
        suppressedErrors: [],
      });
      began = performance.now();
      try {
        for (const block of hooks) {
          if (!begun.has(block)) for (const hook of block) if (hook.type === 'beforeAll') await hook.fn();
          begun.add(block);
        }
        for (const block of hooks) for (const hook of block) if (hook.type === 'beforeEach') await hook.fn();
        const answer = fn();
        if (typeof answer?.then === 'function') await answer;
        for (const block of hooks) for (const hook of block) if (hook.type === 'afterEach') await hook.fn();
        const [forgotten] = jestExpect.extractExpectedAssertionsErrors();
        if (forgotten !== undefined) throw forgotten.error;
        const [suppressed] = jestExpect.getState().suppressedErrors;
        if (suppressed !== undefined) throw suppressed;
        results.push({id, name, fileName: file, status: 0, timeSpentMs: performance.now() - began});
      } catch (error) {
        fails(id, name, error, began);
        if (bail) break;
      } finally {
        stryker.currentTestId = undefined;
      }
    }
    return results;
  }

  async dryRun({coverageAnalysis}) {
    stryker.activeMutant = undefined;
    stryker.hitCount = stryker.hitLimit = undefined;
    stryker.mutantCoverage = coverageAnalysis === 'off' ? undefined : {static: {}, perTest: {}};
    const tests = [];
    for (const file of this.#files) tests.push(...(await this.#run(file, () => true, false)));
    const {mutantCoverage} = stryker;
    stryker.mutantCoverage = undefined;
    writeFileSync(TIMES, JSON.stringify(tests.map(({id, timeSpentMs}) => [id, timeSpentMs])));
    return {status: DryRunStatus.Complete, tests, mutantCoverage};
  }

  async mutantRun({activeMutant, testFilter, disableBail, hitLimit, sandboxFileName}) {
    stryker.mutantCoverage = undefined;
    stryker.activeMutant = String(activeMutant.id);
    stryker.hitLimit = hitLimit;
    stryker.hitCount = hitLimit === undefined ? undefined : 0;
    const asked = testFilter && new Set(testFilter);
    this.#time('');
    const ids = testFilter ?? [...this.#times.keys()];
    const own = path.basename(sandboxFileName, '.ts');
    const files = this.#files
      .map((file) => {
        const inside = ids.filter((id) => id.startsWith(`${path.relative('.', file)} `));
        const time = inside.reduce((sum, id) => sum + this.#time(id), 0);
        return {file, count: inside.length, time: path.basename(file, '.test.ts') === own ? 0 : time};
      })
      .filter(({count}) => !asked || count > 0)
      .sort((a, b) => a.time - b.time)
      .map(({file}) => file);
    const tests = [];
    for (const file of files) {
      const results = await this.#run(file, (id) => !asked || asked.has(id), !disableBail);
      tests.push(...results);
      if (!disableBail && results.some(({status}) => status === 1)) break;
    }
    const {hitCount} = stryker;
    stryker.activeMutant = undefined;
    stryker.hitCount = stryker.hitLimit = undefined;
    return toMutantRunResult(
      determineHitLimitReached(hitCount, hitLimit) ?? {status: DryRunStatus.Complete, tests},
      disableBail,
    );
  }
}

const create = (options) => new Runner(options);
create.inject = ['options'];

export const strykerValidationSchema = {
  type: 'object',
  properties: {
    loadedTests: {
      type: 'object',
      description:
        'Folders or files with tests, and expressions for the test files and for the tests that are left out.',
      properties: {roots: {type: 'array', items: {type: 'string'}}, except: {type: 'string'}, skip: {type: 'string'}},
    },
  },
};

export const strykerPlugins = [declareFactoryPlugin(PluginKind.TestRunner, 'loaded', create)];
