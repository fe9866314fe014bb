/**
 * Numerical quality of amplitudes against a multiple-precision reference (decimal.js, 60 digits): normal equations in
 * that precision, which lose nothing there, from the same binary readings and angles.
 */
import Decimal from 'decimal.js';
import {fit} from '../../src/maths/harmonics';
import {readingsOf} from '../../src/maths/readings';
import {randomFrom} from '../support/random';

const Big = Decimal.clone({precision: 60});
type Big = InstanceType<typeof Big>;

const PI = Big.acos(-1);
const radians = (degrees: Big): Big => degrees.times(PI).div(180);

/** Amplitude √(a² + b²) of order k by least squares on mean and harmonics 1 to K. */
function reference(y: number[], degrees: Big[], K: number, k: number): Big {
  const rows = degrees.map((d) => [
    new Big(1),
    ...Array.from({length: K}, (_, i) => [Big.cos(radians(d.times(i + 1))), Big.sin(radians(d.times(i + 1)))]).flat(),
  ]);
  const p = 2 * K + 1;
  const sum = (of: (i: number) => Big): Big => rows.reduce((s, _, i) => s.plus(of(i)), new Big(0));
  const m = Array.from({length: p}, (_, a) => [
    ...Array.from({length: p}, (_, b) => sum((i) => rows[i][a].times(rows[i][b]))),
    sum((i) => rows[i][a].times(y[i])),
  ]);
  for (let j = 0; j < p; j++) {
    let pivot = j;
    for (let i = j; i < p; i++) if (m[i][j].abs().gt(m[pivot][j].abs())) pivot = i;
    [m[j], m[pivot]] = [m[pivot], m[j]];
    for (let i = 0; i < p; i++) {
      if (i === j) continue;
      const f = m[i][j].div(m[j][j]);
      for (let c = j; c <= p; c++) m[i][c] = m[i][c].minus(f.times(m[j][c]));
    }
  }
  const [a, b] = [2 * k - 1, 2 * k].map((j) => m[j][p].div(m[j][j]));
  return a.pow(2).plus(b.pow(2)).sqrt();
}

const relative = (amount: number, exact: Big): number => new Big(amount).div(exact).minus(1).abs().toNumber();

const worst = (errors: number[]): number => Math.max(...errors);

test.each([8, 12, 16, 24, 36, 50])('%i even angles: relative error at most 5e-15', (n) => {
  const random = randomFrom(n);
  const degrees = Array.from({length: n}, (_, i) => new Big(360).times(i).div(n));
  const errors = Array.from({length: 6}, (_, trial) => {
    const level = [0, 1, 100][trial % 3];
    const y = degrees.map((d) => level + 0.5 * Math.cos(radians(d).toNumber() - 0.7) + 0.2 * (random() - 0.5));
    const f = fit(readingsOf(y), 1);
    return relative(Math.hypot(f.cos[1], f.sin[1]), reference(y, degrees, f.basis.orders, 1));
  });
  expect(worst(errors)).toBeLessThanOrEqual(5e-15);
});

test('13 angles within 90°: relative error at most 2e-10', () => {
  const random = randomFrom(13);
  const errors = Array.from({length: 6}, () => {
    const angles = Array.from({length: 13}, (_, i) => 7.5 * i);
    const degrees = angles.map((d) => new Big(d));
    const y = angles.map(
      (d) => 10 + Math.cos((d * Math.PI) / 180) + 0.1 * Math.cos((2 * d * Math.PI) / 180) + 0.01 * (random() - 0.5),
    );
    const f = fit(readingsOf(y), 1, {name: 'angles', degrees: Float64Array.from(angles)});
    expect(f.basis.orders).toBe(4);
    return relative(Math.hypot(f.cos[1], f.sin[1]), reference(y, degrees, 4, 1));
  });
  expect(worst(errors)).toBeLessThanOrEqual(2e-10);
});

test('missing readings and uneven angles all around: relative error at most 1e-14', () => {
  const random = randomFrom(5);
  const errors = Array.from({length: 6}, () => {
    const angles = Array.from({length: 20}, (_, i) => 18 * i + 10 * random());
    const y = angles.map((d) => 3 + Math.cos((d * Math.PI) / 180) + 0.1 * random());
    y[4] = NaN;
    y[11] = NaN;
    const there = y.flatMap((v, i) => (Number.isNaN(v) ? [] : [i]));
    const f = fit(readingsOf(y), 1, {name: 'angles', degrees: Float64Array.from(angles)});
    const exact = reference(
      there.map((i) => y[i]),
      there.map((i) => new Big(angles[i])),
      4,
      1,
    );
    return relative(Math.hypot(f.cos[1], f.sin[1]), exact);
  });
  expect(worst(errors)).toBeLessThanOrEqual(1e-14);
});
