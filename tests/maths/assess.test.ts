import fc from 'fast-check';
import {assess, readingsEnough, type Finding} from '../../src/maths/assess';
import {point, vector, minus} from '../../src/maths/vectors';

const at = (amount: number, angle = 0) => ({amount, angle});
const limits = (assembly: number, rim: number) => ({assembly, rim});
const plus = (assembly: number, after = assembly) => ({assembly, after});

/** Rim and tire in line: assembly = rim + tire, the best match leaves their difference. */
const inLine = (rim: number, tire: number, l: number, lr: number, pm = 0) =>
  assess(at(rim + tire), at(rim), limits(l, lr), plus(pm));

describe('the decision, in the order of the rule', () => {
  test.each<[string, Finding, () => ReturnType<typeof assess>]>([
    ['within the uncertainty of the limit', 'remeasure', () => inLine(0.2, 0.28, 0.5, 1, 0.03)],
    ['exactly as far as the uncertainty is far enough', 'accept', () => inLine(0.25, 0.125, 0.5, 1, 0.125)],
    ['above the limit but too close', 'remeasure', () => inLine(0.3, 0.22, 0.5, 1, 0.03)],
    ['on the limit, no uncertainty', 'accept', () => inLine(0.25, 0.25, 0.5, 1)],
    ['over the limit, a match helps', 'match mount', () => inLine(0.4, 0.3, 0.5, 0.1)],
    ['a match that just helps', 'match mount', () => inLine(1, 0.5, 0.5, 0.1)],
    [
      'a match within its own uncertainty of the limit does not help',
      'replace rim',
      () => assess(at(1.5), at(1), limits(0.5, 0.1), plus(0.05, 0.01)),
    ],
    ['rim alone at fault', 'replace rim', () => inLine(1.2, 0.3, 0.5, 0.4)],
    ['tire alone at fault', 'replace tire', () => inLine(0.3, 1.2, 0.5, 0.4)],
    ['both at fault', 'replace both', () => inLine(2, 0.7, 0.5, 0.4)],
    ['rim on its limit is not at fault', 'replace tire', () => inLine(0.5, 1.2, 0.5, 0.5)],
    ['neither at fault: the larger, rim', 'replace rim', () => inLine(1.5, 0.4, 0.5, 2)],
  ])('%s: %s', (_, expected, assessed) => expect(assessed().finding).toBe(expected));

  test('neither at fault and equal: the tire', () => {
    // r = t = 0.4 leave 0, but with an uncertainty of 0.6 that is not surely within 0.5.
    expect(assess(at(0.8), at(0.4), limits(0.5, 2), plus(0.1, 0.6)).finding).toBe('replace tire');
    expect(assess(at(0.85), at(0.45), limits(0.5, 2), plus(0.1, 0.6)).finding).toBe('replace rim');
  });
});

test('turn and what is left are those of the best match', () => {
  // rim 0.8 at 40°, tire 0.6 at 100°: turn 120°, leaves 0.2.
  const assembly = vector(minus(point(at(0.8, 40)), point(at(0.6, 280))));
  const {after, turn} = assess(assembly, at(0.8, 40), limits(0.5, 0.5), plus(0));
  expect(after).toBeCloseTo(0.2, 12);
  expect(turn).toBeCloseTo(120, 10);
});

test('the reason is one sentence with the figures', () => {
  expect(inLine(0.2, 0.28, 0.5, 1, 0.03).reason).toBe('Assembly 0.48 ± 0.03 is too close to the limit 0.5 to decide.');
  expect(inLine(0.2, 0.1, 0.5, 1).reason).toBe('Assembly 0.3 is within the limit 0.5.');
  expect(inLine(0.4, 0.3, 0.5, 0.1).reason).toBe(
    'Assembly 0.7 exceeds the limit 0.5; the best match leaves 0.1 ± 0, within it.',
  );
  const fails = 'exceeds the limit 0.5 and the best match leaves';
  expect(inLine(1.2, 0.3, 0.5, 0.4).reason).toBe(
    `Assembly 1.5 ${fails} 0.9 ± 0, not surely within it; rim 1.2 exceeds 0.4.`,
  );
  expect(inLine(0.3, 1.2, 0.5, 0.4).reason).toBe(
    `Assembly 1.5 ${fails} 0.9 ± 0, not surely within it; tire 1.2 exceeds 0.5.`,
  );
  expect(inLine(2, 0.7, 0.5, 0.4).reason).toBe(
    `Assembly 2.7 ${fails} 1.3 ± 0, not surely within it; rim 2 exceeds 0.4 and tire 0.7 exceeds 0.5.`,
  );
  expect(inLine(1.5, 0.4, 0.5, 2).reason).toBe(
    `Assembly 1.9 ${fails} 1.1 ± 0, not surely within it; neither part exceeds its limit, the rim, 1.5, is further out than the tire, 0.4.`,
  );
  expect(assess(at(0.8), at(0.4), limits(0.5, 2), plus(0.1, 0.6)).reason).toContain(
    'the tire, 0.4, is no better than the rim, 0.4.',
  );
});

test('a wider limit never makes a finding worse, but for the guard band about the limit itself', () => {
  const rank: Record<Finding, number> = {
    accept: 0,
    remeasure: 1,
    'match mount': 2,
    'replace tire': 3,
    'replace rim': 3,
    'replace both': 3,
  };
  const amount = fc.double({min: 0, max: 2, noNaN: true});
  const angle = fc.integer({min: 0, max: 359});
  const limit = fc.double({min: 0.05, max: 2, noNaN: true});
  fc.assert(
    fc.property(
      amount,
      angle,
      amount,
      angle,
      limit,
      limit,
      limit,
      fc.double({min: 0, max: 0.2, noNaN: true}),
      (a, p, r, q, one, two, lr, pm) => {
        const [tight, wide] = one < two ? [one, two] : [two, one];
        const first = assess(at(a, p), at(r, q), limits(tight, lr), plus(pm));
        const second = assess(at(a, p), at(r, q), limits(wide, lr), plus(pm));
        // Below the guard band a wider limit can bring the assembly into it; that asks for a second look, no more.
        expect(rank[second.finding]).toBeLessThanOrEqual(Math.max(1, rank[first.finding]));
        const easier = assess(at(a, p), at(r, q), limits(tight, lr + 1), plus(pm));
        expect(rank[easier.finding]).toBeLessThanOrEqual(rank[first.finding]);
      },
    ),
    {seed: 5},
  );
});

test('readings needed to decide', () => {
  // The half-width must shrink from 0.1 to 0.05: four times as many.
  expect(readingsEnough(0.55, 0.5, 0.1, 16)).toBe(64);
  expect(readingsEnough(0.45, 0.5, 0.1, 16)).toBe(64);
  expect(readingsEnough(0.7, 0.5, 0.1, 16)).toBe(16);
  expect(readingsEnough(0.6, 0.5, 0.1, 16)).toBe(16);
  expect(readingsEnough(0.59, 0.5, 0.1, 16)).toBe(20);
  expect(readingsEnough(0.5, 0.5, 0.1, 16)).toBeUndefined();
  expect(readingsEnough(0.5, 0.5, 0, 16)).toBe(16);
});
