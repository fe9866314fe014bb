/** Curves order by order. */
import {less, mean} from '../../src/maths/waves';

const wave = (mean: number, cos: number[], sin: number[]) => ({
  mean,
  cos,
  sin,
});

const f = wave(5, [0, 1, 2], [0, -3, 0.5]);
const g = wave(2, [0, 4, -2], [0, 1, 1.5]);

test('the mean of two curves', () => {
  expect(mean(f, g)).toEqual(wave(3.5, [0, 2.5, 0], [0, -1, 1]));
});

test('one curve less another', () => {
  expect(less(f, g)).toEqual(wave(3, [0, -3, 4], [0, -4, -1]));
  expect(less(g, f)).toEqual(wave(-3, [0, 3, -4], [0, 4, 1]));
});

test('go as far as both curves go, and leave them as they were', () => {
  const long = wave(1, [0, 1, 1, 1], [0, 2, 2, 2]);
  expect(mean(long, f)).toEqual(wave(3, [0, 1, 1.5], [0, -0.5, 1.25]));
  expect(less(f, long)).toEqual(wave(4, [0, 0, 1], [0, -5, -1.5]));
  expect(long.cos).toHaveLength(4);
  expect(f.cos).toEqual([0, 1, 2]);
});
