/** What workings say besides their arithmetic: each step what it is, and in which unit; answers in that of the function. */
import {CATALOGUE} from '../../src/functions/catalogue';
import {record} from '../../src/functions/workings/recorders';
import {callOf} from '../../src/functions/columns';
import {cases} from '../../src/tools/agreement/cases';
import {loadWorkings} from '../../src/working/workingOf';
import {parseCall} from '../support/formula';

beforeAll(loadWorkings);

const functions = CATALOGUE.filter(({name}) => name !== 'WORKING').map(
  (declared) => [declared.name, declared] as const,
);

/** The columns of a fit, a cosine and a sine an order, which their formula alone says, and what they are short for. */
const PLAIN = /^([cs]([A-Z]\d?)?_\d+\w*|[pq])$/;

test.each(functions)('%s', (name, declared) => {
  const example = callOf(declared, parseCall(declared.example.formula).args);
  // The proof of MATCHCURVE is long.
  for (const args of [example, ...cases(declared, name === 'MATCHCURVE' ? 1 : 10)]) {
    const {steps, answers} = record(declared, args);
    const units = new Map<string, string>();
    for (const step of steps) {
      if (!('says' in step)) continue;
      units.set(step.symbol, step.unit);
      const where = `${step.symbol}: ${step.says}`;
      expect(where).not.toMatch(/undefined|NaN|\[object/);
      if (!PLAIN.test(step.symbol)) expect(where).toMatch(/^\S.*: \S/);
    }
    if (name === 'EACHROW') continue;
    for (const {symbol, part} of answers) {
      const unit = units.get(symbol);
      if (unit !== undefined) expect(`${symbol} in ${unit}`).toBe(`${symbol} in ${declared.parts[part].unit}`);
    }
  }
});
