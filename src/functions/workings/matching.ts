/** Workings of the match-mounting functions that need no search. */
import type {Vector} from '../../maths/vectors';
import {verify} from '../../maths/verify';
import {as} from './fit';
import {indexSteps} from './runout';
import {ROUNDING, type Steps} from './steps';
import {polarSteps, sumSteps, vectorSteps} from './vector';

export function differenceSteps(s: Steps): void {
  const whole = vectorSteps(s, 'A', 'α', 'whole');
  const known = vectorSteps(s, 'B', 'β', 'known');
  s.figure('whole', 'A + B', as('whole', 'sizes added up'));
  const rest = sumSteps(s, 'D', `${whole.x} - ${known.x}`, `${whole.y} - ${known.y}`, 'as whole', 'whole − known');
  polarSteps(s, rest, {
    amount: 'amount',
    angle: 'angle',
    unit: 'as whole',
    whole: 'whole',
    amountPart: 'amount',
    anglePart: 'angle',
  });
}

/** Rim R at ρ, tire T at τ. */
function rimAndTire(s: Steps): void {
  s.vector('R', 'ρ', 'rim').vector('T', 'τ', 'tire');
}

const BEST_TURN = 'R == 0 or T == 0 ? 0 : turned(180 + ρ - τ)';

export function matchSteps(s: Steps): void {
  rimAndTire(s);
  s.figure('turn', BEST_TURN, {
    unit: '°',
    says: 'the high point of the tire is brought opposite',
    part: 'turn',
    around: 360,
  })
    .figure('after', 'abs(R - T)', as('rim', 'the smaller is taken off the larger', 'after'))
    .figure('before', 'sqrt(greater((R - T)^2, R^2 + T^2 + 2*R*T*cosd(ρ - τ)))', as('rim', 'cosine rule', 'before'))
    .figure('gain', 'before - after', as('rim', 'what the turn is worth', 'gain'));
}

export const separateSteps = (s: Steps): void =>
  indexSteps(s, {turn: 'turned', sense: 1, stays: ['rim', 'rimangle'], turns: ['tire', 'tireangle']});

export function turnedSteps(s: Steps): void {
  const rim = vectorSteps(s, 'R', 'ρ', 'rim');
  s.vector('T', 'τ', 'tire');
  const measured = vectorSteps(s, 'M', 'μ', 'measured');
  s.figure('whole', 'R + M', as('rim', 'sizes added up'));
  const part = sumSteps(s, 'P', `${measured.x} - ${rim.x}`, `${measured.y} - ${rim.y}`, 'as rim', 'measured − rim');
  s.figure('P', `sqrt(${part.x}^2 + ${part.y}^2)`, as('rim', 'size of the tire’s part'))
    .figure('turn', `P <= ${ROUNDING}*whole or T == 0 ? none() : turned(direction(${part.x}, ${part.y}) - τ)`, {
      unit: '°',
      says: 'from where the tire’s part was to where it is',
      part: 'turn',
      around: 360,
      vanishing: {size: 'P', whole: 'whole'},
    })
    .figure('misfit', 'abs(P - T)', as('rim', 'departure in size', 'misfit'));
}

interface Verified {
  readonly predicted: {readonly vector: Vector; readonly rim: Vector};
  readonly plusPredicted: number;
  readonly measured: Vector;
  readonly plusMeasured: number;
  readonly limit: number;
}

export function verifySteps(s: Steps, given: Verified): void {
  const {vector, rim} = given.predicted;
  const {reason} = verify(vector, given.plusPredicted, given.measured, given.plusMeasured, given.limit, rim);
  const predicted = vectorSteps(s, 'A', 'α', 'predicted');
  if (s.cellCount('predicted') === 4) vectorSteps(s, 'R', 'ρ', 'predicted', 1, 'rim');
  else s.figure('R_x', '0', {says: 'no rim is given: it counts as true'}).figure('R_y', '0', {says: 'likewise'});
  const measured = vectorSteps(s, 'B', 'β', 'measured');
  s.input('p', 'plusPredicted', 0, 'as predicted', '95 % half-width of the prediction')
    .input('q', 'plusMeasured', 0, 'as predicted', '95 % half-width of the measurement')
    .input('L', 'limit', 0, 'as predicted', 'limit of the assembly')
    .figure('plus', 'sqrt(p^2 + q^2)', as('predicted', 'combined uncertainty'))
    .figure(
      'apart',
      `sqrt((${measured.x} - ${predicted.x})^2 + (${measured.y} - ${predicted.y})^2)`,
      as('predicted', 'size of measured − predicted'),
    )
    .figure('En', 'apart/plus', {says: 'difference ÷ combined uncertainty', part: 'En'});
  const tire = (v: {x: string; y: string}): string => `sqrt((${v.x} - R_x)^2 + (${v.y} - R_y)^2)`;
  s.figure('t_m', tire(measured), as('predicted', 'size of the tire’s part as measured'))
    .figure('t_p', tire(predicted), as('predicted', 'size of the tire’s part as predicted'))
    .figure('size', 'abs(t_m - t_p)', as('predicted', 'change in size of the tire’s part'))
    .figure('finding', 'En <= 1 ? "as predicted" : (size <= plus ? "turned wrong" : "seating or other")', {
      says: 'finding',
      part: 'finding',
    })
    .figure('met', 'B <= L ? 1 : 0', {says: '1 when the limit is met'})
    .found('reason', reason, '', 'the finding in a sentence', {part: 'reason'});
}

/** Share of a whole turn's cosine that is rounding, as the function has it. */
const EVERY = 1e-12;

export function turnWindowSteps(s: Steps): void {
  rimAndTire(s);
  s.input('L', 'limit', 0, 'as rim', 'limit of the assembly')
    .input('p', 'plusminus', 0, 'as rim', 'uncertainty to keep from the limit')
    .figure('turn', BEST_TURN, {unit: '°', says: 'best turn'})
    .figure('within', 'L - p', as('rim', 'limit less the uncertainty'))
    .figure('after', 'abs(R - T)', as('rim', 'what the best turn leaves'))
    .figure('share', `R == 0 or T == 0 ? 1 : greater(0, within^2 - after^2)/(4*R*T)`, {
      says: 'squared sine of half the turn that may be missed',
    })
    .figure('every', `share < 1 - ${EVERY} ? 0 : 1`, {says: '1 when every turn meets the limit'})
    .figure('half', 'every == 1 ? 180 : 2*asind(sqrt(share))', {
      unit: '°',
      says: 'by how much the best turn may be missed',
    })
    .figure('from', 'every == 1 ? 0 : turned(turn - half)', {
      unit: '°',
      says: 'first turn that meets the limit',
      part: 'from',
      around: 360,
    })
    .figure('to', 'every == 1 ? 360 : turned(turn + half)', {
      unit: '°',
      says: 'last turn that meets the limit',
      part: 'to',
      around: 360,
    })
    .figure('width', '2*half', {unit: '°', says: 'between the two', part: 'width'});
}

/** Two rows a spin, for its parts: a complex unknown is a pair of real columns, the second a quarter turn on. */
export function untangleSteps(s: Steps, {vectors}: {vectors: readonly Vector[]}): void {
  const n = vectors.length;
  const twice = <T>(of: (i: number) => T): T[] => vectors.flatMap((_, i) => [of(i), of(i)]);
  s.rows('spins', 2 * n)
    .columnInput(
      'spins',
      'A',
      'vectors',
      'amount of the spin, twice',
      twice((i) => 2 * i),
    )
    .columnInput(
      'spins',
      'α',
      'vectors',
      'its angle',
      twice((i) => 2 * i + 1),
      '°',
    )
    .columnInput(
      'spins',
      'τ',
      'tireTurns',
      'turn of the tire',
      twice((i) => i),
      '°',
    )
    .columnInput(
      'spins',
      'σ',
      'shaftTurns',
      'turn of the wheel on the shaft',
      twice((i) => i),
      '°',
    )
    .columnConstant(
      'spins',
      'h',
      vectors.flatMap(() => [0, 90]),
      'axis: 0 for x, 90 for y',
      '°',
    )
    .column('spins', 'z', 'A*cosd(α - h)', 'the spin along that axis', 'as vectors')
    .column('spins', 'r_1', 'cosd(h)', 'rim')
    .column('spins', 'r_2', 'cosd(90 - h)', 'rim, a quarter turn on')
    .column('spins', 't_1', 'cosd(τ - h)', 'tire')
    .column('spins', 't_2', 'cosd(τ + 90 - h)', 'tire, a quarter turn on')
    .column('spins', 'k_1', 'cosd(-σ - h)', 'clamping')
    .column('spins', 'k_2', 'cosd(90 - σ - h)', 'clamping, a quarter turn on')
    .block('spins', 'M', ['r_1', 'r_2', 't_1', 't_2', 'k_1', 'k_2'])
    .figure('whole', 'sum(A)', as('vectors', 'sizes added up'));
  ['rim', 'tire', 'clamping'].forEach((part, k) => {
    const name = 'RTK'[k];
    const found = sumSteps(
      s,
      name,
      `coefficient(${2 * k + 1}, z, M)`,
      `coefficient(${2 * k + 2}, z, M)`,
      'as vectors',
      `${part}, by least squares`,
    );
    polarSteps(s, found, {
      amount: part,
      angle: `${part}angle`,
      unit: 'as vectors',
      whole: 'whole',
      amountPart: part,
      anglePart: `${part}angle`,
    });
  });
  s.column(
    'spins',
    'e',
    'z - (R_x*r_1 + R_y*r_2 + T_x*t_1 + T_y*t_2 + K_x*k_1 + K_y*k_2)',
    'what the fit leaves',
    'as vectors',
  ).figure('misfit', `sqrt(sum(e^2)/${n})`, as('vectors', 'root mean square of what is left of the spins', 'misfit'));
}

export function markSteps(s: Steps): void {
  s.input('x', 'turn', 0, '°', 'turn of the tire')
    .input('D', 'diameter', 0, 'as diameter', 'diameter')
    .figure('t', 'turned(x)', {unit: '°', says: 'within one turn'})
    .figure('short', 't > 180 ? t - 360 : t', {unit: '°', says: 'the short way round'})
    .figure('mark', 'pi*D*short/360', as('diameter', 'length of the arc', 'mark'));
}

export function clockSteps(s: Steps): void {
  s.input('α', 'angle', 0, '°', 'angle from the valve hole')
    .input('c', 'clockwise', 0, '', '1 when angles increase clockwise')
    .figure('a', 'c == 1 ? turned(α) : turned(-α)', {unit: '°', says: 'clockwise from the valve hole'})
    .figure('q', 'floor(a/7.5 + 0.5 + 1E-9)', {says: 'quarter hours, halves up'})
    .figure('k', 'q - 48*floor(q/48)', {says: 'within twelve hours'})
    .figure('h', 'floor(k/4)', {says: 'hours'})
    .figure('clock', 'clocktext(h == 0 ? 12 : h, 15*(k - 4*h))', {says: 'clock face', part: 'clock'});
}
