/** Assessment of an assembly, and which wheel goes to which position. */
import {assess, readingsEnough} from '../maths/assess';
import {assessReadings} from '../maths/assessReadings';
import {place} from '../maths/place';
import {invalid} from '../maths/refusal';
import {part} from './answers';
import {amount, angles, count, flags, named, numbers, optional, positive, readings, vector} from './arguments';
import {family} from './declare';
import {FIT, FIT_SOURCE, TOO_FEW, TOO_CLOSE, maxOrder} from './runout';

const {functions, declare, declareArray, declareCell} = family('Assessment and placing');
export const PLACING = functions;

const assessWorking = () => import(/* webpackChunkName: "working" */ './workings/assess');
const placeWorking = () => import(/* webpackChunkName: "working" */ './workings/place');

const LIMIT = {what: 'a limit', above: 0};
const HALF_WIDTH = {what: 'a half-width', least: 0};

const FINDING = part('remeasure, accept, match mount, replace rim, replace tire or replace both', '');
const REASON = part('why, in a plain sentence', '');
const CAUTION =
  'Matching and replacing mean demounting and inflating: by trained people, with the makers’ instructions and local rules.';

declare({
  name: 'ASSESS',
  summary: 'What to do with an assembly: accept, measure again, turn the tire on the rim, or replace a part; and why.',
  notes: [CAUTION, 'Limits are the shop’s own and stand in cells; common practice differs by vehicle.'],
  arguments: {
    assembly: vector('runout of the assembly'),
    rim: vector('runout of the rim'),
    limits: named('limits of the assembly and of the rim', {assembly: LIMIT, rim: LIMIT}),
    plusminus: optional(
      named(
        '95 % half-width of the assembly’s runout; a second cell for that of what a match leaves',
        {assembly: HALF_WIDTH, after: HALF_WIDTH},
        1,
      ),
      [0],
      '0',
    ),
  },
  parts: {
    finding: FINDING,
    after: part('runout that the best match leaves', 'as assembly'),
    turn: part('turn of the tire for it', '°'),
    reason: REASON,
  },
  answer: ({assembly, rim, limits: [limit, rimLimit], plusminus: [plus, plusAfter = plus]}) =>
    assess(assembly, rim, {assembly: limit, rim: rimLimit}, {assembly: plus, after: plusAfter}),
  working: async () => (await assessWorking()).assessSteps,
  mathematics:
    'a, r, t: amounts of assembly, rim and tire = assembly − rim. In this order: remeasure if |a − L| < plusminus; accept if a ≤ L; match mount if |r − t| + plusminus ≤ L; else replace what exceeds its limit (rim L_r, tire L), or the larger of the two (equal: the tire).',
  source: 'own decision rule with the guard band of ISO 14253-1',
  example: {formula: '=WHEEL.ASSESS({0.9,70},{0.5,40},{0.5,0.4},0.05,"finding")', gives: [['match mount']]},
});

declare({
  name: 'ASSESSREADINGS',
  summary: 'The whole assessment of one wheel from its readings, in one call.',
  notes: [
    CAUTION,
    'Excel hands a blank cell over as 0: write IF(range="","",range).',
    'A reading grows as the surface moves away from the axle; enter those of a probe inside the rim barrel negated.',
    'With a third limit the whole fitted curve counts too: an oval or flat-spotted tire does not pass on its first harmonic alone. A match is then found by the curve, and after is what that turn leaves of the first harmonic.',
  ],
  arguments: {
    assembly: readings('readings of the assembly'),
    rimInner: readings('readings of the inboard bead seat'),
    rimOuter: readings('readings of the outboard bead seat'),
    limits: named(
      'limits of the assembly and of the rim, first harmonic, and if wanted of the assembly’s whole curve',
      {assembly: LIMIT, rim: LIMIT, total: LIMIT},
      2,
    ),
    maxOrder,
    angles: optional(angles('assembly', 'rimInner', 'rimOuter')),
  },
  parts: {
    finding: FINDING,
    assembly: part('first harmonic of the assembly, peak-to-peak', 'as assembly'),
    plusminus: part(
      'its 95 % half-width',
      'as assembly',
      'the fit uses up all readings and leaves none to judge its uncertainty by',
    ),
    rim: part('first harmonic of the rim, mean of the bead seats', 'as assembly'),
    tire: part('first harmonic of the tire, assembly − rim', 'as assembly'),
    after: part('runout that the best match leaves', 'as assembly'),
    plusafter: part(
      'its 95 % half-width',
      'as assembly',
      'the fit uses up all readings and leaves none to judge its uncertainty by',
    ),
    turn: part('turn of the tire for it', '°'),
    reason: REASON,
  },
  answer: ({assembly, rimInner, rimOuter, limits: [limit, rimLimit, total], maxOrder, angles}) =>
    assessReadings({assembly, rimInner, rimOuter}, {assembly: limit, rim: rimLimit, total}, maxOrder, angles),
  working: async () => (await assessWorking()).assessReadingsSteps,
  mathematics: `${FIT} rim = mean of both bead seats, tire = assembly − rim; ASSESS on the first harmonics with plusminus as in HARMONICS and plusafter = t·√(t̂ᵀC_a t̂ + (r̂ + t̂)ᵀC_r(r̂ + t̂)), C_r = (C_inner + C_outer)/4, fewest degrees of freedom. When the fitted assembly curve exceeds the third limit: match mount only if MATCHCURVE’s turn brings it within and leaves the first harmonic within, else the part with the larger curve of its own.`,
  source: `${FIT_SOURCE}; JCGM 100; guard band of ISO 14253-1`,
  errors: [TOO_FEW, TOO_CLOSE],
  example: {
    formula:
      '=WHEEL.ASSESSREADINGS({0.5,0.36,0,-0.35,-0.5,-0.36,0,0.35},{0.2,0.15,0,-0.14,-0.2,-0.14,0.01,0.14},{0.2,0.14,0,-0.14,-0.21,-0.14,0,0.14},{0.5,0.5},3,,"finding")',
    gives: [['match mount']],
  },
});

declareCell({
  name: 'ENOUGH',
  summary: 'How many readings are needed in all to decide between within and beyond the limit.',
  arguments: {
    amount: amount('amount found'),
    limit: positive('limit', 'a limit'),
    plusminus: amount('95 % half-width found', 'a half-width'),
    readings: count('readings it was found with', 1),
  },
  gives: part('readings needed in all', '', 'the amount lies on the limit: no number of readings decides'),
  answer: ({amount, limit, plusminus, readings}) => readingsEnough(amount, limit, plusminus, readings),
  working: async () => (await assessWorking()).enoughSteps,
  mathematics: '⌈readings·(plusminus ÷ (amount − limit))²⌉, at least readings.',
  source: 'a half-width shrinks with the square root of the number of readings',
  errors: ['#N/A: the amount lies on the limit'],
  example: {formula: '=WHEEL.ENOUGH(0.55,0.5,0.1,16)', gives: [[64]]},
});

declareArray({
  name: 'PLACE',
  summary: 'Which wheel goes to which position: the worst to the least sensitive.',
  notes: [
    'Positions count from 1 in the order of the sensitivities.',
    'Keep directional, staggered and handed tires where they belong: mark what is allowed with TRUE and FALSE.',
    'Wheel nuts: by the vehicle maker’s figure, checked again after the first drive.',
  ],
  arguments: {
    severities: numbers('how bad each wheel is', {what: 'a severity', least: 0}),
    sensitivities: numbers('how much the driver feels at each position', {what: 'a sensitivity', least: 0}),
    tolerance: optional(amount('severities this close keep their row order', 'a tolerance'), 0),
    allowed: optional(flags('wheels × positions, TRUE where a wheel may go'), undefined, 'every wheel everywhere'),
    row: optional(count('one wheel alone, by its number', 1)),
  },
  gives: part('position of each wheel, from 1', ''),
  answer: ({severities, sensitivities, tolerance, allowed, row}) => {
    const [wheels, positions] = [severities.flat(), sensitivities.flat()];
    if (allowed !== undefined && (allowed.length !== wheels.length || allowed[0].length !== positions.length)) {
      throw invalid(
        `${wheels.length} rows (wheels) × ${positions.length} columns (positions) are wanted, found ${allowed.length} × ${allowed[0].length}`,
        'allowed',
      );
    }
    if (row !== undefined && row > wheels.length) {
      throw invalid(`a whole number from 1 to ${wheels.length} is wanted, found ${row}`, 'row (row 1, column 1)');
    }
    const answer = place(wheels, positions, tolerance, allowed).map((position) => position + 1);
    if (row !== undefined) return [[answer[row - 1]]];
    return severities.length === 1 ? [answer] : answer.map((position) => [position]);
  },
  working: async () => (await placeWorking()).placeSteps,
  mathematics:
    'Severities downward against sensitivities upward; severities within tolerance of the worst not yet placed keep their row order. With a table of allowed places: least Σ severity·sensitivity by exact assignment.',
  source: 'sorting; Hungarian method (value from memory)',
  errors: [
    '#VALUE!: fewer positions than wheels, or a table of another size',
    '#N/A: no placing gives every wheel an allowed position',
  ],
  example: {formula: '=WHEEL.PLACE({0.2;0.5;0.3;0.1},{3;2;1;1})', gives: [[2], [3], [4], [1]]},
});
