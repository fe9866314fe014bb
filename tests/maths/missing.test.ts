/** Filling missing readings in gives the curve that factoring the readings present gives. */
import {anyBasis} from '../../src/maths/basis';
import {fit, shifted} from '../../src/maths/harmonics';
import {coefficients} from '../../src/maths/leastSquares';
import {filledUp} from '../../src/maths/missing';
import {readingsOf, type Angles} from '../../src/maths/readings';
import {evenSpacing, unevenSpacing} from '../../src/maths/spacing';
import {normalFrom, randomFrom} from '../support/random';

const random = randomFrom(41);
const normal = normalFrom(random);

/** Readings with a share of them missing; `present` at least. */
function withGaps(positions: number, share: number, present: number): number[] {
  for (;;) {
    const y = Array.from({length: positions}, () => (random() < share ? NaN : 5 + normal()));
    if (y.filter((v) => !Number.isNaN(v)).length >= present) return y;
  }
}

const uneven = (positions: number): Angles => ({
  name: 'angles',
  degrees: Float64Array.from({length: positions}, (_, i) => (360 * (i + 0.6 * random())) / positions),
});

test.each([
  [12, 0.1, false],
  [16, 0.1, false],
  [16, 0.3, false],
  [36, 0.3, false],
  [15, 0.2, false],
  [12, 0.1, true],
  [16, 0.2, true],
  [16, 0.3, true],
  [40, 0.25, true],
])('%i positions, a share of %f missing, angles given: %s', (positions, share, given) => {
  let worst = 0;
  let filled = 0;
  for (let round = 0; round < 300; round++) {
    const readings = readingsOf(withGaps(positions, share, 10));
    const angles = given ? uneven(positions) : undefined;
    const f = fit(readings, 4, angles);
    const spacing = angles === undefined ? evenSpacing(positions, 4) : unevenSpacing(readings, angles, 4)!;
    if (filledUp(readings, spacing, 5) !== undefined) filled++;
    const basis = anyBasis(readings, angles, 4);
    const expected = coefficients(basis, shifted(readings, basis));
    worst = Math.max(worst, Math.abs(f.mean - readings.values[basis.index[0]] - expected[0]));
    for (let k = 1; k <= 4; k++) {
      worst = Math.max(worst, Math.abs(f.cos[k] - expected[2 * k - 1]), Math.abs(f.sin[k] - expected[2 * k]));
    }
    expect(f.freedom).toBe(readings.present - 9);
    expect(f.basis.n).toBe(readings.present);
  }
  expect(worst).toBeLessThan(1e-12);
  // Where many are missing some sets are factored anew; both ways are taken.
  expect(filled).toBeGreaterThan(200);
  if (share === 0.3 && positions === 16) expect(filled).toBeLessThan(300);
});

test('angles well spread with all readings, too close together without those missing', () => {
  const angles = {name: 'angles', degrees: Float64Array.of(0, 0.001, 0.002, 120, 240)};
  expect(fit(readingsOf([1, 2, 4, 3, 2]), 1, angles).freedom).toBe(2);
  expect(() => fit(readingsOf([1, 2, 4, NaN, NaN]), 1, angles)).toThrow(/too close together to tell 1 harmonics apart/);
});

test('equal readings leave exactly nothing with some missing', () => {
  const f = fit(readingsOf([0.1, 0.1, NaN, 0.1, 0.1, NaN, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1]), 1);
  expect([f.mean, ...Array.from(f.cos), ...Array.from(f.sin)]).toEqual([0.1, ...new Array<number>(10).fill(0)]);
});
