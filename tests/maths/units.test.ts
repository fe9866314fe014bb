/** The exact definitions (international yard and pound, standard gravity). */
import Decimal from 'decimal.js';
import {UNITS} from '../../src/maths/units';

test('us customary units are what they are by definition', () => {
  const pound = new Decimal('0.45359237');
  const foot = new Decimal('0.3048');
  const {weightGrams, lengthMm, massKg, speedMetersPerSecond, forceNewtons} = UNITS.us;
  expect(massKg).toBe(0.45359237);
  // 16 ounces to the pound, 12 inches to the foot, 5,280 feet to the mile, gravity 9.80665 m/s².
  expect(weightGrams).toBe(pound.times(1000).div(16).toNumber());
  expect(lengthMm).toBe(foot.times(1000).div(12).toNumber());
  expect(speedMetersPerSecond).toBeCloseTo(foot.times(5280).div(3600).toNumber(), 15);
  expect(forceNewtons).toBe(pound.times('9.80665').toNumber());
});

test('metric units', () => {
  const {weightGrams, lengthMm, massKg, speedMetersPerSecond, forceNewtons} = UNITS.metric;
  expect([weightGrams, lengthMm, massKg, forceNewtons]).toEqual([1, 1, 1, 1]);
  expect(speedMetersPerSecond * 36).toBeCloseTo(10, 14);
});
