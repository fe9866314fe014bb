/** Workings of the functions on shares: Wilson's interval, the comparison of two shares, shares by name. */
import {compare, groupRates} from '../../maths/proportions';
import {upTo} from './fit';
import type {Steps} from './steps';

/** Wilson's interval of k out of n at z, as expressions. */
function wilson(k: string, n: string, share: string) {
  const under = `(1 + z^2/${n})`;
  const middle = `(${share} + z^2/(2*${n}))/${under}`;
  const half = `z*sqrt(${share}*(1 - ${share})/${n} + z^2/(4*${n}^2))/${under}`;
  return {
    low: `${k} == 0 ? 0 : ${middle} - ${half}`,
    high: `${k} == ${n} ? 1 : ${middle} + ${half}`,
  };
}

function confidenceSteps(s: Steps): void {
  s.input('c', 'confidence', 0, '', 'confidence of the interval').figure('z', '-normalquantile((1 - c)/2)', {
    says: 'standard normal value that leaves (1 − c)/2 above it',
  });
}

export function proportionSteps(s: Steps): void {
  s.input('k', 'count', 0, '', 'how many were counted').input('n', 'total', 0, '', 'of how many');
  confidenceSteps(s);
  const {low, high} = wilson('k', 'n', 'share');
  s.figure('share', 'k/n', {says: 'share', part: 'share'})
    .figure('low', low, {says: 'low end of Wilson’s interval', part: 'low'})
    .figure('high', high, {says: 'high end', part: 'high'});
}

/** More tables than these are not listed one by one. */
const MOST_TABLES = 1000;

interface Compared {
  readonly count1: number;
  readonly total1: number;
  readonly count2: number;
  readonly total2: number;
}

export function compareSteps(s: Steps, {count1, total1, count2, total2}: Compared): void {
  s.figure('z', '-normalquantile(0.025)', {says: 'standard normal value that leaves 2.5 % above it'});
  for (const i of [1, 2]) {
    s.input(`k_${i}`, `count${i}`, 0, '', 'how many were counted').input(`n_${i}`, `total${i}`, 0, '', 'of how many');
    const {low, high} = wilson(`k_${i}`, `n_${i}`, `s_${i}`);
    s.figure(`s_${i}`, `k_${i}/n_${i}`, {says: `share ${i}`})
      .figure(`l_${i}`, low, {says: 'low end of its Wilson interval'})
      .figure(`h_${i}`, high, {says: 'high end of it'});
  }
  s.figure('difference', 's_1 - s_2', {says: 'share 1 − share 2', part: 'difference'})
    .figure('low', 'difference - sqrt((s_1 - l_1)^2 + (h_2 - s_2)^2)', {says: 'low end by Newcombe', part: 'low'})
    .figure('high', 'difference + sqrt((h_1 - s_1)^2 + (s_2 - l_2)^2)', {says: 'high end', part: 'high'})
    .figure('N', 'n_1 + n_2', {says: 'all'})
    .figure('K', 'k_1 + k_2', {says: 'all that were counted'});
  const [least, most] = [Math.max(0, count1 + count2 - total2), Math.min(count1 + count2, total1)];
  const tables = most - least + 1;
  if (tables > MOST_TABLES) {
    const {p} = compare(count1, total1, count2, total2);
    s.found('p', p, '', `sum over ${tables} tables with the same margins, too many to list`, {part: 'p'});
    return;
  }
  s.figure('found', 'hypergeometric(k_1, n_1, K, N)', {says: 'probability of this table if the shares are the same'})
    .figure('first', 'greater(0, K - n_2)', {says: 'fewest of the first that may be counted with these margins'})
    .figure('last', 'lesser(K, n_1)', {says: 'most of them'})
    .rows('tables', tables)
    .columnConstant('tables', 'i', upTo(tables), 'table')
    .column('tables', 'x', 'first + i - 1', 'counted of the first')
    .column('tables', 'h', 'x <= last ? hypergeometric(x, n_1, K, N) : 0', 'its probability')
    .column('tables', 'H', 'h <= found*(1 + 1E-7) ? h : 0', 'the same where it is no more probable than the one found')
    .figure('listed', 'last - first + 1 == max(i) ? 1 : 0', {says: '1 while all tables are listed'})
    .figure('p', 'lesser(1, sum(H))', {says: 'Fisher’s exact test, two-sided', part: 'p'});
}

interface Grouped {
  readonly names: readonly (string | undefined)[];
  readonly flags: readonly (boolean | undefined)[];
  readonly confidence: number;
  readonly minTotal: number;
}

/** The order and the spelling of the names are the function's; counts, shares and intervals are worked out. */
export function groupRateSteps(s: Steps, {names, flags, confidence, minTotal}: Grouped): void {
  const records = names.flatMap((name, i) =>
    name === undefined || flags[i] === undefined ? [] : [{name, flag: flags[i]}],
  );
  const found = groupRates(records, confidence, minTotal);
  confidenceSteps(s);
  s.input('m', 'minTotal', 0, '', 'groups with fewer records are left out')
    .rows('records', names.length)
    .columnInput('records', 'x', 'names', 'name', undefined, '')
    .columnInput('records', 'f', 'flags', '1 where the record counts', undefined, '')
    .column('records', 'N', 'trimmed(x)', 'name without outer blanks')
    .column('records', 'u', 'present(f) == 1 and textlength(N) > 0 ? 1 : 0', '1 for a record with name and flag')
    .column('records', 'F', 'u == 1 ? f : 0', '1 for one that counts')
    .column('records', 'g', 'u == 1 ? sumwhere(u, N, N) : 0', 'records of the same name')
    .rows('groups', found.length)
    .columnFound(
      'groups',
      'name',
      found.map(({name}) => name),
      'name, worst first',
    )
    .column('groups', 'k', 'sumwhere(F, N, name)', 'records that count')
    .column('groups', 'n', 'sumwhere(u, N, name)', 'records')
    .column('groups', 'share', 'k/n', 'share');
  const {low, high} = wilson('k', 'n', 'share');
  s.column('groups', 'low', low, 'low end of Wilson’s interval')
    .column('groups', 'high', high, 'high end')
    .column('groups', 'order', 'low <= above(low, 1) ? 1 : 0', '1 where the low end is no higher than the one above')
    .column('records', 'listed', 'g >= m ? countwhere(name, N)*u : 0', '1 for a record whose group is listed')
    .figure('complete', 'min(order) == 1 and sum(listed) == sum(n) and min(n) >= m ? 1 : 0', {
      says: '1 while all groups with enough records are listed, worst first',
    });
  for (const [symbol, part] of [
    ['name', 'name'],
    ['k', 'count'],
    ['n', 'total'],
    ['share', 'share'],
    ['low', 'low'],
    ['high', 'high'],
  ])
    s.answerColumn(symbol, part, found.length);
}
