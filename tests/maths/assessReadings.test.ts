import {assessReadings} from '../../src/maths/assessReadings';
import {fit, harmonic, variance} from '../../src/maths/harmonics';
import {readingsOf} from '../../src/maths/readings';
import {spreadOf} from '../../src/maths/basis';
import {matchCurve} from '../../src/maths/matchCurve';
import {peakToPeak} from '../../src/maths/swing';
import {normalFrom, randomFrom} from '../support/random';

const RAD = Math.PI / 180;
type Wave = [order: number, amount: number, angle: number][];

const curve = (wave: Wave, n = 16) =>
  Array.from({length: n}, (_, i) =>
    wave.reduce(
      (y, [k, amount, angle]) => y + (amount / 2) * Math.cos(((k * (360 * i)) / n) * RAD - k * angle * RAD),
      0,
    ),
  );

/** Readings of a wheel whose rim and tire are known; noise as a pattern that no harmonic up to 4 can follow. */
function wheel(rim: Wave, tire: Wave, noise = 0.01, tilt: Wave = []) {
  const rough = (phase: number) => Array.from({length: 16}, (_, i) => noise * (-1) ** i * Math.sqrt(1 + phase / 10));
  const add = (...waves: number[][]) => readingsOf(waves[0].map((_, i) => waves.reduce((s, w) => s + w[i], 0)));
  return {
    assembly: add(curve(rim), curve(tire), rough(0)),
    rimInner: add(curve(rim), curve(tilt), rough(1)),
    rimOuter: add(
      curve(rim),
      curve(tilt).map((v) => -v),
      rough(2),
    ),
  };
}

const assessed = (w: ReturnType<typeof wheel>, assembly: number, rim: number, total?: number) =>
  assessReadings(w, {assembly, rim, total}, 4);

test('amounts, turn and what is left are those of the known rim and tire', () => {
  const found = assessed(wheel([[1, 0.8, 40]], [[1, 0.6, 100]], 0.001, [[1, 0.3, 200]]), 0.5, 0.9);
  expect(found.finding).toBe('match mount');
  expect(found.assembly).toBeCloseTo(1.2165525, 7);
  expect(found.rim).toBeCloseTo(0.8, 10);
  expect(found.tire).toBeCloseTo(0.6, 10);
  expect(found.after).toBeCloseTo(0.2, 10);
  expect(found.turn).toBeCloseTo(120, 8);
  expect(found.reason).toMatch(
    /^Assembly 1\.217 exceeds the limit 0\.5; the best match leaves 0\.2 ± 0\.00\d+, within it\.$/,
  );
});

test('the half-widths: noise of ±0.01 that leaves 7 degrees of freedom', () => {
  const w = wheel([[1, 0.8, 40]], [[1, 0.6, 100]]);
  const found = assessed(w, 0.5, 0.9);
  const t = 2.3646242515927858;
  // s² = 16·0.01²/7, u(amplitude) = s·√(2/16), doubled for peak-to-peak.
  const s = Math.sqrt((16 * 1e-4) / 7);
  expect(found.plusminus).toBeCloseTo(2 * t * s * Math.sqrt(1 / 8), 12);
  // r̂ at 40°, t̂ at 100°: |r̂ + t̂|² = 2 + 2·cos 60° = 3; C_r = (1.1 + 1.2)/4 of C_a.
  expect(found.plusafter).toBeCloseTo(2 * t * s * Math.sqrt((1 + (3 * 2.3) / 4) / 8), 12);
});

test('plusafter is what the propagation of the readings’ scatter gives', () => {
  // Each coefficient is moved by its own standard error; the change of |r − t| is added in squares. Angles are even, so
  // coefficients are uncorrelated.
  const normal = normalFrom(randomFrom(3));
  const shake = (values: number[]) => readingsOf(values.map((v) => v + 0.03 * normal()));
  const rim: Wave = [[1, 0.5, 10]];
  const w = {
    assembly: shake(curve([...rim, [1, 0.7, 250]])),
    rimInner: shake(curve(rim)),
    rimOuter: shake(curve(rim)),
  };
  const fits = [fit(w.assembly, 4), fit(w.rimInner, 4), fit(w.rimOuter, 4)];
  const after = (shift: number, which: number, part: 'cos' | 'sin') => {
    const [a, i, o] = fits.map((f, k) => ({
      x: f.cos[1] + (k === which && part === 'cos' ? shift : 0),
      y: f.sin[1] + (k === which && part === 'sin' ? shift : 0),
    }));
    const r = {x: (i.x + o.x) / 2, y: (i.y + o.y) / 2};
    return 2 * Math.abs(Math.hypot(r.x, r.y) - Math.hypot(a.x - r.x, a.y - r.y));
  };
  let total = 0;
  fits.forEach((f, which) => {
    for (const part of ['cos', 'sin'] as const) {
      const u = Math.sqrt(variance(f)! * spreadOf(f.basis, 1).cc);
      const slope = (after(1e-6, which, part) - after(-1e-6, which, part)) / 2e-6;
      total += (slope * u) ** 2;
    }
  });
  const found = assessed({...w}, 0.1, 0.1);
  expect(found.plusafter).toBeCloseTo(2.3646242515927858 * Math.sqrt(total), 7);
});

test('readings that are just enough tell no uncertainty: measure again', () => {
  const nine = (wave: Wave) => readingsOf(curve(wave, 9));
  const found = assessReadings(
    {assembly: nine([[1, 1, 0]]), rimInner: nine([[1, 0.2, 0]]), rimOuter: nine([[1, 0.2, 0]])},
    {assembly: 0.5, rim: 0.5, total: undefined},
    4,
  );
  expect(found.finding).toBe('remeasure');
  expect([found.plusminus, found.plusafter]).toEqual([undefined, undefined]);
  expect(found.assembly).toBeCloseTo(1, 12);
  expect(found.reason).toBe(
    'The readings are just enough for the curve and leave nothing to tell how sure the figures are: take more, or lower the order.',
  );
  // What the best match leaves, and at which turn, is known all the same.
  expect(found.after).toBeCloseTo(0.6, 12);
  expect(found.turn).toBeCloseTo(180, 9);
  expect([found.rim, found.tire].map((v) => Math.round(1e9 * v) / 1e9)).toEqual([0.2, 0.8]);
});

test('a bead seat that is just enough: the assembly is sure, what is left is not', () => {
  const w = wheel([[1, 0.8, 40]], [[1, 0.6, 100]]);
  const gaps = w.rimInner.values.map((v, i) => (i > 8 ? NaN : v));
  const found = assessed({...w, rimInner: readingsOf(gaps)}, 0.5, 0.9);
  expect(found.finding).toBe('remeasure');
  expect(found.plusminus).toBe(assessed(w, 0.5, 0.9).plusminus);
  expect(found.plusafter).toBeUndefined();
});

test('one degree of freedom is enough to tell', () => {
  const ten = (wave: Wave) => readingsOf(curve(wave, 10).map((v, i) => v + 0.001 * (-1) ** i));
  const found = assessReadings(
    {assembly: ten([[1, 2, 0]]), rimInner: ten([[1, 0.5, 90]]), rimOuter: ten([[1, 0.5, 90]])},
    {assembly: 1.7, rim: 3, total: undefined},
    4,
  );
  // s² = 10·10⁻⁶ on one degree of freedom, u(amplitude) = s·√(2/10), doubled; t = 12.7062.
  expect(found.plusminus).toBeCloseTo(2 * 12.706204736 * Math.sqrt(1e-5) * Math.sqrt(0.2), 10);
  expect(found.plusafter).toBeGreaterThan(found.plusminus!);
  expect(found.finding).toBe('match mount');
});

test('fewer degrees of freedom in one bead seat widen what is left, not the assembly', () => {
  const w = wheel([[1, 0.8, 40]], [[1, 0.6, 100]]);
  const gaps = Float64Array.from(w.rimOuter.values);
  gaps[2] = NaN;
  gaps[9] = NaN;
  const few = {...w, rimOuter: readingsOf(gaps)};
  expect(assessed(few, 0.5, 0.9).plusminus).toBe(assessed(w, 0.5, 0.9).plusminus);
  expect(assessed(few, 0.5, 0.9).plusafter! / assessed(w, 0.5, 0.9).plusafter!).toBeGreaterThan(2.5705 / 2.3647 - 0.02);
});

describe('the whole curve', () => {
  test('within its limit it changes nothing', () => {
    const w = wheel(
      [[1, 0.1, 0]],
      [
        [1, 0.2, 90],
        [2, 0.2, 0],
      ],
    );
    expect(assessed(w, 0.5, 0.5, 1)).toEqual(assessed(w, 0.5, 0.5));
    expect(assessed(w, 0.5, 0.5).finding).toBe('accept');
  });

  test('an oval tire does not pass on its first harmonic', () => {
    const found = assessed(
      wheel(
        [[1, 0.1, 0]],
        [
          [1, 0.1, 90],
          [2, 0.8, 30],
        ],
      ),
      0.5,
      0.5,
      0.6,
    );
    expect(found.finding).toBe('replace tire');
    expect(found.reason).toMatch(
      /^The assembly's whole curve spans 0\.8\d+, beyond 0\.6, and the best turn leaves 0\.\d+; the rim's own curve spans 0\.1, the tire's 0\.8\d+\.$/,
    );
  });

  test('an oval rim is replaced', () => {
    expect(
      assessed(
        wheel(
          [[2, 0.8, 0]],
          [
            [1, 0.1, 90],
            [2, 0.1, 30],
          ],
        ),
        0.5,
        0.5,
        0.6,
      ).finding,
    ).toBe('replace rim');
  });

  test('two ovals that cancel: match by the curve, with what that turn leaves of the first harmonic', () => {
    const w = wheel(
      [
        [1, 0.1, 0],
        [2, 0.5, 20],
      ],
      [
        [1, 0.2, 100],
        [2, 0.5, 20],
      ],
      0.001,
    );
    const found = assessed(w, 0.5, 0.5, 0.6);
    expect(found.finding).toBe('match mount');
    const rim = fit(w.rimInner, 4);
    const tire = fit(readingsOf(Array.from(w.assembly.values, (v, i) => v - w.rimInner.values[i])), 4);
    const best = matchCurve(rim, tire, 4);
    expect(Math.abs(((found.turn - best.turn + 540) % 360) - 180)).toBeLessThan(0.2);
    const [r, t] = [harmonic(rim, 1), harmonic(tire, 1)];
    const left = Math.hypot(
      r.amount * Math.cos(r.angle * RAD) + t.amount * Math.cos((t.angle + found.turn) * RAD),
      r.amount * Math.sin(r.angle * RAD) + t.amount * Math.sin((t.angle + found.turn) * RAD),
    );
    expect(found.after).toBeCloseTo(left, 3);
    expect(found.reason).toMatch(
      /^The assembly's whole curve spans 1\.\d+, beyond 0\.6; this turn brings it to 0\.\d+, within it\.$/,
    );
  });

  test('a curve turn that leaves too much of the first harmonic is no match', () => {
    // The ovals cancel a quarter turn either way, where the first harmonics leave 0.8·cos 50°.
    const w = wheel(
      [
        [1, 0.4, 0],
        [2, 0.6, 0],
      ],
      [
        [1, 0.4, 10],
        [2, 0.6, 0],
      ],
      0.001,
    );
    const wide = assessed(w, 2, 2, 0.85);
    expect(wide.finding).toBe('match mount');
    expect(wide.after).toBeGreaterThan(0.4);
    const tight = assessed(w, wide.after - 0.01, 2, 0.85);
    expect(tight.finding).not.toBe('accept');
    expect(tight.finding).not.toBe('match mount');
  });

  test('a part already found at fault stays so', () => {
    const w = wheel(
      [[1, 0.1, 0]],
      [
        [1, 2, 90],
        [2, 0.8, 30],
      ],
    );
    expect(assessed(w, 0.5, 0.5, 0.6)).toEqual(assessed(w, 0.5, 0.5));
    expect(assessed(w, 0.5, 0.5).finding).toBe('replace tire');
  });

  describe('at its limits', () => {
    const w = wheel(
      [
        [1, 0.4, 0],
        [2, 0.6, 0],
      ],
      [
        [1, 0.4, 10],
        [2, 0.6, 0],
      ],
      0.001,
    );
    const less = (value: number) => value * (1 - 1e-12);

    test('a curve that just meets it', () => {
      const total = peakToPeak(fit(w.assembly, 4), 4);
      expect(assessed(w, 2, 2, total)).toEqual(assessed(w, 2, 2));
      expect(assessed(w, 2, 2, less(total)).reason).toMatch(/^The assembly's whole curve spans/);
    });

    test('a turn that just meets it', () => {
      const {after} = matchCurve(
        fit(w.rimInner, 4),
        fit(readingsOf(w.assembly.values.map((v, i) => v - w.rimInner.values[i])), 4),
        4,
      );
      expect(assessed(w, 2, 2, after * 1.001).finding).toBe('match mount');
      const beyond = assessed(w, 2, 2, after * 0.999);
      expect(beyond.finding).toMatch(/^replace/);
      // After and turn are then those of the first harmonics, as without the curve.
      const {after: left, turn} = assessed(w, 2, 2);
      expect([beyond.after, beyond.turn]).toEqual([left, turn]);
    });

    test('what the turn leaves of the first harmonic and its half-width just meet the limit of the assembly', () => {
      const {after, plusafter, turn} = assessed(w, 2, 2, 0.85);
      const just = after + plusafter!;
      expect(assessed(w, just, 2, 0.85)).toMatchObject({finding: 'match mount', after, turn});
      expect(assessed(w, less(just), 2, 0.85).finding).toMatch(/^replace/);
    });

    test('of parts whose curves are alike the tire is at fault', () => {
      // Ovals and triangles cancel at different turns.
      const rim = readingsOf(
        curve([
          [2, 0.8, 0],
          [3, 0.5, 20],
        ]).map((v, i) => v + 0.001 * (-1) ** i),
      );
      const both = readingsOf(rim.values.map((v) => 2 * v));
      const found = assessReadings(
        {assembly: both, rimInner: rim, rimOuter: rim},
        {assembly: 0.5, rim: 0.5, total: 0.1},
        4,
      );
      expect(found.finding).toBe('replace tire');
      expect(found.reason).toMatch(/the rim's own curve spans (\d\.\d+), the tire's \1\.$/);
    });
  });

  test('replace both is a fault already found, too', () => {
    const bad = wheel([[1, 3, 0]], [[1, 1, 90]]);
    expect(assessed(bad, 0.5, 0.5).finding).toBe('replace both');
    expect(assessed(bad, 0.5, 0.5, 0.1)).toEqual(assessed(bad, 0.5, 0.5));
  });

  test('a wheel to measure again by its first harmonic is not sent back when its whole curve is out', () => {
    // The assembly's first harmonic lies on its limit, its second beyond the curve's.
    const found = assessed(wheel([[1, 0.1, 0]], [[1, 0.4, 0], [2, 1, 30]]), 0.5, 0.5, 0.6); // prettier-ignore
    expect(found.finding).toBe('replace tire');
  });
});
