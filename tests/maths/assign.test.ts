/** Assignment against every permutation and against munkres-js; the prices prove each answer on their own. */
import munkres from 'munkres-js';
import {assign, type Assignment} from '../../src/maths/assign';
import {assignFew, FEW} from '../../src/maths/assignFew';
import {randomFrom} from '../support/random';

/** The cheapest assignment that comes first in the order of columns: all of them, in that order. */
function everyAssignment(cost: number[][]): number[] | undefined {
  const width = cost[0].length;
  const used = new Array<boolean>(width).fill(false);
  const current: number[] = [];
  let [least, best]: [number, number[] | undefined] = [Infinity, undefined];
  const next = (row: number, total: number): void => {
    if (row === cost.length) {
      if (total < least) [least, best] = [total, [...current]];
      return;
    }
    for (let j = 0; j < width; j++) {
      if (used[j] || cost[row][j] === Infinity) continue;
      used[j] = true;
      current.push(j);
      next(row + 1, total + cost[row][j]);
      current.pop();
      used[j] = false;
    }
  };
  next(0, 0);
  return best;
}

/** The columns by the general way; where there are few, the other way has to find the same. */
function assigned(cost: number[][]): number[] | undefined {
  const columns = assign(cost)?.columns;
  const width = (cost[0] ?? []).length;
  if (width <= FEW) {
    const table = new Float64Array(FEW * FEW).fill(-1);
    cost.forEach((row, i) => table.set(row, FEW * i));
    expect(assignFew(table, cost.length, width)).toEqual(columns);
  }
  return columns;
}

const totalOf = (cost: readonly number[][], columns: readonly number[]) =>
  columns.reduce((s, j, i) => s + cost[i][j], 0);

/** Row price + column price ≤ cost everywhere, equal on the chosen pairs; no column is paid, one left over costs nothing. */
function proved(cost: readonly number[][], {columns, rowPrices, columnPrices}: Assignment, slack = 1e-9): void {
  expect(rowPrices).toHaveLength(cost.length);
  expect(columnPrices).toHaveLength(cost[0].length);
  expect(new Set(columns).size).toBe(cost.length);
  cost.forEach((row, i) =>
    row.forEach((c, j) => {
      const over = rowPrices[i] + columnPrices[j] - c;
      if (over > slack) throw new Error(`row ${i}, column ${j}: prices exceed the cost by ${over}`);
      if (columns[i] === j && over < -slack) throw new Error(`row ${i}, column ${j}: chosen, but prices fall short`);
    }),
  );
  columnPrices.forEach((price, j) => {
    expect(price).toBeLessThanOrEqual(slack);
    if (!columns.includes(j)) expect(Math.abs(price)).toBeLessThanOrEqual(slack);
  });
}

test('by hand', () => {
  // Rows take columns 1, 0, 2: 3 + 2 + 1 = 6; the diagonal would cost 5 + 9 + 1.
  const found = assign([
    [5, 3, 9],
    [2, 9, 8],
    [9, 4, 1],
  ])!;
  expect(found.columns).toEqual([1, 0, 2]);
  expect([...found.rowPrices].concat([...found.columnPrices]).reduce((a, b) => a + b)).toBe(6);
});

test('no rows, one row', () => {
  expect(assigned([])).toEqual([]);
  expect(assigned([[4]])).toEqual([0]);
  expect(assigned([[4, 2, 2, 3]])).toEqual([1]);
  expect(assigned([[Infinity]])).toBeUndefined();
});

test.each([
  [
    'all alike',
    [
      [1, 1, 1],
      [1, 1, 1],
      [1, 1, 1],
    ],
    [0, 1, 2],
  ],
  [
    'the first row’s lowest column, though the others then move',
    [
      [0, 0, 9],
      [9, 0, 0],
      [0, 9, 0],
    ],
    [0, 1, 2],
  ],
  // 3 + 0 + 3 and 2 + 4 … : the first row may take column 1 only if the third gives it up for one that nobody holds.
  [
    'more columns than rows',
    [
      [4, 3, 2, 3],
      [Infinity, 2, 3, 0],
      [4, 4, 3, 3],
    ],
    [1, 3, 2],
  ],
  [
    'a column that must be held',
    [
      [2, 1, 5],
      [5, 1, 2],
    ],
    [0, 1],
  ],
  [
    'free columns',
    [
      [0, 0, 0, 0],
      [0, 0, 0, 0],
    ],
    [0, 1],
  ],
] as [string, number[][], number[]][])('of equally good ones the first in order: %s', (_, cost, wanted) => {
  expect(everyAssignment(cost)).toEqual(wanted);
  expect(assigned(cost)).toEqual(wanted);
});

test('every assignment of small whole costs, with ties, forbidden pairs and columns to spare', () => {
  const random = randomFrom(2024);
  let unsolvable = 0;
  for (let n = 0; n < 6000; n++) {
    const rows = 1 + Math.floor(random() * 5);
    const width = rows + Math.floor(random() * 3);
    const [most, barred] = [1 + Math.floor(random() * 5), n % 3 === 0 ? 0.35 : 0.05];
    const cost = Array.from({length: rows}, () =>
      Array.from({length: width}, () => (random() < barred ? Infinity : Math.floor(random() * most))),
    );
    const found = assign(cost);
    expect(assigned(cost)).toEqual(everyAssignment(cost));
    if (found === undefined) unsolvable++;
    else proved(cost, found);
  }
  expect(unsolvable).toBeGreaterThan(100);
});

test('six rows: every permutation', () => {
  const random = randomFrom(6);
  for (let n = 0; n < 60; n++) {
    const cost = Array.from({length: 6}, () => Array.from({length: 6 + (n % 2)}, () => Math.floor(random() * 4)));
    expect(assigned(cost)).toEqual(everyAssignment(cost));
  }
});

test('costs that are equal on paper but not in binary are equal', () => {
  const random = randomFrom(17);
  for (let n = 0; n < 1500; n++) {
    const rows = 2 + Math.floor(random() * 3);
    const whole = Array.from({length: rows}, () =>
      Array.from({length: rows + (n % 2)}, () => Math.floor(random() * 7)),
    );
    const tenths = whole.map((row) => row.map((c) => (c + 3) * 0.1 - 0.3));
    expect(assigned(tenths)).toEqual(everyAssignment(whole));
  }
});

test('equal means to a millionth of a millionth of the largest cost, 0.5 here', () => {
  // Straight costs d more than crossed, but comes first.
  const cost = (d: number) => [
    [d, 0, 0.3],
    [0, 0, 0.3],
    [0.5, 0.3, 0.1],
  ];
  expect(assigned(cost(0.4e-12))).toEqual([0, 1, 2]);
  expect(assigned(cost(0.6e-12))).toEqual([1, 0, 2]);
});

test('nothing works out when two rows have but one column between them', () => {
  const no = Infinity;
  expect(
    assigned([
      [1, no, no],
      [1, no, no],
      [1, 1, 1],
    ]),
  ).toBeUndefined();
  expect(
    assigned([
      [1, no, no],
      [no, no, 1],
      [1, 1, 1],
    ]),
  ).toEqual([0, 2, 1]);
  expect(
    assigned([
      [no, no],
      [1, 1],
    ]),
  ).toBeUndefined();
});

test('costs below 0 are costs as well', () => {
  expect(
    assigned([
      [-5, -1],
      [-6, -1],
    ]),
  ).toEqual([1, 0]);
});

test('40 × 40 as munkres-js assigns them', () => {
  const random = randomFrom(40);
  for (const most of [1000, 30]) {
    const cost = Array.from({length: 40}, () => Array.from({length: 40}, () => Math.floor(random() * most)));
    const found = assign(cost)!;
    const other = munkres(cost).map(([, column]) => column);
    expect(totalOf(cost, found.columns)).toBe(totalOf(cost, other));
    proved(cost, found);
  }
});

test('150 × 200: the prices prove it', () => {
  const random = randomFrom(150);
  const cost = Array.from({length: 150}, () => Array.from({length: 200}, () => random()));
  const found = assign(cost)!;
  proved(cost, found, 1e-12);
  const prices = [...found.rowPrices, ...found.columnPrices].reduce((a, b) => a + b);
  expect(totalOf(cost, found.columns)).toBeCloseTo(prices, 10);
});
