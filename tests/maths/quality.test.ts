/** Proportions, groups, control limits, angles, money, sources: against other codings and by hand. */
import {angleTest} from '../../src/maths/circular';
import {control} from '../../src/maths/control';
import {cheapest, matchValue} from '../../src/maths/money';
import {compare, groupRates, proportion} from '../../src/maths/proportions';
import {readingsOf} from '../../src/maths/readings';
import {sources} from '../../src/maths/vibration';
import {figures, refusal} from '../support/formula';
import {randomFrom} from '../support/random';

describe('Wilson interval', () => {
  test.each([
    [3, 17, 0.95],
    [0, 5, 0.9],
    [5, 5, 0.99],
    [500, 1000, 0.5],
    [1, 1, 0.95],
  ])(
    '%i of %i at %p: each end is a share from which the count is just z standard errors away',
    (count, total, confidence) => {
      const {share, low, high} = proportion(count, total, confidence);
      const z = {0.5: 0.674489750196, 0.9: 1.644853626951, 0.95: 1.95996398454, 0.99: 2.575829303549}[confidence]!;
      const away = (p: number) => Math.abs(share - p) / Math.sqrt((p * (1 - p)) / total);
      if (low > 0) expect(away(low)).toBeCloseTo(z, 9);
      else expect(count).toBe(0);
      if (high < 1) expect(away(high)).toBeCloseTo(z, 9);
      else expect(count).toBe(total);
    },
  );

  test('counts beyond the total are refused', () => {
    expect(refusal('PROPORTION', 4, 3).message).toBe('count: at most the total, 3, is wanted, found 4');
    expect(refusal('COMPARE', 1, 3, 5, 4).message).toBe('count2: at most the total, 4, is wanted, found 5');
    expect(refusal('COMPARE', 7, 3, 5, 4).message).toBe('count1: at most the total, 3, is wanted, found 7');
    expect(refusal('PROPORTION', 1, 3, 1).message).toContain(
      'confidence (row 1, column 1): a confidence, above 0 and at most 0.999999,',
    );
  });
});

describe('two shares', () => {
  /** Fisher by factorials, for small tables. */
  function fisher(a: number, m: number, b: number, n: number): number {
    const choose = (n: number, k: number): number =>
      k < 0 || k > n ? 0 : Array.from({length: k}, (_, i) => (n - i) / (i + 1)).reduce((x, y) => x * y, 1);
    const at = (x: number) => (choose(m, x) * choose(n, a + b - x)) / choose(m + n, a + b);
    const all = Array.from({length: m + 1}, (_, x) => at(x));
    return all.filter((p) => p <= at(a) * (1 + 1e-9)).reduce((s, p) => s + p, 0);
  }

  test.each([
    [3, 10, 7, 12],
    [0, 4, 0, 9],
    [5, 5, 0, 5],
    [1, 30, 6, 25],
    [2, 2, 3, 3],
    [10, 20, 10, 20],
  ])('Fisher of %i/%i and %i/%i', (a, m, b, n) => expect(compare(a, m, b, n).p).toBeCloseTo(fisher(a, m, b, n), 11));

  test('changing sides changes signs', () => {
    const there = compare(3, 10, 7, 12);
    const back = compare(7, 12, 3, 10);
    expect(back.difference).toBeCloseTo(-there.difference, 15);
    expect(back.low).toBeCloseTo(-there.high, 14);
    expect(back.high).toBeCloseTo(-there.low, 14);
    expect(back.p).toBeCloseTo(there.p, 14);
  });
});

test('none and all: the interval ends at 0 and at 1 to the last digit', () => {
  for (let total = 1; total <= 60; total++) {
    for (const confidence of [0.8, 0.95, 0.999]) {
      expect(proportion(0, total, confidence).low).toBe(0);
      expect(proportion(total, total, confidence).high).toBe(1);
    }
  }
});

describe('groups', () => {
  const records = (text: string) => text.split(' ').map((r) => ({name: r.slice(0, -1), flag: r.endsWith('+')}));

  test('are joined without regard to case and shown as first written, worst first', () => {
    const rates = groupRates(records('b- a+ B+ A+ c- a- b-'), 0.95, 1);
    expect(rates.map(({name, count, total}) => [name, count, total])).toEqual([
      ['a', 2, 3],
      ['b', 1, 3],
      ['c', 0, 1],
    ]);
    expect(rates[0].low).toBe(proportion(2, 3, 0.95).low);
    expect(rates[0].high).toBe(proportion(2, 3, 0.95).high);
  });

  test('names go by the alphabet in small letters', () => {
    // In capitals the underscore would come after them.
    expect(groupRates(records('Za- _a- b_- bA-'), 0.95, 1).map(({name}) => name)).toEqual(['_a', 'b_', 'bA', 'Za']);
  });

  test('equal low ends go by count, then by name', () => {
    expect(groupRates(records('y- x- z-'), 0.95, 1).map(({name}) => name)).toEqual(['x', 'y', 'z']);
    expect(groupRates(records('x- y-'), 0.95, 1).map(({name}) => name)).toEqual(['x', 'y']);
  });

  test('small groups are left out', () => {
    expect(groupRates(records('a+ a+ b+'), 0.95, 2).map(({name}) => name)).toEqual(['a']);
    expect(groupRates(records('a+ b+'), 0.95, 2)).toEqual([]);
  });

  test('from cells: blanks left out, numbers as names', () => {
    const answer = figures('GROUPRATE', [['a'], [' A '], [''], [7], ['a']], [[true], [0], [true], [false], ['']]);
    expect(answer.slice(0, 3)).toEqual(['a', 1, 2]);
    expect(refusal('GROUPRATE', [['a']], [[true], [false]]).message).toBe(
      'flags: as many cells as names has are wanted, 1, found 2',
    );
    expect(refusal('GROUPRATE', [['a']], [[true]], null, 2).reason).toBe('unavailable');
  });
});

describe('control limits', () => {
  test('by hand: ranges 1, 2, 1 mean 4/3', () => {
    const {mean, lower, upper, out} = control(readingsOf([10, 11, 9, 10]));
    expect(mean).toBe(10);
    expect(upper - mean).toBeCloseTo((3 * 4) / 3 / 1.128, 12);
    expect(mean - lower).toBeCloseTo((3 * 4) / 3 / 1.128, 12);
    expect(out).toBe(0);
  });

  test('no range across a missing value, and points outside are counted strictly', () => {
    const {upper, mean, out} = control(readingsOf([0, 1, NaN, 50, 51, 50]));
    // Ranges 1, 1, 1: limits mean ± 2.66; all but none lie outside.
    expect(upper - mean).toBeCloseTo(3 / 1.128, 12);
    expect(out).toBe(5);
    expect(control(readingsOf([2, 2, 2])).out).toBe(0);
  });

  test('two values in a row are the least', () => {
    expect(refusal('CONTROL', [[1, '', 2]]).message).toBe('values: at least two values in a row are needed');
    expect(refusal('CONTROL', [[1]]).reason).toBe('unavailable');
  });
});

describe('do angles gather', () => {
  test('the same angle throughout', () => {
    const {mean, length, p} = angleTest([30, 390, -330]);
    expect(mean).toBeCloseTo(30, 10);
    expect(length).toBeCloseTo(1, 12);
    // exp(√(1 + 4n) − (1 + 2n)), n = 3
    expect(p).toBeCloseTo(Math.exp(Math.sqrt(13) - 7), 12);
  });

  test('angles that cancel have no mean', () => {
    expect(angleTest([0, 120, 240]).mean).toBeUndefined();
    expect(angleTest([0, 180])).toMatchObject({mean: undefined, length: 0});
    expect(refusal('ANGLETEST', [[0, 180]], 'mean').message).toBe('the angles cancel each other');
  });

  test('the p-value is uniform for angles at random', () => {
    const random = randomFrom(2);
    const p = Array.from({length: 2000}, () => angleTest(Array.from({length: 12}, () => 360 * random())).p);
    for (const level of [0.05, 0.2, 0.5]) {
      expect(p.filter((v) => v <= level).length / 2000).toBeGreaterThan(level - 0.03);
      expect(p.filter((v) => v <= level).length / 2000).toBeLessThan(level + 0.03);
    }
  });

  test('missing angles are left out; none at all cannot be answered', () => {
    expect(figures('ANGLETEST', [[43, '', 45]])[0]).toBeCloseTo(44, 10);
    expect(refusal('ANGLETEST', [['', '']]).message).toBe('angles: at least one angle is needed');
  });
});

describe('money', () => {
  const costs = {
    weightBefore: 120,
    weightAfter: 40,
    weightPrice: 0.05,
    minutes: 15,
    laborRate: 60,
    riskBefore: 0.1,
    riskAfter: 0.02,
    comebackCost: 200,
  };

  test('by hand', () => {
    expect(matchValue(costs)).toEqual({saved: 80, weightsaving: 4, labor: 15, riskaverted: 16, net: 5, breakeven: 20});
  });

  test('at the break-even time nothing is gained or lost', () => {
    expect(matchValue({...costs, minutes: matchValue(costs).breakeven!}).net).toBeCloseTo(0, 12);
  });

  test('no break-even when nothing is gained, or when labor costs nothing', () => {
    expect(matchValue({...costs, weightAfter: 600}).breakeven).toBeUndefined();
    expect(matchValue({...costs, laborRate: 0}).breakeven).toBeUndefined();
    expect(matchValue({...costs, weightAfter: 120, riskAfter: 0.1}).breakeven).toBe(0);
    expect(figures('MATCHVALUE', 120, 40, 0.05, 15, 60)).toEqual([80, 4, 15, 0, -11, 4]);
  });

  test('the least expected cost, the earlier of equals', () => {
    expect(cheapest([0, 15, 90], [0.2, 0.05, 0.01], 200)).toEqual({choice: 1, expected: 25});
    expect(cheapest([10, 10], [0, 0], 1)).toEqual({choice: 0, expected: 10});
    expect(refusal('CHOICE', [[1, 2]], [[0.1]], 5).message).toBe(
      'risks: as many cells as costs has are wanted, 2, found 1',
    );
  });
});

describe('what turns at a frequency', () => {
  const none = {axleRatio: undefined, engineRpm: undefined};

  test('wheel orders, nearest first, within the tolerance of the source itself', () => {
    expect(sources(20, 10, none, 0.02)).toEqual([{source: 'wheel order 2', frequency: 20, difference: 0}]);
    expect(sources(20.4, 10, none, 0.02).map(({source}) => source)).toEqual(['wheel order 2']);
    expect(sources(20.41, 10, none, 0.02)).toEqual([]);
    // The tolerance counts as within: 2 of 10.
    expect(sources(12, 10, none, 0.2).map(({source}) => source)).toEqual(['wheel order 1']);
    // 3 away, 7 away, 13 away: nearest first, whatever their order.
    expect(sources(27, 10, none, 0.4).map(({source}) => source)).toEqual([
      'wheel order 3',
      'wheel order 2',
      'wheel order 4',
    ]);
    expect(sources(25, 10, none, 0.3).map(({source, difference}) => [source, difference])).toEqual([
      ['wheel order 2', 5],
      ['wheel order 3', -5],
    ]);
  });

  test('propeller shaft and engine only when they are known', () => {
    const all = sources(40, 10, {axleRatio: 4, engineRpm: 2400}, 0.01);
    expect(all.map(({source}) => source)).toEqual(['wheel order 4', 'propeller shaft order 1', 'engine order 1']);
    expect(sources(80, 10, {axleRatio: 4, engineRpm: undefined}, 0.01).map(({source}) => source)).toEqual([
      'propeller shaft order 2',
    ]);
    expect(sources(20, 99, {axleRatio: undefined, engineRpm: 2400}, 0.01).map(({source}) => source)).toEqual([
      'engine order 0.5',
    ]);
    expect(sources(160, 99, {axleRatio: undefined, engineRpm: 2400}, 0.01).map(({source}) => source)).toEqual([
      'engine order 4',
    ]);
  });

  test('none is said', () => expect(refusal('SOURCES', 33, 100, 1927.6).reason).toBe('unavailable'));
});

test('an equivalent weight has the force of the runout', () => {
  for (const units of ['metric', 'us']) {
    const mass = figures('EQUIVALENT', 0.02, 1200, 8, 60, 76, units)[0];
    expect(figures('FORCE', mass, 8, 60, 76, units)[0]).toBeCloseTo(figures('RUNOUTFORCE', 0.02, 1200)[0] / 2, 10);
  }
  expect(figures('ORDER', 28.82110166, 100, 1927.6)[0]).toBeCloseTo(2, 8);
});
