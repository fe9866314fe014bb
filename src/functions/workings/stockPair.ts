/** Working of STOCKPAIR: the figures of the two weights that were found, and what other masses and angles leave. */
import type {Plane, Two} from '../../maths/planes';
import {stockPair, triedPairs} from '../../maths/stockPair';
import type {Vector} from '../../maths/vectors';
import {as} from './fit';
import type {Steps} from './steps';
import {unbalanceSteps} from './unbalance';

interface Given {
  readonly planes: Two<Vector>;
  readonly atPlanes: Two<Plane>;
  readonly step: number;
}

export function stockPairSteps(s: Steps, {planes, atPlanes, step}: Given): void {
  const {inboard, outboard} = stockPair(planes, atPlanes, step);
  const steps = (mass: number): number => Math.round(mass / step);
  unbalanceSteps(s, 'planes', 'atPlanes');
  s.input('d', 'step', 0, 'as planes', 'step of the stock masses');
  aloneSteps(s);
  for (const [k, name, {amount, angle}] of [
    [1, 'inboard', inboard],
    [2, 'outboard', outboard],
  ] as const) {
    s.found(`k_${k}`, steps(amount), '', `steps of the ${name} mass, found by search; shown below`)
      .figure(name, `k_${k}*d`, as('planes', `${name} stock mass`, name))
      .found(`${name}angle`, angle, '°', 'its angle, found by search; shown below', {
        part: `${name}angle`,
        around: 360,
        vanishing: {size: name, whole: `A_${k}`},
      })
      .figure(`e_${k}_x`, `r_${k}*${name}*cosd(${name}angle) - U_${k}_x`, {
        unit: 'mass · length',
        says: 'fitted − required',
      })
      .figure(`e_${k}_y`, `r_${k}*${name}*sind(${name}angle) - U_${k}_y`, {
        unit: 'mass · length',
        says: 'a quarter turn on',
      });
  }
  s.figure('static', 'sqrt((e_1_x + e_2_x)^2 + (e_1_y + e_2_y)^2)', {
    unit: 'mass · length',
    says: 'static unbalance left',
    part: 'static',
  })
    .figure('apart', 'sqrt((e_2_x - e_1_x)^2 + (e_2_y - e_1_y)^2)', {
      unit: 'mass · length',
      says: 'difference of the errors',
    })
    .figure('couple', 'apart*abs(z_2 - z_1)/2', {unit: 'mass · length²', says: 'couple unbalance left', part: 'couple'})
    .figure('O', 'static^2 + apart^2/4', {says: 'what is made least'})
    .figure('tie', `1E-9*O_a + (1E-9*whole)^2`, {says: 'differences up to this do not count'})
    .figure('kept', 'static <= static_a + 1E-9*whole and O <= O_a + tie ? 1 : 0', {
      says: '1 while it is no worse than rounding each plane alone',
    });
  besideSteps(s);
  pairsSteps(s, triedPairs(planes, atPlanes, step), steps);
}

/** Each plane rounded alone: the static that may not be exceeded. */
function aloneSteps(s: Steps): void {
  for (const k of [1, 2])
    s.figure(`n_${k}`, `floor(A_${k}/d + 0.5 + 1E-9)*d`, as('planes', `plane ${k} rounded alone`)).figure(
      `ε_${k}`,
      `r_${k}*(n_${k} - A_${k})`,
      {unit: 'mass · length', says: 'what that leaves in the plane'},
    );
  const size = (sign: string): string =>
    `sqrt((ε_1*cosd(α_1) ${sign} ε_2*cosd(α_2))^2 + (ε_1*sind(α_1) ${sign} ε_2*sind(α_2))^2)`;
  s.figure('static_a', size('+'), {unit: 'mass · length', says: 'static unbalance of rounding alone'}).figure(
    'O_a',
    `static_a^2 + (${size('-')})^2/4`,
    {says: 'static² + (couple ÷ separation)² of rounding alone'},
  );
}

/** Errors of two masses at two angles, as expressions. */
function errors(masses: readonly [string, string], angles: readonly [string, string]) {
  const part = (k: 0 | 1, f: string, axis: string): string =>
    `(r_${k + 1}*${masses[k]}*${f}(${angles[k]}) - U_${k + 1}_${axis})`;
  const [x1, y1, x2, y2] = [part(0, 'cosd', 'x'), part(0, 'sind', 'y'), part(1, 'cosd', 'x'), part(1, 'sind', 'y')];
  return {
    static: `sqrt((${x1} + ${x2})^2 + (${y1} + ${y2})^2)`,
    apart: `sqrt((${x2} - ${x1})^2 + (${y2} - ${y1})^2)`,
  };
}

/** The same masses, each a tenth of a degree either way. */
function besideSteps(s: Steps): void {
  const moves = [-0.1, 0, 0.1].flatMap((i) => [-0.1, 0, 0.1].map((j) => [i, j]));
  const e = errors(['inboard', 'outboard'], ['(inboardangle + i)', '(outboardangle + j)']);
  s.rows('beside', moves.length)
    .columnConstant(
      'beside',
      'i',
      moves.map(([i]) => i),
      'inboard angle moved by',
      '°',
    )
    .columnConstant(
      'beside',
      'j',
      moves.map(([, j]) => j),
      'outboard angle moved by',
      '°',
    )
    .column('beside', 'S_b', e.static, 'static there', 'mass · length')
    .column('beside', 'O_b', `S_b^2 + (${e.apart})^2/4`, 'what is made least')
    .column('beside', 'better_b', 'S_b <= static_a and O_b < O - tie ? 1 : 0', '1 where it would be better')
    .figure('least', 'sum(better_b) == 0 ? 1 : 0', {says: '1 while moving the weights by 0.1° does no better'});
}

/** All pairs of masses: the least that errors of their sizes can make, and what they leave at their best angles. */
function pairsSteps(s: Steps, tried: ReturnType<typeof triedPairs>, steps: (mass: number) => number): void {
  const e = errors(['μ_1*d', 'μ_2*d'], ['φ_1', 'φ_2']);
  const angles = (k: 0 | 1): number[] => tried.map((pair) => pair.angles?.[k] ?? NaN);
  const there = (expression: string, otherwise: string): string => `present(φ_1) == 1 ? ${expression} : ${otherwise}`;
  s.rows('pairs', tried.length)
    .columnFound(
      'pairs',
      'μ_1',
      tried.map(({masses}) => steps(masses[0])),
      'inboard steps',
    )
    .columnFound(
      'pairs',
      'μ_2',
      tried.map(({masses}) => steps(masses[1])),
      'outboard steps',
    )
    .column('pairs', 'p', 'abs(μ_1*d*r_1 - r_1*A_1)', 'least error inboard', 'mass · length')
    .column('pairs', 'q', 'abs(μ_2*d*r_2 - r_2*A_2)', 'least error outboard', 'mass · length')
    .column(
      'pairs',
      'floor_p',
      'lesser(p, q) < 0.6*greater(p, q) ? 0.8*greater(p, q)^2 : 1.25*(p^2 + q^2) - 1.5*p*q',
      'the least that such errors can make',
    )
    .columnFound(
      'pairs',
      'φ_1',
      angles(0),
      'inboard angle at which the pair does best; none where the static forbids all',
      '°',
    )
    .columnFound('pairs', 'φ_2', angles(1), 'outboard angle', '°')
    .column('pairs', 'S_p', there(e.static, '""'), 'static there', 'mass · length')
    .column('pairs', 'O_p', there(`S_p^2 + (${e.apart})^2/4`, '""'), 'what is made least')
    .column(
      'pairs',
      'better_p',
      there('(S_p <= static_a and O_p < O - tie ? 1 : 0)', '0'),
      '1 where it would be better',
    )
    .column('pairs', 'open', 'floor_p < O - tie ? 1 : 0', '1 for a pair whose sizes alone do not rule it out')
    .figure('searched', 'sum(open)', {says: 'pairs that only the search of their angles rules out, this one included'})
    .figure('best', 'sum(better_p) == 0 ? 1 : 0', {says: '1 while no pair does better at the angles found for it'});
}
