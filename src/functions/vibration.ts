/** Vibration on the road: what turns at which frequency, and what a runout is worth in force and in weight. */
import {spinRateHz} from '../maths/spin';
import {equivalentMass, sources, wheelOrder} from '../maths/vibration';
import {unavailable} from '../maths/refusal';
import {part} from './answers';
import {amount, optional, positive} from './arguments';
import {family} from './declare';
import {circumference, speed, units} from './unbalance';

const {functions, declareCell, declareTable} = family('Vibration');
export const VIBRATION = functions;

const spinWorking = () => import(/* webpackChunkName: "working" */ './workings/spin');

const frequency = positive('frequency in Hz', 'a frequency');
const ESTIMATE = 'An estimate: stiffness differs with tire, pressure and load.';

declareCell({
  name: 'SPINRATE',
  summary: 'Turns a second of a wheel at a road speed.',
  arguments: {speed, circumference, units},
  gives: part('spin rate', 'Hz'),
  answer: ({speed, circumference, units}) => spinRateHz(speed, circumference, units),
  working: async () => (await spinWorking()).spinRateSteps,
  mathematics: 'speed ÷ circumference.',
  source: 'definition',
  example: {formula: '=WHEEL.SPINRATE(100,1927.6)', gives: [[14.41055083]]},
});

declareCell({
  name: 'ORDER',
  summary: 'Which order of the wheel a frequency is: once a turn, twice a turn and so on.',
  arguments: {frequency, speed, circumference, units},
  gives: part('order', ''),
  answer: ({frequency, speed, circumference, units}) => wheelOrder(frequency, speed, circumference, units),
  working: async () => (await spinWorking()).orderSteps,
  mathematics: 'frequency ÷ spin rate.',
  source: 'definition',
  example: {formula: '=WHEEL.ORDER(28.8,100,1927.6)', gives: [[1.99853568]]},
});

declareTable({
  name: 'SOURCES',
  summary: 'What turns at a frequency: orders of wheel, propeller shaft and engine that fit it, nearest first.',
  notes: [
    'A hint, not a proof: with so many orders a frequency drawn at random fits something often. Give what was measured on the road.',
  ],
  arguments: {
    frequency,
    speed,
    circumference,
    axleRatio: optional(
      positive('turns of the propeller shaft for one of the wheel', 'a ratio'),
      undefined,
      'no propeller shaft',
    ),
    engineRpm: optional(
      positive('turns of the engine a minute', 'a speed of the engine'),
      undefined,
      'engine left out',
    ),
    tolerance: optional(positive('how near, as a share of the source’s frequency', 'a tolerance'), 0.02),
    units,
  },
  parts: {
    source: part('what turns, and its order', ''),
    frequency: part('its frequency', 'Hz'),
    difference: part('frequency asked about less that of the source', 'Hz'),
  },
  answer: ({frequency, speed, circumference, axleRatio, engineRpm, tolerance, units}) => {
    const found = sources(frequency, spinRateHz(speed, circumference, units), {axleRatio, engineRpm}, tolerance);
    if (found.length === 0)
      throw unavailable('nothing that turns fits this frequency within the tolerance', 'frequency');
    return found;
  },
  working: async () => (await spinWorking()).sourcesSteps,
  mathematics:
    'Orders 1–4 of the wheel, 1–2 of the propeller shaft, 0.5–4 of the engine, with |frequency − source| ≤ tolerance·source, nearest first.',
  source: 'common practice',
  errors: ['#N/A: nothing fits'],
  example: {
    formula: '=WHEEL.SOURCES(28.9,100,1927.6,,1750)',
    gives: [
      ['wheel order 2', 28.82110166, 0.07889834],
      ['engine order 1', 29.16666667, -0.26666667],
    ],
  },
});

declareCell({
  name: 'RUNOUTFORCE',
  summary: 'Radial force variation that a runout makes, peak-to-peak.',
  notes: [ESTIMATE],
  arguments: {
    amount: amount('runout, peak-to-peak, in mm or in'),
    stiffness: positive('radial stiffness of the tire in N/mm or lbf/in', 'a stiffness'),
  },
  gives: part('radial force variation, peak-to-peak', 'N or lbf'),
  answer: ({amount, stiffness}) => stiffness * amount,
  working: async () => (await spinWorking()).runoutForceSteps,
  mathematics: 'stiffness × amount.',
  source: 'terms of ISO 13326; an estimate',
  example: {
    formula: '=WHEEL.RUNOUTFORCE(0.5,220)',
    gives: [[110]],
  },
});

declareCell({
  name: 'EQUIVALENT',
  summary: 'The weight whose rotating force is that of a runout at a road speed: what “round” is worth in “balanced”.',
  notes: [
    ESTIMATE,
    'The force of a runout does not grow with speed, that of a weight does: the equivalent holds for this speed alone.',
  ],
  arguments: {
    amount: amount('runout, peak-to-peak, in mm or in'),
    stiffness: positive('radial stiffness of the tire in N/mm or lbf/in', 'a stiffness'),
    radius: positive('radius of the weight in mm or in', 'a radius'),
    speed,
    circumference,
    units,
  },
  gives: part('equivalent mass', 'g or oz'),
  answer: ({amount, stiffness, radius, speed, circumference, units}) =>
    equivalentMass(amount, stiffness, radius, speed, circumference, units),
  working: async () => (await spinWorking()).equivalentSteps,
  mathematics: '(stiffness·amount/2) ÷ (radius·Ω²): zero to peak of the force against that of the weight.',
  source: 'force of a spring against rotating force',
  example: {formula: '=WHEEL.EQUIVALENT(0.5,220,203.2,100,1927.6)', gives: [[33.01551575]]},
});
