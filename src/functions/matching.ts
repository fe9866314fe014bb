/** Match mounting: turning the tire on the rim, and choosing which tire goes on which rim. */
import {clock} from '../maths/clock';
import {fit} from '../maths/harmonics';
import {arcLength, match, separate, turnDone, turnWindow} from '../maths/match';
import {matchAll} from '../maths/matchAll';
import {matchCurve} from '../maths/matchCurve';
import {invalid} from '../maths/refusal';
import {pair} from '../maths/pair';
import {untangle} from '../maths/untangle';
import {difference, type Vector} from '../maths/vectors';
import {verify} from '../maths/verify';
import {less} from '../maths/waves';
import {part} from './answers';
import {
  amount,
  angle,
  angles,
  choice,
  flag,
  named,
  numbers,
  optional,
  positive,
  readings,
  twoVectors,
  vector,
  vectorAndRim,
  vectors,
} from './arguments';
import {family} from './declare';
import {TOO_FEW, TOO_CLOSE, maxOrder} from './runout';

const {functions, declare, declareCell, declareTable} = family('Match mounting');
export const MATCHING = functions;

const matchAllWorking = () => import(/* webpackChunkName: "working" */ './workings/matchAll');
const matchCurveWorking = () => import(/* webpackChunkName: "working" */ './workings/matchCurve');
const matchingWorking = () => import(/* webpackChunkName: "working" */ './workings/matching');
const pairWorking = () => import(/* webpackChunkName: "working" */ './workings/pair');

const SIGN =
  'Readings grow as the surface moves away from the axle; a probe inside the rim barrel reads the other way, so enter its readings negated.';
const REMOUNT =
  'Turning a tire on its rim means demounting and inflating: by trained people, with the tire and rim makers’ instructions and local rules. Inspect bead and sensor, and balance again afterward.';

const rim = vector('rim runout, peak-to-peak, and its high point');
const tire = vector('tire runout, peak-to-peak, and its high point');
const TURN = 'turn of the tire on the rim, in numbering direction';

declare({
  name: 'DIFFERENCE',
  summary: 'One vector less another, as in tire = assembly − rim.',
  arguments: {whole: vector('the whole, such as the assembly'), known: vector('the known part, such as the rim')},
  parts: {amount: part('size of whole − known', 'as whole'), angle: part('its angle', '°')},
  answer: ({whole, known}) => difference(whole, known),
  working: async () => (await matchingWorking()).differenceSteps,
  mathematics: 'whole − known, as vectors.',
  source: 'vector difference',
  example: {formula: '=WHEEL.DIFFERENCE({1,0},{1,90})', gives: [[1.414213562, 315]]},
});

declare({
  name: 'MATCH',
  summary: 'Turn the tire on the rim so that its high point meets the rim’s low point.',
  notes: [SIGN, REMOUNT],
  arguments: {rim, tire},
  parts: {
    turn: part(TURN, '°'),
    after: part('runout of the assembly after the turn', 'as rim'),
    before: part('runout of the assembly as it is', 'as rim'),
    gain: part('before − after', 'as rim'),
  },
  answer: ({rim, tire}) => match(rim, tire),
  working: async () => (await matchingWorking()).matchSteps,
  mathematics:
    'turn = 180° + angle(rim) − angle(tire), after = |r − t|, before = |rim + tire|, gain = before − after; without runout of one part the turn is 0.',
  source: 'vector sum; the tire’s high point brought opposite the rim’s, as in the public summary of SAE J2133',
  example: {formula: '=WHEEL.MATCH({0.8,40},{0.6,100})', gives: [[120, 0.2, 1.216552506, 1.016552506]]},
});

declare({
  name: 'MATCHCURVE',
  summary:
    'The turn that serves the whole curve, not its first harmonic alone: least peak-to-peak of rim and tire together.',
  notes: [
    'Excel hands a blank cell over as 0: write IF(range="","",range).',
    SIGN,
    REMOUNT,
    'The curve is worked out on a grid of at least 360 points with parabolas at its extremes; the turn is found to 0.1°.',
  ],
  arguments: {
    rimReadings: readings('readings of the rim (mean of both bead seats)'),
    assemblyReadings: readings('readings of the assembly, at the same angles'),
    maxOrder,
    angles: optional(angles('rimReadings', 'assemblyReadings')),
  },
  parts: {
    turn: part(TURN, '°'),
    after: part('peak-to-peak of the curve after the turn', 'as rimReadings'),
    before: part('peak-to-peak of the curve as it is', 'as rimReadings'),
    worst: part('peak-to-peak at the worst turn', 'as rimReadings'),
  },
  answer: ({rimReadings, assemblyReadings, maxOrder, angles}) => {
    const rimWave = fit(rimReadings, maxOrder, angles);
    return matchCurve(rimWave, less(fit(assemblyReadings, maxOrder, angles), rimWave), maxOrder);
  },
  working: async () => (await matchCurveWorking()).matchCurveSteps,
  mathematics:
    'Least peak-to-peak, over 3,600 turns, of rim(θ) + tire(θ − turn), tire = assembly − rim, both fitted as HARMONIC does and used up to maxOrder. Equal turns: the shorter, then the positive one.',
  source: 'own search with bounds on slope and curvature; it skips turns only where they cannot be best or worst',
  errors: [TOO_FEW, TOO_CLOSE],
  example: {
    formula: '=WHEEL.MATCHCURVE({0.4,0.2,-0.2,-0.4,-0.2,0.2},{0.4,0.6,0.2,-0.4,-0.6,-0.2},2)',
    gives: [[90, 0.1237604307, 1.222020185, 1.723760431]],
  },
});

declare({
  name: 'MATCHALL',
  summary:
    'One turn that serves runout and unbalance together: the largest figure in relation to its limit becomes least.',
  notes: [
    REMOUNT,
    'A score up to 1 means that all limits are met; a turn that meets them is found whenever there is one.',
  ],
  arguments: {
    rimRunout: vector('runout of the rim'),
    tireRunout: vector('runout of the tire'),
    rimUnbalance: twoVectors('unbalance of the rim, inboard and outboard, at equal radii'),
    tireUnbalance: twoVectors('unbalance of the tire, inboard and outboard, at the same radii'),
    limits: named('limits of runout, static and couple', {
      runout: {what: 'a limit', above: 0},
      static: {what: 'a limit', above: 0},
      couple: {what: 'a limit', above: 0},
    }),
  },
  parts: {
    turn: part(TURN, '°'),
    runout: part('runout after the turn', 'as rimRunout'),
    static: part('static unbalance after the turn, inboard + outboard', 'as rimUnbalance'),
    couple: part('couple unbalance after the turn, half of outboard − inboard', 'as rimUnbalance'),
    score: part('the largest figure ÷ its limit', ''),
  },
  answer: ({rimRunout, tireRunout, rimUnbalance, tireUnbalance, limits}) =>
    matchAll(rimRunout, tireRunout, sides(rimUnbalance), sides(tireUnbalance), {
      runout: limits[0],
      static: limits[1],
      couple: limits[2],
    }),
  working: async () => (await matchAllWorking()).matchAllSteps,
  mathematics:
    'runout = |rim + tire·e^(i·turn)|, static = |inboard + outboard|, couple = ½·|outboard − inboard|, rim’s and turned tire’s together. Least of the largest figure ÷ limit, then of Σ(figure ÷ limit)², to 0.01°; equal: the shorter turn, then the positive one. Each squared figure is a level and one cosine, so the answer lies where one is least or two are equal.',
  source: 'own derivation; terms of ISO 21940-2',
  example: {
    formula: '=WHEEL.MATCHALL({0.5,0},{0.4,0},{10,0,10,0},{10,0,10,0},{0.5,20,10})',
    gives: [[180, 0.1, 0, 0, 0.2]],
  },
});

const sides = ([inboard, outboard]: readonly [Vector, Vector]) => ({inboard, outboard});

declare({
  name: 'SEPARATE',
  summary: 'Rim and tire from two measurements of the assembly, the tire turned on the rim between them.',
  notes: [REMOUNT],
  arguments: {
    first: vector('assembly, first measurement'),
    second: vector('assembly, second measurement'),
    turned: angle('by how much the tire was turned on the rim in between'),
  },
  parts: {
    rim: part('the rim’s part', 'as first'),
    rimangle: part('its angle', '°'),
    tire: part('the tire’s part in the first measurement', 'as first'),
    tireangle: part('its angle', '°'),
  },
  answer: ({first, second, turned}) => {
    const {rim, tire} = separate(first, second, turned);
    return {rim: rim.amount, rimangle: rim.angle, tire: tire.amount, tireangle: tire.angle};
  },
  working: async () => (await matchingWorking()).separateSteps,
  mathematics: 'tire = (second − first)/(e^(i·turned) − 1), rim = first − tire.',
  source: 'the principle of index balancing, ISO 21940-14',
  errors: ['#VALUE!: turned is within 1° of a whole turn'],
  example: {formula: '=WHEEL.SEPARATE({0.5,0},{0.3,0},180)', gives: [[0.4, 0, 0.1, 0]]},
});

declare({
  name: 'TURNED',
  summary: 'After a remount: by how much the tire was really turned.',
  arguments: {rim, tire, measured: vector('assembly as measured after the remount')},
  parts: {
    turn: part('turn of the tire that the measurement shows', '°', 'a part without runout shows no turn'),
    misfit: part('by how much the size of the tire’s part departs from the known one', 'as rim'),
  },
  answer: ({rim, tire, measured}) => turnDone(rim, tire, measured),
  working: async () => (await matchingWorking()).turnedSteps,
  mathematics: 'turn = angle(measured − rim) − angle(tire), misfit = ||measured − rim| − |tire||.',
  source: 'vector difference',
  errors: ['turn is #N/A when a part has no runout'],
  example: {formula: '=WHEEL.TURNED({0.8,40},{0.6,100},{0.2,40})', gives: [[120, 0]]},
});

declare({
  name: 'VERIFY',
  summary: 'After a remount: is the assembly as predicted, and if not, was it turned wrong or does it sit differently?',
  notes: [
    'Give the rim’s vector behind the predicted one (four cells) so that the tire’s part can be told apart; with two cells the rim counts as true.',
  ],
  arguments: {
    predicted: vectorAndRim('assembly as predicted, and behind it the rim'),
    plusPredicted: amount('95 % half-width of the prediction'),
    measured: vector('assembly as measured after the remount'),
    plusMeasured: amount('95 % half-width of the measurement'),
    limit: positive('limit of the assembly', 'a limit'),
  },
  parts: {
    finding: part('as predicted, turned wrong, or seating or other', ''),
    En: part('difference ÷ combined uncertainty', ''),
    reason: part('why, in a sentence', ''),
  },
  answer: ({predicted: {vector, rim}, plusPredicted, measured, plusMeasured, limit}) => {
    const {finding, en, reason} = verify(vector, plusPredicted, measured, plusMeasured, limit, rim);
    return {finding, En: en, reason};
  },
  working: async () => (await matchingWorking()).verifySteps,
  mathematics:
    'En = |measured − predicted| ÷ √(plusPredicted² + plusMeasured²). En ≤ 1: as predicted. Else turned wrong when |measured − rim| and |predicted − rim| differ by no more than the combined uncertainty; else seating or other.',
  source: 'normalized error of ISO 13528 (value from memory)',
  errors: ['#VALUE!: both uncertainties are 0'],
  example: {formula: '=WHEEL.VERIFY({0.2,40},0.06,{0.23,40},0.08,0.5,"En")', gives: [[0.3]]},
});

declare({
  name: 'TURNWINDOW',
  summary: 'All turns of the tire that meet a limit.',
  arguments: {
    rim,
    tire,
    limit: positive('limit of the assembly', 'a limit'),
    plusminus: optional(amount('uncertainty to keep from the limit'), 0),
  },
  parts: {
    from: part('first turn that meets the limit', '°'),
    to: part('last turn that meets the limit', '°'),
    width: part('how many degrees lie between', '°'),
  },
  answer: ({rim, tire, limit, plusminus}) => turnWindow(rim, tire, limit, plusminus),
  working: async () => (await matchingWorking()).turnWindowSteps,
  mathematics: 'best turn ± 2·asin √((L′² − (r − t)²)/(4·r·t)), L′ = limit − plusminus.',
  source: 'cosine rule',
  errors: ['#N/A: no turn meets the limit'],
  example: {
    formula: '=WHEEL.TURNWINDOW({0.5,0},{0.5,0},0.5)',
    gives: [[120, 240, 120]],
  },
});

declare({
  name: 'UNTANGLE',
  summary:
    'Rim, tire and clamping from three or more spins, the tire turned on the rim and the wheel on the shaft between.',
  arguments: {
    vectors: vectors('the spins'),
    tireTurns: numbers('turn of the tire on the rim at each spin', {what: 'an angle in degrees'}),
    shaftTurns: numbers('turn of the wheel on the shaft at each spin', {what: 'an angle in degrees'}),
  },
  parts: {
    rim: part('the rim’s part', 'as vectors'),
    rimangle: part('its angle', '°'),
    tire: part('the tire’s part', 'as vectors'),
    tireangle: part('its angle', '°'),
    clamping: part('the clamping’s part', 'as vectors'),
    clampingangle: part('its angle', '°'),
    misfit: part('root mean square of what is left of the spins', 'as vectors'),
  },
  answer: ({vectors, tireTurns, shaftTurns}) => {
    const [tires, shafts] = [tireTurns.flat(), shaftTurns.flat()];
    if (vectors.length < 3) throw invalid(`at least three spins are wanted, found ${vectors.length}`, 'vectors');
    for (const [list, name] of [
      [tires, 'tireTurns'],
      [shafts, 'shaftTurns'],
    ] as const) {
      if (list.length !== vectors.length)
        throw invalid(`${vectors.length} turns, one a spin, are wanted, found ${list.length}`, name);
    }
    const {rim, tire, clamping, misfit} = untangle(vectors, tires, shafts);
    return {
      rim: rim.amount,
      rimangle: rim.angle,
      tire: tire.amount,
      tireangle: tire.angle,
      clamping: clamping.amount,
      clampingangle: clamping.angle,
      misfit,
    };
  },
  working: async () => (await matchingWorking()).untangleSteps,
  mathematics:
    'Least squares of rim + tire·e^(iτ) + clamping·e^(−iσ) to the spins; misfit = root mean square of what is left.',
  source: 'extends index balancing (ISO 21940-14)',
  errors: ['#VALUE!: fewer than three spins, or turns that cannot tell the three apart (condition number above 100)'],
  example: {
    formula: '=WHEEL.UNTANGLE({1.5,0;0.5,0;0.9,0},{0;180;0},{0;0;180})',
    gives: [[0.7, 0, 0.5, 0, 0.3, 0, 0]],
  },
});

declareTable({
  name: 'PAIR',
  summary: 'Which tire on which rim at which turn, so that the worst assembly, or the total, is as good as it can be.',
  notes: [REMOUNT, 'Rims or tires may be left over; a tire left over has no rim.'],
  arguments: {
    rims: vectors('runout of the rims'),
    tires: vectors('runout of the tires'),
    goal: optional(choice('what is made least', ['worst', 'total']), 'worst'),
  },
  parts: {
    tire: part('number of the tire, from 1', ''),
    rim: part('number of the rim, from 1', '', 'this tire is left over'),
    turn: part(TURN, '°', 'this tire is left over'),
    after: part('runout of the assembly', 'as rims', 'this tire is left over'),
  },
  answer: ({rims, tires, goal}) =>
    pair(rims, tires, goal).map(({rim, turn, after}, i) => ({
      tire: i + 1,
      rim: rim === undefined ? undefined : rim + 1,
      turn,
      after,
    })),
  working: async () => (await pairWorking()).pairSteps,
  mathematics:
    'Cost of a pair |r − t|. total: least Σ by exact assignment. worst: the least limit under which all can be assigned, then the least Σ. Equal: the lower rim for the earlier tire.',
  source: 'Hungarian method (Kuhn 1955; Jonker and Volgenant 1987, values from memory)',
  errors: ['#VALUE!: more than 300 rims or tires'],
  example: {
    formula: '=WHEEL.PAIR({0.2,0;0.5,0},{0.5,90;0.3,0})',
    gives: [
      [1, 2, 90, 0],
      [2, 1, 180, 0.1],
    ],
  },
});

declareCell({
  name: 'MARK',
  summary: 'Length along a circle from the valve to where the tire’s chalk mark is brought, the short way round.',
  notes: ['Chalk the tire at the valve before demounting. + is in numbering direction; half a turn is +.'],
  arguments: {
    turn: angle('turn of the tire on the rim'),
    diameter: positive('diameter at which the length is measured', 'a diameter'),
  },
  gives: part('length along the circle', 'as diameter'),
  answer: ({turn, diameter}) => arcLength(turn, diameter),
  working: async () => (await matchingWorking()).markSteps,
  mathematics: 'π·diameter·turn/360 with the turn in (−180°, 180°].',
  source: 'length of an arc',
  example: {formula: '=WHEEL.MARK(270,400)', gives: [[-314.1592654]]},
});

declareCell({
  name: 'CLOCK',
  summary: 'An angle as a clock face seen from outboard, valve hole at 12, to the nearest quarter hour.',
  arguments: {
    angle: angle('angle from the valve hole'),
    clockwise: optional(flag('FALSE for shops that number counter-clockwise'), true),
  },
  gives: part('time on the clock face', ''),
  answer: ({angle, clockwise}) => clock(angle, clockwise),
  working: async () => (await matchingWorking()).clockSteps,
  mathematics: '30° an hour, to the nearest quarter, halves up.',
  source: 'clock face',
  example: {formula: '=WHEEL.CLOCK(135)', gives: [['4:30']]},
});
