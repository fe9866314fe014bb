/** Whole columns of a sheet as any argument: answered or refused, and nothing else, for every function. */
import {CATALOGUE, find} from '../../src/functions/catalogue';
import type {Raw} from '../../src/functions/cells';
import type {Argument} from '../../src/functions/declare';
import {Refusal} from '../../src/maths/refusal';
import {parseCall} from '../support/formula';

/** More than a call of a function takes as a list of arguments of its own. */
const COLUMN = Array.from({length: 150_000}, (_, i) => [2 + Math.sin(i / 1000) + ((i * 7919) % 13) / 100]);

const refusal = (name: string, args: readonly Raw[]): string | undefined => {
  try {
    find(name)!.evaluate(args);
    return undefined;
  } catch (error) {
    if (error instanceof Refusal) return error.message;
    throw error;
  }
};

const isOfOneTurn = ({takes}: Argument): boolean => takes.includes('at most 36,000');

// A working fetches what it needs first; a test of its own gives it as many records.
const functions = CATALOGUE.filter(({name, arguments: taken}) => name !== 'WORKING' && taken.length > 0);

test.each(functions.map((declared) => [declared.name, declared] as const))('%s', (name, declared) => {
  const {args} = parseCall(declared.example.formula);
  for (const [i, taken] of declared.arguments.entries()) {
    const given = [...args];
    given[i] = taken.repeating ? ([COLUMN] as unknown as Raw) : COLUMN;
    const said = refusal(name, given);
    if (isOfOneTurn(taken)) {
      expect(said).toBe(
        `${taken.name}: at most 36,000 readings of one turn are wanted, found a range of 150000 × 1 cells (rows × columns)`,
      );
    }
  }
});

test.each(functions.filter(({arguments: taken}) => taken.some(isOfOneTurn)).map(({name}) => name))(
  '%s of 36,000 readings a turn',
  (name) => {
    const {arguments: taken, example} = find(name)!;
    const {args} = parseCall(example.formula);
    const given = taken.map(({kind}, i) => (kind === 'readings' ? COLUMN.slice(0, 36_000) : args[i]));
    expect(refusal(name, given)).toBeUndefined();
  },
);

test('very many readings at angles of their own allow few harmonics, even ones many', () => {
  const many = (n: number) => COLUMN.slice(0, n);
  const at = Array.from({length: 20_000}, (_, i) => [(i * 360) / 20_000 + (i % 3) / 1000]);
  expect(refusal('HARMONIC', [many(20_000), 18, at])).toBeUndefined();
  const words = 'readings: 20000 readings with gaps or at angles of their own allow harmonics up to order 18, not 19';
  expect(refusal('HARMONIC', [many(20_000), 19, at])).toBe(words);
  expect(refusal('HARMONIC', [many(20_000), 50])).toBeUndefined();
  expect(refusal('HARMONIC', [many(20_000).map((row, i) => (i % 2 ? [''] : row)), 19])).toBeUndefined();
  expect(refusal('HARMONIC', [many(30_000).map((row, i) => (i % 3 ? row : [''])), 19])).toBe(words);
});

test('36,000 readings of one turn are taken, in any arrangement, and any number of values', () => {
  for (const [rows, columns] of [
    [1, 36_000],
    [36_000, 1],
    [360, 100],
  ]) {
    const cells = Array.from({length: rows}, (_, r) => Array.from({length: columns}, (_, c) => r + c));
    expect(find('TIR')!.evaluate([cells])).toEqual([[rows + columns - 2]]);
    expect(refusal('TIR', [[...cells, cells[0]]])).toMatch(/at most 36,000 readings/);
  }
  expect(refusal('CONTROL', [COLUMN])).toBeUndefined();
});
