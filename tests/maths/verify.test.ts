/** VERIFY: every finding, either side of each limit, and the sentence that goes with it. */
import {verify} from '../../src/maths/verify';
import {add, at, polar, refused, turn, xy} from '../support/polar';

const ROUND = at(0);

test('as predicted: the difference is within the combined uncertainty', () => {
  // 0.03 ÷ √(0.06² + 0.08²) = 0.3.
  const found = verify(at(0.2, 40), 0.06, at(0.23, 40), 0.08, 0.5, ROUND);
  expect(found.finding).toBe('as predicted');
  expect(found.en).toBeCloseTo(0.3, 12);
  expect(found.reason).toBe(
    'Measured and predicted differ by 0.03, within the uncertainty of 0.1; what was measured, 0.23, is within the limit 0.5.',
  );
});

test('the difference is that of vectors', () => {
  // 3 at 0° and 4 at 90° are 5 apart.
  expect(verify(at(3), 5, at(4, 90), 0, 9, ROUND).en).toBeCloseTo(1, 15);
  expect(verify(at(3), 0, at(4, 90), 10, 9, ROUND).en).toBeCloseTo(0.5, 15);
});

test('En = 1 is still as predicted', () => {
  // √(3² + 4²) = 5.
  expect(verify(at(3), 3, at(8), 4, 9, ROUND)).toMatchObject({finding: 'as predicted', en: 1});
  expect(verify(at(3), 3, at(8 + 1e-9), 4, 9, ROUND).finding).toBe('seating or other');
});

describe('not as predicted', () => {
  const rim = at(3);
  const tire: [number, number] = [2, 0];
  const predicted = polar(add(xy(rim), turn(tire, 180)));
  const assembly = (size: number, at: number) => polar(add(xy(rim), turn([size, 0], at)));

  test('turned wrong: the tire’s part has the size it should have', () => {
    // Turned to 90° instead of 180°: 2·√2 apart, part still 2.
    const found = verify(predicted, 0.3, assembly(2, 90), 0.4, 3, rim);
    expect(found.finding).toBe('turned wrong');
    expect(found.en).toBeCloseTo((2 * Math.SQRT2) / 0.5, 12);
    expect(found.reason).toBe(
      "Measured and predicted differ by 2.828, beyond the uncertainty of 0.5, but the tire's part has the size it should have, so it was turned by another angle; what was measured, 3.606, exceeds the limit 3.",
    );
  });

  test('seating or other: it has not', () => {
    const found = verify(predicted, 0.3, assembly(4, 180), 0.4, 3, rim);
    expect(found.finding).toBe('seating or other');
    expect(found.en).toBeCloseTo(4, 12);
    expect(found.reason).toBe(
      "Measured and predicted differ by 2, beyond the uncertainty of 0.5, and the tire's part has changed its size by 2, so look at the bead seating first; what was measured, 1, is within the limit 3.",
    );
  });

  test('sizes agree up to the combined uncertainty, larger or smaller', () => {
    const finding = (size: number) => verify(predicted, 0.3, assembly(size, 90), 0.4, 3, rim).finding;
    expect(finding(2.5 - 1e-9)).toBe('turned wrong');
    expect(finding(2.5 + 1e-9)).toBe('seating or other');
    expect(finding(1.5 + 1e-9)).toBe('turned wrong');
    expect(finding(1.5 - 1e-9)).toBe('seating or other');
    // Exactly the uncertainty: parts of 6 and 1 differ by 5.
    expect(verify(at(6), 3, at(1, 180), 4, 9, ROUND).finding).toBe('turned wrong');
  });

  test('without a rim the whole is the tire’s part', () => {
    expect(verify(at(1, 0), 0.1, at(1, 90), 0.1, 3, ROUND).finding).toBe('turned wrong');
    expect(verify(at(1, 0), 0.1, at(2, 0), 0.1, 3, ROUND).finding).toBe('seating or other');
  });
});

test('the limit itself is met', () => {
  expect(verify(at(1), 1, at(1.5), 1, 1.5, ROUND).reason).toContain('1.5, is within the limit 1.5.');
  expect(verify(at(1), 1, at(1.5), 1, 1.4999, ROUND).reason).toContain('1.5, exceeds the limit 1.5.');
});

test('without any uncertainty nothing can be said', () => {
  expect(refused(() => verify(at(1), 0, at(1), 0, 1, ROUND))).toEqual({
    reason: 'invalid',
    argument: 'plusMeasured',
    message: 'plusMeasured: one of the two uncertainties must be above 0, or nothing can be said',
  });
  expect(verify(at(1), 1e-6, at(1), 0, 1, ROUND).en).toBe(0);
  expect(verify(at(1), 0, at(1), 1e-6, 1, ROUND).en).toBe(0);
});
