/** What is found once for a column is what looking through all its rows would find, and it is found once. */
import fc from 'fast-check';
import {math, columnKey, eachRow, evaluate, type Scope} from '../../src/working/engine';
import {countOf, firstRow, meanLike, ranks, sumWhere} from '../../src/working/groups';
import type {Node} from '../../src/working/nodes';

type Value = number | string;

const alike = (a: Value, b: Value): boolean =>
  typeof a === 'string' && typeof b === 'string' ? a.toLowerCase() === b.toLowerCase() : a === b;

const label = fc.constantFrom<Value>(1, 2, 0, -0, NaN, 'a', 'A', 'b', '1', '');
const rows = fc.array(fc.record({y: fc.double({noNaN: true, min: -1e6, max: 1e6}), g: label, h: label}), {
  minLength: 1,
});

test('rows by their values', () => {
  fc.assert(
    fc.property(rows, label, (list, wanted) => {
      const [y, g, h] = [list.map((row) => row.y), list.map((row) => row.g), list.map((row) => row.h)];
      const where = list.filter((row) => alike(row.g, wanted));
      const first = list.findIndex((row) => alike(row.g, wanted));
      expect(countOf(g, wanted)).toBe(where.length);
      expect(firstRow(g, wanted)).toBe(first < 0 ? undefined : first);
      expect(sumWhere(y, g, wanted)).toBe(where.reduce((sum, row) => sum + row.y, 0));
      list.forEach((row, here) => {
        const like = list.filter((other) => alike(other.g, row.g) && alike(other.h, row.h));
        const mean = like.reduce((sum, other) => sum + other.y, 0) / like.length;
        expect(meanLike(y, [g, h], here)).toBe(mean);
      });
    }),
    {seed: 5, numRuns: 300},
  );
});

test('ranks: upwards, the upper of two equal ones first; no rank for what is no number', () => {
  const number = fc.oneof(fc.constantFrom(0, -0, 1, 1, 2, NaN), fc.double());
  fc.assert(
    fc.property(fc.array(number), (values) => {
      values.forEach((value, here) => {
        const place = values.filter((other, i) => other < value || (other === value && i <= here)).length;
        expect(ranks(values)[here]).toBe(place);
      });
    }),
    {seed: 6, numRuns: 300},
  );
});

test('a list that has grown is looked at again', () => {
  const values: Value[] = ['a'];
  expect(countOf(values, 'A')).toBe(1);
  values.push('A');
  expect(countOf(values, 'a')).toBe(2);
});

test.each([
  '360*(i - 1)/max(i)',
  'i - min(i) + sum(i)',
  'i - meanby(i, g)',
  'countwhere(g, i)',
  'rank(i)',
  'lookup(i, g, i)',
])('the work of %s grows with the rows, not with their square', (expression) => {
  const read = (count: number): number => {
    let reads = 0;
    const counted = (values: number[]) =>
      new Proxy(values, {
        get: (of, key, receiver) => {
          if (typeof key === 'string' && /^\d+$/.test(key)) reads++;
          return Reflect.get(of, key, receiver) as unknown;
        },
      });
    const scope = new Map<string, unknown>([
      [columnKey('i'), {rows: 'readings', values: counted(Array.from({length: count}, (_, i) => i + 1))}],
      [columnKey('g'), {rows: 'readings', values: counted(Array.from({length: count}, (_, i) => (i % 7) + 1))}],
    ]);
    eachRow(scope as Scope, math.parse(expression) as unknown as Node, 'readings', count, []);
    return reads;
  };
  expect(read(2000)).toBeLessThan(2.5 * read(1000));
});

test('a sum over other rows is added up anew in each row', () => {
  const scope = new Map<string, unknown>([
    [columnKey('i'), {rows: 'readings', values: [1, 2, 3]}],
    [columnKey('k'), {rows: 'orders', values: [1, 10]}],
  ]);
  const worked = eachRow(scope as Scope, math.parse('sum(i*k) + sum(i)') as unknown as Node, 'readings', 3, []);
  expect(worked).toEqual([17, 28, 39]);
  expect(evaluate(math.parse('sum(k)') as unknown as Node, scope as Scope)).toBe(11);
});
