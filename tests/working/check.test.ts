/** Step texts: what every declaration writes down is in the vocabulary, and what two readers would read in two ways is refused. */
import {CATALOGUE} from '../../src/functions/catalogue';
import {record} from '../../src/functions/workings/recorders';
import {cases} from '../../src/tools/agreement/cases';
import {parseStep} from '../../src/working/check';
import {symbolsOf} from '../../src/working/nodes';
import {OVER_ROWS, VOCABULARY} from '../../src/working/vocabulary';
import {loadWorkings} from '../../src/working/workingOf';

beforeAll(loadWorkings);

/** All that declarations say in steps, over calls of every kind. */
function* steps() {
  for (const declared of CATALOGUE) {
    for (const args of cases(declared, 60)) yield {declared, recorded: record(declared, args)};
  }
}

test('every step of every declaration is read in one way alone, and names only what stands above it', () => {
  const words = new Set<string>();
  let texts = 0;
  for (const {declared, recorded} of steps()) {
    const above = new Set<string>();
    for (const step of recorded.steps) {
      if (step.kind === 'figure' || step.kind === 'column') {
        const self = step.kind === 'column' ? step.symbol : undefined;
        const tree = parseStep(step.expression, (symbol) => above.has(symbol), self);
        tree.traverse((node) => {
          if (node.type === 'FunctionNode') words.add(node.fn.name);
        });
        expect([...symbolsOf(tree)].every((symbol) => above.has(symbol) || symbol === self)).toBe(true);
        texts++;
      }
      if (step.kind === 'block') for (const column of step.columns) expect(above.has(column)).toBe(true);
      if (above.has(step.symbol)) throw new Error(`${declared.name} gives ${step.symbol} twice`);
      above.add(step.symbol);
    }
    for (const {symbol, vanishing} of recorded.answers) {
      expect(above.has(symbol)).toBe(true);
      if (vanishing) expect(above.has(vanishing.size) && above.has(vanishing.whole)).toBe(true);
    }
  }
  expect(texts).toBeGreaterThan(10000);
  // No word is in the vocabulary that nobody uses: each is tried by the spreadsheet.
  expect([...Object.keys(VOCABULARY), ...Object.keys(OVER_ROWS)].filter((word) => !words.has(word))).toEqual([]);
});

test('every step says what it is', () => {
  for (const {declared, recorded} of steps()) {
    for (const step of recorded.steps) {
      if (step.kind !== 'figure' && step.kind !== 'found' && step.kind !== 'input') continue;
      if (step.says === '') throw new Error(`${step.symbol} of ${declared.name} has no words`);
    }
  }
});

describe('refused, with the step quoted', () => {
  test.each([
    ['-a^2', '-a^b reads differently in Excel'],
    ['a^b^2', 'a^b^c reads differently in Excel'],
    ['2 a', 'a multiplication sign is missing'],
    ['a % 2', 'the operator % is not in the vocabulary'],
    ['a!', 'the operator ! is not in the vocabulary'],
    ['a .* b', 'the operator .* is not in the vocabulary'],
    ['mod(a, 360)', 'the function mod is not in the vocabulary'],
    ['sqrt(a, b)', 'sqrt with 2 arguments'],
    ['a > b', 'a comparison outside a condition'],
    ['sqrt(a > b)', 'a comparison outside a condition'],
    ['same(a, b)', 'same outside a condition'],
    ['sum(a > 0 ? a : b)', 'a condition inside sum'],
    ['sum(greater(a, b))', 'greater inside sum'],
    ['max(present(a))', 'present inside max'],
    ['sum(sum(a))', 'sum inside sum'],
    ['lookup(a, b + 1, a)', 'lookup takes a column, not an expression'],
    ['a + 0.1234567890123456', 'a constant of more than 15 digits'],
    ['a = 2', 'AssignmentNode is not in the vocabulary'],
    ['[a, b]', 'ArrayNode is not in the vocabulary'],
    ['a + c', 'the symbol c is not known'],
    ['above(d, 0) + d', 'the symbol d is not known'],
  ])('%s', (expression, why) => {
    const refused = () => parseStep(expression, (symbol) => symbol === 'a' || symbol === 'b', 'd');
    expect(refused).toThrow(why);
    expect(refused).toThrow(`"${expression}"`);
  });

  test('but a column may look above in itself', () => {
    expect(() => parseStep('above(d, 0) + a', (symbol) => symbol === 'a', 'd')).not.toThrow();
  });
});
