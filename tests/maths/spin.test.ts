/** Spin rate, rotating force, permissible unbalance and its shares, each in both systems of units. */
import {allocate, angularSpeed, permissibleUnbalance, rotatingForce, spinRateHz} from '../../src/maths/spin';
import {always, between} from '../support/polar';

/** Relative agreement to 12 digits. */
const expectShare = (found: number, wanted: number) => expect(found / wanted).toBeCloseTo(1, 12);

test('turns a second', () => {
  // 72 km/h = 20 m/s over 2 m; 60 mph = 88 ft/s over 88 in = 7⅓ ft.
  expectShare(spinRateHz(72, 2000, 'metric'), 10);
  expectShare(spinRateHz(60, 88, 'us'), 12);
  expectShare(angularSpeed(72, 2000, 'metric'), 62.83185307179586);
  expectShare(angularSpeed(60, 88, 'us'), 24 * Math.PI);
});

test('rotating force', () => {
  // 50 g at 200 mm: 0.01 kg·m · (20π)².
  expectShare(rotatingForce(50, 200, 72, 2000, 'metric'), 0.01 * (20 * Math.PI) ** 2);
  // 1 oz = 1/16 lb at 6 in = ½ ft: weight ÷ g · r · Ω² with g = 9.80665/0.3048 ft/s², in lbf.
  expectShare(rotatingForce(1, 6, 60, 88, 'us'), (1 / 16 / (9.80665 / 0.3048)) * 0.5 * (24 * Math.PI) ** 2);
  expect(rotatingForce(0, 200, 72, 2000, 'metric')).toBe(0);
});

test('permissible unbalance', () => {
  // G 40, 20 kg at Ω = 20π: e = 40/Ω mm; 20,000 g of it.
  expectShare(permissibleUnbalance(40, 20, 72, 2000, 'metric'), (40 / (20 * Math.PI)) * 20000);
  // G 40 mm/s is 40/25.4 in/s; 45 lb are 720 oz.
  expectShare(permissibleUnbalance(40, 45, 60, 88, 'us'), (40 / 25.4 / (24 * Math.PI)) * 720);
});

test('force grows with the square of the speed, the permissible unbalance falls with it', () => {
  always(
    [between(0.1, 100), between(100, 300), between(10, 200), between(1000, 3000)],
    (mass, radius, speed, around) => {
      for (const units of ['metric', 'us'] as const) {
        expectShare(
          rotatingForce(mass, radius, 2 * speed, around, units),
          4 * rotatingForce(mass, radius, speed, around, units),
        );
        expectShare(
          rotatingForce(mass, radius, speed, 2 * around, units) * 4,
          rotatingForce(mass, radius, speed, around, units),
        );
        expectShare(
          permissibleUnbalance(16, mass, 2 * speed, around, units) * 2,
          permissibleUnbalance(16, mass, speed, around, units),
        );
      }
    },
  );
});

describe('shares of the two planes', () => {
  test('the other distance ÷ the separation', () => {
    // 2400 apart: 900/2400 = 0.375 and 1500/2400 = 0.625 of 28,800.
    expect(allocate(28800, -1500, 900)).toEqual({inboard: 10800, outboard: 18000});
    expect(allocate(28800, 1500, -900)).toEqual({inboard: 10800, outboard: 18000});
    expect(allocate(1000, -80, 80)).toEqual({inboard: 500, outboard: 500});
  });

  test('held to 0.3 and 0.7', () => {
    expect(allocate(1000, -1, 9)).toEqual({inboard: 700, outboard: 300});
    expect(allocate(1000, -9, 1)).toEqual({inboard: 300, outboard: 700});
    expect(allocate(1000, 0, 5)).toEqual({inboard: 700, outboard: 300});
  });

  test('just inside the bounds the shares are as they come', () => {
    const {inboard, outboard} = allocate(1000, -3.01, 6.99);
    expect(inboard).toBeCloseTo(699, 9);
    expect(outboard).toBeCloseTo(301, 9);
    expect(allocate(1000, -2.99, 7.01)).toEqual({inboard: 700, outboard: 300});
  });

  test('a center of mass beyond both planes: the nearer one gets the most, the other the least', () => {
    expect(allocate(1000, 100, 300)).toEqual({inboard: 700, outboard: 300});
    expect(allocate(1000, 300, 100)).toEqual({inboard: 300, outboard: 700});
    expect(allocate(1000, -300, -100)).toEqual({inboard: 300, outboard: 700});
  });
});
