/** What stands at the edges of the mathematics: buffers longer than their readings, ties, figures in words, order. */
import {inWords} from '../../src/maths/format';
import {local} from '../../src/maths/local';
import {extremes, firstPresent, presentPositions, readingsOf} from '../../src/maths/readings';
import {symbolSpeed, SPEED_SYMBOLS} from '../../src/maths/tireTables';
import {readingCheck} from '../../src/maths/readingCheck';
import {call, figures, refusal} from '../support/formula';
import {normalFrom, randomFrom} from '../support/random';

const RAD = Math.PI / 180;
const angles = (degrees: readonly number[]) => ({name: 'angles', degrees: Float64Array.from(degrees)});

test('figures in a sentence: four digits, zeros of a whole number kept, those behind the point not', () => {
  const words: [number, string][] = [
    [1000, '1000'],
    [1200, '1200'],
    [20, '20'],
    [0.5, '0.5'],
    [12.3, '12.3'],
    [0, '0'],
    [123456, '123500'],
    [1e-9, '1e-9'],
    [0.00012345, '0.0001234'],
    [-0.25, '-0.25'],
  ];
  for (const [value, said] of words) expect(inWords(value)).toBe(said);
});

test('speed symbols in any letter case, with blanks around them', () => {
  for (const text of ['V', 'v', ' V ', 'v ']) expect(symbolSpeed(text)).toBe(240);
  expect(figures('SPEEDSYMBOL', ' a1 ')[0]).toBe(5);
  expect(refusal('SPEEDSYMBOL', 'O').message).toBe(`symbol: one of ${SPEED_SYMBOLS.join(', ')} is wanted, found "O"`);
});

describe('readings in a buffer that is longer than they are', () => {
  // As the arguments of a call are read into buffers that earlier calls have filled.
  const left = {...readingsOf([NaN, 2, NaN, -1]), values: Float64Array.from([NaN, 2, NaN, -1, 9, -9])};
  const none = {...readingsOf([NaN, NaN]), values: Float64Array.from([NaN, NaN, 9])};

  test('what lies behind them does not count', () => {
    expect([...presentPositions(left)]).toEqual([1, 3]);
    expect(firstPresent(left)).toBe(2);
    expect(extremes(left)).toEqual({most: 2, least: -1});
    expect(firstPresent(none)).toBeNaN();
    expect([...presentPositions(none)]).toEqual([]);
  });

  test('so a call after a longer one answers as it does alone', () => {
    const y = [0.5, 0.31, 0.02, -0.33, -0.52, -0.29, 0.03, 0.3];
    for (const [name, ...more] of [
      ['TIR'],
      ['HARMONIC', 1],
      ['HARMONICS', 2],
      ['CURVE', 2],
      ['LOCAL', 1],
      ['READINGCHECK'],
    ] as const) {
      // prettier-ignore
      const alone = call(name, [y], ...more);
      call('TIR', [Array.from({length: 100}, (_, i) => (i % 2 === 0 ? 900 : -900))]);
      expect(call(name, [y], ...more)).toEqual(alone);
      if (name === 'TIR' || name === 'READINGCHECK') continue;
      const gaps = [NaN, ...y.slice(1)].map((v) => (Number.isNaN(v) ? '' : v));
      const without = call(name, [gaps], ...more);
      call('TIR', [new Array(100).fill(900)]);
      expect(call(name, [gaps], ...more)).toEqual(without);
    }
  });
});

describe('LOCAL and the order of the angles', () => {
  const n = 16;
  const even = Array.from({length: n}, (_, i) => (360 * i) / n);
  const normal = normalFrom(randomFrom(5));
  const y = even.map((at, i) => 0.4 * Math.cos((at - 60) * RAD) + 0.004 * normal() - (i === 9 ? 0.15 : 0));
  const shuffled = (list: readonly number[]): number[] => list.map((_, i) => list[(i * 5 + 3) % list.length]);

  test('even angles given are those that are meant without', () => {
    const same = (readings: readonly number[]): void => {
      const [given, meant] = [local(readingsOf([...readings]), 1, angles(even)), local(readingsOf([...readings]), 1)];
      expect(given.angle).toBe(meant.angle);
      expect(given.deviation).toBeCloseTo(meant.deviation, 12);
      expect(given.score!).toBeCloseTo(meant.score!, 8);
    };
    same(y);
    // A missing reading keeps its place: the neighbors on its two sides are none of each other.
    for (const gap of [0, 8, 10, 15]) same(y.map((v, i) => (i === gap ? NaN : v)));
  });

  test('readings in any order with their angles say the same', () => {
    const found = local(readingsOf(y), 1);
    const again = local(readingsOf(shuffled(y)), 1, angles(shuffled(even)));
    expect(again.angle).toBe(found.angle);
    expect(again.deviation).toBeCloseTo(found.deviation, 12);
    expect(again.score!).toBeCloseTo(found.score!, 8);
    expect(found.angle).toBe(even[9]);
    // A second turn of the same circle is no order either.
    const twice = even.map((at, i) => (i < 8 ? at : at + 360));
    expect(local(readingsOf(y), 1, angles(twice)).angle).toBe(even[9]);
  });

  test('two neighbors that are off together are taken out together, in any order', () => {
    const two = y.map((v, i) => (i === 10 ? v - 0.15 : v));
    const found = local(readingsOf(two), 1);
    const again = local(readingsOf(shuffled(two)), 1, angles(shuffled(even)));
    expect(again.angle).toBe(found.angle);
    expect(again.deviation).toBeCloseTo(found.deviation, 12);
    expect(again.score!).toBeCloseTo(found.score!, 8);
  });

  test('too few readings, and angles too close together, are refused by name', () => {
    expect(refusal('LOCAL', [y.slice(0, 4)], 1).message).toBe(
      'readings: 4 readings are present, a deviation from harmonics up to order 1 needs at least 5',
    );
    expect(refusal('LOCAL', [y], 1, [even.map((at) => at / 1e5)]).message).toMatch(/^angles: /);
  });
});

describe('blanks that were read as zero', () => {
  const n = 16;
  const wheel = (shift: number): number[] =>
    Array.from({length: n}, (_, i) => shift + Math.round(100 * (0.3 * Math.cos((22.5 * i - 70) * RAD) + 0.01 * ((i * 7) % 3))) / 100); // prettier-ignore

  test('several of them hide each other, and are named together', () => {
    const zeros = wheel(2).map((v, i) => (i % 4 === 1 ? 0 : v));
    expect(readingCheck(readingsOf(zeros), 1)).toContain('4 readings are 0 and far from the curve of the rest: blanks read as zero?'); // prettier-ignore
  });

  test('one alone is named as such; zeros on the curve are not', () => {
    const one = wheel(2).map((v, i) => (i === 5 ? 0 : v));
    const said = readingCheck(readingsOf(one), 1);
    expect(said).toMatch(/^reading 6 is 0 and [\d.]+ below the curve of the rest: a blank read as zero\?$/);
    const onCurve = Array.from({length: n}, (_, i) => Math.round(100 * Math.cos(22.5 * i * RAD)) / 100);
    expect(onCurve.filter((v) => v === 0).length).toBeGreaterThan(1);
    expect(readingCheck(readingsOf(onCurve), 1)).toBe('ok');
  });
});

test('what a match leaves is as sure wherever 0° lies, also for readings at uneven angles', () => {
  const normal = normalFrom(randomFrom(11));
  const at = Array.from({length: 12}, (_, i) => 30 * i + 9 * Math.sin(i * i) + (i > 7 ? 12 : 0));
  const curve = (amount: number, high: number): number[] =>
    at.map((degrees) => (amount / 2) * Math.cos((degrees - high) * RAD) + 0.02 * normal());
  const [assembly, inner, outer] = [curve(0.8, 40), curve(0.5, 100), curve(0.4, 120)];
  const parts = ['plusminus', 'plusafter', 'after', 'assembly', 'rim', 'tire'];
  const of = (phi: number) =>
    parts.map((part) => call('ASSESSREADINGS', [assembly], [inner], [outer], [[0.5, 0.4]], 1, [at.map((a) => a + phi)], part)[0][0] as number); // prettier-ignore
  const still = of(0);
  expect(still[1]).toBeGreaterThan(0.001);
  for (const phi of [17, 90, 211.5]) of(phi).forEach((figure, i) => expect(figure).toBeCloseTo(still[i], 11));
});
