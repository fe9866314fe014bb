/** Runout of tire, rim and assembly around the turn. */
import {closed, closure, tir} from '../maths/closure';
import {curveAt, fit, harmonics, oneHarmonic} from '../maths/harmonics';
import {local} from '../maths/local';
import {remount} from '../maths/match';
import {angleAt, type Readings} from '../maths/readings';
import {readingCheck} from '../maths/readingCheck';
import {roundness} from '../maths/roundness';
import {difference, resultant} from '../maths/vectors';
import {part, type Figure} from './answers';
import {angle, angles, choice, count, numbers, optional, readings, vector} from './arguments';
import {family} from './declare';

const {functions, declare, declareArray, declareCell, declareTable} = family('Runout');
export const RUNOUT = functions;

const dentWorking = () => import(/* webpackChunkName: "working" */ './workings/dent');
const runoutWorking = () => import(/* webpackChunkName: "working" */ './workings/runout');

/** Above this a wheel has no harmonics to speak of, and a fit of thousands of readings would keep Excel waiting. */
const MOST_ORDERS = 50;

export const maxOrder = optional(count('highest harmonic fitted', 1, MOST_ORDERS), 4);
const order = optional(count('order of the harmonic, 1 for once a turn', 1, MOST_ORDERS), 1);

const PEAK = 'peak-to-peak amount';
const HIGH = 'its high point';
export const FIT =
  'Least squares of y(θ) = mean + Σ aₖ·cos kθ + bₖ·sin kθ, k = 1 … K, with K = max(order, min(4, ⌊(n − 2)/2⌋)) for n readings present. Even and complete angles: Fourier sums; otherwise Householder QR.';
export const FIT_SOURCE = 'linear least squares (Golub and Van Loan, Matrix Computations, value from memory)';
export const TOO_FEW = '#N/A: fewer than 2·order + 1 readings are present';
export const TOO_CLOSE =
  '#VALUE!: the angles lie so close together that the condition number of the basis exceeds 1E+8';
const BLANKS =
  'A blank cell reaches a worksheet function as 0. Write IF(range="","",range) so that it counts as missing.';
const SIGN =
  'A reading grows as the surface moves away from the axle. A probe inside the rim barrel reads the other way: enter its readings negated, or a match would double the fault.';

declareCell({
  name: 'TIR',
  summary: 'Total indicator reading: largest less smallest of the readings present.',
  notes: [BLANKS],
  arguments: {readings: readings('readings of one turn; at least two present')},
  gives: part('total indicator reading', 'as readings'),
  answer: ({readings}) => tir(readings),
  working: async () => (await runoutWorking()).tirSteps,
  mathematics: 'max − min of the readings present.',
  source: 'definition of total indicator reading (full indicator movement), common practice',
  errors: ['#N/A: fewer than two readings are present'],
  example: {formula: '=WHEEL.TIR({0.12,0.31,0.44,0.2,-0.11})', gives: [[0.55]]},
});

declare({
  name: 'HARMONIC',
  summary: 'One harmonic of the readings: peak-to-peak amount and angle of its first high point.',
  notes: [BLANKS, SIGN],
  arguments: {readings: readings('readings of one turn'), order, angles: optional(angles('readings'))},
  parts: {amount: part(PEAK, 'as readings'), angle: part(HIGH, '°')},
  answer: ({readings, order, angles}) => oneHarmonic(readings, order, angles),
  working: async () => (await runoutWorking()).harmonicFunctionSteps,
  mathematics: `${FIT} amount = 2·√(aₖ² + bₖ²), angle = atan2(bₖ, aₖ)/k in [0, 360/k).`,
  source: FIT_SOURCE,
  errors: [TOO_FEW, TOO_CLOSE],
  example: {formula: '=WHEEL.HARMONIC({0.5,0.4,0,-0.4,-0.5,-0.4,0,0.4})', gives: [[1.065685425, 0]]},
});

declareTable({
  name: 'HARMONICS',
  summary: 'The harmonics of the readings up to an order, each with its uncertainty and its share of the runout.',
  notes: [
    BLANKS,
    'The share is of the sum of squares about the mean.',
    'plusminus is the 95 % half-width of the amount; without a degree of freedom left there is none.',
  ],
  arguments: {readings: readings('readings of one turn'), maxOrder, angles: optional(angles('readings'))},
  parts: {
    order: part('order of the harmonic', ''),
    amount: part(PEAK, 'as readings'),
    angle: part('its first high point', '°'),
    plusminus: part(
      '95 % half-width of the amount',
      'as readings',
      'the fit uses up all readings and leaves none to judge its uncertainty by',
    ),
    share: part(
      'its share of the sum of squares about the mean',
      '',
      'all readings are equal, there is nothing to share',
    ),
  },
  answer: ({readings, maxOrder, angles}) => harmonics(readings, maxOrder, angles),
  working: async () => (await runoutWorking()).harmonicsSteps,
  mathematics: `${FIT} plusminus = 2·t·√(gᵀCg), g = (aₖ, bₖ)/√(aₖ² + bₖ²), C = s²·(XᵀX)⁻¹ of that harmonic, t Student’s with n − 2K − 1 degrees of freedom; for a zero vector the largest eigenvalue of C. share = Σ(aₖ·cos kθ + bₖ·sin kθ)² ÷ Σ(y − ȳ)².`,
  source: `${FIT_SOURCE}; uncertainty by JCGM 100`,
  errors: [TOO_FEW, TOO_CLOSE, 'plusminus is #N/A without a degree of freedom, share when all readings are equal'],
  example: {
    formula: '=WHEEL.HARMONICS({0.5,0.3,0,-0.3,-0.5,-0.2,0,0.3},1)',
    gives: [[1, 0.8896115611, 357.7223257, 0.4492321766, 0.9785579347]],
  },
});

declareArray({
  name: 'CURVE',
  summary: 'The fitted curve: what the harmonics up to an order say the readings should be.',
  notes: [BLANKS, 'It gives a value for every position, missing readings included: for charts, and for filling gaps.'],
  arguments: {
    readings: readings('readings of one turn'),
    maxOrder,
    angles: optional(angles('readings')),
    at: optional(
      numbers('angles in degrees at which the curve is wanted', {what: 'an angle in degrees'}),
      undefined,
      'every reading position',
    ),
  },
  gives: part('fitted reading', 'as readings', 'this position has no angle'),
  answer: ({readings, maxOrder, angles, at}) => {
    const wave = fit(readings, maxOrder, angles);
    const value = (degrees: number): Figure => (Number.isNaN(degrees) ? undefined : curveAt(wave, maxOrder, degrees));
    if (at !== undefined) return at.map((row) => row.map(value));
    return inShape(readings, (i) => value(angleAt(readings, angles, i)));
  },
  working: async () => (await runoutWorking()).curveSteps,
  mathematics: `${FIT} The curve is mean + harmonics 1 to maxOrder.`,
  source: FIT_SOURCE,
  errors: [TOO_FEW, TOO_CLOSE],
  example: {formula: '=WHEEL.CURVE({0.5,0.4,0,-0.4,-0.5,-0.4,0,0.4},1,,{0,90})', gives: [[0.5328427125, 0]]},
});

const inShape = ({rows, columns}: Readings, value: (position: number) => Figure): Figure[][] =>
  Array.from({length: rows}, (_, r) => Array.from({length: columns}, (_, c) => value(r * columns + c)));

declare({
  name: 'LOCAL',
  summary: 'The reading that stands out from the curve of the rest: a dent (negative) or a bulge (positive).',
  notes: [
    BLANKS,
    'Judge by the score. The worst of many windows is shown, so good readings score too: up to ±4.7 with 16 readings, ±3.9 with 24 and ±3.6 with 72 in 95 of 100 simulated cases without a dent.',
    'Here maxOrder is the order fitted; a higher one would bend the curve into the dent.',
  ],
  arguments: {
    readings: readings('readings of one turn'),
    maxOrder: optional(count('highest harmonic fitted to the rest', 1, MOST_ORDERS), 2),
    angles: optional(angles('readings')),
  },
  parts: {
    deviation: part('reading less the fit to the rest', 'as readings'),
    angle: part('where it is', '°'),
    score: part('deviation ÷ its standard error of prediction', '', 'the rest fits without scatter'),
  },
  answer: ({readings, maxOrder, angles}) => local(readings, maxOrder, angles),
  working: async () => (await dentWorking()).localSteps,
  mathematics:
    'For every cyclic window of 1 to 3 adjacent positions: harmonics 1 to maxOrder fitted to the rest, and the F-test that the window belongs to that fit. The window with the least p-value counts (equal: the shorter). deviation = reading − fit at its largest member, score = deviation ÷ s·√(1 + xᵀ(XᵀX)⁻¹x).',
  source: 'deletion diagnostics (Cook and Weisberg, Residuals and Influence in Regression, value from memory)',
  errors: ['#N/A: fewer than 2·maxOrder + 3 readings are present', TOO_CLOSE],
  example: {
    formula: '=WHEEL.LOCAL({0.3,0.28,0.21,0.12,0,-0.11,-0.22,-0.75,-0.3,-0.27,-0.21,-0.12,0.01,0.11,0.21,0.27})',
    gives: [[-0.4709519724, 157.5, -70.98025747]],
  },
});

declare({
  name: 'CLOSURE',
  summary: 'Whether a turn closes: the last reading, taken at the first position again, less the first.',
  notes: [BLANKS],
  arguments: {readings: readings('readings of one turn and one more, at the first position again')},
  parts: {
    drift: part('last reading less the first', 'as readings'),
    share: part('drift ÷ TIR of all but the last', '', 'the turn shows no runout'),
  },
  answer: ({readings}) => closure(readings),
  working: async () => (await runoutWorking()).closureSteps,
  mathematics: 'drift = last − first; share = drift ÷ TIR of all but the last.',
  source: 'definition; repeating the first position is common practice',
  errors: ['#N/A: fewer than three positions, or the first or the last reading is missing'],
  example: {formula: '=WHEEL.CLOSURE({0,0.3,0.5,0.2,0.05})', gives: [[0.05, 0.1]]},
});

declareArray({
  name: 'CLOSED',
  summary: 'The readings without the closing one, the drift taken out evenly over the turn; for use as an argument.',
  notes: [BLANKS],
  arguments: {readings: readings('readings of one turn and one more, at the first position again')},
  gives: part('reading less its part of the drift; an empty text where it is missing', 'as readings'),
  answer: ({readings}) => {
    const values = Array.from(closed(readings), (v): Figure => (Number.isNaN(v) ? '' : v));
    return readings.columns === 1 ? values.map((v) => [v]) : [values];
  },
  working: async () => (await runoutWorking()).closedSteps,
  mathematics: 'readingᵢ − drift·i/n over the n positions of the turn, i from 0.',
  source: 'linear drift',
  errors: ['as CLOSURE'],
  example: {formula: '=WHEEL.CLOSED({0,0.3,0.5,0.2,0.04})', gives: [[0, 0.29, 0.48, 0.17]]},
});

declare({
  name: 'ROUNDNESS',
  summary: 'Out-of-roundness about a reference circle, and the eccentricity of that circle.',
  notes: [
    BLANKS,
    'The offset is an eccentricity, half the peak-to-peak runout that it makes.',
    'LS takes mean and first harmonic from the same fit as HARMONIC, so that both name the same offset.',
  ],
  arguments: {
    readings: readings('readings of one turn'),
    method: optional(choice('reference circle: least squares or minimum zone', ['LS', 'MZ']), 'LS'),
    angles: optional(angles('readings')),
  },
  parts: {
    deviation: part('peak to valley about the circle (RONt)', 'as readings'),
    offset: part('eccentricity of the circle', 'as readings'),
    angle: part('direction of the eccentricity', '°'),
  },
  answer: ({readings, method, angles}) => roundness(readings, method, angles),
  working: async () => (await runoutWorking()).roundnessSteps,
  mathematics:
    'Circle as mean + a·cos θ + b·sin θ (limaçon). LS: mean and first harmonic of the fit that HARMONIC makes. MZ: the circle whose largest deviation either way is least, found by exchanging four points that deviate alternately. deviation = largest − smallest distance from the circle, offset = √(a² + b²).',
  source:
    'terms of ISO 12181-1; Stiefel’s exchange method (Watson, Approximation Theory and Numerical Methods, value from memory)',
  errors: [TOO_FEW, TOO_CLOSE, '#VALUE!: MZ with two readings at one angle'],
  example: {
    formula: '=WHEEL.ROUNDNESS({0.5,0.3,0,-0.3,-0.5,-0.2,0,0.3})',
    gives: [[0.1573223305, 0.4448057806, 357.7223257]],
  },
});

declare({
  name: 'BEADSEATS',
  summary: 'What the tire sits on: the mean of the runout of both bead seats, and how they differ.',
  notes: [SIGN],
  arguments: {inner: vector('runout of the inboard bead seat'), outer: vector('runout of the outboard bead seat')},
  parts: {
    amount: part('mean of the two vectors', 'as inner'),
    angle: part(HIGH, '°'),
    tilt: part('size of inner − outer', 'as inner'),
    tiltangle: part('its direction', '°'),
  },
  answer: ({inner, outer}) => {
    const {amount, angle} = resultant([inner, outer]);
    const tilt = difference(inner, outer);
    return {amount: amount / 2, angle, tilt: tilt.amount, tiltangle: tilt.angle};
  },
  working: async () => (await runoutWorking()).beadSeatsSteps,
  mathematics: '(inner + outer)/2 and inner − outer, as vectors.',
  source: 'average radial runout of both bead seats, as in the public summary of SAE J2133',
  example: {formula: '=WHEEL.BEADSEATS({0.4,30},{0.4,90})', gives: [[0.3464101615, 60, 0.4, 330]]},
});

declare({
  name: 'REMOUNT',
  summary: 'The same wheel clamped again: what belongs to the wheel and what to the clamping.',
  notes: ['Turn the wheel on the shaft between the two measurements; with five studs by 72°, 144° and so on.'],
  arguments: {
    first: vector('first measurement, in wheel coordinates'),
    second: vector('second measurement, in wheel coordinates'),
    turn: optional(angle('by how much the wheel was turned on the shaft'), 180),
  },
  parts: {
    amount: part('runout or unbalance of the wheel', 'as first'),
    angle: part('its angle', '°'),
    error: part('error of the clamping', 'as first'),
    errorangle: part('its angle in the first clamping', '°'),
  },
  answer: ({first, second, turn}) => {
    const {wheel, error} = remount(first, second, turn);
    return {amount: wheel.amount, angle: wheel.angle, error: error.amount, errorangle: error.angle};
  },
  working: async () => (await runoutWorking()).remountSteps,
  mathematics:
    'error = (first − second)/(1 − e^(−i·turn)), wheel = first − error; at 180° half sum and half difference.',
  source: 'index method, ISO 21940-14',
  errors: ['#VALUE!: the turn is within 1° of a whole turn'],
  example: {formula: '=WHEEL.REMOUNT({0.5,0},{0.3,0})', gives: [[0.4, 0, 0.1, 0]]},
});

declareCell({
  name: 'READINGCHECK',
  summary: '"ok", or what is wrong with the readings in plain words, worst first.',
  notes: [
    BLANKS,
    'It says in words what a fit would refuse: too few readings, outliers, zeros that look like blanks, an indicator that stuck, repeated or badly spread angles, missing readings.',
    'One good set of readings in twenty is called an outlier by chance.',
  ],
  arguments: {readings: readings('readings of one turn'), angles: optional(angles('readings')), maxOrder},
  gives: part('"ok" or what is wrong', ''),
  answer: ({readings, angles, maxOrder}) => readingCheck(readings, maxOrder, angles),
  working: async () => (await dentWorking()).readingCheckSteps,
  mathematics:
    'Outlier: deleted Student residual beyond t at 0.025/n on either side. Stuck: a cyclic run of equal readings of at least max(5, ⌈n/3⌉). Spread: condition number of the basis above 10 is uneven, above 100 poor.',
  source: 'Bonferroni bound on deleted Student residuals (Cook and Weisberg, value from memory)',
  errors: ['only for cells that are no readings: it answers with words where a fit refuses'],
  example: {formula: '=WHEEL.READINGCHECK({0.1,0.3,0.2,0.1,0.3},,2)', gives: [['ok']]},
});
