/** STOCK, and the stock masses near a requirement. */
import {nearestStock, stock, stockNear} from '../../src/maths/stock';
import {refused} from '../support/polar';

test.each([
  // mass, step, nearest multiple, halves up
  [0, 5, 0],
  [2.4, 5, 0],
  [2.5, 5, 5],
  [7.49, 5, 5],
  [7.5, 5, 10],
  [12, 5, 10],
  [13, 5, 15],
  [0.124, 0.25, 0],
  [0.125, 0.25, 0.25],
  [1.15, 0.1, 1.2],
  [0.35, 0.1, 0.4],
  [1.1499, 0.1, 1.1],
  [100.5, 1, 101],
])('%d in steps of %d is %d', (mass, step, wanted) => {
  expect(nearestStock(mass, step)).toBe(wanted);
});

test('the slack for halves is 1E-9 of a step, no more', () => {
  expect(nearestStock(2.5 - 0.5e-9, 1)).toBe(3);
  expect(nearestStock(2.5 - 2e-9, 1)).toBe(2);
  expect(nearestStock(5 * (2.5 - 0.5e-9), 5)).toBe(15);
  expect(nearestStock(5 * (2.5 - 2e-9), 5)).toBe(10);
});

test('multiples without the digits of binary multiplication', () => {
  // 3 · 0.1 = 0.30000000000000004 and 1.1 · 3 = 3.3000000000000003 in binary.
  expect(nearestStock(0.3, 0.1)).toBe(0.3);
  expect(nearestStock(3.3, 1.1)).toBe(3.3);
  expect(nearestStock(0.6, 0.1)).toBe(0.6);
  expect(nearestStock(6.6, 2.2)).toBe(6.6);
  expect(nearestStock(4.2, 0.7)).toBe(4.2);
  expect(stockNear(0.3, 0.1)).toEqual([0, 0.1, 0.2, 0.3, 0.4, 0.5]);
});

test('nothing below what is ignored, and rounded from there on', () => {
  expect(stock(4.99, 5, 5)).toBe(0);
  expect(stock(5, 5, 5)).toBe(5);
  expect(stock(6, 5, 5.5)).toBe(5);
  expect(stock(2, 5, 0)).toBe(0);
  expect(stock(3, 5, 0)).toBe(5);
});

test.each([
  [5, 1, [0, 3, 4, 5, 6, 7]],
  [5.5, 1, [0, 4, 5, 6, 7]],
  [27, 5, [0, 20, 25, 30, 35]],
  [3, 1, [0, 1, 2, 3, 4, 5]],
  [2.3, 1, [0, 1, 2, 3, 4]],
  [2, 1, [0, 1, 2, 3, 4]],
  [1, 1, [0, 1, 2, 3]],
  [0.4, 1, [0, 1, 2]],
  [0, 5, [0, 5, 10]],
])('within two steps of %d in steps of %d', (mass, step, wanted) => {
  expect(stockNear(mass, step)).toEqual(wanted);
});

test('two steps with the same slack', () => {
  expect(stockNear(5 - 0.5e-9, 1)).toEqual([0, 3, 4, 5, 6, 7]);
  expect(stockNear(5 - 2e-9, 1)).toEqual([0, 3, 4, 5, 6]);
  expect(stockNear(5 + 0.5e-9, 1)).toEqual([0, 3, 4, 5, 6, 7]);
  expect(stockNear(5 + 2e-9, 1)).toEqual([0, 4, 5, 6, 7]);
});

test('a step that is nothing beside the mass is refused', () => {
  const wanted = {
    reason: 'invalid',
    argument: 'step',
    message: 'step: this step is too small beside the mass to round to',
  };
  expect(nearestStock(1e9, 1)).toBe(1e9);
  expect(refused(() => nearestStock(1e9 + 1, 1))).toEqual(wanted);
  expect(refused(() => stock(1, 1e-12, 0))).toEqual(wanted);
  expect(refused(() => stockNear(3e9, 2))).toEqual(wanted);
  expect(stockNear(1e9, 1)).toHaveLength(6);
});
