import {cosd, direction, shortWay, sind, turned} from '../../src/maths/angles';

test.each([
  [0, 0],
  [360, 0],
  [-360, 0],
  [720.5, 0.5],
  [-0.5, 359.5],
  [359.75, 359.75],
  [-1e-20, 0],
  [540, 180],
])('turned(%p) is %p', (angle, expected) => expect(turned(angle)).toBe(expected));

test('turned() never gives −0', () => {
  expect(Object.is(turned(-0), 0)).toBe(true);
  expect(Object.is(turned(-720), 0)).toBe(true);
});

test.each([
  [0, 0],
  [180, 180],
  [-180, 180],
  [181, -179],
  [359, -1],
  [-90, -90],
  [540, 180],
])('shortWay(%p) is %p', (angle, expected) => expect(shortWay(angle)).toBe(expected));

describe('sine and cosine in degrees', () => {
  test('are exact at multiples of 30° and 90° where the value is', () => {
    expect([0, 30, 90, 150, 180, 210, 270, 330, 360].map(sind)).toEqual([0, 0.5, 1, 0.5, 0, -0.5, -1, -0.5, 0]);
    expect([0, 60, 90, 120, 180, 240, 270, 300, 360].map(cosd)).toEqual([1, 0.5, 0, -0.5, -1, -0.5, 0, 0.5, 1]);
    expect([-90, -30, -180, -390].map(sind)).toEqual([-1, -0.5, 0, -0.5]);
    expect([-60, -180, 36000, -36060].map(cosd)).toEqual([0.5, -1, 1, 0.5]);
    for (let angle = -720; angle <= 720; angle += 90) expect(Object.is(sind(angle), -0)).toBe(false);
  });

  test('agree with the platform’s to rounding everywhere', () => {
    for (let angle = -1100; angle <= 1100; angle += 0.37) {
      expect(Math.abs(sind(angle) - Math.sin((angle * Math.PI) / 180))).toBeLessThan(4e-15);
      expect(Math.abs(cosd(angle) - Math.cos((angle * Math.PI) / 180))).toBeLessThan(4e-15);
    }
  });

  test('next to a right angle the cosine keeps all digits', () => {
    // The least step below 90°: a sum with 90 would lose it.
    expect(cosd(90 - 2 ** -46)).toBe(sind(2 ** -46));
    expect(cosd(270 + 2 ** -44)).toBe(sind(2 ** -44));
    expect(sind(2 ** -46)).toBeGreaterThan(0);
  });

  test('keep small angles small to all digits', () => expect(sind(1e-9) / ((1e-9 * Math.PI) / 180)).toBeCloseTo(1, 14));
});

test.each([
  [1, 0, 0],
  [0, 2, 90],
  [-3, 0, 180],
  [0, -1, 270],
  [1, -1e-300, 0],
  [0, 0, 0],
  [1, 1, 45],
  [-1, -1, 225],
])('direction(%p, %p) is %p', (x, y, expected) => expect(direction(x, y)).toBeCloseTo(expected, 12));

test('direction() is never −0, and the origin has none, whatever the signs of its zeros', () => {
  expect(Object.is(direction(1, -0), 0)).toBe(true);
  for (const x of [0, -0]) for (const y of [0, -0]) expect(Object.is(direction(x, y), 0)).toBe(true);
  expect(direction(0, 1e-300)).toBe(90);
  expect(direction(-1e-300, 0)).toBe(180);
});
