/** What can be added to a sheet: each addition is some columns, each column an expression. */
import type {Role} from '../ledgerMap';
import {added, angles, call, constant, own, readings, whenMeasured, type Expression} from './expression';
import {positionsOf, SIDES, type Mapping, type Side} from './mapping';
import type {Settings} from './settings';

export interface AddedColumn {
  readonly id: string;
  readonly heading: string;
  readonly expression: Expression;
  /** A figure of runout, of weight, an angle, or as it comes. */
  readonly format: 'runout' | 'plusminus' | 'weight' | 'angle' | 'years' | 'count' | 'money' | 'text';
}

export interface Recipe {
  readonly id: string;
  readonly title: string;
  readonly about: string;
  /** Chosen to begin with. */
  readonly usual: boolean;
  readonly columns: (mapping: Mapping) => AddedColumn[];
  /** Why it cannot be added to this sheet, and what to do; undefined when it can. */
  readonly missing: (mapping: Mapping, settings: Settings) => string | undefined;
}

/** Harmonics that the readings of a turn carry. */
const orders = (mapping: Mapping): number => {
  const fewest = Math.min(...[...mapping.readings.values()].map(positionsOf));
  return Math.max(1, Math.min(4, Math.floor((fewest - 2) / 2)));
};

const NAMES: Readonly<Record<Side, string>> = {
  'Assembly readings': 'assembly',
  'Inner bead seat': 'inner seat',
  'Outer bead seat': 'outer seat',
};

const assessed =
  (part: string) =>
  (mapping: Mapping): Expression =>
    // A wheel without any readings stays empty; one whose bead seats are missing says so.
    whenMeasured(
      'Assembly readings',
      call(
        'ASSESSREADINGS',
        ...SIDES.map(readings),
        {kind: 'limits'},
        constant(orders(mapping)),
        angles('Assembly readings'),
        constant(part),
      ),
    );

const assembly =
  (part: string) =>
  (mapping: Mapping): Expression =>
    whenMeasured(
      'Assembly readings',
      call(
        'HARMONICS',
        readings('Assembly readings'),
        constant(orders(mapping)),
        angles('Assembly readings'),
        constant(part),
        constant(1),
      ),
    );

const stock = (part: string): Expression => ({
  kind: 'when filled',
  role: 'Unbalance',
  then: call(
    'STOCKPAIR',
    own('Unbalance'),
    {kind: 'class', table: 'Planes', first: 'Inboard position', last: 'Outboard radius'},
    {kind: 'step'},
    constant(part),
  ),
});

const tin = (part: string): Expression => ({
  kind: 'when filled',
  role: 'TIN',
  then: call('TIN', own('TIN'), constant(part)),
});

const matchValue = (part: string): Expression => {
  const weights: Expression = {
    kind: 'sum',
    of: [
      {kind: 'own cell', role: 'Unbalance', at: 0},
      {kind: 'own cell', role: 'Unbalance', at: 2},
    ],
  };
  return {
    kind: 'when is',
    test: added('finding'),
    text: 'match mount',
    then: call(
      'MATCHVALUE',
      weights,
      weights,
      {kind: 'price', item: 'Balance weight'},
      {kind: 'price', item: 'Minutes to turn a tire on its rim'},
      {kind: 'price', item: 'Labor'},
      {kind: 'price', item: 'Risk of coming back as it is'},
      {kind: 'price', item: 'Risk of coming back after a match'},
      {kind: 'price', item: 'Vehicle that comes back'},
      constant(part),
    ),
  };
};

const needsSides = (mapping: Mapping): string | undefined => {
  const missing = SIDES.filter((side) => !mapping.readings.has(side));
  if (missing.length === 0) return undefined;
  return `Needs readings of assembly and both bead seats. Say which columns hold: ${missing.join(', ').toLowerCase()}.`;
};

const needsLimits = (_: Mapping, {limitsFrom}: Settings): string | undefined =>
  limitsFrom.kind === 'none'
    ? 'Needs limits. Add the sheets of limits below, or say which columns hold the limits of assembly and rim.'
    : undefined;

const needsRole =
  (role: Role, words: string) =>
  (mapping: Mapping): string | undefined =>
    mapping.columns.has(role) ? undefined : `Needs ${words}. Say which column holds it.`;

const needsTable =
  (name: string) =>
  (_: Mapping, {tables}: Settings): string | undefined =>
    tables.has(name) ? undefined : `Needs the table ${name}. Add the sheets of limits, prices and planes below.`;

type Needs = Recipe['missing'];

const all =
  (...needs: readonly Needs[]): Needs =>
  (mapping, settings) => {
    for (const need of needs) {
      const words = need(mapping, settings);
      if (words !== undefined) return words;
    }
    return undefined;
  };

const needsAssembly: Needs = (mapping) =>
  mapping.readings.has('Assembly readings')
    ? undefined
    : 'Needs readings of the assembly. Say which columns hold them.';

const needsAny: Needs = (mapping) => (mapping.readings.size > 0 ? undefined : 'Needs readings.');

/** Weights are looked up with the record's class, or one class for all. */
const needsClass: Needs = (mapping, {limitsFrom, tables}) => {
  if (limitsFrom.kind === 'one class' || mapping.columns.has('Class')) return undefined;
  return tables.has('Limits')
    ? 'Needs the class of each wheel. Say which column holds it, or choose one class for all.'
    : 'Needs the tables of limits and planes. Add them below.';
};

export const RECIPES: readonly Recipe[] = [
  {
    id: 'check',
    title: 'Check of readings',
    about: 'Says what is wrong with a record’s readings: an outlier, a stuck indicator, a blank read as zero.',
    usual: true,
    missing: needsAny,
    columns: (mapping) =>
      SIDES.filter((side) => mapping.readings.has(side)).map((side) => ({
        id: `check ${NAMES[side]}`,
        heading: `Check ${NAMES[side]}`,
        format: 'text',
        expression: whenMeasured(side, call('READINGCHECK', readings(side), angles(side))),
      })),
  },
  {
    id: 'runout',
    title: 'Assembly runout and ±',
    about: 'First harmonic of the assembly, peak-to-peak, with its 95 % half-width.',
    usual: true,
    missing: needsAssembly,
    columns: (mapping) => [
      {id: 'assembly', heading: 'Assembly', format: 'runout', expression: assembly('amount')(mapping)},
      {id: 'plusminus', heading: '±', format: 'plusminus', expression: assembly('plusminus')(mapping)},
    ],
  },
  {
    id: 'finding',
    title: 'Finding',
    about: 'accept, remeasure, match mount, replace tire, replace rim or replace both, and the reason in a sentence.',
    usual: true,
    missing: all(needsSides, needsLimits),
    columns: (mapping) => [
      {id: 'finding', heading: 'Finding', format: 'text', expression: assessed('finding')(mapping)},
      {id: 'reason', heading: 'Reason', format: 'text', expression: assessed('reason')(mapping)},
    ],
  },
  {
    id: 'match',
    title: 'Best turn and what remains',
    about: 'Degrees to turn the tire on the rim, the runout left after it, and its ±.',
    usual: true,
    missing: all(needsSides, needsLimits),
    columns: (mapping) => [
      {id: 'turn', heading: 'Turn', format: 'angle', expression: assessed('turn')(mapping)},
      {id: 'after', heading: 'After', format: 'runout', expression: assessed('after')(mapping)},
      {id: 'plusafter', heading: '± after', format: 'plusminus', expression: assessed('plusafter')(mapping)},
    ],
  },
  {
    id: 'clock',
    title: 'Clock position',
    about: 'Where the chalk mark made at the valve goes, the valve hole at 12, where the finding is match mount.',
    usual: true,
    missing: all(needsSides, needsLimits),
    columns: (mapping) => [
      {
        id: 'clock',
        heading: 'Chalk to',
        format: 'text',
        expression: {
          kind: 'when is',
          test: added('finding'),
          text: 'match mount',
          then: call('CLOCK', added('turn'), mapping.clockwise ? undefined : constant(false)),
        },
      },
    ],
  },
  {
    id: 'parts',
    title: 'Figures of tire and rim',
    about: 'First harmonics of the rim (mean of the bead seats) and of the tire (assembly less rim), peak-to-peak.',
    usual: false,
    missing: all(needsSides, needsLimits),
    columns: (mapping) => [
      {id: 'rim', heading: 'Rim', format: 'runout', expression: assessed('rim')(mapping)},
      {id: 'tire', heading: 'Tire', format: 'runout', expression: assessed('tire')(mapping)},
    ],
  },
  {
    id: 'weights',
    title: 'Balance weights',
    about: 'Stock weights in two planes, chosen together so that least unbalance is left.',
    usual: false,
    missing: all(
      needsRole('Unbalance', 'amounts and angles of both planes, inboard first'),
      needsTable('Planes'),
      needsTable('Limits'),
      needsClass,
    ),
    columns: () => [
      {id: 'in stock', heading: 'In stock', format: 'weight', expression: stock('inboard')},
      {id: 'in at', heading: 'In at', format: 'angle', expression: stock('inboardangle')},
      {id: 'out stock', heading: 'Out stock', format: 'weight', expression: stock('outboard')},
      {id: 'out at', heading: 'Out at', format: 'angle', expression: stock('outboardangle')},
    ],
  },
  {
    id: 'age',
    title: 'Age of the tire',
    about: 'Week and year of manufacture from the tire identification number, and its age in years.',
    usual: false,
    missing: needsRole('TIN', 'the tire identification number'),
    columns: (mapping) => [
      {id: 'tin week', heading: 'Made in week', format: 'count', expression: tin('week')},
      {id: 'tin year', heading: 'Made in year', format: 'count', expression: tin('year')},
      {
        id: 'tin age',
        heading: 'Age, years',
        format: 'years',
        expression: {
          kind: 'when filled',
          role: 'TIN',
          then: {
            kind: 'years',
            from: call('TIN', own('TIN'), constant('sunday')),
            // Without a date the age is that of today: Excel's own TODAY() then recalculates every day.
            to: mapping.columns.has('Date') ? own('Date') : undefined,
          },
        },
      },
    ],
  },
  {
    id: 'cost',
    title: 'Cost',
    about:
      'Where the finding is match mount: net of turning the tire and break-even minutes, from the table Prices. No saving of weights is counted, since they are known only after a match.',
    usual: false,
    missing: all(needsSides, needsLimits, needsTable('Prices'), needsRole('Unbalance', 'the amounts of weight')),
    columns: () => [
      {id: 'net', heading: 'Net of turning', format: 'money', expression: matchValue('net')},
      {id: 'breakeven', heading: 'Break-even minutes', format: 'count', expression: matchValue('breakeven')},
    ],
  },
  {
    id: 'fingerprint',
    title: 'Fingerprint',
    about: 'Sixteen digits that change when anything in the record changes. Shows accident, not a forger.',
    usual: false,
    missing: needsAny,
    columns: (mapping) => [
      {
        id: 'fingerprint',
        heading: 'Fingerprint',
        format: 'text',
        expression: whenMeasured([[...mapping.readings.keys()][0]], fingerprint(mapping)),
      },
    ],
  },
];

/** The record's own cells, then readings that stand elsewhere, chained. */
function fingerprint(mapping: Mapping): Expression {
  const elsewhere = [...mapping.readings].filter(([, place]) => place.kind !== 'row').map(([side]) => side);
  const first: Expression | undefined =
    mapping.firstOf === undefined ? call('FINGERPRINT', {kind: 'record'}) : undefined;
  return elsewhere.reduce<Expression | undefined>((before, side) => {
    return call('FINGERPRINT', readings(side), before);
  }, first)!;
}
