/** MATCH, TURNWINDOW, TURNED, MARK, SEPARATE and REMOUNT: by hand, and by turning vectors one after another. */
import {arcLength, match, remount, separate, turnDone, turnWindow} from '../../src/maths/match';
import {
  add,
  always,
  apart,
  at,
  between,
  expectVector,
  polar,
  refused,
  scale,
  size,
  someVector,
  turn,
  xy,
} from '../support/polar';

describe('match', () => {
  test('brings the tire’s high point to the rim’s low point', () => {
    // 180 + 40 − 100 = 120; before² = 0.8² + 0.6² + 2·0.8·0.6·cos 60° = 1.48.
    const found = match(at(0.8, 40), at(0.6, 100));
    expect(found.turn).toBe(120);
    expect(found.after).toBeCloseTo(0.2, 15);
    expect(found.before).toBeCloseTo(Math.sqrt(1.48), 14);
    expect(found.gain).toBeCloseTo(Math.sqrt(1.48) - 0.2, 14);
  });

  test.each([
    // rim angle, tire angle, turn = 180 + rim − tire within [0, 360)
    [300, 40, 80],
    [10, 200, 350],
    [25, 25, 180],
    [0, 180, 0],
    [180, 0, 0],
    [350, 10, 160],
  ])('rim at %d°, tire at %d°: turn %d°', (rim, tire, wanted) => {
    expect(match(at(0.5, rim), at(0.3, tire)).turn).toBe(wanted);
  });

  test('a tire larger than the rim leaves its excess', () => {
    expect(match(at(0.25, 0), at(1, 90)).after).toBe(0.75);
    expect(match(at(1, 0), at(0.25, 90)).after).toBe(0.75);
  });

  test('a match that is already there gains nothing', () => {
    expect(match(at(0.5, 30), at(0.25, 210))).toMatchObject({turn: 0, after: 0.25});
    expect(match(at(0.5, 30), at(0.25, 210)).gain).toBe(0);
  });

  test('a round part needs no turn, whatever angle it is given', () => {
    expect(match(at(0, 70), at(0.5, 100))).toEqual({turn: 0, after: 0.5, before: 0.5, gain: 0});
    expect(match(at(0.5, 100), at(0, 70))).toEqual({turn: 0, after: 0.5, before: 0.5, gain: 0});
    expect(match(at(0, 5), at(0, 9))).toEqual({turn: 0, after: 0, before: 0, gain: 0});
  });

  test('no turn does better, and the turn leaves what it says', () => {
    always([someVector(0.01, 2), someVector(0.01, 2)], (rim, tire) => {
      const found = match(rim, tire);
      const left = (degrees: number) => size(add(xy(rim), turn(xy(tire), degrees)));
      expect(left(found.turn)).toBeCloseTo(found.after, 12);
      expect(left(0)).toBeCloseTo(found.before, 12);
      expect(found.gain).toBe(found.before - found.after);
      for (let t = 0; t < 360; t += 5) expect(left(t)).toBeGreaterThanOrEqual(found.after - 1e-12);
    });
  });

  test('where 0° lies does not matter; turning the rim alone turns the answer', () => {
    always([someVector(0.1, 2), someVector(0.1, 2), between(0, 360)], (rim, tire, by) => {
      const found = match(rim, tire);
      const both = match(at(rim.amount, rim.angle + by), at(tire.amount, tire.angle + by));
      expect(apart(both.turn, found.turn)).toBeLessThan(1e-9);
      expect(both.before).toBeCloseTo(found.before, 12);
      expect(apart(match(at(rim.amount, rim.angle + by), tire).turn, found.turn + by)).toBeLessThan(1e-9);
      expect(match(at(3 * rim.amount, rim.angle), at(3 * tire.amount, tire.angle)).after).toBeCloseTo(
        3 * found.after,
        12,
      );
    });
  });
});

describe('turnWindow', () => {
  test('equal parts: within the limit while the half turn’s cosine allows', () => {
    // 2·0.5·|cos(turn/2)| ≤ 0.5 from 120° to 240°.
    const {from, to, width} = turnWindow(at(0.5), at(0.5), 0.5, 0);
    expect(from).toBeCloseTo(120, 10);
    expect(to).toBeCloseTo(240, 10);
    expect(width).toBeCloseTo(120, 10);
  });

  test('unequal parts, by the cosine rule', () => {
    // Best 120°. 0.8² + 0.6² − 2·0.8·0.6·cos δ ≤ 1 as long as cos δ ≥ 0: 90° either side.
    for (const [limit, plusminus] of [
      [1, 0],
      [1.25, 0.25],
    ]) {
      const {from, to, width} = turnWindow(at(0.8, 40), at(0.6, 100), limit, plusminus);
      expect(from).toBeCloseTo(30, 10);
      expect(to).toBeCloseTo(210, 10);
      expect(width).toBeCloseTo(180, 10);
    }
  });

  test('runs on over 0°', () => {
    const {from, to, width} = turnWindow(at(0.8, 0), at(0.6, 180), 1, 0);
    expect(from).toBeCloseTo(270, 10);
    expect(to).toBeCloseTo(90, 10);
    expect(width).toBeCloseTo(180, 10);
  });

  test('a limit that the best match just meets leaves that one turn, as figures on paper do', () => {
    // 0.8 − 0.6 is more than 0.2 by rounding.
    expect(turnWindow(at(0.8, 0), at(0.6, 0), 0.2, 0)).toEqual({from: 180, to: 180, width: 0});
    expect(turnWindow(at(0.75, 0), at(0.5, 90), 0.25, 0)).toEqual({from: 90, to: 90, width: 0});
    expect(turnWindow(at(0.75, 0), at(0.5, 90), 0.5, 0.25)).toEqual({from: 90, to: 90, width: 0});
    // The slack is a millionth of a millionth of the amounts, 1.25E-12 here.
    expect(turnWindow(at(0.75), at(0.5), 0.25 - 1.2e-12, 0).width).toBe(0);
    expect(refused(() => turnWindow(at(0.75), at(0.5), 0.25 - 1.6e-12, 0)).argument).toBe('limit');
    expect(turnWindow(at(75), at(50), 25 - 1.2e-10, 0).width).toBe(0);
    const {width} = turnWindow(at(0.75), at(0.5), 0.25 + 1e-6, 0);
    // 2·2·asin √((L² − 0.25²)/1.5): √(5e-7/1.5) rad, twice on either side.
    expect(width).toBeCloseTo((4 * Math.sqrt(((0.25 + 1e-6) ** 2 - 0.0625) / 1.5) * 180) / Math.PI, 6);
  });

  test('a limit below that is met by no turn', () => {
    expect(refused(() => turnWindow(at(0.8, 40), at(0.6, 100), 0.25, 0.1))).toEqual({
      reason: 'unavailable',
      argument: 'limit',
      message: 'limit: no turn meets it: the best leaves 0.2, the limit less the uncertainty is 0.15',
    });
    expect(refused(() => turnWindow(at(0.75), at(0.5), 0.25 - 1e-9, 0)).reason).toBe('unavailable');
    expect(refused(() => turnWindow(at(0.5), at(0.5), 0.1, 0.2)).message).toContain('less the uncertainty is -0.1');
  });

  test('a limit that the worst turn meets: every turn', () => {
    const every = {from: 0, to: 360, width: 360};
    // 0.1 + 0.2 is more than 0.3 by rounding.
    expect(turnWindow(at(0.1, 20), at(0.2, 50), 0.3, 0)).toEqual(every);
    expect(turnWindow(at(0.75), at(0.5), 1.25, 0)).toEqual(every);
    expect(turnWindow(at(0.75), at(0.5), 9, 0)).toEqual(every);
    // And short of it by as little as shows: width = 4·acos √(1 − share) is off 360° by √(1 − share).
    expect(turnWindow(at(0.75), at(0.5), 1.25 - 1e-11, 0).width).toBeLessThan(360);
    const {width} = turnWindow(at(0.75), at(0.5), 1.25 - 1e-6, 0);
    expect(width).toBeLessThan(359.8);
    expect(width).toBeGreaterThan(359);
  });

  test('a round part: every turn or none', () => {
    expect(turnWindow(at(0, 10), at(0.5, 50), 0.5, 0)).toEqual({from: 0, to: 360, width: 360});
    expect(turnWindow(at(0.5, 10), at(0), 0.6, 0.1)).toEqual({from: 0, to: 360, width: 360});
    expect(turnWindow(at(0), at(0), 0.1, 0)).toEqual({from: 0, to: 360, width: 360});
    expect(refused(() => turnWindow(at(0), at(0.5), 0.4, 0)).argument).toBe('limit');
  });

  test('holds the turns that meet the limit, and no others', () => {
    always([someVector(0.1, 1), someVector(0.1, 1), between(0.01, 2)], (rim, tire, above) => {
      const limit = Math.abs(rim.amount - tire.amount) + above * 0.9;
      const {from, to, width} = turnWindow(rim, tire, limit, 0);
      if (width < 360) {
        expect(apart(to, from + width)).toBeLessThan(1e-9);
        for (const edge of [from, to]) expect(size(add(xy(rim), turn(xy(tire), edge)))).toBeCloseTo(limit, 10);
      } else expect([from, to]).toEqual([0, 360]);
      for (let t = 0; t < 360; t += 3) {
        const left = size(add(xy(rim), turn(xy(tire), t)));
        if (Math.abs(left - limit) < 1e-9) continue;
        expect((t - from + 360) % 360 < width).toBe(left < limit);
      }
    });
  });
});

describe('turnDone', () => {
  test('the turn that a measurement shows', () => {
    // Measured − rim = −0.6 at 40°, so 0.6 at 220°; the tire was at 100°.
    const found = turnDone(at(0.8, 40), at(0.6, 100), at(0.2, 40));
    expect(found.turn).toBeCloseTo(120, 10);
    expect(found.misfit).toBeCloseTo(0, 15);
  });

  test('the misfit is a size, whichever part is larger', () => {
    expect(turnDone(at(1, 0), at(0.5, 90), at(2, 0))).toEqual({turn: 270, misfit: 0.5});
    expect(turnDone(at(1, 0), at(3, 90), at(2, 0))).toEqual({turn: 270, misfit: 2});
  });

  test('a part without runout shows no turn', () => {
    expect(turnDone(at(1, 0), at(0.5, 90), at(1, 0))).toEqual({turn: undefined, misfit: 0.5});
    expect(turnDone(at(1, 0), at(0, 90), at(1.5, 0))).toEqual({turn: undefined, misfit: 0.5});
  });

  test('finds the turn that was made', () => {
    always([someVector(0, 1), someVector(0.1, 1), between(0, 359.9)], (rim, tire, made) => {
      const {turn: found, misfit} = turnDone(rim, tire, polar(add(xy(rim), turn(xy(tire), made))));
      expect(apart(found!, made)).toBeLessThan(1e-9);
      expect(misfit).toBeLessThan(1e-12);
    });
  });
});

test.each([
  // π·400 = 1256.637 round; a quarter is 314.159.
  [90, 314.1592653589793],
  [270, -314.1592653589793],
  [180, 628.3185307179587],
  [-180, 628.3185307179587],
  [181, (-179 / 360) * 400 * Math.PI],
  [359, (-1 / 360) * 400 * Math.PI],
  [0, 0],
  [360, 0],
  [450, 314.1592653589793],
])('a turn of %d° is %d along a circle of 400', (degrees, wanted) => {
  expect(arcLength(degrees, 400)).toBeCloseTo(wanted, 10);
});

describe('separate', () => {
  test('half a turn: half the sum stays, half the difference turns', () => {
    const {rim, tire} = separate(at(0.5, 0), at(0.3, 0), 180);
    expectVector(rim, at(0.4, 0));
    expectVector(tire, at(0.1, 0));
  });

  test('a quarter turn by hand', () => {
    // Rim 3 at 0°, tire 1 at 0°: first 4 at 0°; the tire turned to 90°: second (3, 1).
    const {rim, tire} = separate(at(4, 0), polar([3, 1]), 90);
    expectVector(rim, at(3, 0));
    expectVector(tire, at(1, 0));
  });

  test('recovers rim and tire from what they make together', () => {
    always([someVector(0.05, 1), someVector(0.05, 1), between(1, 359)], (rim, tire, made) => {
      const first = polar(add(xy(rim), xy(tire)));
      const second = polar(add(xy(rim), turn(xy(tire), made)));
      const found = separate(first, second, made);
      expectVector(found.rim, rim, 8);
      expectVector(found.tire, tire, 8);
      const back = separate(second, first, -made);
      expectVector(back.rim, rim, 8);
      expectVector(back.tire, at(tire.amount, tire.angle + made), 8);
    });
  });

  test.each([1, -1, 359, 361, 719, 180])('a turn of %d° can be told from a whole one', (made) => {
    const second = polar(add([0.7, 0], turn([0, 0.2], made)));
    expectVector(separate(polar([0.7, 0.2]), second, made).rim, at(0.7), 9);
  });

  test.each([
    [0, '0'],
    [0.999, '0.999'],
    [-0.999, '-0.999'],
    [359.5, '359.5'],
    [360.25, '360.3'],
    [720, '720'],
  ])('a turn of %d° cannot', (made, found) => {
    expect(refused(() => separate(at(1), at(2), made))).toEqual({
      reason: 'invalid',
      argument: 'turned',
      message: `turned: a turn at least 1° away from whole turns is wanted, found ${found}`,
    });
  });
});

describe('remount', () => {
  test('at 180°: half sum and half difference', () => {
    const {wheel, error} = remount(at(0.5, 0), at(0.3, 0), 180);
    expectVector(wheel, at(0.4, 0));
    expectVector(error, at(0.1, 0));
  });

  test('the clamping’s error turns back in wheel coordinates', () => {
    // Wheel 3 at 0°, error 1 at 0°: first 4 at 0°. Turned on by 90° the shaft stands at −90° of the wheel: second (3, −1).
    const {wheel, error} = remount(at(4, 0), polar([3, -1]), 90);
    expectVector(wheel, at(3, 0));
    expectVector(error, at(1, 0));
  });

  test('recovers wheel and error at the turns of five studs and others', () => {
    always([someVector(0.05, 1), someVector(0.05, 1), between(1, 359)], (wheel, error, made) => {
      const found = remount(polar(add(xy(wheel), xy(error))), polar(add(xy(wheel), turn(xy(error), -made))), made);
      expectVector(found.wheel, wheel, 8);
      expectVector(found.error, error, 8);
      // error = (first − second)/(1 − e^{−i·turn}), wheel = first − error
      expectVector(polar(add(xy(found.wheel), scale(1, xy(found.error)))), polar(add(xy(wheel), xy(error))), 8);
    });
  });

  test('a turn within 1° of a whole one is refused with the figure that was given', () => {
    expect(refused(() => remount(at(1), at(2), 0.5))).toEqual({
      reason: 'invalid',
      argument: 'turn',
      message: 'turn: a turn at least 1° away from whole turns is wanted, found 0.5',
    });
    expect(remount(at(1), at(1), 1).wheel.amount).toBeCloseTo(1, 12);
    expect(refused(() => remount(at(1), at(2), 359.01)).message).toContain('found 359');
  });
});
