/**
 * MATCHCURVE against every one of its 3,600 turns. Both curves are laid out on 3,600 points, so that a tenth of a degree
 * is a shift by one. Between two points (half a step is 0.05° = 8.7E-4 rad) an extreme of order k and amplitude A can
 * hide ½·A·(k·8.7E-4)² = 3.8E-7·k²·A; so the dense curve bounds the answer, and a search beside the dense extremes
 * decides between turns that are closer than that.
 */
import {bendOf, curveLines, leastBetween} from '../../src/maths/curveProof';
import {matchCurve, slopeOf, worstTurn} from '../../src/maths/matchCurve';
import type {Wave} from '../../src/maths/harmonics';
import {randomFrom} from '../support/random';
import {cosines} from '../support/calls';
import {at, RAD, waveOf} from '../support/polar';
import {match} from '../../src/maths/match';
import {peakToPeak, turnedSum} from '../../src/maths/swing';

const POINTS = 3600;

const layOut = (wave: Wave, orders: number): Float64Array =>
  Float64Array.from({length: POINTS}, (_, i) => height(wave, orders, (i * 360) / POINTS));

function height({cos, sin}: Wave, orders: number, degrees: number): number {
  let y = 0;
  for (let k = 1; k <= orders; k++) y += cos[k] * Math.cos(k * degrees * RAD) + sin[k] * Math.sin(k * degrees * RAD);
  return y;
}

/** Peak-to-peak at a turn, to rounding: ternary search beside every dense extreme that could be the highest. */
function precise(rim: Wave, tire: Wave, orders: number, turn: number, slack: number): number {
  const y = (x: number) => height(rim, orders, x) + height(tire, orders, x - turn);
  const step = 360 / POINTS;
  const heights = Array.from({length: POINTS}, (_, i) => y(i * step));
  const top = (sign: 1 | -1): number => {
    const most = Math.max(...heights.map((h) => sign * h));
    let best = most;
    heights.forEach((h, i) => {
      const beside = Math.max(sign * heights[(i + 1) % POINTS], sign * heights[(i + POINTS - 1) % POINTS]);
      if (sign * h < most - slack || sign * h < beside) return;
      let [low, high] = [(i - 1) * step, (i + 1) * step];
      for (let n = 0; n < 40; n++) {
        const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
        if (sign * y(a) < sign * y(b)) low = a;
        else high = b;
      }
      best = Math.max(best, sign * y((low + high) / 2));
    });
    return best;
  };
  return top(1) + top(-1);
}

/** Least, greatest and first of all turns, and the turn by the rule: least, then shorter, then positive. */
function everyTurn(rim: Wave, tire: Wave, orders: number) {
  const [r, t] = [layOut(rim, orders), layOut(tire, orders)];
  const swings = Array.from({length: 3600}, (_, turn) => {
    let [high, low] = [-Infinity, Infinity];
    for (let i = 0, j = (POINTS - turn) % POINTS; i < POINTS; i++) {
      const y = r[i] + t[j];
      if (y > high) high = y;
      if (y < low) low = y;
      if (++j === POINTS) j = 0;
    }
    return high - low;
  });
  let hidden = 0;
  for (let k = 1; k <= orders; k++) {
    const size = Math.hypot(rim.cos[k], rim.sin[k]) + Math.hypot(tire.cos[k], tire.sin[k]);
    hidden += 8e-7 * k * k * size;
  }
  const [least, worst] = [Math.min(...swings), Math.max(...swings)];
  const close = swings.map((_, i) => i).filter((i) => swings[i] <= least + hidden);
  const exact = close.map((i) => precise(rim, tire, orders, i / 10, hidden));
  const lowest = Math.min(...exact);
  const turn = close
    .filter((_, i) => exact[i] <= lowest + 1e-11)
    .reduce((a, b) => (Math.min(b, 3600 - b) < Math.min(a, 3600 - a) ? b : a));
  return {turn: turn / 10, after: lowest, before: swings[0], worst, hidden};
}

function check(rim: Wave, tire: Wave, orders: number): void {
  const found = matchCurve(rim, tire, orders);
  const wanted = everyTurn(rim, tire, orders);
  expect(found.turn).toBe(wanted.turn);
  expect(found.after).toBeCloseTo(wanted.after, 10);
  for (const part of ['before', 'worst'] as const) {
    expect(found[part]).toBeGreaterThanOrEqual(wanted[part] - 1e-13);
    expect(found[part]).toBeLessThanOrEqual(wanted[part] + wanted.hidden);
  }
}

function someWave(random: () => number, orders: number, falling: number): Wave {
  const terms = Array.from(
    {length: orders},
    (_, i) => [i + 1, random() / (i + 1) ** falling, 360 * random()] as [number, number, number],
  );
  return waveOf(orders, ...terms);
}

test.each([
  [1, 1, 4],
  [2, 0, 8],
  [3, 1, 6],
  [4, 0, 8],
  [4, 1.5, 8],
])('to order %d, amounts falling by the power %d: all turns tried', (orders, falling, cases) => {
  const random = randomFrom(100 * orders + falling);
  for (let n = 0; n < cases; n++) check(someWave(random, orders, falling), someWave(random, orders, falling), orders);
});

test.each([8, 12, 20])('to order %d', (orders) => {
  const random = randomFrom(orders);
  for (let n = 0; n < 2; n++) check(someWave(random, orders, 0.5), someWave(random, orders, 0.5), orders);
});

test('a first harmonic alone is matched as its vectors are, to a tenth of a degree', () => {
  const random = randomFrom(3);
  for (let n = 0; n < 20; n++) {
    const [rim, tire] = [at(0.1 + random(), 360 * random()), at(0.1 + random(), 360 * random())];
    const found = matchCurve(waveOf(1, [1, rim.amount, rim.angle]), waveOf(1, [1, tire.amount, tire.angle]), 1);
    const wanted = match(rim, tire);
    expect(found.turn).toBe((Math.round(wanted.turn * 10) % 3600) / 10);
    expect(found.before).toBeCloseTo(wanted.before, 12);
    // The worst turn brings high point to high point, to within 0.05°.
    expect(found.worst).toBeLessThanOrEqual(rim.amount + tire.amount);
    expect(found.worst).toBeGreaterThan((rim.amount + tire.amount) * (1 - 4e-7));
  }
});

test('the worst turn of a curve is not opposite the best', () => {
  // Rim cos θ + cos 2θ, tire the same: the worst turn is none, 2·(2 + 9/8); and that is where it stands.
  const wave = waveOf(2, [1, 2, 0], [2, 2, 0]);
  const found = matchCurve(wave, wave, 2);
  expect(found.worst).toBeCloseTo(6.25, 12);
  expect(found.before).toBeCloseTo(6.25, 12);
  check(wave, wave, 2);
});

describe('ties', () => {
  test.each([
    // order, rim's high point, tire's: the turns 180/k + rim − tire + n·360/k all do; the shorter one, then the positive.
    [2, 10, 10, 90],
    [2, 100, 40, 330],
    [2, 0, 60, 30],
    [3, 0, 0, 60],
    [3, 30, 70, 20],
    [4, 0, 0, 45],
    [4, 80, 10, 25],
    [1, 20, 20, 180],
  ])('pure order %d at %d° and %d°: %d°', (order, rim, tire, turn) => {
    const found = matchCurve(waveOf(4, [order, 0.4, rim]), waveOf(4, [order, 0.4, tire]), 4);
    expect(found.turn).toBe(turn);
    expect(found.after).toBeCloseTo(0, 12);
    expect(found.worst).toBeCloseTo(0.8, 12);
  });

  test('between two tenths of a degree: the shorter one', () => {
    // The best turn would be 190.05° (−169.95°), and −10.05 + 180 = 169.95°.
    expect(matchCurve(waveOf(1, [1, 0.5, 10.05]), waveOf(1, [1, 0.25, 0]), 1).turn).toBe(190.1);
    expect(matchCurve(waveOf(1, [1, 0.5, 0]), waveOf(1, [1, 0.25, 10.05]), 1).turn).toBe(169.9);
  });

  test('curves in mirror image of themselves leave a turn either way: the positive one', () => {
    for (let n = 0; n < 60; n++) {
      const axis = 11.25 * (n % 8) + 0.13 * (n % 3);
      const rim = waveOf(4, [1, 0.4 + 0.01 * n, axis], [2, 0.2, axis], [4, 0.1, axis]);
      const tire = waveOf(4, [1, 0.5, axis], [2, 0.3, axis], [3, 0.2, axis]);
      const found = matchCurve(rim, tire, 4);
      expect(found.turn).toBeLessThanOrEqual(180);
    }
    const rim = waveOf(4, [1, 0.49, 11.25], [2, 0.2, 11.25], [4, 0.1, 11.25]);
    const tire = waveOf(4, [1, 0.5, 11.25], [2, 0.3, 11.25], [3, 0.2, 11.25]);
    expect(matchCurve(rim, tire, 4).turn).toBe(125.2);
    check(rim, tire, 4);
  });

  test.each([1, 2, 3, 4, 7])('a rim without runout: a tire of order %d is not turned', (order) => {
    const found = matchCurve(waveOf(order), waveOf(order, [order, 1, 13.3]), order);
    expect(found.turn).toBe(0);
    for (const part of ['after', 'before', 'worst'] as const) expect(found[part]).toBeCloseTo(1, 12);
  });

  test('a tire without runout, or with none but rounding, is not turned', () => {
    const rim = waveOf(4, [1, 0.6, 13.3], [2, 0.2, 70], [4, 0.1, 5]);
    const found = matchCurve(rim, waveOf(4), 4);
    expect(found.turn).toBe(0);
    expect(found.after).toBe(found.before);
    expect(found.worst).toBe(found.before);
    for (let n = 0; n < 20; n++) {
      expect(matchCurve(rim, waveOf(4, [1, 1e-16, 18 * n], [2, 1e-17, 7 * n]), 4).turn).toBe(0);
    }
  });

  test('one harmonic alone, and a tire with none but rounding: not turned', () => {
    for (let n = 0; n < 20; n++) {
      expect(matchCurve(waveOf(1, [1, 0.6, 13.3]), waveOf(1, [1, 1e-16, 18 * n]), 1).turn).toBe(0);
    }
  });

  test('turns that differ by less than 1E-9 of what the tire swings are equal, by more they are not', () => {
    // Order 2 is gone at 100.3° and at 280.3°, of which the second is shorter; order 1 is gone at the first alone.
    const left = (hair: number) =>
      matchCurve(waveOf(2, [1, hair, 0], [2, 0.4, 10.3]), waveOf(2, [1, hair, 79.7], [2, 0.4, 0]), 2).turn;
    expect(left(1e-10)).toBe(280.3);
    expect(left(1e-8)).toBe(100.3);
    // The other way about the shorter turn is the one that is found last.
    const right = (hair: number) =>
      matchCurve(waveOf(2, [1, hair, 0], [2, 0.4, 349.7]), waveOf(2, [1, hair, 280.3], [2, 0.4, 0]), 2).turn;
    expect(right(1e-10)).toBe(79.7);
    expect(right(1e-8)).toBe(259.7);
  });

  test('nothing at all', () => {
    expect(matchCurve(waveOf(4), waveOf(4), 4)).toEqual({turn: 0, after: 0, before: 0, worst: 0});
  });

  test('a small tire on a large rim is turned all the same', () => {
    expect(matchCurve(waveOf(2, [1, 1, 40]), waveOf(2, [1, 1e-6, 100]), 2).turn).toBeCloseTo(120, 0);
    // With a tire of 1E-9 what a degree off the best turn leaves more is rounding of the rim.
    const {turn} = matchCurve(waveOf(2, [1, 1, 57.5]), waveOf(2, [1, 1e-9, 100]), 2);
    expect(turn).toBeGreaterThan(136.5);
    expect(turn).toBeLessThan(138.5);
  });
});

test('turning the rim by tenths of a degree turns the answer; sizes scale', () => {
  const random = randomFrom(77);
  for (let n = 0; n < 10; n++) {
    const terms = [1, 2, 3, 4].map((k) => [k, random() / k, 360 * random()] as [number, number, number]);
    const tire = someWave(random, 4, 1);
    const found = matchCurve(waveOf(4, ...terms), tire, 4);
    const by = Math.floor(random() * 3600) / 10;
    const moved = matchCurve(
      waveOf(4, ...terms.map(([k, a, high]) => [k, 3 * a, high + by] as const)),
      tripled(tire),
      4,
    );
    expect(Math.round(moved.turn * 10)).toBe(Math.round((found.turn + by) * 10) % 3600);
    expect(moved.after).toBeCloseTo(3 * found.after, 11);
    expect(moved.worst).toBeCloseTo(3 * found.worst, 11);
  }
});

const tripled = ({mean, cos, sin}: Wave): Wave => ({
  mean,
  cos: Array.from(cos, (c) => 3 * c),
  sin: Array.from(sin, (s) => 3 * s),
});

test('orders above the one asked for, and means, do not count', () => {
  const rim = {...waveOf(4, [1, 0.4, 10], [3, 5, 0]), mean: 7};
  const tire = {...waveOf(4, [1, 0.3, 50], [4, 9, 0]), mean: -3};
  const found = matchCurve(rim, tire, 2);
  expect(found.turn).toBe(140);
  expect(found.after).toBeCloseTo(0.1, 12);
});

test('the worst of all turns, whichever part is rounder', () => {
  const random = randomFrom(51);
  for (const [ofRim, ofTire, orders] of [
    [0.05, 1, 4],
    [1, 0.05, 3],
    [1, 1, 2],
    [1, 1, 4],
  ]) {
    const wave = (size: number) =>
      waveOf(orders, ...Array.from({length: orders}, (_, k) => [k + 1, size * random(), 360 * random()] as const));
    const [rim, tire] = [wave(ofRim), wave(ofTire)];
    const sum = waveOf(orders);
    let worst = 0;
    for (let tenth = 0; tenth < 3600; tenth++) {
      turnedSum(rim, tire, tenth / 10, orders, sum);
      worst = Math.max(worst, peakToPeak(sum, orders));
    }
    expect(matchCurve(rim, tire, orders).worst).toBe(worst);
  }
});

test('few of the turns are looked at, whichever part is rounder', () => {
  const random = randomFrom(52);
  // Three cosines for Newton's step and three for the height, at one top and one bottom or a few, for each turn.
  for (const [ofRim, ofTire, most] of [
    [1, 1, 180],
    [0.02, 1, 220],
    [1, 0.02, 220],
  ]) {
    const [rim, tire] = [ofRim, ofTire].map((size) =>
      waveOf(3, ...[1, 2, 3].map((k) => [k, size * (0.5 + random()), 360 * random()] as const)),
    );
    matchCurve(rim, tire, 3);
    expect(cosines(() => matchCurve(rim, tire, 3)) / 12).toBeLessThan(most);
  }
});

test.each([1, 2, 3, 4, 7])('the worst turn of a pure order %d, halfway between two turns looked at first', (order) => {
  const found = matchCurve(waveOf(order, [order, 0.4, 12.5]), waveOf(order, [order, 0.4, 0]), order);
  expect(found.worst).toBeCloseTo(0.8, 12);
});

describe('what shows that no turn is better', () => {
  test('by how much the peak-to-peak may change with a degree', () => {
    // Order k turns its high and low points k times as fast: (1·0.4 + 3·0.2)·π/180.
    expect(slopeOf(waveOf(3, [1, 0.4, 10], [3, 0.2, 70]), 3)).toBeCloseTo(Math.PI / 180, 15);
    expect(slopeOf(waveOf(3, [1, 0.4, 10], [3, 0.2, 70]), 2)).toBeCloseTo((0.4 * Math.PI) / 180, 15);
  });

  test('the worst turn leaves the worst', () => {
    const random = randomFrom(41);
    for (let n = 0; n < 4; n++) {
      const [rim, tire] = [someWave(random, 4, 1), someWave(random, 4, 1)];
      const turn = worstTurn(rim, tire, 4);
      expect(precise(rim, tire, 4, turn, 1e-4)).toBeCloseTo(matchCurve(rim, tire, 4).worst, 11);
    }
    // High point to high point, and the first of equal ones.
    expect(worstTurn(waveOf(1, [1, 0.4, 50]), waveOf(1, [1, 0.3, 10]), 1)).toBe(40);
    expect(worstTurn(waveOf(2, [2, 0.4, 50]), waveOf(2, [2, 0.3, 10]), 2)).toBe(40);
  });

  test('two bounds are least where they meet, or at an end', () => {
    // From 1 down by 0.1 a degree and from 1 back down by 0.1: 0.5 in the middle of 10°; with a bend of 0.01, 0.375.
    expect(leastBetween({left: 1, rate: -0.1}, {left: 1, rate: 0.1}, 10, 0)).toBeCloseTo(0.5, 12);
    expect(leastBetween({left: 1, rate: -0.1}, {left: 1, rate: 0.1}, 10, 0.01)).toBeCloseTo(0.375, 12);
    // One line through both: they never meet, and the lower end is the least.
    expect(leastBetween({left: 1, rate: 0.1}, {left: 2, rate: 0.1}, 10, 0)).toBe(1);
    expect(leastBetween({left: 3, rate: 0.1}, {left: 2, rate: 0.1}, 10, 0)).toBe(2);
    // A roof: the greater of the two is least at an end.
    expect(leastBetween({left: 1, rate: 0.2}, {left: 1.5, rate: -0.2}, 10, 0)).toBe(1);
  });

  test('two bounds: the greater of two parabolas wherever it is least', () => {
    const random = randomFrom(43);
    for (let n = 0; n < 300; n++) {
      const [width, bend] = [0.1 + 15 * random(), n % 3 === 0 ? 0 : 0.02 * random()];
      const [first, second] = [0, 1].map(() => ({left: random(), rate: 0.3 * (random() - 0.5)}));
      let least = Infinity;
      for (let k = 0; k <= 2000; k++) {
        const [on, back] = [(width * k) / 2000, (width * (2000 - k)) / 2000];
        const forward = first.left + first.rate * on - (bend * on ** 2) / 2;
        const backward = second.left - second.rate * back - (bend * back ** 2) / 2;
        least = Math.min(least, Math.max(forward, backward));
      }
      // The ends themselves are known.
      const wanted = Math.min(least, first.left, second.left);
      const found = leastBetween(first, second, width, bend);
      expect(found).toBeLessThan(wanted + 1e-12);
      expect(found).toBeGreaterThan(wanted - 0.005);
    }
  });

  test('turns between which it cannot fall below the best', () => {
    const random = randomFrom(42);
    for (let n = 0; n < 8; n++) {
      const orders = 1 + (n % 4);
      // Half of them with a tire much rounder than the rim, where the peak-to-peak changes little all round.
      const [rim, tire] = [someWave(random, orders, 1), someWave(random, orders, n < 4 ? 1 : 0.01)];
      const {after} = matchCurve(rim, tire, orders);
      const bend = bendOf(tire, orders);
      const lines = curveLines(rim, tire, orders, after, 4000);
      expect(lines.length).toBeGreaterThanOrEqual(24);
      const apartAt = ({high, low}: {high: number; low: number}, turn: number): number => {
        const y = (x: number) => height(rim, orders, x) + height(tire, orders, x - turn);
        return y(high) - y(low);
      };
      const bounds = lines.map((line, i) => {
        const left = apartAt(line, line.turn);
        if (i % 10 === 0) expect(left).toBeCloseTo(precise(rim, tire, orders, line.turn, 1e-4), 10);
        expect(left).toBeGreaterThan(after - 1e-9);
        // The rate by what happens a little to either side.
        const rate = (apartAt(line, line.turn + 0.001) - apartAt(line, line.turn - 0.001)) / 0.002;
        return {left, rate};
      });
      lines.forEach((line, i) => {
        const next = (i + 1) % lines.length;
        const gap = (lines[next].turn - line.turn + 360) % 360;
        expect(gap).toBeGreaterThan(0.05);
        const least = leastBetween(bounds[i], bounds[next], gap, bend);
        if (gap > 0.15) expect(least).toBeGreaterThan(after - 1e-8);
        for (let on = 0; on <= gap; on += gap / 8) {
          const there = Math.max(apartAt(line, line.turn + on), apartAt(lines[next], line.turn + on));
          expect(there).toBeGreaterThan(least - 1e-8);
        }
      });
      // Few do, and no more than are asked for.
      expect(lines.length).toBeLessThan(150);
      expect(curveLines(rim, tire, orders, after, 30).length).toBeLessThanOrEqual(30);
    }
  });
});

test('a rim far rounder than the tire, and a round one: all turns, one after the other', () => {
  const random = randomFrom(50);
  const wave = (size: number, orders: number) =>
    waveOf(
      orders,
      ...Array.from({length: orders}, (_, k): [number, number, number] => [k + 1, size * random(), 360 * random()]),
    );
  for (const [size, orders] of [
    [0.01, 12],
    [1, 12],
    [0.001, 3],
  ]) {
    const [rim, tire] = [wave(size, orders), wave(1, orders)];
    const sum = {cos: new Float64Array(orders + 1), sin: new Float64Array(orders + 1)};
    const left = Array.from({length: 3600}, (_, tenth) => {
      turnedSum(rim, tire, tenth / 10, orders, sum);
      return peakToPeak(sum, orders);
    });
    const {after, worst, turn} = matchCurve(rim, tire, orders);
    expect(after).toBeCloseTo(Math.min(...left), 8);
    expect(after).toBe(left[Math.round(10 * turn)]);
    expect(worst).toBe(Math.max(...left));
  }
  const round = matchCurve(wave(0, 50), wave(1, 50), 50);
  expect(round).toMatchObject({turn: 0, after: round.before});
  expect(round.worst).toBeCloseTo(round.before, 9);
});
