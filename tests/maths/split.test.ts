/** SPLIT, SPOKES and STRIP: by hand, against a dense enumeration of stock pairs, and by adding up an arc. */
import {behindSpokes, evenSpokes, split, strip} from '../../src/maths/split';
import {randomFrom} from '../support/random';
import {RAD, add, always, at, between, polar, refused, scale, size, someVector, xy} from '../support/polar';

describe('split', () => {
  test('by hand', () => {
    // Halfway between 0° and 90°: 30·sin 45° each.
    const even = split(at(30, 45), 0, 90);
    expect(even.massA).toBeCloseTo(30 * Math.SQRT1_2, 12);
    expect(even.massB).toBeCloseTo(30 * Math.SQRT1_2, 12);
    // 30° of 90°: cos 30° at 0°, sin 30° at 90°.
    const uneven = split(at(10, 30), 0, 90);
    expect(uneven.massA).toBeCloseTo(5 * Math.sqrt(3), 12);
    expect(uneven.massB).toBeCloseTo(5, 12);
    // 20° and 40° either side of a gap of 60°: sine rule.
    const {massA, massB} = split(at(7, 20), 340, 40);
    expect(massA).toBeCloseTo((7 * Math.sin(20 * RAD)) / Math.sin(60 * RAD), 12);
    expect(massB).toBeCloseTo((7 * Math.sin(40 * RAD)) / Math.sin(60 * RAD), 12);
  });

  test('the order of the angles is the order of the masses', () => {
    const [one, other] = [split(at(10, 30), 0, 90), split(at(10, 30), 90, 0)];
    expect(other.massA).toBeCloseTo(one.massB, 13);
    expect(other.massB).toBeCloseTo(one.massA, 13);
  });

  test('a weight at one of the angles stays whole', () => {
    for (const [a, b, which] of [
      [40, 110, 'massA'],
      [300, 40, 'massB'],
    ] as const) {
      const {massA, massB} = split(at(10, 40), a, b);
      expect(which === 'massA' ? massA : massB).toBeCloseTo(10, 13);
      expect(which === 'massA' ? massB : massA).toBe(0);
    }
    // Nor does rounding make a mass of it.
    expect(split(at(0.7, 17.3), 17.3 - 360, 100.1).massB).toBe(0);
  });

  test('no weight, no masses', () => {
    expect(split(at(0, 200), 0, 90)).toEqual({massA: 0, massB: 0});
  });

  test('the two add up to the one, wherever 0° lies', () => {
    always([between(0.1, 50), between(0, 360), between(1, 179), between(0, 1)], (amount, angleA, gap, share) => {
      const weight = at(amount, angleA + share * gap);
      const {massA, massB} = split(weight, angleA, angleA + gap);
      const sum = add(xy(at(massA, angleA)), xy(at(massB, angleA + gap)));
      expect(size(add(sum, scale(-1, xy(weight))))).toBeLessThan(1e-10 * amount);
      const twice = split(at(2 * amount, weight.angle), angleA, angleA + gap);
      expect(twice.massA).toBeCloseTo(2 * massA, 8);
    });
  });

  test('angles within 1° of one line are refused, 1° is not', () => {
    const off = (a: number, b: number) =>
      `angleB: the two angles must be at least 1° off one line, found ${a} and ${b}`;
    expect(split(at(1, 10.5), 10, 11).massA).toBeCloseTo(Math.sin(0.5 * RAD) / Math.sin(RAD), 10);
    expect(split(at(1, 90), 0, 179).massA).toBeCloseTo(Math.sin(89 * RAD) / Math.sin(RAD), 9);
    expect(split(at(1, 350), 80, -99).massB).toBeGreaterThan(50);
    for (const [a, b, message] of [
      [10, 10.999, off(10, 11)],
      [10, 10, off(10, 10)],
      [0, 179.5, off(0, 179.5)],
      [0, 180, off(0, 180)],
      [0, 180.5, off(0, 180.5)],
      [370, 9.5, off(10, 9.5)],
      [-90, 90, off(270, 90)],
    ] as const) {
      expect(refused(() => split(at(1, 10), a, b))).toEqual({reason: 'invalid', argument: 'angleB', message});
    }
  });

  test('a weight outside the two would need a negative mass: the more negative one is named', () => {
    // At 100° of 0° and 90°: massA = 5·sin(−10°) = −0.868; at 350°: massB = 5·sin(−10°).
    expect(refused(() => split(at(5, 100), 0, 90))).toEqual({
      reason: 'invalid',
      argument: 'angleA',
      message: "angleA: the weight's angle, 100, does not lie between the two: this mass would be -0.8682",
    });
    expect(refused(() => split(at(5, -10), 0, 90))).toEqual({
      reason: 'invalid',
      argument: 'angleB',
      message: "angleB: the weight's angle, 350, does not lie between the two: this mass would be -0.8682",
    });
    // Opposite: both negative.
    expect(refused(() => split(at(5, 200), 0, 90)).message).toContain('this mass would be -4.698');
    expect(refused(() => split(at(5, 200), 0, 90)).argument).toBe('angleA');
    // Just outside, and inside by as little.
    expect(refused(() => split(at(5, 90.0001), 0, 90)).argument).toBe('angleA');
    expect(split(at(5, 89.9999), 0, 90).massA).toBeGreaterThan(0);
  });
});

describe('spokes', () => {
  test('evenly spaced', () => {
    expect(evenSpokes(5, 0)).toEqual([0, 72, 144, 216, 288]);
    expect(evenSpokes(4, 300)).toEqual([300, 30, 120, 210]);
    expect(evenSpokes(3, -10)).toEqual([350, 110, 230]);
  });

  test('behind the two either side', () => {
    // Halfway between 0° and 72°: 15 ÷ cos 36°.
    const found = behindSpokes(at(30, 36), evenSpokes(5, 0), 0);
    expect(found).toMatchObject({angleA: 0, angleB: 72, left: 0});
    expect(found.massA).toBeCloseTo(15 / Math.cos(36 * RAD), 12);
    expect(found.massB).toBeCloseTo(15 / Math.cos(36 * RAD), 12);
  });

  test('over 0°, and unsorted or repeated angles', () => {
    const {angleA, angleB, massA, massB} = behindSpokes(at(10, 350), [110, 20, 300, 20, 200, 380], 0);
    expect([angleA, angleB]).toEqual([300, 20]);
    expect(massA).toBeCloseTo((10 * Math.sin(30 * RAD)) / Math.sin(80 * RAD), 11);
    expect(massB).toBeCloseTo((10 * Math.sin(50 * RAD)) / Math.sin(80 * RAD), 11);
    expect(behindSpokes(at(10, -10), [110, 20, 300, 200], 0).angleA).toBe(300);
    expect(behindSpokes(at(10, 5), [110, 20, 300, 200], 0).angleA).toBe(300);
  });

  test('a weight at a spoke stays behind it', () => {
    expect(behindSpokes(at(10, 72), evenSpokes(5, 0), 0)).toEqual({
      angleA: 72,
      massA: 10,
      angleB: 144,
      massB: 0,
      left: 0,
    });
    expect(behindSpokes(at(10, 0), evenSpokes(5, 0), 0)).toEqual({angleA: 0, massA: 10, angleB: 72, massB: 0, left: 0});
    expect(behindSpokes(at(10, 288), evenSpokes(5, 0), 0)).toMatchObject({angleA: 288, angleB: 0, massB: 0});
  });

  test('spokes 1° to 179° apart', () => {
    const apart = (found: string, angle = '30') => ({
      reason: 'invalid',
      argument: 'spokes',
      message: `spokes: the spokes either side of ${angle}° must be 1° to 179° apart, found ${found}°`,
    });
    expect(behindSpokes(at(1, 30), [29.5, 30.5], 0).massA).toBeGreaterThan(0.5);
    expect(refused(() => behindSpokes(at(1, 30), [29.6, 30.5], 0))).toEqual(apart('0.9'));
    expect(behindSpokes(at(1, 30), [0, 179], 0).angleB).toBe(179);
    expect(refused(() => behindSpokes(at(1, 30), [0, 179.5], 0))).toEqual(apart('179.5'));
    expect(refused(() => behindSpokes(at(1, 30), [0, 180], 0))).toEqual(apart('180'));
    expect(refused(() => behindSpokes(at(1, 390), [20, 10], 0))).toEqual(apart('350'));
    expect(refused(() => behindSpokes(at(1, 30), [20], 0))).toEqual(apart('360'));
    expect(refused(() => behindSpokes(at(1, 30), [20, 380], 0))).toEqual(apart('360'));
  });
});

describe('stock behind spokes', () => {
  test('by hand: 12.4 and 12.4 at 0° and 90° in steps of 5', () => {
    // Rounded each alone 10 and 10: 2.4·√2 is left.
    const found = behindSpokes(polar([12.4, 12.4]), [0, 90, 180, 270], 5);
    expect(found).toMatchObject({angleA: 0, massA: 10, angleB: 90, massB: 10});
    expect(found.left).toBeCloseTo(2.4 * Math.SQRT2, 12);
  });

  test('rounding the two together does better than each alone where the gap is narrow', () => {
    // At 0° and 10° errors all but add: 2.4 + 2.4 short at 10 and 10, 2.6 − 2.4 at 15 and 10 or 10 and 15.
    const exact = add(xy(at(12.4, 0)), xy(at(12.4, 10)));
    const found = behindSpokes(polar(exact), [0, 10], 5);
    expect(found.massA + found.massB).toBe(25);
    expect(found.left).toBeCloseTo(Math.sqrt(2.6 ** 2 + 2.4 ** 2 - 2 * 2.6 * 2.4 * Math.cos(10 * RAD)), 11);
    // Equal either way, so the lighter at the first spoke.
    expect([found.massA, found.massB]).toEqual([10, 15]);
  });

  test('equally good: the lighter pair', () => {
    for (const step of [1e-6, 0.1, 0.25, 1, 5]) {
      for (let k = 0; k < 12; k++) {
        // k + ½ steps at 0°, two at 90°: k or k + 1, half a step left.
        const found = behindSpokes(polar([(k + 0.5) * step, 2 * step]), [0, 90], step);
        expect(found.massA / step).toBeCloseTo(k, 9);
        expect(found.massB / step).toBeCloseTo(2, 9);
        expect(found.left).toBeCloseTo(step / 2, 12);
      }
    }
  });

  test('every pair of stock masses', () => {
    const random = randomFrom(360);
    const gaps = [90, 60, 72, 120, 150, 45, 30, 12, 5, 1, 179, 40 * 1.37];
    for (let n = 0; n < 1200; n++) {
      const [gap, step] = [gaps[n % gaps.length], [0.1, 0.25, 5, 1, 1e-6][n % 5]];
      // Halves of a step on purpose, for ties; and anything.
      const part = () => (n % 3 === 0 ? Math.floor(14 * random()) / 2 : 7 * random());
      const [a, b] = [part(), part()];
      const cosine = Math.cos(gap * RAD);
      const weight = polar(add(xy(at(a * step, 0)), xy(at(b * step, gap))));
      if (weight.amount === 0 || weight.angle >= gap || weight.angle === 0) continue;
      let best = {k: 0, l: 0, left: Infinity};
      const reach = Math.ceil(8 + 1 / Math.sin(gap * RAD));
      for (let k = 0; k <= a + reach; k++) {
        for (let l = 0; l <= b + reach; l++) {
          const [p, q] = [k - a, l - b];
          const left = Math.sqrt(Math.max(0, p * p + q * q + 2 * p * q * cosine));
          const level = Math.abs(left - best.left) <= 1e-8;
          const lighter = k + l < best.k + best.l || (k + l === best.k + best.l && k < best.k);
          if (level ? lighter : left < best.left) best = {k, l, left};
        }
      }
      const found = behindSpokes(weight, [0, gap], step);
      expect([Math.round(found.massA / step), Math.round(found.massB / step)]).toEqual([best.k, best.l]);
      expect(found.massA).toBeCloseTo(best.k * step, 12);
      expect(found.left / step).toBeCloseTo(best.left, 6);
    }
  });

  test('left is what the two do not make up', () => {
    always([someVector(1, 50), between(0, 72)], (weight, first) => {
      const found = behindSpokes(weight, evenSpokes(5, first), 5);
      const sum = add(xy(at(found.massA, found.angleA)), xy(at(found.massB, found.angleB)));
      expect(found.left).toBeCloseTo(size(add(sum, scale(-1, xy(weight)))), 10);
      expect(found.massA % 5).toBe(0);
      expect(found.massB % 5).toBe(0);
    });
  });

  test('no weight, no stock', () => {
    expect(behindSpokes(at(0, 40), evenSpokes(5, 0), 5)).toEqual({angleA: 0, massA: 0, angleB: 72, massB: 0, left: 0});
  });
});

describe('strip', () => {
  test('by hand', () => {
    // α = 60 ÷ (0.25·200) = 1.2 rad; 60·sin 0.6 ÷ 0.6; 100·asin 0.6.
    const {arc, effective, nominal} = strip(60, 0.25, 200);
    expect(arc).toBeCloseTo(1.2 / RAD, 11);
    expect(effective).toBeCloseTo(100 * Math.sin(0.6), 11);
    expect(nominal).toBeCloseTo(100 * Math.asin(0.6), 11);
  });

  test('half a turn acts as 2/π of its mass, a whole turn as nothing', () => {
    const half = strip(Math.PI * 50, 0.25, 200);
    expect(half.arc).toBeCloseTo(180, 10);
    expect(half.effective).toBeCloseTo(100, 10);
    const whole = strip(2 * Math.PI * 50, 0.25, 200);
    expect(whole.arc).toBeCloseTo(360, 10);
    expect(whole.effective).toBeCloseTo(0, 10);
  });

  test('adding up the arc piece by piece', () => {
    always([between(0.1, 300), between(0.1, 2), between(100, 300)], (mass, perLength, radius) => {
      if (mass > 2 * Math.PI * perLength * radius) return;
      const {arc, effective, nominal} = strip(mass, perLength, radius);
      const n = 2000;
      const pieces = (total: number, span: number) =>
        Array.from({length: n}, (_, i) => (total / n) * Math.cos(((i + 0.5) / n - 0.5) * span));
      const acts = pieces(mass, mass / (perLength * radius)).reduce((a, b) => a + b);
      expect(effective / mass).toBeCloseTo(acts / mass, 5);
      expect(arc * RAD * radius * perLength).toBeCloseTo(mass, 9);
      // The nominal strip acts as the mass that was asked for.
      if (nominal !== undefined) expect(strip(nominal, perLength, radius).effective).toBeCloseTo(mass, 8);
      expect(nominal === undefined).toBe(mass > 2 * perLength * radius);
    });
  });

  test('the most that a strip can act as is that of half a turn', () => {
    // 2·0.25·200 = 100; asin 1 = 90°.
    expect(strip(100, 0.25, 200).nominal).toBeCloseTo(50 * Math.PI, 10);
    expect(strip(100 + 1e-9, 0.25, 200).nominal).toBeUndefined();
    expect(strip(100 - 1e-9, 0.25, 200).nominal).toBeCloseTo(50 * Math.PI, 2);
  });

  test('no strip acts as nothing', () => {
    expect(strip(0, 0.25, 200)).toEqual({arc: 0, effective: 0, nominal: 0});
  });

  test('a strip longer than the circle is refused', () => {
    expect(strip(2 * Math.PI * 50, 0.25, 200).arc).toBeCloseTo(360, 10);
    expect(refused(() => strip(2 * Math.PI * 50 + 1e-6, 0.25, 200))).toEqual({
      reason: 'invalid',
      argument: 'mass',
      message: 'mass: this strip would be longer than the circle, which takes 314.2',
    });
  });
});

test('stock masses behind spokes, however narrow or wide their gap: none leave less', () => {
  const random = randomFrom(77);
  for (let n = 0; n < 60; n++) {
    const gap = [6, 20, 60, 100, 150, 172][n % 6];
    const from = 360 * random();
    const weight = {amount: 5 + 60 * random(), angle: from + gap * (0.05 + 0.9 * random())};
    const found = behindSpokes(weight, [from, from + gap, from + 180 + gap / 2], 5);
    const exact = split(weight, found.angleA, found.angleB);
    const most = exact.massA + exact.massB + 100;
    const cos = Math.cos((gap * Math.PI) / 180);
    let least = Infinity;
    for (let a = 0; a <= most; a += 5) {
      for (let b = 0; b <= most; b += 5) {
        const [x, y] = [a - exact.massA, b - exact.massB];
        least = Math.min(least, Math.sqrt(Math.max(0, x * x + y * y + 2 * x * y * cos)));
      }
    }
    expect(found.left).toBeCloseTo(least, 6);
  }
});
