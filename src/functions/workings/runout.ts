/** Workings of the runout functions. */
import {minimumZonePoints, type Method} from '../../maths/roundness';
import type {Angles, Readings} from '../../maths/readings';
import type {Vector} from '../../maths/vectors';
import {as, curveText, fitSteps, harmonicSteps, scatterSteps, spreadSteps, times, upTo} from './fit';
import {ROUNDING, type Steps} from './steps';
import {polarSteps, quotientSteps, sumSteps, vectorSteps} from './vector';

/** What a fit of readings is made from. */
interface Fitted {
  readonly readings: Readings;
  readonly angles: Angles | undefined;
}

export function tirSteps(s: Steps, {readings}: {readings: Readings}): void {
  s.rows('readings', readings.positions)
    .columnInput('readings', 'y', 'readings', 'readings')
    .figure('tir', 'max(y) - min(y)', as('readings', 'largest less smallest', 'tir'));
}

export function harmonicFunctionSteps(s: Steps, {readings, order, angles}: Fitted & {order: number}): void {
  const f = fitSteps(s, {readings, angles, order});
  harmonicSteps(s, f, order, 'amount', 'angle', {amount: 'amount', angle: 'angle'});
}

export function harmonicsSteps(s: Steps, {readings, maxOrder, angles}: Fitted & {maxOrder: number}): void {
  const f = fitSteps(s, {readings, angles, order: maxOrder});
  const orders = upTo(maxOrder);
  for (const k of orders) {
    s.figure(`k_${k}`, `${k}`, {says: 'order', part: 'order', row: k});
    harmonicSteps(s, f, k, `amount_${k}`, `angle_${k}`, {amount: 'amount', angle: 'angle', row: k});
  }
  scatterSteps(s, f);
  spreadSteps(s, f, 'Q', new Map(orders.map((k) => [k, times(k, `angle_${k}`)])), (k) => `g_${k}`);
  for (const k of orders) {
    s.figure(`plusminus_${k}`, `ν > 0 ? 2*t*σ*g_${k} : none()`, {
      ...as('readings', `95 % half-width of the amount of order ${k}`, 'plusminus'),
      row: k,
    });
  }
  s.figure('ȳ', 'sum(v)/n', as('readings', 'mean of the readings')).figure('S', 'sum((v - w*ȳ)^2)', {
    says: 'sum of squares about the mean',
  });
  for (const k of orders) {
    const wave = `a_${k}*cosd(${times(k, 'θ')}) + b_${k}*sind(${times(k, 'θ')})`;
    s.figure(`share_${k}`, `T > 0 ? sum((w*(${wave}))^2)/S : none()`, {
      says: `share of order ${k} in it`,
      part: 'share',
      row: k,
    });
  }
}

export function curveSteps(
  s: Steps,
  {readings, maxOrder, angles, at}: Fitted & {maxOrder: number; at: number[][] | undefined},
): void {
  const f = fitSteps(s, {readings, angles, order: maxOrder});
  if (at !== undefined) {
    const count = s.cellCount('at');
    s.rows('at', count).columnInput('at', 'x', 'at', 'angles asked for', undefined, '°');
    s.column('at', 'curve', curveText(f, 'x', maxOrder), 'fitted curve there', 'as readings');
    s.answerColumn('curve', 'curve', count);
    return;
  }
  // A reading that is missing may have no angle either, and then the curve has no value for it.
  const [angle, known] = angles === undefined ? ['θ', ''] : ['φ', 'isnumber(φ) == 1 ? '];
  const curve = curveText(f, angle, maxOrder);
  s.column(f.rows, 'curve', known === '' ? curve : `${known}${curve} : none()`, 'fitted curve', 'as readings');
  s.answerColumn('curve', 'curve', readings.positions);
}

export function closureSteps(s: Steps, {readings}: {readings: Readings}): void {
  turnSteps(s, readings);
  s.answer('drift', {part: 'drift'});
  s.figure('T', 'max(y) - min(y)', as('readings', 'TIR of all but the last')).figure(
    'share',
    'T > 0 ? drift/T : none()',
    {says: 'drift ÷ TIR', part: 'share'},
  );
}

export function closedSteps(s: Steps, {readings}: {readings: Readings}): void {
  turnSteps(s, readings);
  const n = readings.positions - 1;
  s.columnConstant('turn', 'i', upTo(n), 'position')
    .figure('n', 'max(i)', {says: 'positions of the turn'})
    .column(
      'turn',
      'closed',
      'present(y) == 1 ? y - drift*(i - 1)/n : ""',
      'reading less its part of the drift',
      'as readings',
    )
    .answerColumn('closed', 'closed', n);
}

/** All readings but the last as one turn, and by how much the last departs from the first. */
function turnSteps(s: Steps, readings: Readings): void {
  const last = readings.positions - 1;
  s.rows('turn', last)
    .columnInput(
      'turn',
      'y',
      'readings',
      'readings of the turn',
      upTo(last).map((i) => i - 1),
    )
    .input('y_1', 'readings', 0, 'as readings', 'first reading')
    .input('y_c', 'readings', last, 'as readings', 'closing reading')
    .figure('drift', 'y_c - y_1', as('readings', 'closing reading less the first'));
}

export function roundnessSteps(s: Steps, {readings, method, angles}: Fitted & {method: Method}): void {
  if (method === 'LS') leastSquaresCircle(s, readings, angles);
  else minimumZone(s, readings, angles);
}

function leastSquaresCircle(s: Steps, readings: Readings, angles: Angles | undefined): void {
  const f = fitSteps(s, {readings, angles, order: 1});
  deviationSteps(s, f.mean, f.cos(1), f.sin(1));
}

/** Departures from a circle, their range, and the circle's offset. */
function deviationSteps(s: Steps, mean: string, a: string, b: string): void {
  s.column(
    'readings',
    'd',
    `w == 1 ? v - (${mean} + ${a}*cosd(θ) + ${b}*sind(θ)) : ""`,
    'departure from the circle',
    'as readings',
  ).figure('deviation', 'max(d) - min(d)', as('readings', 'peak to valley about the circle', 'deviation'));
  polarSteps(
    s,
    {x: a, y: b},
    {
      amount: 'offset',
      angle: 'angle',
      unit: 'as readings',
      whole: 'Y',
      amountPart: 'offset',
      anglePart: 'angle',
      says: 'eccentricity of the circle',
    },
  );
}

/**
 * Four readings that depart by the same amount, alternately out and in, in the order of their angles: no circle has a
 * smaller largest departure when no other reading departs further.
 */
function minimumZone(s: Steps, readings: Readings, angles: Angles | undefined): void {
  const points = minimumZonePoints(readings, angles);
  s.rows('readings', readings.positions)
    .columnConstant('readings', 'i', upTo(readings.positions), 'position')
    .columnInput('readings', 'y', 'readings', 'reading')
    .column('readings', 'w', 'present(y)', '1 where a reading is there');
  if (angles === undefined) s.column('readings', 'θ', '360*(i - 1)/max(i)', 'even steps from 0°', '°');
  else {
    s.columnInput('readings', 'φ', 'angles', 'angle given', undefined, '°');
    s.column('readings', 'θ', 'w == 1 ? φ : 0', 'angle of a reading that is there', '°');
  }
  s.column('readings', 'v', 'w == 1 ? y : 0', 'reading, 0 where it is missing')
    .figure('T', 'max(y) - min(y)', as('readings', 'total indicator reading'))
    .figure('Y', 'greater(max(y), -min(y))', as('readings', 'largest reading by its size'))
    .rows('contact', points.length)
    .columnFound(
      'contact',
      'j',
      points.map((p) => p + 1),
      'position of a contact point',
    )
    .column('contact', 'z', 'lookup(j, i, v)', 'its reading', 'as readings')
    .column('contact', 'ψ', 'lookup(j, i, θ)', 'its angle', '°')
    .columnConstant(
      'contact',
      'u',
      points.map(() => 1),
      'for the mean',
    )
    .column('contact', 'p', 'cosd(ψ)')
    .column('contact', 'q', 'sind(ψ)');
  const columns = ['u', 'p', 'q'];
  if (points.length === 4) {
    s.columnConstant('contact', 'side', [1, -1, 1, -1], 'out, in, out, in');
    columns.push('side');
  }
  s.block('contact', 'C', columns);
  [
    ['m', 'mean of the circle'],
    ['a', 'its cosine part'],
    ['b', 'its sine part'],
  ].forEach(([symbol, says], k) => s.figure(symbol, `coefficient(${k + 1}, z, C)`, as('readings', says)));
  if (points.length === 4) s.figure('h', 'abs(coefficient(4, z, C))', as('readings', 'by how much the four depart'));
  else s.figure('h', '0', as('readings', 'three readings lie on a circle'));
  deviationSteps(s, 'm', 'a', 'b');
  s.figure('proved', `greater(max(d), -min(d)) <= h + ${ROUNDING}*T ? 1 : 0`, {
    says: '1 while no reading departs further than the four that depart alternately: then no circle does better',
  });
}

export function beadSeatsSteps(s: Steps, _: {inner: Vector; outer: Vector}): void {
  const inner = vectorSteps(s, 'A', 'α', 'inner');
  const outer = vectorSteps(s, 'B', 'β', 'outer');
  s.figure('whole', 'A + B', as('inner', 'sizes added up'));
  const mean = sumSteps(s, 'M', `(${inner.x} + ${outer.x})/2`, `(${inner.y} + ${outer.y})/2`, 'as inner', 'mean');
  polarSteps(s, mean, {
    amount: 'amount',
    angle: 'angle',
    unit: 'as inner',
    whole: 'whole',
    amountPart: 'amount',
    anglePart: 'angle',
  });
  const tilt = sumSteps(s, 'D', `${inner.x} - ${outer.x}`, `${inner.y} - ${outer.y}`, 'as inner', 'inner − outer');
  polarSteps(s, tilt, {
    amount: 'tilt',
    angle: 'tiltangle',
    unit: 'as inner',
    whole: 'whole',
    amountPart: 'tilt',
    anglePart: 'tiltangle',
  });
}

/** Names under which the two parts of an index measurement are answered. */
interface IndexNames {
  readonly turn: string;
  /** 1 when the part turns with the angle, −1 when against it. */
  readonly sense: 1 | -1;
  readonly stays: readonly [string, string];
  readonly turns: readonly [string, string];
}

/** Two measurements, something turned between them: what turned is their difference ÷ (e^(i·turn) − 1). */
export function indexSteps(s: Steps, {turn, sense, stays, turns}: IndexNames): void {
  const first = vectorSteps(s, 'A', 'α', 'first');
  const second = vectorSteps(s, 'B', 'β', 'second');
  s.input('τ', turn, 0, '°', 'turn between the two');
  const change = sumSteps(s, 'D', `${second.x} - ${first.x}`, `${second.y} - ${first.y}`, 'as first', 'second − first');
  const by = sumSteps(
    s,
    'q',
    'cosd(τ) - 1',
    sense === 1 ? 'sind(τ)' : '-sind(τ)',
    '',
    `e^(${sense === 1 ? '' : '−'}i·turn) − 1`,
  );
  const part = quotientSteps(s, 'P', change, by, 'as first', 'what turned');
  const rest = sumSteps(s, 'S', `${first.x} - ${part.x}`, `${first.y} - ${part.y}`, 'as first', 'what stayed');
  s.figure('whole', 'A + (A + B)/sqrt(q_x^2 + q_y^2)', as('first', 'sizes added up'));
  const [amount, angle] = stays;
  polarSteps(s, rest, {amount, angle, unit: 'as first', whole: 'whole', amountPart: amount, anglePart: angle});
  const [size, direction] = turns;
  polarSteps(s, part, {
    amount: size,
    angle: direction,
    unit: 'as first',
    whole: 'whole',
    amountPart: size,
    anglePart: direction,
  });
}

export const remountSteps = (s: Steps): void =>
  indexSteps(s, {turn: 'turn', sense: -1, stays: ['amount', 'angle'], turns: ['error', 'errorangle']});
