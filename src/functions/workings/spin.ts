/** Workings of what depends on how fast the wheel turns: tolerance, force, and vibration on the road. */
import {spinRateHz} from '../../maths/spin';
import type {UnitSystem} from '../../maths/units';
import {sources, type Driveline} from '../../maths/vibration';
import {as, upTo} from './fit';
import type {Steps} from './steps';

/** Turns a wheel makes in a second, with the factors of the unit system. */
export function spinSteps(s: Steps): void {
  s.input('v', 'speed', 0, 'km/h or mph', 'road speed')
    .input('c', 'circumference', 0, 'mm or in', 'rolling circumference')
    .input('u', 'units', 0, '', 'units')
    .figure('us', 'same(u, "us") ? 1 : 0', {says: '1 for oz, in, mph, lb, lbf'})
    .figure('V', 'us == 1 ? v*1609.344/3600 : v/3.6', {unit: 'm/s', says: 'road speed'})
    .figure('C', 'us == 1 ? c*25.4/1000 : c/1000', {unit: 'm', says: 'rolling circumference'})
    .figure('f', 'V/C', {unit: 'Hz', says: 'turns a second'});
}

export const angularSteps = (s: Steps): void => {
  spinSteps(s);
  s.figure('Ω', '2*pi*f', {unit: 'rad/s', says: 'angular speed'});
};

export function toleranceSteps(s: Steps): void {
  s.input('G', 'grade', 0, 'mm/s', 'balance quality grade').input('m', 'mass', 0, 'kg or lb', 'mass of the assembly');
  angularSteps(s);
  s.figure('M', 'us == 1 ? m*0.45359237 : m', {unit: 'kg', says: 'mass of the assembly'})
    .figure('U', '1000*G*M/Ω', {unit: 'g·mm', says: 'permissible residual unbalance'})
    .figure('tolerance', 'us == 1 ? U/28.349523125/25.4 : U', {
      unit: 'g·mm or oz·in',
      says: 'in the units asked for',
      part: 'tolerance',
    });
}

export function tolerancePlanesSteps(s: Steps): void {
  s.input('U', 'uper', 0, 'as uper', 'permissible residual unbalance')
    .input('a', 'positions', 0, 'length', 'inboard plane from the center of mass')
    .input('b', 'positions', 1, 'length', 'outboard plane from the center of mass')
    .figure('p', 'b/(b - a)', {says: 'share of the inboard plane by the other plane’s distance'})
    .figure('q', 'a/(a - b)', {says: 'share of the outboard plane'})
    .figure('inboard', 'U*lesser(0.7, greater(0.3, p))', as('uper', 'held to 0.3–0.7', 'inboard'))
    .figure('outboard', 'U*lesser(0.7, greater(0.3, q))', as('uper', 'held to 0.3–0.7', 'outboard'));
}

/** Force of the mass m in g or oz at the radius r in mm or in, as the figure `symbol`. */
export function forceOf(s: Steps, symbol: string, mass: string, part?: string): void {
  s.figure('K', `us == 1 ? ${mass}*28.349523125*r*25.4/1E6 : ${mass}*r/1E6`, {unit: 'kg·m', says: 'mass · radius'})
    .figure('N', 'K*Ω^2', {unit: 'N', says: 'rotating force'})
    .figure(symbol, 'us == 1 ? N/4.4482216152605 : N', {unit: 'N or lbf', says: 'in the units asked for', part});
}

export function forceSteps(s: Steps): void {
  s.input('m', 'mass', 0, 'g or oz', 'mass').input('r', 'radius', 0, 'mm or in', 'radius');
  angularSteps(s);
  forceOf(s, 'force', 'm', 'force');
}

export function spinRateSteps(s: Steps): void {
  spinSteps(s);
  s.answer('f', {part: 'spinrate'});
}

export function orderSteps(s: Steps): void {
  s.input('F', 'frequency', 0, 'Hz', 'frequency');
  spinSteps(s);
  s.figure('order', 'F/f', {says: 'frequency ÷ turns a second', part: 'order'});
}

export function runoutForceSteps(s: Steps): void {
  s.input('a', 'amount', 0, 'mm or in', 'runout, peak-to-peak')
    .input('k', 'stiffness', 0, 'N/mm or lbf/in', 'radial stiffness')
    .figure('force', 'k*a', {unit: 'N or lbf', says: 'stiffness × runout', part: 'runoutforce'});
}

export function equivalentSteps(s: Steps): void {
  s.input('a', 'amount', 0, 'mm or in', 'runout, peak-to-peak')
    .input('k', 'stiffness', 0, 'N/mm or lbf/in', 'radial stiffness')
    .input('r', 'radius', 0, 'mm or in', 'radius of the weight');
  angularSteps(s);
  s.figure('F', 'k*a/2', {unit: 'N or lbf', says: 'force of the runout, zero to peak'});
  forceOf(s, 'P', '1');
  s.figure('equivalent', 'F/P', {unit: 'g or oz', says: 'by the force of one g or oz', part: 'equivalent'});
}

interface Asked extends Driveline {
  readonly frequency: number;
  readonly speed: number;
  readonly circumference: number;
  readonly tolerance: number;
  readonly units: UnitSystem;
}

/** All that turns, in one column; those that fit are ranked by their distance. */
export function sourcesSteps(s: Steps, given: Asked): void {
  const {frequency, tolerance, axleRatio, engineRpm} = given;
  const wheelHz = spinRateHz(given.speed, given.circumference, given.units);
  s.input('F', 'frequency', 0, 'Hz', 'frequency asked about').input('ε', 'tolerance', 0, '', 'how near, as a share');
  spinSteps(s);
  const groups: [string, string, number[]][] = [['wheel', 'f', [1, 2, 3, 4]]];
  if (axleRatio !== undefined) {
    s.input('g', 'axleRatio', 0, '', 'turns of the propeller shaft for one of the wheel');
    groups.push(['propeller shaft', 'g*f', [1, 2]]);
  }
  if (engineRpm !== undefined) {
    s.input('N', 'engineRpm', 0, '1/min', 'turns of the engine a minute');
    groups.push(['engine', 'N/60', [0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4]]);
  }
  const all = groups.flatMap(([name, , orders], group) => orders.map((order) => ({name, order, group})));
  const shares = groups.map(([name, rate], group) => {
    s.figure(`f_${group + 1}`, rate, {unit: 'Hz', says: `turns of the ${name} a second`});
    return `f_${group + 1}`;
  });
  const rate = shares
    .slice(0, -1)
    .reduceRight((rest, f, i) => `(kind == ${i + 1} ? ${f} : ${rest})`, shares[shares.length - 1]);
  s.rows('sources', all.length)
    .columnConstant(
      'sources',
      'name',
      all.map(({name, order}) => `${name} order ${order}`),
      'what turns',
    )
    .columnConstant(
      'sources',
      'k',
      all.map(({order}) => order),
      'order',
    )
    .columnConstant(
      'sources',
      'kind',
      all.map(({group}) => group + 1),
      '1 wheel, then what else was given',
    )
    .column('sources', 'h', `k*${rate}`, 'its frequency', 'Hz')
    .column('sources', 'd', 'F - h', 'difference', 'Hz')
    .column('sources', 'D', 'abs(d) <= ε*h ? abs(d) : 1E99', 'its size; those that do not fit come last', 'Hz')
    .column('sources', 'place', 'rank(D)', 'nearest first')
    .column('sources', 'fit', 'D < 1E99 ? 1 : 0', '1 where it fits')
    .figure('fits', 'sum(fit)', {says: 'how many fit'});
  const count = sources(frequency, wheelHz, {axleRatio, engineRpm}, tolerance).length;
  const found = (symbol: string, of: string, says: string, unit: string): Steps =>
    s.column('found', symbol, `i <= fits ? lookup(i, place, ${of}) : none()`, says, unit);
  s.rows('found', count).columnConstant('found', 'i', upTo(count), 'place');
  found('source', 'name', 'what turns', '').answerColumn('source', 'source', count);
  found('frequency', 'h', 'its frequency', 'Hz').answerColumn('frequency', 'frequency', count);
  found('difference', 'd', 'frequency asked about less that of the source', 'Hz').answerColumn(
    'difference',
    'difference',
    count,
  );
}
