/** Working of SPOKES: the two spokes either side, the exact masses, and in stock masses why no other two leave less. */
import {cosd, turned} from '../../maths/angles';
import {behindSpokes, evenSpokes} from '../../maths/split';
import type {Vector} from '../../maths/vectors';
import {as} from './fit';
import type {Steps} from './steps';

interface Given {
  readonly vector: Vector;
  readonly spokes: number[][];
  readonly firstAngle: number;
  readonly step: number;
}

interface Around {
  readonly vector: Vector;
  /** Angles of all spokes. */
  readonly around: readonly number[];
  readonly step: number;
}

export function spokesSteps(s: Steps, {vector, spokes, firstAngle, step}: Given): void {
  const given = spokes.flat();
  const around = given.length === 1 ? evenSpokes(given[0], firstAngle) : given;
  s.vector('m', 'φ', 'vector').figure('ψ', 'turned(φ)', {unit: '°', says: 'angle of the weight within the turn'});
  spokeColumn(s, around.length);
  s.column('spokes', 'back', 'a <= ψ ? ψ - a : ψ - a + 360', 'degrees from the spoke to the weight', '°')
    .column('spokes', 'ahead', 'a > ψ ? a - ψ : a - ψ + 360', 'degrees from the weight to the spoke', '°')
    .figure('anglea', 'lookup(min(back), back, a)', {unit: '°', says: 'spoke before', part: 'anglea', around: 360})
    .figure('angleb', 'lookup(min(ahead), ahead, a)', {unit: '°', says: 'spoke after', part: 'angleb', around: 360})
    .figure('gap', 'turned(angleb - anglea)', {unit: '°', says: 'between the two'});
  for (const [name, sine] of [
    ['a', 'sind(angleb - ψ)'],
    ['b', 'sind(ψ - anglea)'],
  ]) {
    const exact = `m*${sine}/sind(gap)`;
    s.figure(`m_${name}`, `abs(${exact}) <= 1E-12*m ? 0 : ${exact}`, as('vector', 'exact mass by the sine rule'));
  }
  if (step === 0) {
    s.figure('massa', 'm_a', as('vector', 'mass behind the spoke before', 'massa'))
      .figure('massb', 'm_b', as('vector', 'mass behind the spoke after', 'massb'))
      .figure('left', '0', as('vector', 'the two make up the one', 'left'));
    return;
  }
  stockSteps(s, {vector, around, step});
}

/** Angles of the spokes, from their number or as they are given. */
function spokeColumn(s: Steps, count: number): void {
  s.rows('spokes', count);
  if (s.cellCount('spokes') > 1) {
    s.columnInput('spokes', 'x', 'spokes', 'angle of the spoke', undefined, '°');
    s.column('spokes', 'a', 'turned(x)', 'within the turn', '°');
    return;
  }
  s.input('N', 'spokes', 0, '', 'how many spokes')
    .input('F', 'firstAngle', 0, '°', 'angle of the first')
    .columnConstant(
      'spokes',
      'j',
      Array.from({length: count}, (_, i) => i),
      'steps from the first',
    )
    .column('spokes', 'a', 'turned(F + 360*j/N)', 'angle of the spoke', '°');
}

/**
 * For a mass before that is off by d, the best mass after leaves at least d·sin(gap): outside a few masses before none
 * can do better than the two found, and for each of these the two masses after either side of the best are tried.
 */
function stockSteps(s: Steps, {vector, around, step}: Around): void {
  const exact = behindSpokes(vector, around, 0);
  const found = behindSpokes(vector, around, step);
  const reach = found.left / Math.sqrt(1 - cosd(turned(found.angleB - found.angleA)) ** 2);
  const first = Math.max(0, Math.ceil((exact.massA - reach) / step - 1e-9));
  const last = Math.floor((exact.massA + reach) / step + 1e-9);
  const tries = Array.from({length: 2 * (last - first + 1)}, (_, i) => first + Math.floor(i / 2));
  const leaves = (a: string, b: string): string => `sqrt(greater(0, ${a}^2 + ${b}^2 + 2*${a}*${b}*cosd(gap)))`;
  s.input('d', 'step', 0, 'as vector', 'step of the stock masses')
    .found('k_a', Math.round(found.massA / step), '', 'steps of the mass before, found by search; proved below')
    .found('k_b', Math.round(found.massB / step), '', 'steps of the mass after')
    .figure('massa', 'k_a*d', as('vector', 'mass behind the spoke before', 'massa'))
    .figure('massb', 'k_b*d', as('vector', 'mass behind the spoke after', 'massb'))
    .figure('o_a', 'massa - m_a', as('vector', 'off the exact mass'))
    .figure('o_b', 'massb - m_b', as('vector', 'off the exact mass'))
    .figure('left', leaves('o_a', 'o_b'), as('vector', 'what the two leave of the one', 'left'))
    .figure('reach', 'left/sind(gap)', as('vector', 'a mass before that is further off leaves more'))
    .rows('tries', tries.length)
    .columnFound('tries', 'k', tries, 'steps of the mass before')
    .columnConstant(
      'tries',
      'h',
      tries.map((_, i) => (i % 2 === 0 ? -0.5 : 0.5)),
      'side of the best mass after',
    )
    .column('tries', 'p', 'k*d - m_a', 'off the exact mass', 'as vector')
    .column(
      'tries',
      'q',
      'floor(greater(0, m_b - p*cosd(gap) + h*d)/d + 0.5 + 1E-9)*d - m_b',
      'the mass after, off the exact mass',
      'as vector',
    )
    .column('tries', 'l', leaves('p', 'q'), 'what the two leave', 'as vector')
    .figure('covered', '(min(k) == 0 or (min(k) - 1)*d < m_a - reach) and (max(k) + 1)*d > m_a + reach ? 1 : 0', {
      says: '1 while all masses before within reach are tried',
    })
    .figure('proved', 'covered == 1 and left <= min(l) + 1E-9*d ? 1 : 0', {
      says: '1 while no two stock masses can leave less',
    });
}
