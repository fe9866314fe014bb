/** PAIR against every pairing, for both goals, with rims or tires left over. Amounts are whole hundredths, so ties are exact. */
import {pair, pairProof, type Goal} from '../../src/maths/pair';
import {match} from '../../src/maths/match';
import {randomFrom} from '../support/random';
import {at, refused} from '../support/polar';

/** Best pairing of whole amounts; of equal ones the first: lower rim for the earlier tire, "left over" last. */
function everyPairing(rims: number[], tires: number[], goal: Goal): (number | undefined)[] {
  const spare = Math.max(0, tires.length - rims.length);
  const used = rims.map(() => false);
  const current: (number | undefined)[] = [];
  let best: {key: number[]; rims: (number | undefined)[]} | undefined;
  const next = (left: number): void => {
    const tire = current.length;
    if (tire === tires.length) {
      const costs = current.map((rim, i) => (rim === undefined ? 0 : Math.abs(rims[rim] - tires[i])));
      const total = costs.reduce((a, b) => a + b, 0);
      const key = goal === 'worst' ? [Math.max(...costs), total] : [total];
      const unlike = best === undefined ? -1 : key.findIndex((k, i) => k !== best!.key[i]);
      if (best === undefined || (unlike >= 0 && key[unlike] < best.key[unlike])) best = {key, rims: [...current]};
      return;
    }
    for (let rim = 0; rim < rims.length; rim++) {
      if (used[rim]) continue;
      used[rim] = true;
      current.push(rim);
      next(left);
      current.pop();
      used[rim] = false;
    }
    if (left > 0) {
      current.push(undefined);
      next(left - 1);
      current.pop();
    }
  };
  next(spare);
  return best!.rims;
}

const NO_RIM = {rim: undefined, turn: undefined, after: undefined};

test('by hand: rims 0.2 and 0.5, tires 0.5 at 90° and 0.3', () => {
  // Straight: 0.3 and 0.2; crossed: 0 and 0.1. Turns 180 + 0 − 90 and 180.
  const [first, second] = pair([at(0.2), at(0.5)], [at(0.5, 90), at(0.3)], 'worst');
  expect(first).toEqual({rim: 1, turn: 90, after: 0});
  expect(second).toMatchObject({rim: 0, turn: 180});
  expect(second.after).toBeCloseTo(0.1, 15);
});

test('the goals differ', () => {
  // In hundredths: 10→12 and 12→17 leave 2 + 5, 10→4 and 12→12 leave 6 + 0.
  const [rims, tires] = [
    [at(0.04), at(0.12), at(0.17)],
    [at(0.1), at(0.12)],
  ];
  expect(pair(rims, tires, 'worst').map(({rim}) => rim)).toEqual([1, 2]);
  expect(pair(rims, tires, 'total').map(({rim}) => rim)).toEqual([0, 1]);
});

test('a tire left over has no rim, a rim left over is not mentioned', () => {
  const [rims, tires] = [[at(0.5, 10)], [at(0.75, 50), at(0.5, 20), at(0.25, 0)]];
  for (const goal of ['worst', 'total'] as const) {
    expect(pair(rims, tires, goal)).toStrictEqual([NO_RIM, {rim: 0, turn: 170, after: 0}, NO_RIM]);
    expect(pair(tires, rims, goal)).toEqual([{rim: 1, turn: 190, after: 0}]);
  }
});

test('equal pairings: the lower rim for the earlier tire, and the earlier tire gets a rim', () => {
  expect(pair([at(1), at(1), at(1)], [at(2), at(2)], 'worst').map(({rim}) => rim)).toEqual([0, 1]);
  expect(pair([at(1)], [at(2), at(0), at(2)], 'total').map(({rim}) => rim)).toEqual([0, undefined, undefined]);
});

test('a worst pair that is equal but for rounding does not cost the total', () => {
  // In tenths: 6→4, 6→6, 5→4 and 7→11 leave 4 at worst and 7 in all. 5→1 is as bad as 7→11, but with it 9 are left in
  // all; in binary 0.5 − 0.1 is the smaller by rounding.
  const [rims, tires] = [
    [1, 4, 4, 11, 6],
    [6, 6, 5, 7],
  ];
  const tenths = (list: number[]) => list.map((n) => at(n / 10));
  const found = pair(tenths(rims), tenths(tires), 'worst').map(({rim}) => rim!);
  expect(found).toEqual([1, 4, 2, 3]);
  expect(found.reduce((total, rim, i) => total + Math.abs(rims[rim] - tires[i]), 0)).toBe(7);
});

test('equal worst pairs are equal to a millionth of a millionth of the largest difference, 6 here', () => {
  // As above; the rim of 11 is larger by a hair, so that 7→11 is worse than 5→1 by as much.
  const paired = (hair: number) =>
    pair([at(1), at(4), at(4), at(11 + hair), at(6)], [at(6), at(6), at(5), at(7)], 'worst').map(({rim}) => rim);
  expect(paired(4e-12)).toEqual([1, 4, 2, 3]);
  expect(paired(9e-12)).toEqual([1, 2, 0, 4]);
});

test.each(['worst', 'total'] as const)('every pairing of up to 5 rims and 5 tires: least %s', (goal) => {
  const random = randomFrom(goal === 'worst' ? 5 : 6);
  for (let n = 0; n < 800; n++) {
    const [most, parts] = [3 + Math.floor(random() * 12), n % 2 === 0 ? 10 : 100];
    const some = () => Array.from({length: 1 + Math.floor(random() * 5)}, () => Math.floor(random() * most));
    const [rims, tires] = [some(), some()];
    const vectors = (list: number[]) => list.map((amount) => at(amount / parts, Math.floor(random() * 360)));
    const [rimVectors, tireVectors] = [vectors(rims), vectors(tires)];
    const found = pair(rimVectors, tireVectors, goal);
    expect(found.map(({rim}) => rim)).toEqual(everyPairing(rims, tires, goal));
    found.forEach(({rim, turn, after}, i) => {
      if (rim === undefined) return expect([turn, after]).toEqual([undefined, undefined]);
      const matched = match(rimVectors[rim], tireVectors[i]);
      expect([turn, after]).toEqual([matched.turn, matched.after]);
    });
  }
});

test('300 of each at most', () => {
  const many = (n: number) => Array.from({length: n}, (_, i) => at(1 + i / 1000));
  expect(pair(many(300), many(1), 'total')).toEqual([{rim: 0, turn: 180, after: 0}]);
  expect(pair(many(1), many(300), 'worst').filter(({rim}) => rim !== undefined)).toHaveLength(1);
  expect(refused(() => pair(many(301), many(1), 'total'))).toEqual({
    reason: 'invalid',
    argument: 'rims',
    message: 'rims: at most 300 vectors are wanted in one pairing, found 301',
  });
  expect(refused(() => pair(many(1), many(302), 'worst'))).toMatchObject({
    argument: 'tires',
    message: 'tires: at most 300 vectors are wanted in one pairing, found 302',
  });
});

describe('what proves a pairing', () => {
  const random = randomFrom(909);
  const some = () => Array.from({length: 1 + Math.floor(random() * 6)}, () => at(Math.floor(random() * 40) / 100));
  const cost = (rim: {amount: number}, tire: {amount: number}) => Math.abs(rim.amount - tire.amount);

  test.each(['worst', 'total'] as const)('prices that no allowed pair undercuts: least %s', (goal) => {
    for (let n = 0; n < 100; n++) {
      const [rims, tires] = [some(), some()];
      const {tirePrices, rimPrices, sparePrices} = pairProof(rims, tires, goal);
      const found = pair(rims, tires, goal);
      expect([tirePrices.length, rimPrices.length]).toEqual([tires.length, rims.length]);
      expect(sparePrices).toHaveLength(Math.max(0, tires.length - rims.length));
      const worst = Math.max(...found.map(({after}) => after ?? 0));
      tires.forEach((tire, i) => {
        rims.forEach((rim, j) => {
          const over = tirePrices[i] + rimPrices[j] - cost(rim, tire);
          if (goal === 'total' || cost(rim, tire) <= worst) expect(over).toBeLessThan(1e-12);
          if (found[i].rim === j) expect(over).toBeGreaterThan(-1e-12);
        });
        sparePrices.forEach((price) => expect(tirePrices[i] + price).toBeLessThan(1e-12));
      });
      // The total of the prices is the total that is left: nothing can be less.
      const left = found.reduce((total, {after}) => total + (after ?? 0), 0);
      const prices = [...tirePrices, ...rimPrices, ...sparePrices].reduce((a, b) => a + b, 0);
      expect(prices).toBeCloseTo(left, 12);
    }
  });

  test('tires that have too few rims to choose from when all must stay below the worst', () => {
    let proved = 0;
    for (let n = 0; n < 200; n++) {
      const [rims, tires] = [some(), some()];
      const worst = Math.max(...pair(rims, tires, 'worst').map(({after}) => after ?? 0));
      const {crowded, sparePrices} = pairProof(rims, tires, 'worst');
      expect(crowded).toHaveLength(tires.length);
      const among = tires.filter((_, i) => crowded[i]);
      if (worst === 0) continue;
      proved++;
      const choice = rims.filter((rim) => among.some((tire) => cost(rim, tire) < worst - 1e-9));
      expect(choice.length + sparePrices.length).toBeLessThan(among.length);
    }
    expect(proved).toBeGreaterThan(100);
    // Nothing can stay below nothing, so there the first tire is enough.
    expect(pairProof([at(1), at(2)], [at(2), at(1)], 'worst').crowded).toEqual([true, false]);
    // With a place for a tire left over it takes two.
    expect(pairProof([at(1), at(2)], [at(2), at(1), at(7)], 'worst').crowded).toEqual([true, true, false]);
    // The least total may have a worst pair that all could stay below: 6→4 is one, see above.
    const rims = [at(0.04), at(0.12), at(0.17)];
    expect(pairProof(rims, [at(0.1), at(0.12)], 'total').crowded).toEqual([false, false]);
  });
});
