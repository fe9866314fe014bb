/** Workings of the functions that find a correction from runs with trial weights. */
import {sweepPlaces} from '../../maths/trialSweep';
import {as} from './fit';
import type {Steps} from './steps';
import {partsSteps, polarSteps, productText, quotientSteps, sumSteps, twoVectorSteps, vectorSteps} from './vector';

export function trialWeightSteps(s: Steps): void {
  const before = vectorSteps(s, 'B', 'β', 'before');
  const after = vectorSteps(s, 'A', 'α', 'withTrial');
  const trial = vectorSteps(s, 'T', 'τ', 'trial');
  const effect = sumSteps(
    s,
    'E',
    `${after.x} - ${before.x}`,
    `${after.y} - ${before.y}`,
    'as before',
    'effect of the trial weight',
  );
  const product = productText(before, trial);
  const wanted = sumSteps(s, 'P', `-${product.x}`, `-${product.y}`, '', '−before·trial');
  const mass = quotientSteps(s, 'M', wanted, effect, 'as trial', 'mass to fit');
  s.figure('whole', 'T*B/sqrt(E_x^2 + E_y^2)', as('trial', 'size, to tell it from rounding'));
  polarSteps(s, mass, {
    amount: 'amount',
    angle: 'angle',
    unit: 'as trial',
    whole: 'whole',
    amountPart: 'amount',
    anglePart: 'angle',
  });
}

export function trialWeight2Steps(s: Steps): void {
  for (const [name, angle, argument] of [
    ['B', 'β', 'before'],
    ['P', 'φ', 'withTrial1'],
    ['Q', 'κ', 'withTrial2'],
    ['T', 'τ', 'trials'],
  ]) {
    twoVectorSteps(s, name, angle, argument);
    for (const k of [1, 2]) partsSteps(s, `${name}_${k}`, `${name}_${k}`, `${angle}_${k}`, `as ${argument}`);
  }
  // Influence of the trial in plane j on place i.
  for (const j of [1, 2]) {
    const run = j === 1 ? 'P' : 'Q';
    for (const i of [1, 2]) {
      const effect = sumSteps(
        s,
        `E_${i}${j}`,
        `${run}_${i}_x - B_${i}_x`,
        `${run}_${i}_y - B_${i}_y`,
        'as before',
        `effect of trial ${j} at place ${i}`,
      );
      quotientSteps(
        s,
        `a_${i}${j}`,
        effect,
        {x: `T_${j}_x`, y: `T_${j}_y`},
        '',
        `influence of plane ${j} on place ${i}`,
      );
    }
  }
  const at = (name: string) => ({x: `${name}_x`, y: `${name}_y`});
  const minus = (name: string, p: {x: string; y: string}, q: {x: string; y: string}, says: string) =>
    sumSteps(s, name, `${p.x} - ${q.x}`, `${p.y} - ${q.y}`, '', says);
  const main = productText(at('a_11'), at('a_22'));
  const side = productText(at('a_12'), at('a_21'));
  const determinant = minus('D', main, side, 'determinant');
  const size = (name: string): string => `sqrt(${name}_x^2 + ${name}_y^2)`;
  for (const [k, p, q] of [
    [1, productText(at('a_12'), at('B_2')), productText(at('a_22'), at('B_1'))],
    [2, productText(at('a_21'), at('B_1')), productText(at('a_11'), at('B_2'))],
  ] as const) {
    const above = minus(`N_${k}`, p, q, `plane ${k}: above the fraction line`);
    const mass = quotientSteps(s, `M_${k}`, above, determinant, 'as trials', `mass to fit in plane ${k}`);
    const [own, other] = k === 1 ? ['a_22', 'a_12'] : ['a_11', 'a_21'];
    const [near, far] = k === 1 ? ['B_1', 'B_2'] : ['B_2', 'B_1'];
    s.figure(
      `whole_${k}`,
      `(${size(own)}*${near} + ${size(other)}*${far})/${size('D')}`,
      as('trials', 'sizes added up'),
    );
    polarSteps(s, mass, {
      amount: `amount${k}`,
      angle: `angle${k}`,
      unit: 'as trials',
      whole: `whole_${k}`,
      amountPart: `amount${k}`,
      anglePart: `angle${k}`,
    });
  }
}

interface Sweep {
  readonly before: number;
  readonly readings: number[][];
  readonly angles: number[][];
}

/** The effect of the trial weight is found by descent; the figures follow from it, and nothing tried leaves less. */
export function trialSweepSteps(s: Steps, {before, readings, angles}: Sweep): void {
  const {best, others} = sweepPlaces(before, readings.flat(), angles.flat());
  const unit = 'as before';
  s.input('B', 'before', 0, unit, 'size without the trial weight')
    .input('m', 'trialMass', 0, 'as trialMass', 'mass of the trial weight')
    .found('w_x', best.x, unit, 'effect of the trial weight at 0°, found by descent; shown below')
    .found('w_y', best.y, unit, 'a quarter turn on')
    .rows('runs', readings.flat().length)
    .columnInput('runs', 'r', 'readings', 'size at each trial angle')
    .columnInput('runs', 'α', 'angles', 'trial angle', undefined, '°')
    .column('runs', 'z', sizeText('w_x', 'w_y'), 'size that the effect makes there', unit)
    .figure('Q', 'sum((r - z)^2)', {says: 'sum of squares of what is left'})
    .figure('W', 'sqrt(w_x^2 + w_y^2)', {unit, says: 'size of the effect'})
    .figure('amount', 'm*B/W', as('trialMass', 'mass whose effect is as large as before', 'amount'))
    .figure('angle', 'turned(180 - direction(w_x, w_y))', {
      unit: '°',
      says: 'where its effect is opposite',
      part: 'angle',
      around: 360,
    })
    .figure('n', 'count(r)', {says: 'runs'})
    .figure('misfit', 'sqrt(Q/n)/B', {says: 'root mean square of what is left ÷ before', part: 'misfit'});
  const near = [-0.001, 0, 0.001].flatMap((x) => [-0.001, 0, 0.001].map((y) => [x, y]));
  s.rows('beside', near.length)
    .columnConstant(
      'beside',
      'i',
      near.map(([x]) => x),
      'share of the effect to move by',
    )
    .columnConstant(
      'beside',
      'j',
      near.map(([, y]) => y),
      'a quarter turn on',
    )
    .column('beside', 'b_x', 'w_x + i*W', 'effect tried', unit)
    .column('beside', 'b_y', 'w_y + j*W', 'a quarter turn on', unit)
    .column('beside', 'Q_b', `sum((r - ${sizeText('b_x', 'b_y')})^2)`, 'what it leaves')
    .rows('around', others.length)
    .columnFound(
      'around',
      'a_x',
      others.map(({x}) => x),
      'effect tried, all around',
      unit,
    )
    .columnFound(
      'around',
      'a_y',
      others.map(({y}) => y),
      'a quarter turn on',
      unit,
    )
    .column('around', 'Q_a', `sum((r - ${sizeText('a_x', 'a_y')})^2)`, 'what it leaves')
    .figure('least', 'Q <= lesser(min(Q_b), min(Q_a)) + 1E-9*B^2 ? 1 : 0', {
      says: '1 while nothing tried nearby or all around leaves less',
    });
}

/** |before + effect·e^(i·angle)|. */
const sizeText = (x: string, y: string): string =>
  `sqrt((B + ${x}*cosd(α) - ${y}*sind(α))^2 + (${x}*sind(α) + ${y}*cosd(α))^2)`;
