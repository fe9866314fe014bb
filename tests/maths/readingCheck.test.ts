import {readingCheck} from '../../src/maths/readingCheck';
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
});

describe('outliers', () => {
  const good = wheel(1);

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
});

describe('angles', () => {
  const y = wheel(11);

  test('repeated ones are named', () => {
    const at = y.map((_, i) => 22.5 * i);
    at[7] = at[2] + 360;
    expect(readingCheck(readingsOf(y), 2, angles(at))).toContain('repeated angles: readings 3 and 8 at 45°');
    expect(readingCheck(readingsOf(y), 1, angles(at.map((a) => 45 * Math.round(a / 45))))).toMatch(
      /repeated angles: readings .*, .*, .* and \d more/,
    );
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
