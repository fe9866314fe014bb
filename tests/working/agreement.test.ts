/**
 * Two engines: every function's own TypeScript and mathjs, over random calls. Each figure of an answer comes from a step
 * and agrees within 1e-9 of the largest input of the same unit.
 */
import {CATALOGUE} from '../../src/functions/catalogue';
import {secondEngine} from '../../src/tools/agreement/judge';
import {loadWorkings} from '../../src/working/workingOf';

beforeAll(loadWorkings);

const CALLS = 200;

test.each(CATALOGUE.map((declared) => [declared.name, declared] as const))(
  '%s',
  (name, declared) => {
    const {figures, largest, problems, steps, open} = secondEngine(declared, CALLS);
    expect(problems).toEqual([]);
    expect(largest).toBeLessThan(1e-9);
    expect(steps).toBeGreaterThan(0);
    if (name !== 'WORKING') expect(figures).toBeGreaterThanOrEqual(0.9 * CALLS);
    // What a search found is shown or proved by every one of the workings.
    expect(open).toBe(0);
  },
  120000,
);
