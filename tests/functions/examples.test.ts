import {CATALOGUE} from '../../src/functions/catalogue';
import {loadWorkings} from '../../src/working/workingOf';
import {call, parseCall} from '../support/formula';

beforeAll(loadWorkings);

describe('every declaration', () => {
  test.each(CATALOGUE.map((d) => [d.name, d] as const))('%s answers its example', (_, {example}) => {
    const {name, args} = parseCall(example.formula);
    const answer = call(name, ...args);
    expect(answer.map((row) => row.length)).toEqual(example.gives.map((row) => row.length));
    answer.flat().forEach((cell, i) => {
      const wanted = example.gives.flat()[i];
      if (typeof wanted === 'number')
        expect(Math.abs((cell as number) - wanted)).toBeLessThan(5e-9 * Math.max(1, Math.abs(wanted)));
      else expect(cell).toBe(wanted);
    });
  });

  test('keeps to the limits of Excel’s metadata and says what it is', () => {
    for (const d of CATALOGUE) {
      expect(d.name).toMatch(/^[A-Z][A-Z0-9]{2,63}$/);
      expect(d.summary.length).toBeGreaterThan(10);
      expect(d.summary.length).toBeLessThanOrEqual(1024);
      expect(d.source).not.toBe('');
      for (const {name, says, takes} of d.arguments) {
        expect(name).toMatch(/^[a-z][A-Za-z0-9]*$/);
        expect(`${says}: ${takes}.`.length).toBeLessThanOrEqual(512);
      }
      const names = d.arguments.map(({name}) => name.toLowerCase());
      expect(new Set(names).size).toBe(names.length);
    }
    expect(new Set(CATALOGUE.map(({name}) => name)).size).toBe(CATALOGUE.length);
  });
});
