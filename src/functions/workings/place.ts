/** Working of PLACE: the order of wheels and positions, or the placing found and why none costs less. */
import {placeProof} from '../../maths/place';
import {upTo} from './fit';
import type {Steps} from './steps';

interface Given {
  readonly severities: number[][];
  readonly sensitivities: number[][];
  readonly tolerance: number;
  readonly allowed: boolean[][] | undefined;
  readonly row: number | undefined;
}

/** More pairs of wheel and position than this are not listed one by one. */
const MOST_LISTED = 15 * 15;

export function placeSteps(s: Steps, {severities, sensitivities, tolerance, allowed, row}: Given): void {
  const [wheels, positions] = [severities.flat(), sensitivities.flat()];
  s.input('ε', 'tolerance', 0, 'as severities', 'severities this close keep their row order')
    .rows('wheels', wheels.length)
    .columnConstant('wheels', 'i', upTo(wheels.length), 'wheel')
    .columnInput('wheels', 'S', 'severities', 'severity')
    .column('wheels', 'D', '-S', 'downward')
    .column('wheels', 'o', 'rank(D)', 'place in falling order')
    .rows('order', wheels.length)
    .columnConstant('order', 'k', upTo(wheels.length), 'place in falling order')
    .column('order', 'F', 'lookup(k, o, S)', 'severities in falling order')
    .column(
      'order',
      'W',
      'k == 1 ? F : (above(W, 0) - F > ε*(1 + 1E-9) ? F : above(W, 0))',
      'worst of those this close',
    )
    .column('wheels', 'G', 'lookup(o, k, W)', 'severity that counts')
    .rows('positions', positions.length)
    .columnConstant('positions', 'j', upTo(positions.length), 'position')
    .columnInput('positions', 'N', 'sensitivities', 'sensitivity', undefined, '');
  if (allowed === undefined) sortedSteps(s);
  else foundSteps(s, wheels, positions, tolerance, allowed);
  if (row === undefined) s.answerColumn('position', 'place', wheels.length);
  else s.answer('position', {part: 'place'}, row - 1);
}

function sortedSteps(s: Steps): void {
  s.column('wheels', 'E', '-G', 'downward')
    .column('wheels', 'w', 'rank(E)', 'worst first, equal ones in their order')
    .column('positions', 'n', 'rank(N)', 'least sensitive first')
    .column('wheels', 'position', 'lookup(w, n, j)', 'position of the wheel');
}

/** Where every allowed place costs at least the prices of its two, no placing costs less than all prices together. */
function foundSteps(
  s: Steps,
  wheels: readonly number[],
  positions: readonly number[],
  tolerance: number,
  allowed: readonly (readonly boolean[])[],
): void {
  const proof = placeProof(wheels, positions, tolerance, allowed);
  s.columnFound(
    'wheels',
    'position',
    proof.placing.map((position) => position + 1),
    'position of the wheel, found by exact assignment',
  )
    .columnFound('wheels', 'p', proof.wheelPrices, 'price of the wheel')
    .columnFound('positions', 'q', proof.positionPrices, 'price of the position')
    .column('wheels', 'c', 'G*lookup(position, j, N)', 'severity · sensitivity')
    .column('positions', 'taken', 'countwhere(position, j)', 'wheels there')
    .figure('total', 'sum(c)', {says: 'what all wheels cost'})
    .figure('bound', 'sum(p) + sum(q)', {says: 'all prices together'})
    .figure('rounding', '1E-9*(max(G)*max(N))', {says: 'differences up to this are rounding'});
  if (wheels.length * positions.length > MOST_LISTED) return;
  const pairs = wheels.flatMap((_, i) => positions.map((_p, j) => ({i, j})));
  s.rows('pairs', pairs.length)
    .columnConstant(
      'pairs',
      'a',
      pairs.map(({i}) => i + 1),
      'wheel',
    )
    .columnConstant(
      'pairs',
      'b',
      pairs.map(({j}) => j + 1),
      'position',
    )
    .columnInput('pairs', 'may', 'allowed', '1 where the wheel may go there', undefined, '')
    .column('pairs', 'mine', 'lookup(a, i, position) == b ? 1 : 0', '1 where it goes')
    .column(
      'pairs',
      'slack',
      'may == 1 ? lookup(a, i, G)*lookup(b, j, N) - lookup(a, i, p) - lookup(b, j, q) : 0',
      'cost less the prices of the two',
    )
    .figure(
      'proved',
      'min(slack) >= -rounding and max(q) <= rounding and max(taken) <= 1 and sum(mine*may) == max(i) and abs(total - bound) <= rounding ? 1 : 0',
      {says: '1 while the prices prove that no allowed placing costs less'},
    );
}
