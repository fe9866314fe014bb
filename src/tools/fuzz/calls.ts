/** Calls of worksheet functions, made up: half of them near-valid, half of them hostile. */
import fc from 'fast-check';
import {CATALOGUE} from '../../functions/catalogue';
import type {Raw} from '../../functions/cells';
import type {Declaration} from '../../functions/declare';
import {hostileArgument, isChange} from './hostile';
import {exampleLike} from './examples';
import {argumentsOf, COUNT, LONG, type Arguments} from './valid';

/** The answer of another call, as a formula within a formula hands it over. */
export interface Spill {
  readonly spill: Call;
}

export type Given = Raw | Spill | readonly Raw[];

export interface Call {
  readonly name: string;
  readonly args: readonly Given[];
}

export interface MadeUp extends Call {
  /** Whether it was made after the declaration, so that an answer is likely. */
  readonly near: boolean;
}

export const isSpill = (given: Given): given is Spill =>
  typeof given === 'object' && given !== null && 'spill' in given;

/** Near-valid calls of a function: cells of the kinds and sizes that it declares, or those of its example, changed. */
function nearCalls(declared: Declaration): fc.Arbitrary<Call> {
  const {name} = declared;
  const args: fc.Arbitrary<Arguments> = declared.arguments.some(({repeating}) => repeating)
    ? name === 'WORKING'
      ? workingArguments
      : eachRowArguments
    : fc.oneof(
        {weight: 120, arbitrary: COUNT.chain((count) => argumentsOf(declared, count))},
        {weight: 60, arbitrary: exampleLike(declared)},
        {weight: 1, arbitrary: LONG.chain((count) => argumentsOf(declared, count))},
      );
  return args.map((given) => ({name, args: given}));
}

/** EACHROW with the name of another function and a few records for it. */
const eachRowArguments: fc.Arbitrary<Arguments> = fc
  .tuple(
    fc.constantFrom(...CATALOGUE.filter(({answers, arguments: all}) => answers !== 'table' && all.length > 0)),
    COUNT,
  )
  .chain(([of, records]) =>
    of.arguments.some(({repeating}) => repeating)
      ? fc.constant<Arguments>([of.name, []])
      : fc
          .array(fc.oneof(argumentsOf(of, 6), exampleLike(of)), {minLength: 1, maxLength: Math.min(records, 6)})
          .map((each): Arguments => [of.name, gathered(each, of.arguments.length)]),
  );

/** WORKING with the name of another function and a call of it. */
const workingArguments: fc.Arbitrary<Arguments> = fc
  .constantFrom(...CATALOGUE.filter(({arguments: all}) => !all.some(({repeating}) => repeating)))
  .chain((of) => fc.oneof(argumentsOf(of, 6), exampleLike(of)).map((args): Arguments => [of.name, [...args] as Raw[]]));

/** The arguments of several records, one row of cells each. */
const gathered = (records: readonly Arguments[], length: number): Raw[] =>
  Array.from({length}, (_, i) => {
    const rows = records.map(({[i]: raw}) => (Array.isArray(raw) ? raw.flat() : [raw ?? '']));
    // Ranges are rectangular: what is longer than the first record's is cut, what is shorter filled up.
    return rows.map((row) => rows[0].map((_, c) => row[c] ?? '')) as Raw;
  });

const callOf = (declared: Declaration): fc.Arbitrary<Call> => near.get(declared.name)!;
const near = new Map(CATALOGUE.map((declared) => [declared.name, nearCalls(declared)]));

/** Near-valid calls of any function, to stand as arguments. */
const spills: fc.Arbitrary<Spill> = fc
  .constantFrom(...CATALOGUE)
  .chain(callOf)
  .map((spill) => ({spill}));

/** Hostile calls: too few arguments, too many, and among valid ones such as never belong there. */
function hostileCalls(declared: Declaration): fc.Arbitrary<Call> {
  const {length} = declared.arguments;
  const repeating = declared.arguments.findIndex((argument) => argument.repeating);
  const replaced = fc.array(fc.option(fc.oneof({weight: 8, arbitrary: hostileArgument}, spills), {freq: 2}), {
    minLength: 1,
    maxLength: length + 2,
  });
  return fc.tuple(callOf(declared), replaced, fc.nat(5)).map(([{name, args}, by, few]) => {
    const given = repeating < 0 ? [...args] : [...args.slice(0, repeating), ...(args[repeating] as readonly Raw[])];
    by.forEach((other, i) => {
      if (other !== null) given[i] = isChange(other) ? other.in(given[i]) : other;
    });
    if (few === 0) given.length = Math.min(given.length, Math.max(0, length - 1));
    // Excel gathers what belongs to a repeating argument.
    return {name, args: repeating < 0 ? given : [...given.slice(0, repeating), given.slice(repeating) as Raw[]]};
  });
}

/** Calls of one function, near-valid and hostile ones in turn by chance. */
export const callsOf = (declared: Declaration): fc.Arbitrary<MadeUp> =>
  fc.oneof(
    callOf(declared).map((call) => ({...call, near: true})),
    hostileCalls(declared).map((call) => ({...call, near: false})),
  );
