/**
 * Published checks: every value of checks.json whose function exists, with its source in the test's name. Only those of
 * kind "published" are independent evidence; the others guard against slips.
 */
import {assign} from '../../src/maths/assign';
import {anyBasis} from '../../src/maths/basis';
import {cosd, sind} from '../../src/maths/angles';
import {student95} from '../../src/maths/distributions';
import {fit, harmonic, squares} from '../../src/maths/harmonics';
import {coefficients, factor, residuals} from '../../src/maths/leastSquares';
import {readingsOf} from '../../src/maths/readings';
import {peakToPeak} from '../../src/maths/swing';
import {call, figures, refusal} from '../support/formula';
import {check, CHECKS, enso, lew, titled} from './checks';

const PI2 = 2 * Math.PI;

function near(actual: number, expected: number, tolerance: number): void {
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(tolerance);
}

/** Angles around the circle: 359.9 and 0.1 are near. */
function nearAngle(actual: number, expected: number, tolerance: number): void {
  near(((((actual - expected) % 360) + 540) % 360) - 180, 0, tolerance);
}

/** "78.26@58": amount at angle. */
const phasor = (text: string): [number, number] => text.split('@').map(Number) as [number, number];

/** Least squares on given columns. */
function regression(columns: number[][], y: number[]) {
  const factored = factor(Float64Array.from(columns.flat()), y.length, columns.length);
  return {coefficients: [...coefficients(factored, y)], rss: squares(residuals(factored, y))};
}

const tests: Record<string, (c: ReturnType<typeof check>) => void> = {
  'a1-static-4mass': ({inputs, expected, tolerance}) => {
    const vectors = inputs.masses_kg.map((m: number, i: number) => [m * inputs.radii_m[i], inputs.angles_deg[i]]);
    const [amount, angle] = figures('RESULTANT', vectors);
    near(amount / inputs.correction_radius_m, expected.mass, tolerance.mass);
    nearAngle(angle + 180, expected.angle, tolerance.angle);
    // The book solves it graphically; the vector sum itself is held to more digits (README, trap 10).
    near(amount / inputs.correction_radius_m, 116.099, 5e-4);
    nearAngle(angle + 180, 201.312, 5e-4);
  },
  'a2-static-2mass': ({inputs, expected, tolerance}) => {
    const vectors = inputs.masses_kg.map((m: number, i: number) => [m * inputs.radii_m[i], inputs.angles_deg[i]]);
    const [amount, angle] = figures('RESULTANT', vectors);
    near(amount, expected.mr_kg_m, tolerance.mr_kg_m);
    nearAngle(angle + 180, expected.angle, tolerance.angle);
  },
  'a4-split-two-angles': ({inputs, expected, tolerance}) => {
    const [a, b] = figures('SPLIT', [[inputs.weight_g, inputs.angle]], ...inputs.given_angles);
    near(a, expected.w1, tolerance);
    near(b, expected.w2, tolerance);
  },
  'a5-split-orthogonal': ({inputs, expected, tolerance}) => {
    const [a, b] = figures('SPLIT', [[inputs.weight_g, inputs.angle]], ...inputs.given_angles);
    near(a, expected.w1, tolerance);
    near(b, expected.w2, tolerance);
  },
  'a6-plane-transfer': ({inputs, tolerance}) => {
    const [u1, u2] = [inputs.U1_gmm, inputs.U2_gmm];
    const to = [[inputs.zA, 1, inputs.zB, 1]];
    const from = [[inputs.z1, 1, inputs.z2, 1]];
    const [a, aAngle, b, bAngle] = figures('TRANSFER', [[...u1, ...u2]], from, to);
    const before = figures('STATICCOUPLE', [[...u1, ...u2]], from);
    const after = figures('STATICCOUPLE', [[a, aAngle, b, bAngle]], to);
    near(after[0], before[0], tolerance);
    nearAngle(after[1], before[1], tolerance);
    // The moment about one and the same point: both couples are about the middle of their planes.
    const moment = (z: number[], u: number[][]) =>
      [cosd, sind].map((f) => z.reduce((sum, zi, i) => sum + zi * u[i][0] * f(u[i][1]), 0));
    const [x, y] = moment([inputs.z1, inputs.z2], [u1, u2]);
    const [X, Y] = moment(
      [inputs.zA, inputs.zB],
      [
        [a, aAngle],
        [b, bAngle],
      ],
    );
    near(X, x, 1e-9 * 540000);
    near(Y, y, 1e-9 * 540000);
  },
  'b1-enso-linear': ({inputs, expected, tolerance}) => {
    const t = enso.map((_, i) => i + 1);
    const columns = [
      t.map(() => 1),
      ...inputs.periods.flatMap((p: number) => [
        t.map((x) => Math.cos((PI2 * x) / p)),
        t.map((x) => Math.sin((PI2 * x) / p)),
      ]),
    ];
    const {coefficients, rss} = regression(columns, enso);
    coefficients.forEach((c, i) => near(c, expected.coef[i], tolerance.coef));
    near(rss, expected.rss, tolerance.rss);
  },
  'b2-enso-annual': ({inputs, expected, tolerance}) => {
    const angles = enso.map((_, i) => (360 * (i + 1)) / inputs.samples_per_rev);
    const [amount, angle] = figures('HARMONIC', [enso], inputs.order, [angles]);
    near(amount / 2, expected.amplitude, tolerance);
    nearAngle(angle, expected.phase_deg, tolerance);
  },
  'b3-lew-univariate': ({expected, tolerance}) => {
    near(figures('CONTROL', [lew], 'mean')[0], expected.mean, tolerance.mean);
  },
  'b7-lew-fixed-f': ({inputs, expected, tolerance}) => {
    const t = lew.map((_, i) => i + 1);
    const f = PI2 * inputs.fixed_frequency;
    const {coefficients, rss} = regression(
      [t.map(() => 1), t.map((x) => Math.sin(f * x)), t.map((x) => Math.cos(f * x))],
      lew,
    );
    near(coefficients[0], expected.C, tolerance.C);
    near(coefficients[1], expected.sin, tolerance.sin);
    near(coefficients[2], expected.cos, tolerance.cos);
    near(rss, expected.rss, tolerance.rss);
    // The same through the harmonic basis, one order, angles far beyond one turn.
    const readings = readingsOf(lew);
    const basis = anyBasis(
      readings,
      {name: 'angles', degrees: Float64Array.from(t, (x) => 360 * inputs.fixed_frequency * x)},
      1,
    );
    near(coefficientsOn(basis, lew)[1], expected.cos, tolerance.cos);
  },
  'b11-lsc-roundness-formula': ({inputs, expected, tolerance}) => {
    const y = Array.from({length: inputs.N}, (_, i) => {
      const t = (360 * i) / inputs.N;
      return 100 + 0.3 * cosd(t - 50) + 0.08 * cosd(2 * t - 20) + 0.05 * cosd(3 * t);
    });
    const [deviation, offset, angle] = figures('ROUNDNESS', [y]);
    near(deviation, expected.RONt, tolerance);
    near(offset, expected.ecc, tolerance);
    nearAngle(angle, expected.ecc_angle, 1e-4);
    near(fit(readingsOf(y), 1).mean, expected.R0, tolerance);
  },
  'b12-harmonic-uncertainty': ({inputs, expected}) => {
    // The covariance for even spacing, as the half-width of HARMONICS uses it: ± = 2·t·u(amplitude).
    const {N, sigma, amplitude} = inputs;
    const noise = Array.from({length: N}, (_, i) => (i % 2 === 0 ? 1 : -1));
    const y = noise.map((e, i) => amplitude * cosd((360 * i) / N) + e);
    const row = figures('HARMONICS', [y], 1);
    const freedom = N - 9;
    const s = Math.sqrt(squares(noise) / freedom);
    near(row[3] / (2 * student95(freedom) * s), expected.u_cos / sigma, 1e-12);
  },
  'b15-missing-angles-exact': ({inputs, expected, tolerance}) => {
    const wave = fit(readingsOf(inputs.values), 2, {name: 'angles', degrees: Float64Array.from(inputs.angles_deg)});
    const found = [wave.mean, wave.cos[1], wave.sin[1], wave.cos[2], wave.sin[2]];
    found.forEach((c, i) => near(c, expected.coef[i], tolerance));
  },
  'c1-vector-match': ({inputs, expected, tolerance}) => {
    const {rim_H1_amp, rim_high_deg, tyre_H1_amp, tyre_high_deg} = inputs;
    const rim = [[rim_H1_amp, rim_high_deg]];
    const tire = [[tyre_H1_amp, tyre_high_deg]];
    const [turn, after, before] = figures('MATCH', rim, tire);
    nearAngle(turn, expected.rotate, tolerance);
    near(after, expected.best, tolerance);
    near(before, expected.at0, tolerance);
    near(
      figures('RESULTANT', [
        [rim_H1_amp, rim_high_deg],
        [tyre_H1_amp, rim_high_deg],
      ])[0],
      expected.worst,
      tolerance,
    );
  },
  'c2-waveform-match': ({inputs, expected}) => {
    // The check turns samples by whole steps of 15° and takes max − min of the samples. All harmonics up to the
    // eleventh fit the 24 samples but for the alternating term; the curve between samples can only span more.
    const {rim, tyre} = inputs;
    const whole = rim.map((r: number, i: number) => r + tyre[i]);
    const [turn, after, before] = figures('MATCHCURVE', [rim], [whole], 11);
    nearAngle(turn, expected.rotate, inputs.step_deg);
    near(after, expected.tir, 0.02);
    near(before, expected.tir_now, 0.02);
    expect(before).toBeGreaterThanOrEqual(expected.tir_now - 2e-3);
    // At the check's own turn, by the check's own samples.
    const steps = expected.rotate / inputs.step_deg;
    const sampled = rim.map((r: number, i: number) => r + tyre[(i - steps + 24) % 24]);
    near(Math.max(...sampled) - Math.min(...sampled), expected.tir, 1e-5);
    const curve = fit(readingsOf(sampled), 11);
    expect(after).toBeLessThanOrEqual(peakToPeak(curve, 11) + 1e-9);
  },
  'd1-index-180': index,
  'd1-index-120': index,
  'd1-index-90': index,
  'd3-reversal': ({inputs, expected, tolerance}) => {
    // Donaldson's reversal is the 180° case along one line.
    const [part, , spindle] = figures('REMOUNT', [[inputs.m1, 0]], [[inputs.m2, 0]], 180);
    near(part, expected.part, tolerance);
    near(spindle, expected.spindle, tolerance);
  },
  'd4-assign-1': assignment,
  'd4-assign-2': assignment,
  'd4-assign-5': assignment,
  'e1-iso-turbine': ({inputs, expected, tolerance}) => {
    const {G, mass_kg, n_rpm, LA_mm, LB_mm} = inputs;
    // Speed and circumference only enter as turns a second: n/60 turns a second of a circumference of 1 m.
    const uper = figures('TOLERANCE', G, mass_kg, (n_rpm / 60) * 3.6, 1000)[0];
    near(uper / mass_kg, expected.eper, tolerance.eper);
    near(uper, expected.Uper, tolerance.Uper);
    const [a, b] = figures('TOLERANCEPLANES', uper, [[-LA_mm, LB_mm]]);
    near(a, expected.UperA, tolerance.UperA);
    near(b, expected.UperB, tolerance.UperB);
    expect(figures('TOLERANCEPLANES', expected.Uper, [[-LA_mm, LB_mm]])).toEqual([expected.UperA, expected.UperB]);
  },
  'e2-grade-steps': ({inputs, expected, tolerance}) => {
    const allowed = inputs.grades.map((grade: number) => figures('TOLERANCE', grade, 20, 130, 1927.6)[0]);
    const steps = allowed.slice(1).map((uper: number, i: number) => uper / allowed[i]);
    near(Math.min(...steps), expected.ratio_min, tolerance);
    near(Math.max(...steps), expected.ratio_max, tolerance);
  },
  'e3-G40-car-wheel': ({inputs, expected, tolerance}) => {
    const circumference = inputs.roll_factor * 632;
    const uper = figures('TOLERANCE', inputs.G, inputs.mass_kg, inputs.speed_kmh, circumference)[0];
    near(uper, expected.Uper_gmm, tolerance.Uper_gmm);
    near(uper / 203.2, expected['grams_at_203.2mm_total'], 0.01);
    near(figures('TOLERANCEPLANES', uper, [[-90, 90]])[0] / 203.2, expected.per_plane, tolerance.per_plane);
  },
  'f1-two-plane-alpha': ({inputs, expected, tolerance}) => {
    // The source gives the influence coefficients; a trial weight of 1 at 0° in each plane would have shown them.
    const before = inputs.V0.map(phasor);
    const withTrial = (column: number) =>
      inputs.alpha.map((row: string[], i: number) => figures('RESULTANT', [before[i], phasor(row[column])]));
    const [m1, a1, m2, a2] = figures('TRIALWEIGHT2', before, withTrial(0), withTrial(1), [
      [1, 0],
      [1, 0],
    ]);
    near(m1, expected.w1[0], tolerance.w1[0]);
    nearAngle(a1, expected.w1[1], tolerance.w1[1]);
    near(m2, expected.w2[0], tolerance.w2[0]);
    nearAngle(a2, expected.w2[1], tolerance.w2[1]);
  },
  'f3-two-plane-turbine': ({inputs, expected, tolerance}) => {
    const [m1, a1, m2, a2] = figures(
      'TRIALWEIGHT2',
      inputs.V0.map(phasor),
      inputs['WL 10@270'].map(phasor),
      inputs['WR 12@180'].map(phasor),
      [
        [10, 270],
        [12, 180],
      ],
    );
    // The source prints the unbalances; the corrections stand opposite.
    near(m1, expected.UL[0], tolerance.UL[0]);
    nearAngle(a1 + 180, expected.UL[1], tolerance.UL[1]);
    near(m2, expected.UR[0], tolerance.UR[0]);
    nearAngle(a2 + 180, expected.UR[1], tolerance.UR[1]);
  },
  'f7-four-run': ({inputs}) => {
    // The circles do not meet: least squares on the amplitudes, as README trap 3 states it.
    const {O, trial_g, angles, T} = inputs;
    const [amount, angle, misfit] = figures('TRIALSWEEP', O, [T], [angles], trial_g);
    near(amount, 59.26, 0.005);
    nearAngle(angle, 41.66, 0.005);
    expect(misfit).toBeGreaterThan(0.02);
  },
  'f8-four-run-consistent': ({inputs, expected, tolerance}) => {
    const [amount, angle, misfit] = figures('TRIALSWEEP', inputs.O, [inputs.T], [inputs.angles], inputs.trial_g);
    near(amount, expected.correction_g, tolerance);
    nearAngle(angle, expected.angle, tolerance);
    near(misfit, 0, tolerance);
  },
  'g10-centrifugal': ({inputs, expected, tolerance}) => {
    inputs.rpm.forEach((rpm: number, i: number) =>
      near(
        figures('FORCE', inputs.m_kg * 1000, inputs.r_m * 1000, (rpm / 60) * 3.6, 1000)[0],
        expected.F[i],
        tolerance,
      ),
    );
  },
  'g11-ozin-rule': ({inputs, expected, tolerance}) => {
    // 1 oz at 1 in; 1000 turns a minute of a circumference of one mile/1000 at 60 mph.
    const force = figures('FORCE', inputs.oz_in, 1, 60, (63360 * 60) / 60 / inputs.rpm, 'us')[0];
    near(force, expected.lbf, tolerance);
  },
  'g12-weight-at-speed': ({inputs, expected, tolerance}) => {
    inputs.kmh.forEach((v: number, i: number) =>
      near(figures('FORCE', inputs.m_g, inputs.r_mm, v, 3.05 * 632)[0], expected.F_N[i], tolerance),
    );
  },
  ...Object.fromEntries(CHECKS.filter(({id}) => id.startsWith('g1-od')).map(({id}) => [id, overallDiameter] as const)),
  'g3-load-index-table': ({inputs, expected}) => {
    const table = Array.from({length: expected.count}, (_, index) => figures('LOADINDEX', index)[0]);
    expect(table).toEqual(inputs.kg);
    expect([table[91], table[100], table[121]]).toEqual([expected.LI91, expected.LI100, expected.LI121]);
    // Ten decades of the preferred numbers: eighty indices on, the load is tenfold.
    for (let index = 0; index + 80 < table.length; index++) near(table[index + 80] / table[index], 10, 0.04 * 10);
    expect(refusal('LOADINDEX', expected.count).reason).toBe('invalid');
  },
  'g5-speed-symbols-all': ({expected}) => {
    for (const [symbol, speed] of Object.entries(expected)) expect(figures('SPEEDSYMBOL', symbol)).toEqual([speed]);
  },
  'g7-tin-week-0198': ({inputs, expected}) => {
    const [, , week, year, sunday] = figures('TIN', `DOT 9XAB CDEF ${inputs.date_code}`);
    expect([week, year]).toEqual([1, 1998]);
    expect(isoDate(sunday)).toBe(expected.week[0]);
    expect(isoDate(sunday + 6)).toBe(expected.week[1]);
  },
  'g8-tin-13': ({inputs, expected}) => {
    const [plant, code, week, year] = figures('TIN', inputs.tin) as unknown as [string, string, number, number];
    expect([plant, week, year]).toEqual([expected.plant, expected.week, expected.year]);
    expect(plant.length + code.length + 4).toBe(expected.len);
  },
  'g9-rev-per-km': ({inputs, expected, tolerance}) => {
    const circumference = inputs.factor * inputs.D_mm;
    near(1e6 / circumference, expected.rev_km, tolerance.rev_km);
    near(figures('SPINRATE', 100, circumference)[0], expected.Hz_100, tolerance.Hz_100);
    expect(figures('TIRESIZE', '205/55R16', 'circumference')[0]).toBeCloseTo(circumference, 9);
  },
  'i1-prop-81-263': wilson,
  'i1-prop-15-148': wilson,
  'i1-prop-0-20': wilson,
  'i2-individuals-nist': ({inputs, expected, tolerance}) => {
    const [mean, lower, upper, out] = figures('CONTROL', [inputs.x]);
    near(mean, expected.mean, tolerance.mean);
    near(lower, expected.LCL, tolerance.LCL);
    near(upper, expected.UCL, tolerance.UCL);
    near(((upper - mean) * 1.128) / 3, expected.MRbar, tolerance.MRbar);
    expect(out).toBe(0);
  },
  'i5-grr-aiag-anova-pooled': ({inputs, expected, tolerance}) => {
    const cells = Object.entries<number[][]>(inputs.data).flatMap(([operator, trials]) =>
      trials.flatMap((row) => row.map((value, part) => ({value, part: `part ${part + 1}`, operator}))),
    );
    const column = (of: (c: (typeof cells)[0]) => unknown) => cells.map((c) => [of(c)]);
    const table = call(
      'GAUGE',
      column((c) => c.value),
      column((c) => c.part),
      column((c) => c.operator),
    );
    const rows = table as unknown as [string, number, number, number][];
    expect(rows.map(([source]) => source)).toEqual([
      'repeatability (interaction pooled)',
      'reproducibility',
      'gauge',
      'part',
      'total',
    ]);
    const variances = rows.map(([, variance]) => variance);
    near(variances[0], expected.var_repeat, tolerance.var_repeat);
    near(variances[1], expected.var_reprod, tolerance.var_reprod);
    near(variances[2], expected.var_GRR, tolerance.var_GRR);
    near(variances[3], expected.var_part, tolerance.var_part);
    near(rows[2][3], expected.pct_GRR, tolerance.pct_GRR);
    // Standard deviations of the published study.
    [0.199933, 0.226838, 0.302372, 1.042327, 1.0853].forEach((sd, i) => near(rows[i][2], sd, 5e-6));
    near(variances[0] * 78, expected.SS_pooled, tolerance.SS_pooled);
  },
  'i8-circular-roulette': ({inputs, expected, tolerance}) => {
    const [mean, length] = figures('ANGLETEST', [inputs.deg]);
    near(mean, expected.mean, tolerance.mean);
    near(length, expected.R, tolerance.R);
  },
  'i10-circular-wrap': ({inputs, expected, tolerance}) => {
    near(figures('ANGLETEST', [inputs.deg])[0], expected.mean, tolerance);
  },
  'j4-breakeven-openstax': ({inputs, expected}) => {
    // Fixed cost as the gain of a match, the margin of a unit as the cost of a minute.
    const {fixed, price, variable} = inputs;
    expect(figures('MATCHVALUE', fixed, 0, 1, 0, 60 * (price - variable), 0, 0, 0, 'breakeven')).toEqual([
      expected.units,
    ]);
  },
  'h2-first-harmonic-pp': ({inputs, expected, tolerance}) => {
    const y = Array.from({length: inputs.N}, (_, i) => {
      const t = (PI2 * i) / inputs.N;
      return 4500 + 35 * Math.cos(t - 1) + 12 * Math.cos(2 * t);
    });
    const [amount] = figures('HARMONIC', [y]);
    near(amount, expected.H1_peak_to_peak, tolerance.H1_peak_to_peak);
    near(amount / 2, expected.H1_amplitude, tolerance.H1_amplitude);
    near(peakToPeak(fit(readingsOf(y), 4), 4), expected.RFV_pp, 0.01);
  },
};

function overallDiameter({inputs, expected}: ReturnType<typeof check>): void {
  const {section_width, aspect, rim_code, conventional_d_mm} = inputs;
  const [, , , rim, diameter, section] = figures('TIRESIZE', `${section_width}/${aspect}R${rim_code}`);
  expect([rim, diameter]).toEqual([rim_code, expected.D]);
  expect(diameter - 2 * section).toBe(conventional_d_mm);
}

function wilson({inputs, expected, tolerance}: ReturnType<typeof check>): void {
  const [share, low, high] = figures('PROPORTION', inputs.k, inputs.n, inputs.conf);
  expect(share).toBe(inputs.k / inputs.n);
  near(low, expected.wilson[0], tolerance);
  near(high, expected.wilson[1], tolerance);
}

/** Excel's serial number as a date, for serials after February 1900. */
const isoDate = (serial: number): string => new Date(Date.UTC(1899, 11, 30 + serial)).toISOString().slice(0, 10);

function index({inputs, expected, tolerance}: ReturnType<typeof check>): void {
  // In wheel coordinates the part that is not the wheel's turns back when the wheel is turned on the shaft.
  for (const [name, turn] of [
    ['SEPARATE', inputs.index_deg],
    ['REMOUNT', -inputs.index_deg],
  ] as const) {
    const [stays, staysAngle, moves, movesAngle] = figures(name, [inputs.mount1], [inputs.mount2], turn);
    near(stays, expected.rim[0], tolerance);
    nearAngle(staysAngle, expected.rim[1], tolerance);
    near(moves, expected.tyre[0], tolerance);
    nearAngle(movesAngle, expected.tyre[1], tolerance);
  }
}

function assignment({inputs, expected}: ReturnType<typeof check>): void {
  const {columns} = assign(inputs.cost)!;
  expect(new Set(columns).size).toBe(columns.length);
  expect(columns.reduce((sum, j, i) => sum + inputs.cost[i][j], 0)).toBe(expected.total);
}

const coefficientsOn = (basis: ReturnType<typeof anyBasis>, y: number[]) => coefficients(basis, y);

test.each(Object.keys(tests).map((id) => [titled(check(id)), id] as const))('%s', (_, id) => tests[id](check(id)));

/** Checks of what this product does not compute. */
const NOT_COMPUTED: Readonly<Record<string, string>> = {
  'b4-lew-handbook-evaluated': 'a nonlinear fit with a free frequency; a trap (README 1), not a value to reach',
  'b6-lew-true-LS': 'a nonlinear fit with a free frequency',
  'e4-combine-errors': 'no function combines systematic and random errors of a balancing bench',
  'g2-width-205-6.5': 'no function gives the section width on another rim',
  'g2-width-195-6': 'no function gives the section width on another rim',
  'g2-width-225-7.5': 'no function gives the section width on another rim',
  'h1-conicity-plysteer': 'no function takes lateral force',
  'i4-p-chart': 'no function makes a chart of shares',
};

test('every check is held here, or is of something that this product does not compute', () => {
  const rest = CHECKS.map(({id}) => id).filter((id) => !(id in tests));
  expect(rest.sort()).toEqual(Object.keys(NOT_COMPUTED).sort());
});

describe('further published values (all from memory)', () => {
  test('Newcombe, Statist. Med. 17 (1998) 873–890, Table II, method 10', () => {
    const published: [number, number, number, number, number, number][] = [
      [56, 70, 48, 80, 0.0524, 0.3339],
      [9, 10, 3, 10, 0.1705, 0.809],
      [6, 7, 2, 7, 0.0582, 0.8062],
      [5, 56, 0, 29, -0.0381, 0.1926],
      [0, 10, 0, 20, -0.1611, 0.2775],
      [10, 10, 0, 10, 0.6075, 1],
    ];
    for (const [a, m, b, n, low, high] of published) {
      const answer = figures('COMPARE', a, m, b, n);
      near(answer[1], low, 6e-5);
      near(answer[2], high, 6e-5);
    }
  });

  test('Fisher, The Design of Experiments: the lady tasting tea, three of four right', () => {
    // One-sided 17/70; two-sided twice that, because the table is symmetrical.
    near(figures('COMPARE', 3, 4, 1, 4, 'p')[0], 34 / 70, 1e-12);
    near(figures('COMPARE', 4, 4, 0, 4, 'p')[0], 2 / 70, 1e-12);
  });

  test('speeds and sizes on a sidewall guide: 31X10.50R15LT is 787 mm high', () => {
    near(figures('TIRESIZE', '31X10.50R15LT', 'diameter')[0], 787, 0.5);
  });
});

test('harmonic() quotes peak-to-peak, twice the amplitude', () => {
  expect(harmonic({mean: 0, cos: Float64Array.of(0, 3), sin: Float64Array.of(0, 4)}, 1).amount).toBe(10);
});
