/** AVERAGE: mean and its confidence circle. */
import jStat from 'jstat';
import {average} from '../../src/maths/average';
import {normalFrom, randomFrom} from '../support/random';
import {add, always, apart, at, between, expectVector, polar, scale, size, someVector, xy} from '../support/polar';

test('three spins by hand', () => {
  // Mean 11; Σ|x − x̄|²/3 = (1 + 1 + 0)/3; 0.05^(−1/2) − 1 = 3.472136.
  const found = average([at(10), at(12), at(11)]);
  expectVector(found, at(11), 12);
  expect(found.scatter).toBeCloseTo(Math.sqrt((2 / 3) * (Math.sqrt(20) - 1)), 13);
});

test('two spins at right angles', () => {
  // (3, 0) and (0, 3): mean (1.5, 1.5), each 1.5·√2 off; 0.05^(−1) − 1 = 19.
  const found = average([at(3, 0), at(3, 90)]);
  expectVector(found, at(1.5 * Math.SQRT2, 45), 12);
  expect(found.scatter).toBeCloseTo(Math.sqrt(4.5 * 19), 12);
});

test('one spin shows no scatter, equal spins none either', () => {
  const one = average([at(3, 400)]);
  expect(one.scatter).toBeUndefined();
  expectVector(one, at(3, 40), 12);
  expect(average([at(3, 0), at(3, 360)]).scatter).toBe(0);
  expect(average([at(2, 90), at(2, 270)])).toMatchObject({amount: 0, angle: 0});
});

test('is Hotelling’s T² for equal variances: F with 2 and 2(n − 1) degrees of freedom', () => {
  // n·|x̄ − µ|²/2 over Σ|x − x̄|²/(2(n − 1)) is an F; with the radius in it, it has its 95 % point.
  for (const n of [2, 3, 5, 12]) {
    const random = randomFrom(n);
    const spins = Array.from({length: n}, () => at(1 + random(), 40 * random()));
    const mean = average(spins);
    const squares = spins.reduce((sum, spin) => sum + size(add(xy(spin), scale(-1, xy(mean)))) ** 2, 0);
    const f = (mean.scatter! ** 2 * n * (n - 1)) / squares;
    // The F distribution by the incomplete beta function, with 2 and 2(n − 1) degrees of freedom.
    expect(jStat.ibeta(f / (f + n - 1), 1, n - 1)).toBeCloseTo(0.95, 8);
  }
});

test('the circle holds the true mean in 95 of 100 cases', () => {
  const normal = normalFrom(randomFrom(95));
  let held = 0;
  for (let n = 0; n < 4000; n++) {
    const spins = Array.from({length: 4}, () => polar([10 + normal(), 5 + normal()]));
    const found = average(spins);
    if (size(add(xy(found), [-10, -5])) <= found.scatter!) held++;
  }
  // Standard deviation 0.35 % of 4,000.
  expect(held / 4000).toBeGreaterThan(0.94);
  expect(held / 4000).toBeLessThan(0.96);
});

test('neither order nor where 0° lies matters; sizes scale', () => {
  always([someVector(0.1, 5), someVector(0.1, 5), someVector(0.1, 5), between(0, 360)], (a, b, c, by) => {
    const found = average([a, b, c]);
    const other = average([c, a, b].map(({amount, angle}) => at(2 * amount, angle + by)));
    expect(other.amount).toBeCloseTo(2 * found.amount, 11);
    if (found.amount > 1e-3) expect(apart(other.angle, found.angle + by)).toBeLessThan(1e-8);
    expect(other.scatter).toBeCloseTo(2 * found.scatter!, 11);
  });
});
