/** How measurements are judged and printed; nothing here is timed. */
import {comparison, interleaved} from '../../src/tools/bench/measure';
import {exitCode, measureAll} from '../../src/tools/bench/measureAll';
import {asJson, asTable} from '../../src/tools/bench/table';
import {
  atLeast,
  atMost,
  failure,
  judgedAtLeast,
  judgedAtMost,
  missing,
  withinLimit,
  type Workload,
} from '../../src/tools/bench/workload';

const NAMED = {workload: 'sums', against: 'a peer'};

/** Gives the figures one after the other. */
function inTurn(...figures: number[]): () => number {
  let at = 0;
  return () => figures[at++];
}

describe('a comparison', () => {
  test('has medians, and half the range between the quartiles of the less steady side', () => {
    const {ours, theirs, spread} = comparison([10, 30, 20, 40, 50], [100, 100, 100, 100, 100]);
    expect([ours, theirs]).toEqual([30, 100]);
    // Quartiles 20 and 40.
    expect(spread).toBeCloseTo(10 / 30, 12);
    expect(comparison([1, 1, 1], [4, 2]).spread).toBeCloseTo(0.5 / 3, 12);
  });

  test('runs both in turn, and does not count what only warms up', async () => {
    const order: string[] = [];
    const logged = (name: string, figure: () => number) => () => {
      order.push(name);
      return figure();
    };
    const {ours, theirs} = await interleaved(
      logged('a', inTurn(300, 300, 1, 2, 3)),
      logged('b', inTurn(900, 10, 20, 30)),
      3,
    );
    expect(order.join('')).toBe('aabababab');
    expect([ours, theirs]).toEqual([2, 20]);
  });
});

describe('the judgement', () => {
  const measured = {ours: 2, theirs: 3, spread: 0.1};

  test('at most: ours ÷ theirs', () => {
    expect(judgedAtMost(0.7, NAMED, measured)).toMatchObject({ratio: 2 / 3, goal: 'at most 0.7 ×', met: true});
    expect(judgedAtMost(0.6, NAMED, measured).met).toBe(false);
    expect(judgedAtMost(2 / 3, NAMED, measured).met).toBe(true);
  });

  test('at least: theirs ÷ ours', () => {
    expect(judgedAtLeast(1.5, NAMED, measured)).toMatchObject({ratio: 1.5, goal: 'at least 1.5 × faster', met: true});
    expect(judgedAtLeast(1.6, NAMED, measured).met).toBe(false);
  });

  test('a peer that did a part of the work counts as if it had done all of it', () => {
    const result = judgedAtLeast(10, {...NAMED, times: 10}, measured);
    expect(result).toMatchObject({ratio: 15, met: true, note: '2.00 ms against 30.0 ms'});
    expect(judgedAtMost(0.1, {...NAMED, times: 10}, measured).ratio).toBeCloseTo(1 / 15, 12);
  });

  test('other answers than the peer’s are a failure, however fast', () => {
    const result = judgedAtLeast(1, {...NAMED, agrees: false}, measured);
    expect(result).toMatchObject({ratio: null, met: false, failed: true});
    expect(result.note).toContain('the answers differ');
  });

  test('answers may be compared after the rounds', async () => {
    let runs = 0; // of which 20 warm up, as each is quick
    const compared = {...NAMED, ours: () => ++runs, theirs: () => 100, rounds: 5};
    expect(await atLeast(1, {...compared, isSame: () => runs === 25})).toMatchObject({met: true});
    expect(await atMost(1, {...compared, isSame: () => false})).toMatchObject({met: false, failed: true});
    expect(await atMost(1, {...compared, agrees: false, isSame: () => true})).toMatchObject({failed: true});
  });

  test('a missing peer is neither met nor missed', () => {
    const result = missing('sums', 'C', 'at most 2 ×', 'gcc is not installed');
    expect(result).toMatchObject({ratio: null, met: null, note: 'gcc is not installed'});
    expect(exitCode([result])).toBe(0);
  });
});

describe('several workloads', () => {
  const good: Workload = {name: 'good', run: async () => [withinLimit('size', '80 KB', 0.5, 1, '40 KB')]};
  const bad: Workload = {name: 'bad', run: () => Promise.reject(new Error('no such file\nand more'))};

  test('one that fails has a row that says so, and the next one runs', async () => {
    const begun: string[] = [];
    const results = await measureAll([bad, good], {quick: true, rounds: 5}, (name) => begun.push(name));
    expect(begun).toEqual(['bad', 'good']);
    expect(results).toMatchObject([
      {workload: 'bad', met: false, failed: true, note: 'no such file'},
      {workload: 'size', met: true},
    ]);
    expect(exitCode(results)).toBe(1);
  });

  test('a goal that is not met is no failure', () => {
    expect(exitCode([judgedAtMost(1, NAMED, {ours: 2, theirs: 1, spread: 0})])).toBe(0);
  });

  test('every workload gets the setting', async () => {
    const seen: unknown[] = [];
    const looking: Workload = {name: 'looking', run: async (setting) => (seen.push(setting), [])};
    await measureAll([looking], {quick: false, rounds: 9}, () => {});
    expect(seen).toEqual([{quick: false, rounds: 9}]);
  });
});

describe('what is printed', () => {
  const results = [
    judgedAtLeast(100, NAMED, {ours: 2, theirs: 2468, spread: 0.123}),
    judgedAtMost(1.25, NAMED, {ours: 3, theirs: 2, spread: 0}),
    missing('recalculation', 'LibreOffice', 'at least 50 × faster', 'LibreOffice is not installed'),
    failure('pane', '–', '–', 'the script associated nothing'),
  ];

  test('for programs: five fields a result, null where there is no ratio', () => {
    expect(JSON.parse(asJson(results))).toEqual([
      {workload: 'sums', against: 'a peer', ratio: 1234, goal: 'at least 100 × faster', met: true},
      {workload: 'sums', against: 'a peer', ratio: 1.5, goal: 'at most 1.25 ×', met: false},
      {workload: 'recalculation', against: 'LibreOffice', ratio: null, goal: 'at least 50 × faster', met: null},
      {workload: 'pane', against: '–', ratio: null, goal: '–', met: false},
    ]);
  });

  test('for people: one line each in columns, and a count', () => {
    const lines = asTable(results).split('\n');
    expect(lines).toHaveLength(1 + results.length + 2);
    const column = lines[0].indexOf('goal');
    expect(lines[1].slice(column)).toMatch(/^at least 100 × faster\s+met\s+2\.00 ms against 2468 ms$/);
    expect(lines[2].slice(column)).toMatch(/^at most 1\.25 ×\s+NOT MET\s+3\.00 ms against 2\.00 ms$/);
    expect(lines[3].slice(column)).toMatch(/^at least 50 × faster\s+peer missing\s+LibreOffice is not installed$/);
    expect(lines[4].slice(column)).toMatch(/^–\s+FAILED\s+the script associated nothing$/);
    expect(lines[1]).toMatch(/ 1234 +± 12 % /);
    expect(lines.at(-1)).toBe('1 of 4 goals met, 1 without a peer, 1 failed');
  });
});
