/** Workings of the functions on unbalance and correction weights that need no search. */
import {as} from './fit';
import type {Steps} from './steps';
import {polarSteps, sumSteps, twoVectorSteps} from './vector';

const MOMENT = 'mass · length';
const COUPLE = 'mass · length²';

/** A column of vectors: amounts A at α. */
function vectorColumns(s: Steps): number {
  const n = s.cellCount('vectors') / 2;
  const every = (first: number): number[] => Array.from({length: n}, (_, i) => 2 * i + first);
  s.rows('vectors', n)
    .columnInput('vectors', 'A', 'vectors', 'amount', every(0))
    .columnInput('vectors', 'α', 'vectors', 'angle', every(1), '°')
    .figure('whole', 'sum(A)', as('vectors', 'sizes added up'));
  return n;
}

export function resultantSteps(s: Steps): void {
  vectorColumns(s);
  const sum = sumSteps(s, 'S', 'sum(A*cosd(α))', 'sum(A*sind(α))', 'as vectors', 'sum');
  polarSteps(s, sum, {
    amount: 'amount',
    angle: 'angle',
    unit: 'as vectors',
    whole: 'whole',
    amountPart: 'amount',
    anglePart: 'angle',
  });
}

export function averageSteps(s: Steps): void {
  vectorColumns(s);
  s.figure('n', 'count(A)', {says: 'spins'});
  const mean = sumSteps(s, 'M', 'sum(A*cosd(α))/n', 'sum(A*sind(α))/n', 'as vectors', 'mean');
  polarSteps(s, mean, {
    amount: 'amount',
    angle: 'angle',
    unit: 'as vectors',
    whole: 'whole',
    amountPart: 'amount',
    anglePart: 'angle',
  });
  s.figure('Q', 'sum((A*cosd(α) - M_x)^2 + (A*sind(α) - M_y)^2)', {
    says: 'sum of squared distances from the mean',
  }).figure(
    'scatter',
    'n > 1 ? sqrt(Q/n*(0.05^(-1/(n - 1)) - 1)) : none()',
    as('vectors', 'radius of the 95 % confidence circle of the mean', 'scatter'),
  );
}

/** Planes of an argument: position z and radius r, the first with index 1. */
export function planesSteps(s: Steps, argument: string, position: string, radius: string): void {
  [1, 2].forEach((k) =>
    s
      .input(`${position}_${k}`, argument, 2 * k - 2, 'length', `${argument}: position ${k}`)
      .input(`${radius}_${k}`, argument, 2 * k - 1, 'length', `${argument}: radius ${k}`),
  );
}

/** Unbalances U of two weights of `argument` in the planes z, r of `planes`, with their sizes added up as `whole`. */
export function unbalanceSteps(s: Steps, argument: string, planes: string): void {
  twoVectorSteps(s, 'A', 'α', argument);
  planesSteps(s, planes, 'z', 'r');
  for (const k of [1, 2])
    sumSteps(
      s,
      `U_${k}`,
      `r_${k}*A_${k}*cosd(α_${k})`,
      `r_${k}*A_${k}*sind(α_${k})`,
      MOMENT,
      `unbalance in plane ${k}`,
    );
  s.figure('whole', 'r_1*A_1 + r_2*A_2', {unit: MOMENT, says: 'sizes added up'});
}

export function staticCoupleSteps(s: Steps): void {
  unbalanceSteps(s, 'planes', 'fromPlanes');
  middleSteps(s);
  staticAndCouple(
    s,
    ['U_1_x + U_2_x', 'U_1_y + U_2_y'],
    ['(z_1 - z_m)*U_1_x + (z_2 - z_m)*U_2_x', '(z_1 - z_m)*U_1_y + (z_2 - z_m)*U_2_y'],
  );
}

function middleSteps(s: Steps): void {
  s.figure('z_m', '(z_1 + z_2)/2', {unit: 'length', says: 'midway between the planes'}).figure(
    'wholec',
    'r_1*A_1*abs(z_1 - z_m) + r_2*A_2*abs(z_2 - z_m)',
    {unit: COUPLE, says: 'sizes of the moments added up'},
  );
}

type Pair = readonly [string, string];

function staticAndCouple(s: Steps, sum: Pair, moment: Pair, whole = 'whole', wholeCouple = 'wholec'): void {
  polarSteps(s, sumSteps(s, 'S', sum[0], sum[1], MOMENT, 'resultant'), {
    amount: 'static',
    angle: 'staticangle',
    unit: MOMENT,
    whole,
    amountPart: 'static',
    anglePart: 'staticangle',
  });
  polarSteps(s, sumSteps(s, 'C', moment[0], moment[1], COUPLE, 'moment about the middle'), {
    amount: 'couple',
    angle: 'coupleangle',
    unit: COUPLE,
    whole: wholeCouple,
    amountPart: 'couple',
    anglePart: 'coupleangle',
  });
}

export function transferSteps(s: Steps): void {
  unbalanceSteps(s, 'planes', 'fromPlanes');
  planesSteps(s, 'toPlanes', 'Z', 'Q');
  const far = '(abs(z_1 - Z_1) + abs(z_2 - Z_1) + abs(Z_2 - Z_1))/abs(Z_2 - Z_1)';
  s.figure('wholed', `(r_1*A_1 + r_2*A_2)*${far}`, {unit: MOMENT, says: 'sizes added up, with their levers'});
  const outboard = (axis: string): string => `((z_1 - Z_1)*U_1_${axis} + (z_2 - Z_1)*U_2_${axis})/(Z_2 - Z_1)`;
  const out = sumSteps(
    s,
    'O',
    outboard('x'),
    outboard('y'),
    MOMENT,
    'outboard, from the moment about the inboard plane',
  );
  const inboard = sumSteps(
    s,
    'I',
    'U_1_x + U_2_x - O_x',
    'U_1_y + U_2_y - O_y',
    MOMENT,
    'inboard: the rest of the resultant',
  );
  for (const [parts, name, k] of [
    [inboard, 'inboard', 1],
    [out, 'outboard', 2],
  ] as const) {
    s.figure(`wholem_${k}`, `wholed/Q_${k}`, as('planes', 'the same as a mass'));
    polarSteps(s, parts, {
      amount: name,
      angle: `${name}angle`,
      unit: 'as planes',
      whole: `wholem_${k}`,
      divided: `Q_${k}`,
      amountPart: name,
      anglePart: `${name}angle`,
    });
  }
}

export function onePlaneSteps(s: Steps): void {
  unbalanceSteps(s, 'planes', 'fromPlanes');
  s.input('z_c', 'toPlane', 0, 'length', 'position of the one weight')
    .input('r_c', 'toPlane', 1, 'length', 'its radius')
    .figure('wholem', 'whole/r_c', as('planes', 'sizes as a mass there'));
  polarSteps(s, sumSteps(s, 'S', 'U_1_x + U_2_x', 'U_1_y + U_2_y', MOMENT, 'resultant'), {
    amount: 'amount',
    angle: 'angle',
    unit: 'as planes',
    whole: 'wholem',
    divided: 'r_c',
    amountPart: 'amount',
    anglePart: 'angle',
  });
  const moment = (axis: string): string => `(z_1 - z_c)*U_1_${axis} + (z_2 - z_c)*U_2_${axis}`;
  sumSteps(s, 'C', moment('x'), moment('y'), COUPLE, 'moment about the weight’s plane');
  s.figure('coupleleft', 'sqrt(C_x^2 + C_y^2)', {unit: COUPLE, says: 'couple that it leaves', part: 'coupleleft'});
}

export function residualSteps(s: Steps): void {
  unbalanceSteps(s, 'required', 'atPlanes');
  const ownPlanes = s.cellCount('fitted') > 4;
  const n = ownPlanes ? s.cellCount('fitted') / 4 : 2;
  const every = (size: number, first: number): number[] => Array.from({length: n}, (_, i) => size * i + first);
  s.rows('fitted', n);
  s.columnInput('fitted', 'F', 'fitted', 'weight fitted', every(ownPlanes ? 4 : 2, 0))
    .columnInput('fitted', 'φ', 'fitted', 'its angle', every(ownPlanes ? 4 : 2, 1), '°')
    .columnInput(
      'fitted',
      'ζ',
      ownPlanes ? 'fitted' : 'atPlanes',
      'its position',
      ownPlanes ? every(4, 2) : every(2, 0),
      'length',
    )
    .columnInput(
      'fitted',
      'η',
      ownPlanes ? 'fitted' : 'atPlanes',
      'its radius',
      ownPlanes ? every(4, 3) : every(2, 1),
      'length',
    );
  middleSteps(s);
  s.figure('wholef', 'whole + sum(η*F)', {unit: MOMENT, says: 'sizes added up, those fitted included'}).figure(
    'wholeg',
    'wholec + sum(η*F*abs(ζ - z_m))',
    {unit: COUPLE, says: 'sizes of the moments added up, those fitted included'},
  );
  const sum = (axis: string, f: string): string => `U_1_${axis} + U_2_${axis} - sum(η*F*${f}(φ))`;
  const moment = (axis: string, f: string): string =>
    `(z_1 - z_m)*U_1_${axis} + (z_2 - z_m)*U_2_${axis} - sum((ζ - z_m)*η*F*${f}(φ))`;
  staticAndCouple(
    s,
    [sum('x', 'cosd'), sum('y', 'sind')],
    [moment('x', 'cosd'), moment('y', 'sind')],
    'wholef',
    'wholeg',
  );
}

export function splitSteps(s: Steps): void {
  s.vector('m', 'φ', 'vector')
    .input('A', 'angleA', 0, '°', 'angle of the first')
    .input('B', 'angleB', 0, '°', 'angle of the second')
    .figure('d', 'sind(B - A)', {says: 'sine of the angle between them'});
  for (const [name, sine] of [
    ['a', 'sind(B - φ)'],
    ['b', 'sind(φ - A)'],
  ]) {
    s.figure(`m_${name}`, `m*${sine}/d`, as('vector', 'sine rule')).figure(
      `mass${name}`,
      `abs(m_${name}) <= 1E-12*m ? 0 : m_${name}`,
      as('vector', `mass at angle${name.toUpperCase()}, without what is rounding`, `mass${name}`),
    );
  }
}

export function stripSteps(s: Steps): void {
  s.input('m', 'mass', 0, 'as mass', 'mass')
    .input('λ', 'massPerLength', 0, 'mass per length', 'mass per length')
    .input('r', 'radius', 0, 'length', 'radius of the centroid')
    .figure('α', 'm/(λ*r)', {unit: 'rad', says: 'arc that the strip spans'})
    .figure('arc', 'α*180/pi', {unit: '°', says: 'the same in degrees', part: 'arc'})
    .figure('effective', 'α == 0 ? 0 : m*sind(arc/2)/(α/2)', as('mass', 'centroid of an arc', 'effective'))
    .figure('most', '2*λ*r', as('mass', 'the most that a strip can act as'))
    .figure(
      'nominal',
      'm > most ? none() : most*asind(m/most)*pi/180',
      as('mass', 'strip that acts as the mass', 'nominal'),
    );
}

/** Slack with which halves are rounded up. */
const SLACK = '1E-9';

export function stockSteps(s: Steps): void {
  s.input('m', 'mass', 0, 'as mass', 'mass')
    .input('d', 'step', 0, 'as mass', 'step of the stock masses')
    .input('m_0', 'ignoreBelow', 0, 'as mass', 'below this no weight is fitted')
    .figure('k', `floor(m/d + 0.5 + ${SLACK})`, {says: 'steps, halves up'})
    .figure('stock', 'm < m_0 ? 0 : k*d', as('mass', 'stock mass', 'stock'));
}
