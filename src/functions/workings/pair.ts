/** Working of PAIR: the pairing that was found, and why no other is better. */
import {pair, pairProof, type Goal} from '../../maths/pair';
import type {Vector} from '../../maths/vectors';
import {as, upTo} from './fit';
import type {Steps} from './steps';

interface Given {
  readonly rims: readonly Vector[];
  readonly tires: readonly Vector[];
  readonly goal: Goal;
}

/** More pairs than this are not listed one by one. */
const MOST_LISTED = 15 * 15;

export function pairSteps(s: Steps, {rims, tires, goal}: Given): void {
  const found = pair(rims, tires, goal);
  const proof = pairProof(rims, tires, goal);
  const vectors = (count: number, first: number): number[] => upTo(count).map((i) => 2 * (i - 1) + first);
  s.rows('rims', rims.length)
    .columnConstant('rims', 'j', upTo(rims.length), 'rim')
    .columnInput('rims', 'R', 'rims', 'runout of the rim', vectors(rims.length, 0))
    .columnInput('rims', 'ρ', 'rims', 'its high point', vectors(rims.length, 1), '°')
    .columnFound('rims', 'q', proof.rimPrices, 'price of the rim', 'as rims')
    .rows('tires', tires.length)
    .columnConstant('tires', 'i', upTo(tires.length), 'tire')
    .columnInput('tires', 'T', 'tires', 'runout of the tire', vectors(tires.length, 0))
    .columnInput('tires', 'τ', 'tires', 'its high point', vectors(tires.length, 1), '°')
    .columnFound(
      'tires',
      'k',
      found.map(({rim}) => (rim === undefined ? 0 : rim + 1)),
      'rim found for it, 0 for none',
    )
    .columnFound('tires', 'p', proof.tirePrices, 'price of the tire', 'as rims')
    .column('tires', 'rim', 'k == 0 ? none() : k', 'its rim')
    .column('tires', 'r', 'k == 0 ? 0 : lookup(k, j, R)', 'runout of its rim', 'as rims')
    .column('tires', 'c', 'k == 0 ? 0 : abs(r - T)', 'what the pair leaves; nothing for a tire left over', 'as rims')
    .column('tires', 'after', 'k == 0 ? none() : c', 'what the pair leaves', 'as rims')
    .column(
      'tires',
      'turn',
      'k == 0 ? none() : (r == 0 or T == 0 ? 0 : turned(180 + lookup(k, j, ρ) - τ))',
      'high point of the tire opposite that of the rim',
      '°',
    );
  const count = tires.length;
  s.answerColumn('i', 'tire', count).answerColumn('rim', 'rim', count);
  s.answerColumn('turn', 'turn', count, 360).answerColumn('after', 'after', count);

  s.figure('total', 'sum(c)', as('rims', 'what all pairs leave'))
    .figure('worst', 'max(c)', as('rims', 'what the worst pair leaves'))
    .figure('rounding', '1E-9*(max(R) + max(T))', as('rims', 'differences up to this are rounding'))
    .column('rims', 'taken', 'countwhere(k, j)', 'tires on this rim')
    .figure('bound', `sum(p) + sum(q)${sum(proof.sparePrices)}`, as('rims', 'all prices together'));
  if (goal === 'total') totalSteps(s, proof.sparePrices);
  else worstSteps(s, {rims, tires, goal}, proof);
}

/** Prices of the places for tires left over, as a number in the text. */
const sum = (prices: readonly number[]): string =>
  prices.length === 0 ? '' : ` - ${written(-prices.reduce((a, b) => a + b, 0))}`;
const written = (price: number): string => (price + 0).toPrecision(15);

/** A tire that may be left over has a place for it as well, at a cost of 0. */
const spareText = (prices: readonly number[]): string => written(-Math.max(...prices));

/**
 * Where every pair costs at least the prices of its two, and no rim's price is above 0, no pairing costs less than all
 * prices together.
 */
function totalSteps(s: Steps, sparePrices: readonly number[]): void {
  const rims = 'min(abs(R - T) - q)';
  const cheapest = sparePrices.length === 0 ? rims : `lesser(${rims}, ${spareText(sparePrices)})`;
  s.column(
    'tires',
    'slack',
    `${cheapest} - p`,
    'least cost of a pair with this tire, less the prices of the two',
    'as rims',
  );
  proved(s, 'least total');
}

function proved(s: Steps, what: string): void {
  s.figure(
    'proved',
    'min(slack) >= -rounding and max(q) <= rounding and max(taken) <= 1 and abs(total - bound) <= rounding ? 1 : 0',
    {says: `1 while the prices prove the ${what}`},
  );
}

/** Tires that have fewer rims to choose from below the worst than they are: one of them must be as bad as the worst. */
function worstSteps(s: Steps, {rims, tires}: Given, proof: ReturnType<typeof pairProof>): void {
  const spare = proof.sparePrices.length;
  s.columnFound('tires', 'm', proof.crowded.map(Number), '1 for a tire of the group that the worst cannot be kept from')
    .column(
      'rims',
      'near',
      'min(abs(R - T) + (1 - m)*1E9)',
      'what it leaves with the nearest tire of the group',
      'as rims',
    )
    .column(
      'rims',
      'free',
      'near < worst - rounding ? 1 : 0',
      '1 for a rim that stays below the worst with one of them',
    )
    .figure('choices', `sum(free) + ${spare}`, {
      says: spare > 0 ? 'rims to choose from, and places for tires left over' : 'rims to choose from',
    })
    .figure('group', 'sum(m)', {says: 'tires of the group'})
    .figure('provedworst', 'choices < group and max(taken) <= 1 ? 1 : 0', {
      says: '1 while there are too few: no pairing keeps all below the worst',
    });
  if (rims.length * tires.length > MOST_LISTED) return;
  const pairs = tires.flatMap((_, i) => rims.map((_r, j) => ({i, j})));
  s.rows('pairs', pairs.length)
    .columnConstant(
      'pairs',
      'a',
      pairs.map(({i}) => i + 1),
      'tire',
    )
    .columnConstant(
      'pairs',
      'b',
      pairs.map(({j}) => j + 1),
      'rim',
    )
    .column('pairs', 'cost', 'abs(lookup(a, i, T) - lookup(b, j, R))', 'what the pair leaves', 'as rims')
    .column(
      'pairs',
      'slack',
      'cost <= worst + rounding ? cost - lookup(a, i, p) - lookup(b, j, q) : 0',
      'less the prices of the two; pairs worse than the worst do not count',
      'as rims',
    );
  if (spare > 0) {
    s.column(
      'tires',
      'left',
      `${spareText(proof.sparePrices)} - p`,
      'being left over, less the prices',
      'as rims',
    ).figure('leftok', 'min(left) >= -rounding ? 1 : 0', {says: '1 while that costs no less than its prices'});
  }
  proved(s, 'least total among pairings no worse');
}
