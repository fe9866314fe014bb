/** A smaller run of the coverage study: 95 % means 93 to 97 %, and where it does not, that is known. */
import {study} from '../../src/tools/coverage/study';

const results = study(4000, 7);

test.each(results.filter(({fails}) => fails === undefined).map((r) => [`${r.figure}: ${r.situation}`, r] as const))(
  '%s',
  (_, {share}) => {
    expect(share).toBeGreaterThanOrEqual(0.93);
    expect(share).toBeLessThanOrEqual(0.97);
  },
);

describe('where the approximation fails', () => {
  const failing = (how: string) => results.filter(({fails}) => fails === how);

  test('too narrow where there is no amount at all: it is never negative, so it always errs upward', () => {
    expect(failing('too narrow').map(({situation}) => situation)).toEqual(['16 even readings, no amount at all']);
    expect(failing('too narrow')[0].share).toBeGreaterThan(0.84);
    expect(failing('too narrow')[0].share).toBeLessThan(0.9);
  });

  test('too wide, on the safe side, where a match leaves nothing', () => {
    expect(failing('too wide')).toHaveLength(2);
    for (const {share} of failing('too wide')) {
      expect(share).toBeGreaterThan(0.955);
      expect(share).toBeLessThan(0.985);
    }
  });
});

test('the same seed gives the same shares', () => {
  expect(study(50, 3)).toEqual(study(50, 3));
  expect(study(50, 3)).not.toEqual(study(50, 4));
});
