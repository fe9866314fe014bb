/** Workings of what judges readings by the others: LOCAL and READINGCHECK. */
import {extremeCombinations} from '../../maths/leastSquares';
import {localWindows, type LocalWindow} from '../../maths/local';
import {checkEvidence, readingCheck} from '../../maths/readingCheck';
import type {Angles, Readings} from '../../maths/readings';
import {as, copyRegressors, curveText, fitSteps, upTo, type FitSymbols} from './fit';
import type {Steps} from './steps';

/** How many windows LOCAL's working compares: the one reported and those that come next. */
const WINDOWS = 5;

/**
 * With a column for each member of a window, 1 there and 0 elsewhere, least squares gives the member's deviation from
 * the fit to the rest, and its standard error, as the coefficient of that column.
 */
export function localSteps(
  s: Steps,
  {readings, maxOrder, angles}: {readings: Readings; maxOrder: number; angles: Angles | undefined},
): void {
  const windows = localWindows(readings, maxOrder, WINDOWS, angles);
  const f = fitSteps(s, {readings, angles, order: maxOrder, exactly: true, regressors: true});
  s.column(f.rows, 'e', `v - w*(${curveText(f, 'θ')})`, 'what the fit to all readings leaves')
    .figure('S', 'sum(e^2)', {says: 'its sum of squares'})
    .figure('ε', 'n*(1E-13*T)^2', {says: 'a sum of squares up to this is rounding'});
  windows.forEach((window, k) => windowSteps(s, f, window, k + 1));
  const [window] = windows;
  const j = `j_1${window.largest + 1}`;
  const column = 2 * maxOrder + 2 + window.largest;
  s.figure(
    'deviation',
    `S <= ε ? 0 : coefficient(${column}, v, B_1)`,
    as('readings', 'coefficient of its column', 'deviation'),
  );
  s.figure('angle', `turned(lookup(${j}, i, θ))`, {unit: '°', says: 'where it is', part: 'angle', around: 360});
  s.figure('σ', 'S_1 <= ε ? 0 : sqrt(S_1/ν_1)', as('readings', 'residual standard deviation of the rest'));
  s.figure('score', `σ > 0 ? deviation/(σ*(spread(${column}, v, B_1))) : none()`, {
    says: 'deviation ÷ its standard error',
    part: 'score',
  });
  const others = windows.slice(1).map((_, k) => ` and p_1 <= p_${k + 2}`);
  s.figure('least', `p_1 <= 1${others.join('')} ? 1 : 0`, {
    says: `1 while no other window shown is less likely to belong to the curve`,
  });
  searchedSteps(s, f, readings, angles);
}

/** Only some of the windows are shown: which they are holds for these readings alone. */
function searchedSteps(s: Steps, f: FitSymbols, {values, positions}: Readings, angles: Angles | undefined): void {
  const at = (of: ArrayLike<number>, i: number): number => (Number.isNaN(values[i]) ? NaN : of[i]);
  const list = (of: ArrayLike<number>): number[] => Array.from({length: positions}, (_, i) => at(of, i));
  s.columnFound(f.rows, 'y_s', list(values), 'readings at the time of the search');
  const same = ['y == y_s'];
  if (angles !== undefined) {
    s.columnFound(f.rows, 'θ_s', list(angles.degrees), 'their angles then', '°');
    same.push('θ == θ_s');
  }
  s.column(
    f.rows,
    'moved',
    `w == 1 and present(y_s) == 1 ? (${same.join(' and ')} ? 0 : 1) : (w == present(y_s) ? 0 : 1)`,
    '1 for a reading that is another now',
  ).figure('searched', 'sum(moved) == 0 ? 1 : 0', {
    says: '1 while the readings are those among whose windows these stand out most',
  });
}

/** A window's fit with its members apart, and the F-test that they belong to the curve. */
function windowSteps(s: Steps, f: FitSymbols, {positions}: LocalWindow, k: number): void {
  const members = positions.map((position, l) => ({symbol: `j_${k}${l + 1}`, column: `d_${k}${l + 1}`, position}));
  for (const {symbol, position} of members)
    s.found(
      symbol,
      position + 1,
      '',
      k === 1 ? 'position in the window that stands out most' : `window ${k}: position`,
    );
  const columns = copyRegressors(s, f, `W${k}`);
  for (const {symbol, column} of members) {
    columns.push(column);
    s.column(f.rows, column, `i == ${symbol} ? w : 0`, 'this member alone');
  }
  const extra = members.length;
  s.block(f.rows, `B_${k}`, columns)
    .figure(`S_${k}`, `leftover(v, B_${k})`, {says: `window ${k}: sum of squares that the fit to the rest leaves`})
    .figure(`ν_${k}`, `n - ${2 * f.orders + 1 + extra}`, {says: 'degrees of freedom'})
    .figure(
      `p_${k}`,
      `S <= ε ? 1 : (S_${k} <= ε ? 0 : fright(greater(0, (S - S_${k})/${extra}/(S_${k}/ν_${k})), ${extra}, ν_${k}))`,
      {says: `window ${k}: F-test that it belongs to the curve`},
    );
}

interface Checked {
  readonly readings: Readings;
  readonly angles: Angles | undefined;
  readonly maxOrder: number;
}

/** The words are the function's; the counts and figures on which they rest are worked out. */
export function readingCheckSteps(s: Steps, {readings, angles, maxOrder}: Checked): void {
  const words = readingCheck(readings, maxOrder, angles);
  const {basis, usable, worst, zeros} = checkEvidence(readings, maxOrder, angles);
  s.found('words', words, '', 'the finding in words; what it rests on follows', {part: 'readingcheck'});
  s.input('K', 'maxOrder', 0, '', 'highest harmonic').figure('needed', '2*K + 1', {says: 'readings needed'});
  if (basis === undefined || !usable) plainReadings(s, readings);
  else fitted(s, {readings, angles, maxOrder}, worst, zeros);
  s.figure('missing', 'max(i) - n', {says: 'readings missing'}).figure('enough', 'n >= needed ? 1 : 0', {
    says: '1 when there are enough',
  });
  if (basis === undefined) return;
  runSteps(s, readings);
  if (!usable) {
    s.found('κ', basis.condition, '', 'condition number of the angles: too close together for a fit');
    return;
  }
  gapSteps(s, readings);
  const {most, least} = extremeCombinations(basis.r, basis.p);
  const combination = (v: Float64Array): string =>
    ['u', ...upTo(basis.orders).flatMap((k) => [`c_${k}`, `s_${k}`])].map((c, j) => `${sized(v[j])}*${c}`).join(' + ');
  const [long, short] = basis.even ? ['n', 'n/2'] : ['sum(z_1^2)', 'sum(z_2^2)'];
  if (!basis.even) {
    s.column(readings.name, 'z_1', combination(most), 'the combination of regressors that is longest').column(
      readings.name,
      'z_2',
      combination(least),
      'the one that is shortest',
    );
  }
  s.figure('κ', `sqrt(${long})/sqrt(${short})`, {
    says: 'condition number: above 10 the angles are unevenly spread, above 100 poorly',
  });
}

/** A weight of a combination, in parentheses when negative. */
const sized = (weight: number): string => (weight < 0 ? `(${weight.toPrecision(14)})` : weight.toPrecision(14));

function plainReadings(s: Steps, readings: Readings): void {
  s.rows(readings.name, readings.positions)
    .columnConstant(readings.name, 'i', upTo(readings.positions), 'position')
    .columnInput(readings.name, 'y', readings.name, 'reading')
    .column(readings.name, 'w', 'present(y)', '1 where a reading is there')
    .figure('n', 'sum(w)', {says: 'readings present'});
}

function fitted(s: Steps, {readings, angles, maxOrder}: Checked, worst: number | undefined, zeros: number): void {
  const f = fitSteps(s, {readings, angles, order: maxOrder, regressors: true});
  const p = 2 * f.orders + 1;
  s.column(f.rows, 'o', 'w == 1 ? (v == 0 ? 1 : 0) : 0', '1 where a reading is 0').figure('zeros', 'sum(o)', {
    says: 'readings of exactly 0',
  });
  if (worst === undefined) return;
  s.found('j', worst + 1, '', 'position of the reading that stands out most');
  const columns = copyRegressors(s, f, 'D');
  s.column(f.rows, 'd', 'i == j ? w : 0', 'this reading alone')
    .block(f.rows, 'D', [...columns, 'd'])
    .figure('S_d', 'leftover(v, D)', {says: 'sum of squares that the fit to the others leaves'})
    .figure('ν', `n - ${p + 1}`, {says: 'degrees of freedom'})
    .figure('off', `coefficient(${p + 1}, v, D)`, as('readings', 'how far it is off the curve of the others'))
    .figure('σ', 'sqrt(S_d/ν)', as('readings', 'residual standard deviation of the others'))
    .figure('t', `σ > 1E-13*T ? abs(off)/(σ*(spread(${p + 1}, v, D))) : 1E99`, {
      says: 'deleted Student residual; without scatter of the others it has no bound',
    })
    .figure('limit', 'student(0.05/n, ν)', {says: 'what good readings exceed once in twenty sets'})
    .figure('outlier', 't > limit and abs(off) > 1E-9*T ? 1 : 0', {says: '1 when it is an outlier'});
  if (zeros >= 2) zerosSteps(s, f, zeros, p);
}

/** The F-test that readings of 0 belong to the curve of the rest. */
function zerosSteps(s: Steps, f: FitSymbols, zeros: number, p: number): void {
  s.column(f.rows, 'e', `v - w*(${curveText(f, 'θ')})`, 'what the fit to all readings leaves').figure('S', 'sum(e^2)', {
    says: 'its sum of squares',
  });
  const columns = copyRegressors(
    s,
    f,
    'Z',
    (k) => ({cos: `(1 - o)*c_${k}`, sin: `(1 - o)*s_${k}`}),
    `(1 - o)*${f.there}`,
  );
  s.block(f.rows, 'Z', columns)
    .figure('S_z', 'leftover(v, Z)', {says: 'sum of squares that the fit without the zeros leaves'})
    .figure('ν_z', `n - zeros - ${p}`, {says: 'degrees of freedom'})
    .figure('ε', 'n*(1E-13*T)^2', {says: 'a sum of squares up to this is rounding'})
    .figure('p_z', `S <= ε ? 1 : (S_z <= ε ? 0 : fright(greater(0, (S - S_z)/${zeros}/(S_z/ν_z)), ${zeros}, ν_z))`, {
      says: 'F-test that the zeros belong to the curve of the rest',
    })
    .figure('limit_z', '0.05/n', {says: 'below this they are named'});
}

/** The longest run of equal readings, counted twice around so that a run across the first position is whole. */
function runSteps(s: Steps, readings: Readings): void {
  const there = upTo(readings.positions)
    .map((i) => i - 1)
    .filter((i) => !Number.isNaN(readings.values[i]));
  s.rows('twice', 2 * there.length)
    .columnConstant('twice', 'q', upTo(2 * there.length), 'row')
    .columnInput('twice', 'r', readings.name, 'readings present, twice around', [...there, ...there])
    .column('twice', 'run', 'q == 1 ? 0 : (r == above(r, 0) ? above(run, 0) + 1 : 0)', 'equal ones before it')
    .figure('longest', 'lesser(n, max(run) + 1)', {says: 'longest run of equal readings'})
    .figure('stuck', 'longest < n and longest >= greater(5, -floor(-(n/3))) ? 1 : 0', {
      says: '1 when it is too long for chance',
    });
}

/** How near two readings lie by their angles. */
function gapSteps(s: Steps, readings: Readings): void {
  s.column(readings.name, 'ψ', 'w == 1 ? turned(θ) : 1E9', 'angle within the turn', '°')
    .column(readings.name, 'place', 'rank(ψ)', 'its place')
    .rows('places', readings.present)
    .columnConstant('places', 'h', upTo(readings.present), 'place')
    .column('places', 'χ', 'lookup(h, place, ψ)', 'angles in rising order', '°')
    .column('places', 'gap', 'h == 1 ? 360 : χ - above(χ, 0)', 'from the one before', '°')
    .column('places', 'twice', 'gap <= 1E-9 ? 1 : 0', '1 where an angle occurs again')
    .figure('repeated', 'sum(twice)', {says: 'angles that occur again'});
}
