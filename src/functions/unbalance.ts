/** Unbalance and correction weights; terms of ISO 21940-1 and -2. Amounts are correction masses. */
import {onePlane, residual, staticCouple, transfer, type Fitted, type Two} from '../maths/planes';
import {average} from '../maths/average';
import {trialWeight, trialWeights} from '../maths/influence';
import {invalid} from '../maths/refusal';
import {allocate, permissibleUnbalance, rotatingForce} from '../maths/spin';
import {behindSpokes, evenSpokes, split, strip} from '../maths/split';
import {stock} from '../maths/stock';
import {stockPair} from '../maths/stockPair';
import {trialSweep} from '../maths/trialSweep';
import {resultant, type Vector} from '../maths/vectors';
import {part} from './answers';
import {
  amount,
  angle,
  choice,
  fittedWeights,
  named,
  numbers,
  optional,
  plane,
  planes,
  positive,
  twoVectors,
  vector,
  vectors,
} from './arguments';
import {family} from './declare';

const {functions, declare, declareCell} = family('Unbalance');
export const UNBALANCE = functions;

const spinWorking = () => import(/* webpackChunkName: "working" */ './workings/spin');
const spokeWorking = () => import(/* webpackChunkName: "working" */ './workings/spoke');
const stockPairWorking = () => import(/* webpackChunkName: "working" */ './workings/stockPair');
const trialWorking = () => import(/* webpackChunkName: "working" */ './workings/trial');
const unbalanceWorking = () => import(/* webpackChunkName: "working" */ './workings/unbalance');

const CORRECTION = 'Amounts are masses to add and where to add them; the heavy side is 180° on.';
const weights = twoVectors('correction masses, inboard and outboard');
const mass = amount('mass', 'a mass');
const stockStep = positive('step of the stock masses', 'a step');

export const units = optional(
  choice('metric (g, mm, km/h, kg, N) or us (oz, in, mph, lb, lbf)', ['metric', 'us']),
  'metric',
);
export const speed = positive('road speed in km/h or mph', 'a speed');
export const circumference = positive('rolling circumference of the tire in mm or in', 'a circumference');

declare({
  name: 'RESULTANT',
  summary: 'Sum of any number of vectors.',
  arguments: {vectors: vectors('the vectors')},
  parts: {amount: part('size of the sum', 'as vectors'), angle: part('its angle', '°')},
  answer: ({vectors}) => resultant(vectors),
  working: async () => (await unbalanceWorking()).resultantSteps,
  mathematics: 'Σ of the vectors.',
  source: 'resultant unbalance, ISO 21940-2',
  example: {formula: '=WHEEL.RESULTANT({3,0;4,90})', gives: [[5, 53.13010235]]},
});

declare({
  name: 'AVERAGE',
  summary: 'Mean of repeated spins, and how surely it is known.',
  notes: ['The scatter is the radius of a circle about the mean that holds the true mean with 95 % confidence.'],
  arguments: {vectors: vectors('the spins')},
  parts: {
    amount: part('size of the mean', 'as vectors'),
    angle: part('its angle', '°'),
    scatter: part(
      'radius of the 95 % confidence circle of the mean',
      'as vectors',
      'one spin alone shows no scatter; spin again',
    ),
  },
  answer: ({vectors}) => average(vectors),
  working: async () => (await unbalanceWorking()).averageSteps,
  mathematics: 'x̄ = Σx/n; scatter = √(Σ|x − x̄|²/n · (0.05^(−1/(n−1)) − 1)).',
  source: 'circular normal scatter: Hotelling’s T² for equal variances',
  errors: ['scatter is #N/A for one spin'],
  example: {formula: '=WHEEL.AVERAGE({10,0;12,0;11,0})', gives: [[11, 0, 1.521432648]]},
});

declare({
  name: 'STATICCOUPLE',
  summary: 'Two-plane correction masses as static and couple unbalance.',
  notes: [CORRECTION, 'With positions growing outboard the couple’s angle is that of outboard − inboard.'],
  arguments: {planes: weights, fromPlanes: planes('the planes they are for')},
  parts: {
    static: part('static unbalance ΣU, U = mass · radius', 'mass · length'),
    staticangle: part('its angle', '°'),
    couple: part('couple unbalance Σ(z − z_mid)·U about the middle between the planes', 'mass · length²'),
    coupleangle: part('its angle', '°'),
  },
  answer: ({planes, fromPlanes}) => named2(staticCouple(planes, fromPlanes)),
  working: async () => (await unbalanceWorking()).staticCoupleSteps,
  mathematics: 'U = mass·radius; static = ΣU; couple = Σ(z − z_mid)·U, z_mid midway between the planes.',
  source: 'ISO 21940-2',
  example: {formula: '=WHEEL.STATICCOUPLE({20,0,20,180},{-80,200,80,200})', gives: [[0, 0, 640000, 180]]},
});

const named2 = ({static: s, couple}: {static: Vector; couple: Vector}) => ({
  static: s.amount,
  staticangle: s.angle,
  couple: couple.amount,
  coupleangle: couple.angle,
});

declare({
  name: 'TRANSFER',
  summary: 'The same correction by weights in other planes and at other radii.',
  notes: [CORRECTION],
  arguments: {
    planes: weights,
    fromPlanes: planes('the planes they are for'),
    toPlanes: planes('the planes that are to be used'),
  },
  parts: {
    inboard: part('inboard mass', 'as planes'),
    inboardangle: part('its angle', '°'),
    outboard: part('outboard mass', 'as planes'),
    outboardangle: part('its angle', '°'),
  },
  answer: ({planes, fromPlanes, toPlanes}) => sides(transfer(planes, fromPlanes, toPlanes)),
  working: async () => (await unbalanceWorking()).transferSteps,
  mathematics: 'The masses in the new planes with the same ΣU and the same Σz·U.',
  source: 'ISO 21940-2',
  example: {formula: '=WHEEL.TRANSFER({20,0,0,0},{0,200,100,200},{-50,200,50,200})', gives: [[10, 0, 10, 0]]},
});

const sides = ({inboard, outboard}: {inboard: Vector; outboard: Vector}) => ({
  inboard: inboard.amount,
  inboardangle: inboard.angle,
  outboard: outboard.amount,
  outboardangle: outboard.angle,
});

declare({
  name: 'ONEPLANE',
  summary: 'One weight only, for the static unbalance, and the couple that it leaves.',
  notes: [CORRECTION],
  arguments: {
    planes: weights,
    fromPlanes: planes('the planes they are for'),
    toPlane: plane('the plane of the one weight'),
  },
  parts: {
    amount: part('mass of the one weight', 'as planes'),
    angle: part('its angle', '°'),
    coupleleft: part('size of the couple that it leaves, Σ(z − z_c)·U', 'mass · length²'),
  },
  answer: ({planes, fromPlanes, toPlane}) => onePlane(planes, fromPlanes, toPlane),
  working: async () => (await unbalanceWorking()).onePlaneSteps,
  mathematics: 'ΣU ÷ radius; coupleleft = |Σ(z − z_c)·U|, z_c the position of the one weight.',
  source: 'ISO 21940-2',
  example: {formula: '=WHEEL.ONEPLANE({20,0,10,0},{-80,200,80,200},{0,200})', gives: [[30, 0, 160000]]},
});

declare({
  name: 'SPLIT',
  summary: 'One weight as two at given angles.',
  arguments: {vector: vector('the weight'), angleA: angle('angle of the first'), angleB: angle('angle of the second')},
  parts: {massa: part('mass at angleA', 'as vector'), massb: part('mass at angleB', 'as vector')},
  answer: ({vector, angleA, angleB}) => {
    const {massA, massB} = split(vector, angleA, angleB);
    return {massa: massA, massb: massB};
  },
  working: async () => (await unbalanceWorking()).splitSteps,
  mathematics: 'massa = m·sin(B − φ)/sin(B − A), massb = m·sin(φ − A)/sin(B − A).',
  source: 'sine rule',
  errors: ['#VALUE!: the angles are within 1° of one line, or a mass would be negative'],
  example: {formula: '=WHEEL.SPLIT({30,45},0,90)', gives: [[21.21320344, 21.21320344]]},
});

declare({
  name: 'SPOKES',
  summary: 'The weight hidden behind the two spokes either side of it, in stock masses if wanted.',
  notes: ['Give one number of evenly spaced spokes, or a range of the spokes’ angles for twin spokes and uneven ones.'],
  arguments: {
    vector: vector('the weight'),
    spokes: numbers('how many spokes, or their angles', {what: 'a number of spokes or an angle in degrees'}),
    firstAngle: optional(angle('angle of the first of evenly spaced spokes'), 0),
    step: optional(amount('step of the stock masses; 0 leaves them exact', 'a step'), 0),
  },
  parts: {
    anglea: part('angle of the spoke before', '°'),
    massa: part('mass behind it', 'as vector'),
    angleb: part('angle of the spoke after', '°'),
    massb: part('mass behind it', 'as vector'),
    left: part('what the two leave of the one', 'as vector'),
  },
  answer: ({vector, spokes, firstAngle, step}) => {
    const given = spokes.flat();
    const around = given.length === 1 ? evenSpokes(spokeCount(given[0]), firstAngle) : given;
    const {angleA, massA, angleB, massB, left} = behindSpokes(vector, around, step);
    return {anglea: angleA, massa: massA, angleb: angleB, massb: massB, left};
  },
  working: async () => (await spokeWorking()).spokesSteps,
  mathematics: 'SPLIT at the two spokes either side; with a step the two stock masses whose sum comes nearest.',
  source: 'sine rule; exact search',
  errors: ['#VALUE!: the spokes either side are less than 1° or more than 179° apart'],
  example: {formula: '=WHEEL.SPOKES({30,36},5)', gives: [[0, 18.54101966, 72, 18.54101966, 0]]},
});

function spokeCount(count: number): number {
  if (Number.isInteger(count) && count >= 3 && count <= 360) return count;
  throw invalid(`a whole number of spokes from 3 to 360 is wanted, or their angles, found ${count}`, 'spokes');
}

declare({
  name: 'STRIP',
  summary:
    'An adhesive strip bent along the rim acts as less than its mass: by how much, and how much to take instead.',
  arguments: {
    mass,
    massPerLength: positive('mass of the strip per length', 'a mass per length'),
    radius: positive('radius of the strip’s centroid', 'a radius'),
  },
  parts: {
    arc: part('arc that the strip spans', '°'),
    effective: part('mass as which it acts', 'as mass'),
    nominal: part(
      'mass of the strip that acts as `mass`',
      'as mass',
      'no strip of this kind acts as so much; take more than one row',
    ),
  },
  answer: ({mass, massPerLength, radius}) => strip(mass, massPerLength, radius),
  working: async () => (await unbalanceWorking()).stripSteps,
  mathematics:
    'arc α = mass/(massPerLength·radius); effective = mass·sin(α/2)/(α/2); nominal = 2·λ·r·asin(mass/(2·λ·r)).',
  source: 'centroid of an arc',
  errors: ['#VALUE!: the strip is longer than the circle', 'nominal is #N/A when mass exceeds 2·massPerLength·radius'],
  example: {formula: '=WHEEL.STRIP(60,0.25,200)', gives: [[68.75493542, 56.46424734, 64.35011088]]},
});

declareCell({
  name: 'STOCK',
  summary: 'A mass rounded to what is in stock.',
  arguments: {mass, step: stockStep, ignoreBelow: optional(amount('below this no weight is fitted', 'a mass'), 0)},
  gives: part('stock mass', 'as mass'),
  answer: ({mass, step, ignoreBelow}) => stock(mass, step, ignoreBelow),
  working: async () => (await unbalanceWorking()).stockSteps,
  mathematics: 'The nearest multiple of step, halves up with a slack of 1e-9; 0 below ignoreBelow.',
  source: 'common practice',
  errors: ['#VALUE!: the mass is more than 1E+9 steps'],
  example: {formula: '=WHEEL.STOCK(1.15,0.1)', gives: [[1.2]]},
});

declare({
  name: 'STOCKPAIR',
  summary: 'Two stock masses, moved a little along the rim, so that less is left than by rounding each plane alone.',
  notes: [
    CORRECTION,
    'Never worse than rounding each plane alone in static unbalance and in static² + (couple ÷ separation)²; in couple alone it may be.',
  ],
  arguments: {planes: weights, atPlanes: planes('the planes they are for'), step: stockStep},
  parts: {
    inboard: part('inboard stock mass', 'as planes'),
    inboardangle: part('its angle', '°'),
    outboard: part('outboard stock mass', 'as planes'),
    outboardangle: part('its angle', '°'),
    static: part('static unbalance left', 'mass · length'),
    couple: part('couple unbalance left', 'mass · length²'),
  },
  answer: ({planes, atPlanes, step}) => {
    const found = stockPair(planes, atPlanes, step);
    return {...sides(found), static: found.static, couple: found.couple};
  },
  working: async () => (await stockPairWorking()).stockPairSteps,
  mathematics:
    'e = fitted − required, U = mass·radius; static = |e₁ + e₂|, couple = |e₂ − e₁|·separation/2. Least static² + (couple ÷ separation)² over stock masses within two steps, 0 included, at free angles, subject to static ≤ that of rounding each plane alone. Equal: less total mass, less inboard, smaller shifts.',
  source: 'own derivation; terms of ISO 21940-2',
  errors: ['#VALUE!: a mass is more than 1E+9 steps'],
  example: {
    formula: '=WHEEL.STOCKPAIR({20,0,20,180},{-80,200,80,200},5)',
    gives: [[20, 0, 20, 180, 0, 0]],
  },
});

declare({
  name: 'RESIDUAL',
  summary: 'What is left when the weights really fitted are counted: still to add, as static and couple unbalance.',
  notes: [CORRECTION, 'One row of four cells is two vectors; list several weights with a row each.'],
  arguments: {
    required: twoVectors('correction masses required, inboard and outboard'),
    fitted: fittedWeights('weights really fitted'),
    atPlanes: planes('the planes of the required masses'),
  },
  parts: {
    static: part('static unbalance left', 'mass · length'),
    staticangle: part('its angle', '°'),
    couple: part('couple unbalance left, about the middle between the planes', 'mass · length²'),
    coupleangle: part('its angle', '°'),
  },
  answer: ({required, fitted, atPlanes}) =>
    named2(residual(required, 'anywhere' in fitted ? fitted.anywhere : inPlanes(fitted.inPlanes, atPlanes), atPlanes)),
  working: async () => (await unbalanceWorking()).residualSteps,
  mathematics: 'ΣU and Σ(z − z_mid)·U of required − fitted.',
  source: 'residual unbalance, ISO 21940-2',
  example: {formula: '=WHEEL.RESIDUAL({20,0,20,180},{15,0,20,180},{-80,200,80,200})', gives: [[1000, 0, 80000, 180]]},
});

const inPlanes = (vectors: Two<Vector>, at: Two<{position: number; radius: number}>): Fitted[] =>
  vectors.map((weight, i) => ({weight, ...at[i]}));

declareCell({
  name: 'TOLERANCE',
  summary: 'Permissible residual unbalance for a balance quality grade.',
  notes: ['Grade G 40, given for car wheels, is far looser than good shop practice: a ceiling, not a target.'],
  arguments: {
    grade: positive('balance quality grade G in mm/s', 'a grade'),
    mass: positive('mass of the assembly in kg or lb', 'a mass'),
    speed,
    circumference,
    units,
  },
  gives: part('permissible residual unbalance', 'g·mm or oz·in'),
  answer: ({grade, mass, speed, circumference, units}) =>
    permissibleUnbalance(grade, mass, speed, circumference, units),
  working: async () => (await spinWorking()).toleranceSteps,
  mathematics: 'U_per = 1000·G·m/Ω, Ω = 2π·speed ÷ circumference.',
  source: 'ISO 21940-11',
  example: {formula: '=WHEEL.TOLERANCE(40,20,130,1927.6)', gives: [[6796.513513]]},
});

declare({
  name: 'TOLERANCEPLANES',
  summary: 'The permissible unbalance shared between two planes.',
  arguments: {
    uper: amount('permissible residual unbalance', 'an unbalance'),
    positions: named('positions of the inboard and the outboard plane from the center of mass', {
      inboard: {what: 'a position'},
      outboard: {what: 'a position'},
    }),
  },
  parts: {
    inboard: part('share of the inboard plane', 'as uper'),
    outboard: part('share of the outboard plane', 'as uper'),
  },
  answer: ({uper, positions: [inboard, outboard]}) => {
    if (inboard === outboard) throw invalid(`two different positions are wanted, found ${inboard} twice`, 'positions');
    return allocate(uper, inboard, outboard);
  },
  working: async () => (await spinWorking()).tolerancePlanesSteps,
  mathematics: 'uper × the other plane’s distance ÷ separation, held to 0.3–0.7 of uper.',
  source: 'ISO 21940-11 (bounds from memory)',
  example: {formula: '=WHEEL.TOLERANCEPLANES(28800,{-1500,900})', gives: [[10800, 18000]]},
});

declareCell({
  name: 'FORCE',
  summary: 'Rotating force of an unbalanced mass at a road speed.',
  arguments: {
    mass: amount('mass in g or oz', 'a mass'),
    radius: positive('radius in mm or in', 'a radius'),
    speed,
    circumference,
    units,
  },
  gives: part('rotating force', 'N or lbf'),
  answer: ({mass, radius, speed, circumference, units}) => rotatingForce(mass, radius, speed, circumference, units),
  working: async () => (await spinWorking()).forceSteps,
  mathematics: 'mass·radius·Ω², Ω = 2π·speed ÷ circumference.',
  source: 'rotating force',
  example: {formula: '=WHEEL.FORCE(28.35,203.2,100,1927.6)', gives: [[47.22779471]]},
});

declare({
  name: 'TRIALWEIGHT',
  summary: 'What to fit, from one run without and one with a trial weight; the trial weight is taken off again.',
  arguments: {
    before: vector('vibration without the trial weight'),
    withTrial: vector('vibration with it'),
    trial: vector('the trial weight'),
  },
  parts: {amount: part('mass to fit', 'as trial'), angle: part('its angle', '°')},
  answer: ({before, withTrial, trial}) => trialWeight(before, withTrial, trial),
  working: async () => (await trialWorking()).trialWeightSteps,
  mathematics: '−before·trial ÷ (withTrial − before), as complex numbers.',
  source: 'single-plane influence coefficient, ISO 21940-2',
  errors: ['#N/A: the trial weight changed nothing', '#VALUE!: the trial weight is 0'],
  example: {formula: '=WHEEL.TRIALWEIGHT({4,0},{2,0},{10,0})', gives: [[20, 0]]},
});

declare({
  name: 'TRIALWEIGHT2',
  summary: 'What to fit in two planes, from one run without and one with a trial weight in each plane.',
  notes: ['Each trial weight is taken off before the next run.'],
  arguments: {
    before: twoVectors('vibration at both places without trial weights'),
    withTrial1: twoVectors('vibration with the trial weight in the first plane'),
    withTrial2: twoVectors('vibration with the trial weight in the second plane'),
    trials: twoVectors('the trial weights of the first and the second plane'),
  },
  parts: {
    amount1: part('mass to fit in the first plane', 'as trials'),
    angle1: part('its angle', '°'),
    amount2: part('mass to fit in the second plane', 'as trials'),
    angle2: part('its angle', '°'),
  },
  answer: ({before, withTrial1, withTrial2, trials}) => {
    const [one, two] = trialWeights(before, withTrial1, withTrial2, trials);
    return {amount1: one.amount, angle1: one.angle, amount2: two.amount, angle2: two.angle};
  },
  working: async () => (await trialWorking()).trialWeight2Steps,
  mathematics: 'αᵢⱼ = (withTrialⱼ − before)ᵢ ÷ trialⱼ; masses = −α⁻¹·before.',
  source: '2 × 2 complex influence coefficients, ISO 21940-2',
  errors: ['#N/A: the trials act alike on both planes', '#VALUE!: a trial weight is 0'],
  example: {
    formula: '=WHEEL.TRIALWEIGHT2({8.5,60,6.5,205},{6,125,4.5,230},{6,35,10.5,160},{10,270,12,180})',
    gives: [[10.0561387, 325.5548039, 5.877361663, 68.25593397]],
  },
});

declare({
  name: 'TRIALSWEEP',
  summary: 'What to fit when only the size of the vibration can be read: the trial weight at three or more angles.',
  notes: ['`before` is taken as exact. A large misfit says that the circles do not close: repeat the runs.'],
  arguments: {
    before: positive('size of the vibration without the trial weight', 'a size'),
    readings: numbers('size of the vibration at each trial angle', {what: 'a size', least: 0}),
    angles: numbers('angle of the trial weight at each run', {what: 'an angle in degrees'}),
    trialMass: positive('mass of the trial weight', 'a mass'),
  },
  parts: {
    amount: part('mass to fit', 'as trialMass'),
    angle: part('its angle', '°'),
    misfit: part('root mean square of what is left ÷ before', ''),
  },
  answer: ({before, readings, angles, trialMass}) => {
    const [sizes, at] = [readings.flat(), angles.flat()];
    if (at.length !== sizes.length)
      throw invalid(`${sizes.length} angles, one a reading, are wanted, found ${at.length}`, 'angles');
    return trialSweep(before, sizes, at, trialMass);
  },
  working: async () => (await trialWorking()).trialSweepSteps,
  mathematics:
    'Least Σ(reading − |before + effect·e^(i·angle)|)²; the correction cancels before; misfit = √(SSE/n) ÷ before.',
  source: 'four-run method; Levenberg–Marquardt from many starts',
  errors: [
    '#VALUE!: fewer than three distinct angles, or badly spread ones (condition number above 100)',
    '#N/A: the trial weight changed nothing',
  ],
  example: {
    formula: '=WHEEL.TRIALSWEEP(10,{7,12,18},{0,120,240},50)',
    gives: [[59.25861641, 41.66387763, 0.02624078787]],
  },
});
