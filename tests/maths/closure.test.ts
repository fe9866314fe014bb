import {closed, closure, tir} from '../../src/maths/closure';
import {readingsOf} from '../../src/maths/readings';
import {refusal} from '../support/formula';

const NONE = NaN;

test('TIR is largest less smallest of those present', () => {
  expect(tir(readingsOf([0.2, NONE, -0.3, 0.1]))).toBe(0.5);
  expect(tir(readingsOf([-1, -3]))).toBe(2);
  expect(tir(readingsOf([4, 4]))).toBe(0);
  expect(refusal('TIR', [[1, '', '']]).message).toBe('readings: at least 2 readings are needed, 1 present');
  expect(refusal('TIR', [['', '']]).reason).toBe('unavailable');
});

test('a turn that closes has no drift', () => {
  expect(closure(readingsOf([0.5, 1, 0, 0.5]))).toEqual({drift: 0, share: 0});
});

test('drift is last less first, its share that of the turn before the closing reading', () => {
  // The closing reading, 9, does not count for the TIR: 4 − 1 = 3.
  expect(closure(readingsOf([1, 4, 2, 9]))).toEqual({drift: 8, share: 8 / 3});
  expect(closure(readingsOf([1, NONE, 2, 0.5]))).toEqual({drift: -0.5, share: -0.5});
  expect(closure(readingsOf([2, 2, 3]))).toEqual({drift: 1, share: undefined});
});

test('without the first, the last or enough readings there is no closure yet', () => {
  expect(refusal('CLOSURE', [['', 1, 2, 3]]).message).toBe(
    'readings: the first reading is missing, so the turn cannot be closed',
  );
  expect(refusal('CLOSURE', [[1, 2, 3, '']]).message).toBe(
    'readings: the last reading is missing, so the turn cannot be closed',
  );
  expect(refusal('CLOSURE', [[1, 2]]).message).toBe('readings: at least 3 readings are needed, 2 present');
  expect(refusal('CLOSURE', [[1, '', 2]]).message).toBe('readings: at least 2 readings are needed, 1 present');
});

test('the drift is taken out evenly', () => {
  // Four positions and a drift of 0.4: 0, 0.1, 0.2, 0.3 are taken off.
  const values = closed(readingsOf([1, 1.1, NONE, 1.3, 1.4]));
  expect([...values].map((v) => Math.round(v * 1e12) / 1e12)).toEqual([1, 1, NONE, 1]);
});

test('a closed turn closes: closing it again takes nothing out', () => {
  const once = closed(readingsOf([0.3, 0.8, -0.2, 0.1, 0.45]));
  const twice = closed(readingsOf([...once, once[0]]));
  expect([...twice]).toEqual([...once]);
});
