/** Arguments made after a declaration: the kinds, ranges and sizes that a function asks for. */
import fc from 'fast-check';
import type {Cell, Raw} from '../../functions/cells';
import type {Argument, Declaration} from '../../functions/declare';
import type {Range} from '../../functions/numbers';
import {randomFrom} from '../random';

export type Arguments = readonly (Raw | readonly Raw[])[];

/** How many records, readings or spins the lists of one call hold. */
export const COUNT = fc.oneof(
  {weight: 6, arbitrary: fc.integer({min: 2, max: 16})},
  {weight: 2, arbitrary: fc.constantFrom(8, 16, 24)},
  {weight: 1, arbitrary: fc.integer({min: 1, max: 72})},
);

/** Lists as long as a whole year of records. */
export const LONG = fc.constantFrom(300, 1000, 5000, 10000);

const double = (min: number, max: number) => fc.double({min, max, noNaN: true});

/** Numbers of a range: mostly such as a shop has, at times very small or large ones and those at the very ends. */
export function numberIn({what, least, above, most, whole}: Range): fc.Arbitrary<number> {
  const low = least ?? above ?? -100;
  const high = most ?? Math.max(low, 0) + 1000;
  if (whole) {
    const next = above === undefined ? low : above + 1;
    return fc.oneof(
      {weight: 6, arbitrary: fc.integer({min: next, max: Math.min(high, next + 8)})},
      {weight: 3, arbitrary: fc.integer({min: next, max: high})},
      {weight: 1, arbitrary: fc.constantFrom(next, high)},
    );
  }
  const inside = (n: number): number => (n <= (above ?? -Infinity) || n > high ? high : n);
  if (what.includes('angle')) {
    return fc.oneof(
      {weight: 4, arbitrary: double(0, 360)},
      {weight: 3, arbitrary: fc.integer({min: -48, max: 48}).map((k) => 15 * k)},
      {weight: 1, arbitrary: double(-1e15, 1e15)},
    );
  }
  return fc.oneof(
    {weight: 4, arbitrary: double(low, high).map(inside)},
    {weight: 4, arbitrary: double(low, Math.min(high, low + 2)).map(inside)},
    {weight: 4, arbitrary: fc.integer({min: 0, max: 100}).map((k) => inside(low + ((high - low) * k) / 100))},
    {
      weight: 1,
      arbitrary: double(-300, 15).map((power) => inside(Math.max(low, Math.min(most ?? 1e15, 10 ** power)))),
    },
    {weight: 1, arbitrary: fc.constantFrom(low, high, most ?? 1e15, above === undefined ? low : 5e-324).map(inside)},
  );
}

/** A list of cells as a range: a column, a row, or a block where it divides. */
const arranged = <T extends Cell>(cells: fc.Arbitrary<T[]>): fc.Arbitrary<Raw> =>
  fc.tuple(cells, fc.nat(4)).map(([list, way]): Raw => {
    if (way === 0 && list.length % 2 === 0) return [list.slice(0, list.length / 2), list.slice(list.length / 2)];
    return way < 3 ? list.map((cell) => [cell]) : [list];
  });

/** Long lists are drawn from a seed, so that they cost no more than they are. */
const list = <T>(each: fc.Arbitrary<T>, count: number): fc.Arbitrary<T[]> =>
  count <= 24
    ? fc.array(each, {minLength: count, maxLength: count})
    : fc.tuple(fc.array(each, {minLength: 24, maxLength: 24}), fc.nat()).map(([some, seed]) => {
        const random = randomFrom(seed);
        return Array.from({length: count}, () => some[Math.floor(random() * some.length)]);
      });

/** Readings as of a wheel: a mean, two harmonics and scatter, to what an indicator shows; or any numbers, or all alike. */
function turn(count: number): fc.Arbitrary<number[]> {
  const wheel = fc
    .tuple(
      fc.nat(),
      double(-1, 1),
      double(0, 2),
      double(0, 1),
      double(0, 360),
      fc.constantFrom(0, 0.001, 0.02, 0.5),
      fc.constantFrom(0, 0.001, 0.01, 0.05),
    )
    .map(([seed, mean, first, second, high, scatter, step]) => {
      const random = randomFrom(seed);
      return Array.from({length: count}, (_, i) => {
        const at = ((360 * i) / count - high) * (Math.PI / 180);
        const exact = mean + (first / 2) * Math.cos(at) + (second / 2) * Math.cos(2 * at) + scatter * (random() - 0.5);
        return step === 0 ? exact : Math.round(exact / step) * step;
      });
    });
  const scaled = fc
    .tuple(wheel, fc.integer({min: -320, max: 14}))
    .map(([values, power]) => values.map((v) => v * 10 ** power));
  return fc.oneof(
    {weight: 8, arbitrary: wheel},
    {weight: 2, arbitrary: list(double(-1, 1), count)},
    {weight: 1, arbitrary: list(double(-1e15, 1e15), count)},
    {weight: 1, arbitrary: scaled},
    {weight: 1, arbitrary: double(-2, 2).map((value) => new Array<number>(count).fill(value))},
    {weight: 1, arbitrary: list(fc.constantFrom(0, 1), count)},
  );
}

/** Readings of a turn, of which some may be missing. */
const readings = (count: number): fc.Arbitrary<Raw> =>
  arranged(
    fc
      .tuple(
        turn(count),
        fc.oneof({weight: 3, arbitrary: fc.constant([])}, fc.array(fc.nat(count - 1), {maxLength: 3})),
      )
      .map(([values, missing]) => {
        const cells: Cell[] = [...values];
        for (const i of missing) cells[i] = '';
        return cells;
      }),
  );

/** An angle for each reading: even steps with a little scatter, in any order, or any angles at all. */
const angles = (count: number): fc.Arbitrary<Raw> =>
  arranged(
    fc.oneof(
      {
        weight: 5,
        arbitrary: fc.tuple(fc.nat(), double(0, 8), double(-360, 360)).map(([seed, scatter, from]) => {
          const random = randomFrom(seed);
          return Array.from({length: count}, (_, i) => from + (360 * i) / count + scatter * (random() - 0.5));
        }),
      },
      {weight: 1, arbitrary: list(numberIn({what: 'an angle'}), count)},
    ),
  );

/** Names that repeat in blocks and cycles, as parts, operators and suppliers do. */
const names = (count: number): fc.Arbitrary<Raw> =>
  fc
    .tuple(
      fc.integer({min: 1, max: 4}),
      fc.integer({min: 1, max: 4}),
      fc.constantFrom(['a', 'b', 'c', 'd'], [1, 2, 3, 4], ['North', ' north', '', 'Süd']),
    )
    .map(([block, cycle, of]) => Array.from({length: count}, (_, i) => [of[Math.floor(i / block) % cycle]]));

const vectorCells = (count: number): fc.Arbitrary<number[][]> =>
  list(
    fc.tuple(
      fc.oneof({weight: 8, arbitrary: numberIn({what: 'an amount', least: 0})}, fc.constantFrom(0, 0.5, 1)),
      numberIn({what: 'an angle'}),
    ),
    count,
  );

const oneRow = (cells: fc.Arbitrary<number[][]>): fc.Arbitrary<Raw> =>
  fc.tuple(cells, fc.boolean()).map(([rows, flat]): Raw => (flat ? [rows.flat()] : rows));

const POSITION = fc.oneof(
  double(-500, 500),
  fc.integer({min: -10, max: 10}).map((k) => 20 * k),
);
const RADIUS = numberIn({what: 'a radius', above: 0});

const planes = fc
  .tuple(POSITION, RADIUS, POSITION, RADIUS)
  .map((cells): Raw => [cells[0] === cells[2] ? [cells[0], cells[1], cells[0] + 100, cells[3]] : cells]);

const FLAG: fc.Arbitrary<Cell> = fc.oneof({weight: 6, arbitrary: fc.boolean()}, fc.constantFrom(0, 1));

/** Cells of an argument's kind; lists are as long as all lists of the call. */
function cellsOf(declared: Declaration, {kind, name, ranges, words}: Argument, count: number): fc.Arbitrary<Raw> {
  switch (kind) {
    case 'number':
      return numberIn(ranges![0]);
    case 'numbers':
      return ranges![0].what.includes('angle')
        ? fc.oneof({weight: 5, arbitrary: angles(count)}, arranged(list(numberIn(ranges![0]), count)))
        : arranged(list(numberIn(ranges![0]), count));
    case 'named numbers':
      return fc.tuple(...ranges!.map(numberIn)).map((cells): Raw => [cells]);
    case 'choice':
      return fc.constantFrom(...words!, words![0].toUpperCase());
    case 'text':
      return fc.constantFrom(
        'V',
        'Q',
        '205/55R16',
        '31x10.50R15LT 109S',
        'LT235/75R15 104/101Q',
        'DOT 1HD 2A021X 1225',
      );
    case 'flag':
      return FLAG as fc.Arbitrary<Raw>;
    case 'vector':
    case 'plane':
      return kind === 'vector' ? vectorCells(1) : fc.tuple(POSITION, RADIUS).map((cells): Raw => [cells]);
    case 'vectors':
      return fc
        .oneof({weight: 5, arbitrary: fc.constant(count)}, fc.integer({min: 1, max: 12}))
        .chain((n) => oneRow(vectorCells(n)));
    case 'two vectors':
      return oneRow(vectorCells(2));
    case 'vector and rim':
      return fc.integer({min: 1, max: 2}).chain((n) => oneRow(vectorCells(n)));
    case 'fitted weights':
      return fc.oneof(
        oneRow(vectorCells(2)),
        fc
          .integer({min: 2, max: 6})
          .chain((n) =>
            fc
              .tuple(vectorCells(n), list(POSITION, n), list(RADIUS, n))
              .map(([v, p, r]): Raw => v.map((cells, i) => [...cells, p[i], r[i]])),
          ),
      );
    case 'planes':
      return planes;
    case 'flags':
      return list(list(fc.oneof({weight: 4, arbitrary: fc.constant(true)}, fc.boolean()), count), Math.min(count, 200));
    case 'flags or empty':
      return arranged(list(fc.oneof({weight: 6, arbitrary: FLAG}, fc.constant('')), count));
    case 'names':
      return names(count);
    case 'readings':
      return readings(count);
    case 'angles':
      return angles(count);
    case 'record':
      return list(
        list(fc.oneof(double(-1e6, 1e6), fc.string({maxLength: 8}), FLAG) as fc.Arbitrary<Cell>, 5),
        Math.min(count, 20),
      );
    case 'fingerprint':
      return fc.oneof(
        fc.constantFrom<Raw[]>('', 0),
        fc.bigInt({min: 0n, max: 2n ** 64n - 1n}).map((n) => n.toString(16).padStart(16, '0')),
      );
    case 'part': {
      const parts = Object.keys(declared.parts);
      return name === 'part'
        ? fc.constantFrom<Raw[]>(...parts, ...parts.map((_, i) => i + 1))
        : fc.integer({min: 1, max: 3});
    }
    default:
      throw new Error(`no arguments are made up for the kind "${kind}" of ${declared.name}, ${name}`);
  }
}

/** All arguments of a function; those that may be left out often are. */
export const argumentsOf = (declared: Declaration, count: number): fc.Arbitrary<Arguments> =>
  fc.tuple(
    ...declared.arguments.map((argument) => {
      const given = cellsOf(declared, argument, count);
      return argument.optional
        ? fc.oneof({weight: 2, arbitrary: fc.constant<Raw>(null)}, {weight: 1, arbitrary: given})
        : given;
    }),
  );
