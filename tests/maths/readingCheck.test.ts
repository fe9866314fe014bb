/** Against fitting the others anew for every reading, by another library, and against small cases by hand. */
import jStat from 'jstat';
import {Matrix, solve} from 'ml-matrix';
import {checkEvidence, readingCheck} from '../../src/maths/readingCheck';
import {readingsOf} from '../../src/maths/readings';
import {normalFrom, randomFrom} from '../support/random';

const RAD = Math.PI / 180;
const angles = (degrees: number[]) => ({name: 'angles', degrees: Float64Array.from(degrees)});

/** A plausible wheel: first and second harmonic, noise of 0.02, indicator read to 0.01. */
function wheel(seed: number, n = 16): number[] {
  const normal = normalFrom(randomFrom(seed));
  const at = (i: number) => (360 * i) / n;
  return Array.from(
    {length: n},
    (_, i) =>
      Math.round(100 * (0.6 * Math.cos((at(i) - 70) * RAD) + 0.2 * Math.cos(2 * at(i) * RAD) + 0.02 * normal())) / 100,
  );
}

/** Fits mean and harmonics 1 to `orders` to the readings at some positions. */
function fitTo(y: number[], degrees: number[], orders: number, those: number[]) {
  const row = (i: number) => [
    1,
    ...Array.from({length: orders}, (_, k) => [
      Math.cos((k + 1) * degrees[i] * RAD),
      Math.sin((k + 1) * degrees[i] * RAD),
    ]).flat(),
  ];
  const x = new Matrix(those.map(row));
  const c = solve(x, Matrix.columnVector(those.map((i) => y[i])));
  const off = (i: number) => y[i] - new Matrix([row(i)]).mmul(c).get(0, 0);
  const freedom = those.length - 2 * orders - 1;
  const left = those.reduce((sum, i) => sum + off(i) ** 2, 0);
  const variance = (i: number) => {
    const inner = solve(x.transpose().mmul(x), new Matrix([row(i)]).transpose());
    return (left / freedom) * (1 + new Matrix([row(i)]).mmul(inner).get(0, 0));
  };
  return {off, left, freedom, variance};
}

/** Positions of the readings that lie too far from the fit to all others, farthest first: [position, above]. */
function farOff(y: number[], degrees: number[], orders: number): [number, boolean][] {
  const all = y.map((_, i) => i);
  return all
    .map((i) => {
      const {off, freedom, variance} = fitTo(
        y,
        degrees,
        orders,
        all.filter((j) => j !== i),
      );
      return {i, off: off(i), t: Math.abs(off(i)) / Math.sqrt(variance(i)), freedom};
    })
    .filter(({t, freedom}) => t > jStat.studentt.inv(1 - 0.025 / y.length, freedom))
    .sort((a, b) => b.t - a.t)
    .map(({i, off}) => [i, off > 0]);
}

const namedIn = (answer: string): [number, boolean][] =>
  [...answer.matchAll(/reading (\d+) .*? (above|below) the curve/g)].map(([, i, side]) => [
    Number(i) - 1,
    side === 'above',
  ]);

test('most good readings are ok, one set in about twenty raises an alarm', () => {
  const answers = Array.from({length: 400}, (_, seed) => readingCheck(readingsOf(wheel(seed)), 4));
  const alarms = answers.filter((answer) => answer !== 'ok');
  // 5 % of 400 are 20; a binomial spread of 4.4 either way, three of them.
  expect(alarms.length).toBeGreaterThan(6);
  expect(alarms.length).toBeLessThan(34);
  expect(alarms.every((answer) => answer.includes('outlier') || answer.includes('is 0 and'))).toBe(true);
});

test('readings on the curve but for rounding are ok', () => {
  const y = Array.from({length: 16}, (_, i) => Math.cos(22.5 * i * RAD));
  expect(readingCheck(readingsOf(y), 4)).toBe('ok');
  expect(readingCheck(readingsOf(new Array(16).fill(0.2)), 4)).toBe('ok');
  expect(readingCheck(readingsOf(new Array(16).fill(0)), 4)).toBe('ok');
});

test('too few readings for the order, in the singular of what is there', () => {
  expect(readingCheck(readingsOf([1, 2, 3, 1]), 4)).toBe('too few readings: 4 present, order 4 needs at least 9');
  expect(readingCheck(readingsOf([1, NaN, 3, NaN]), 1)).toBe(
    'too few readings: 2 present, order 1 needs at least 3; 2 readings missing',
  );
  expect(readingCheck(readingsOf([1, 2, 4, 3]), 1)).toBe('ok');
  expect(readingCheck(readingsOf([1, 2, 4]), 1)).toBe('ok');
});

describe('outliers', () => {
  const good = wheel(1);

  test.each([
    [12, 4, 40],
    [16, 4, 40],
    [36, 6, 12],
  ])('%i readings, %i harmonics: as far from the fit to all others as t allows', (n, orders, seeds) => {
    let some = 0;
    let several = 0;
    for (let seed = 0; seed < seeds; seed++) {
      const random = randomFrom(1000 + seed);
      const degrees = Array.from({length: n}, (_, i) => (360 * (i + 0.5 * random())) / n);
      const y = wheel(seed, n).map((v) => 7 + v);
      for (let k = 0; k < 1 + (seed % 3); k++) y[Math.floor(n * random())] += 3 * random() * (random() - 0.5);
      const expected = farOff(y, degrees, orders);
      expect(namedIn(readingCheck(readingsOf(y), orders, angles(degrees)))).toEqual(expected);
      if (expected.length > 0) some++;
      if (expected.length > 1) several++;
    }
    expect(some).toBeGreaterThan(2);
    expect(some).toBeLessThan(seeds);
    if (n === 36) expect(several).toBeGreaterThan(0);
  });

  test('a reading that alone fixes the curve is not judged', () => {
    // Nine readings at seven angles, and three harmonics: only those that stand twice have others to be judged by.
    for (let seed = 0; seed < 60; seed++) {
      const random = randomFrom(seed);
      const degrees = [60, 110, 160, 250, 310, 10, 10, 200, 200].map((at, i) => (i < 5 ? at + 30 * random() : at));
      const y = degrees.map(() => random());
      for (const [i] of namedIn(readingCheck(readingsOf(y), 1, angles(degrees)))) expect(i).toBeGreaterThan(4);
      expect(checkEvidence(readingsOf(y), 1, angles(degrees)).worst).toBeGreaterThan(4);
    }
  });

  test.each([1e6, 1, 1e-6])('readings of size %p on the curve but for rounding are none', (size) => {
    for (let seed = 0; seed < 100; seed++) {
      const random = randomFrom(seed);
      const [level, phase] = [size * (2 * random() - 1), 360 * random()];
      const y = Array.from({length: 16}, (_, i) => level + size * Math.cos((22.5 * i - phase) * RAD));
      expect(readingCheck(readingsOf(y), 4)).toBe('ok');
      // And one that is off by more than rounding is one, however little.
      y[6] += 1e-6 * size;
      expect(namedIn(readingCheck(readingsOf(y), 4))).toEqual([[6, true]]);
    }
  });

  test('one is named with its value and by how much it is off', () => {
    const y = [...good];
    y[5] = 1.5;
    expect(readingCheck(readingsOf(y), 4)).toMatch(
      /^reading 6 \(1\.5\) is an outlier, \d\.\d+ above the curve of the rest$/,
    );
    y[5] = -1.5;
    expect(readingCheck(readingsOf(y), 4)).toMatch(
      /^reading 6 \(-1\.5\) is an outlier, \d\.\d+ below the curve of the rest$/,
    );
  });

  test('the amount is the reading less the fit to the rest', () => {
    // Exact curve, one reading raised by 0.25: the rest says what it should be.
    const y = Array.from({length: 16}, (_, i) => Math.cos(22.5 * i * RAD));
    y[3] += 0.25;
    expect(readingCheck(readingsOf(y), 4)).toBe(
      `reading 4 (${Number(y[3].toPrecision(4))}) is an outlier, 0.25 above the curve of the rest`,
    );
  });

  test('a zero among readings of another level is a blank read as zero', () => {
    const y = good.map((v) => v + 5);
    y[9] = 0;
    expect(readingCheck(readingsOf(y), 4)).toMatch(
      /^reading 10 is 0 and \d\.\d+ below the curve of the rest: a blank read as zero\?$/,
    );
  });

  test('zeros that hide each other are found together', () => {
    const y = good.map((v) => v + 5);
    for (const i of [2, 3, 4]) y[i] = 0;
    expect(readingCheck(readingsOf(y), 4)).toContain(
      '3 readings are 0 and far from the curve of the rest: blanks read as zero?',
    );
    expect(readingCheck(readingsOf(y), 4, angles(y.map((_, i) => 22.5 * i)))).toContain('3 readings are 0 and far');
  });

  test('zeros that are named one by one are not named together as well', () => {
    const y = wheel(1, 36).map((v) => v + 5);
    y[3] = y[20] = 0;
    const answer = readingCheck(readingsOf(y), 4);
    expect(answer.match(/is 0 and/g)).toHaveLength(2);
    expect(answer).not.toContain('readings are 0');
  });

  test('zeros are blanks when the fit to the rest says so by the F-test, and not before', () => {
    let [together, tame] = [0, 0];
    for (let seed = 0; seed < 90; seed++) {
      const n = [12, 13, 16][seed % 3];
      const random = randomFrom(seed);
      const degrees = Array.from({length: n}, (_, i) => (360 * i) / n);
      const level = 1.2 * random() ** 2;
      const y = wheel(seed, n).map((v) => v + level);
      const first = Math.floor(n * random());
      for (let k = 0; k < 2 + (seed % 2); k++) y[(first + k) % n] = 0;
      const rest = y.flatMap((v, i) => (v === 0 ? [] : [i]));
      const count = n - rest.length;
      const {left, freedom} = fitTo(y, degrees, 4, rest);
      const whole = fitTo(
        y,
        degrees,
        4,
        y.map((_, i) => i),
      ).left;
      const oneByOne = farOff(y, degrees, 4).some(([i]) => y[i] === 0);
      const f = (whole - left) / count / (left / freedom);
      const far = freedom > 0 && 1 - jStat.centralF.cdf(f, count, freedom) < 0.05 / n;
      const answer = readingCheck(readingsOf(y), 4);
      if (far && !oneByOne) {
        together++;
        expect(answer).toContain(`${count} readings are 0 and far from the curve of the rest: blanks read as zero?`);
      } else {
        if (!oneByOne) tame++;
        expect(answer).not.toContain('readings are 0');
      }
    }
    expect([together > 10, tame > 10]).toEqual([true, true]);
  });

  test('zeros where the curve crosses zero are no alarm', () => {
    const y = Array.from({length: 16}, (_, i) => Math.round(40 * Math.cos(22.5 * i * RAD)) / 100);
    expect(y.filter((v) => v === 0).length).toBe(2);
    expect(readingCheck(readingsOf(y), 4)).toBe('ok');
  });

  test('the worst comes first', () => {
    const y = wheel(3, 36);
    y[4] += 0.8;
    y[20] -= 0.9;
    const answer = readingCheck(readingsOf(y), 4);
    expect(answer.indexOf('reading 21')).toBeGreaterThanOrEqual(0);
    expect(answer.indexOf('reading 5')).toBeGreaterThan(answer.indexOf('reading 21'));
  });

  test('with no degree of freedom to spare nothing is said of outliers', () => {
    expect(readingCheck(readingsOf([1, 5, 1, 1.1, 9, 1, 1.2, 1, 0.9, 3]), 4)).toBe('ok');
  });
});

describe('a stuck indicator', () => {
  const run = (n: number, from: number, length: number) => {
    const y = wheel(8, n);
    for (let i = 0; i < length; i++) y[(from + i) % n] = 0.37;
    return readingCheck(readingsOf(y), 1);
  };

  test.each([
    [16, 3, 6],
    [16, 13, 6],
    [12, 0, 5],
    [30, 25, 10],
  ])('%i readings, from %i, %i equal', (n, from, length) => {
    expect(run(n, from, length)).toContain(`stuck: ${length} equal readings in a row (0.37)`);
  });

  test.each([
    [16, 3, 5],
    [12, 0, 4],
    [30, 2, 9],
  ])('%i readings, from %i, %i equal are too few for it', (n, from, length) => {
    expect(run(n, from, length)).not.toContain('stuck');
  });

  test('missing readings do not break the run', () => {
    const y = wheel(8);
    for (const i of [3, 4, 5, 7, 8, 9]) y[i] = 0.37;
    y[6] = NaN;
    expect(readingCheck(readingsOf(y), 1)).toContain('stuck: 6 equal readings in a row (0.37)');
  });

  test('of two runs the longer is named, of two as long the first', () => {
    const two = (first: number, second: number) => {
      const y = wheel(8, 24);
      for (let i = 0; i < first; i++) y[2 + i] = 0.37;
      for (let i = 0; i < second; i++) y[14 + i] = -0.11;
      return readingCheck(readingsOf(y), 1);
    };
    expect(two(8, 9)).toContain('stuck: 9 equal readings in a row (-0.11)');
    expect(two(9, 8)).toContain('stuck: 9 equal readings in a row (0.37)');
    expect(two(8, 8)).toContain('stuck: 8 equal readings in a row (0.37)');
  });

  test('readings that are all equal are a round part, all but one are stuck', () => {
    expect(readingCheck(readingsOf(new Array(12).fill(3)), 1)).toBe('ok');
    expect(readingCheck(readingsOf([...new Array<number>(11).fill(3), 4]), 1)).toContain('stuck: 11 equal');
  });
});

describe('angles', () => {
  const y = wheel(11);

  test('repeated ones are named', () => {
    const at = y.map((_, i) => 22.5 * i);
    at[7] = at[2] + 360;
    expect(readingCheck(readingsOf(y), 2, angles(at))).toContain('repeated angles: readings 3 and 8 at 45°');
    // Up to 1E-9 apart counts as repeated.
    const beside = (step: number) =>
      readingCheck(readingsOf(y), 2, angles(y.map((_, i) => (i === 1 ? step : 22.5 * i))));
    expect(beside(1e-9)).toContain('repeated angles: readings 1 and 2 at 0°');
    expect(beside(1.001e-9)).not.toContain('repeated');
    // Up to three pairs are named, in the order of their angles.
    const pairs = (count: number) => {
      const twice = [0, 33, 64, 101, 143, 155, 210, 222, 268, 277, 290, 311, 320, 340, 345, 350];
      for (let k = 0; k < count; k++) twice[15 - k] = twice[1 + k] - 360;
      return readingCheck(readingsOf(y), 1, angles(twice));
    };
    expect(pairs(0)).not.toContain('repeated');
    expect(pairs(1)).toMatch(/^repeated angles: readings 2 and 16 at 33°(;|$)/);
    expect(pairs(3)).toMatch(/^repeated angles: readings 2 and 16 at 33°, 3 and 15 at 64°, 4 and 14 at 101°(;|$)/);
    expect(pairs(4)).toMatch(
      /^repeated angles: readings 2 and 16 at 33°, 3 and 15 at 64°, 4 and 14 at 101° and 1 more(;|$)/,
    );
    expect(pairs(6)).toMatch(/4 and 14 at 101° and 3 more(;|$)/);
  });

  test('spread: nothing below 10, uneven above, poor above 100, and too close to answer', () => {
    const within = (sector: number) => readingCheck(readingsOf(y), 1, angles(y.map((_, i) => (sector * i) / 16)));
    expect(within(340)).toBe(readingCheck(readingsOf(y), 1));
    expect(within(230)).toMatch(/uneven spread of the angles \(condition number \d+(\.\d+)?\)$/);
    expect(within(150)).toMatch(/poor spread of the angles \(condition number \d+(\.\d+)?\)$/);
    expect(within(0.5)).toBe('angles too close together to tell the harmonics apart');
  });

  test('missing readings are counted last', () => {
    const gaps = [...y];
    gaps[3] = NaN;
    expect(readingCheck(readingsOf(gaps), 1)).toBe('1 reading missing');
    gaps[8] = NaN;
    expect(readingCheck(readingsOf(gaps), 1)).toBe('2 readings missing');
  });
});

describe('what the words rest on', () => {
  const good = wheel(1).map((v) => v + 5);

  test('too few readings: nothing', () => {
    const nothing = {basis: undefined, usable: false, worst: undefined, zeros: 0};
    expect(checkEvidence(readingsOf([1, 2, 3, 1]), 2)).toEqual(nothing);
    expect(checkEvidence(readingsOf([1, 2, 3, 1, 2]), 2).usable).toBe(true);
  });

  test('angles too close together: their basis', () => {
    const {basis, ...rest} = checkEvidence(readingsOf(good), 2, angles(good.map((_, i) => i / 100)));
    expect(basis!.condition).toBeGreaterThan(1e8);
    expect(rest).toEqual({usable: false, worst: undefined, zeros: 0});
  });

  test('no degree of freedom to judge by: no worst reading', () => {
    const of = (n: number) => {
      const {basis, ...rest} = checkEvidence(readingsOf(good.slice(0, n)), 4);
      expect([basis!.n, basis!.p]).toEqual([n, 9]);
      return rest;
    };
    for (const n of [9, 10]) expect(of(n)).toEqual({usable: true, worst: undefined, zeros: 0});
    expect(of(11).worst).toBeGreaterThanOrEqual(0);
  });

  test('the worst reading is named by its position, missing ones counted', () => {
    for (const at of [0, 5, 15]) {
      const y = [...good];
      y[at] += 0.3;
      expect(checkEvidence(readingsOf(y), 4).worst).toBe(at);
      expect(checkEvidence(readingsOf([NaN, ...y.slice(0, 8), NaN, ...y.slice(8)]), 1).worst).toBe(
        at + (at < 8 ? 1 : 2),
      );
    }
  });

  test('zeros count from two on, as long as the rest leaves a degree of freedom', () => {
    const without = (...zeros: number[]) =>
      checkEvidence(readingsOf(good.map((v, i) => (zeros.includes(i) ? 0 : v))), 4).zeros;
    expect(without()).toBe(0);
    expect(without(3)).toBe(0);
    expect(without(3, 8)).toBe(2);
    expect(without(0, 3, 5, 8, 10, 13)).toBe(6);
    expect(without(0, 3, 5, 8, 10, 11, 13)).toBe(0);
  });

  test('nor where the rest lies too close together', () => {
    // Sixteen readings within 0.02° and eight around the turn, three of which are 0.
    const degrees = Array.from({length: 24}, (_, i) => (i < 16 ? i / 1000 : 40 * (i - 15)));
    const y = wheel(1, 24).map((v, i) => (i > 20 ? 0 : v + 5));
    expect(readingCheck(readingsOf(y), 2, angles(degrees))).not.toContain('readings are 0');
    expect(checkEvidence(readingsOf(y), 2, angles(degrees))).toMatchObject({usable: true, zeros: 0});
  });
});
