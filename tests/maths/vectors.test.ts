import {
  difference,
  length,
  point,
  product,
  quotient,
  resultant,
  sum,
  times,
  unit,
  vector,
} from '../../src/maths/vectors';

test('a vector and its Cartesian parts are the same thing', () => {
  expect(point({amount: 2, angle: 150})).toEqual({x: -2 * Math.cos(Math.PI / 6), y: 1});
  expect(vector({x: 3, y: 4}).amount).toBe(5);
  expect(vector({x: 3, y: -4}).angle).toBeCloseTo(306.869897645844, 11);
  expect(vector({x: 0, y: 0})).toEqual({amount: 0, angle: 0});
});

test('opposite vectors cancel to exactly nothing', () => {
  for (const angle of [0, 30, 45, 90, 17.3]) {
    const {amount} = resultant([
      {amount: 0.7, angle},
      {amount: 0.7, angle: angle + 180},
    ]);
    expect(amount).toBeLessThan(2e-15);
  }
  expect(
    resultant([
      {amount: 5, angle: 90},
      {amount: 5, angle: 270},
    ]),
  ).toEqual({amount: 0, angle: 0});
  expect(resultant([])).toEqual({amount: 0, angle: 0});
});

test('sum and difference undo each other', () => {
  const [a, b] = [
    {amount: 1.2, angle: 40},
    {amount: 0.7, angle: 310},
  ];
  const back = difference(resultant([a, b]), b);
  expect(back.amount).toBeCloseTo(1.2, 14);
  expect(back.angle).toBeCloseTo(40, 12);
  expect(
    sum([
      {x: 1, y: 2},
      {x: 3, y: -5},
      {x: 0.5, y: 0},
    ]),
  ).toEqual({x: 4.5, y: -3});
});

test('products and quotients are those of complex numbers', () => {
  expect(product({x: 1, y: 2}, {x: 3, y: -1})).toEqual({x: 5, y: 5});
  expect(quotient({x: 5, y: 5}, {x: 3, y: -1})).toEqual({x: 1, y: 2});
  expect(times(3, {x: 1, y: -2})).toEqual({x: 3, y: -6});
  expect(length({x: -3, y: 4})).toBe(5);
  expect(unit(90)).toEqual({x: 0, y: 1});
});
