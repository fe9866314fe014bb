/** Starter values of a new ledger. Limits and steps are common practice; all of them are the shop's to change. */
import {MILLIMETERS_PER_INCH} from '../maths/units';
import {TABLE, type LedgerUnits} from './ledgerColumns';
import type {LedgerMap, Place, Role} from './ledgerMap';

export interface SettingsTable {
  readonly name: string;
  readonly note: string;
  readonly headings: readonly string[];
  readonly rows: readonly (readonly (string | number)[])[];
}

const CLASSES = ['passenger', 'light truck', 'heavy'] as const;

/** 0.018, 0.031 and 0.037 in, peak-to-peak (common practice). */
const ASSEMBLY_INCH = [0.018, 0.031, 0.037];
/** Stock steps (common practice): 5 g, half an ounce, two ounces. */
const STEPS: Readonly<Record<LedgerUnits, readonly number[]>> = {metric: [5, 15, 60], us: [0.25, 0.5, 2]};

const round = (value: number, digits: number): number => Number(value.toFixed(digits));

export function settingsTables(units: LedgerUnits): SettingsTable[] {
  const [length, weight, digits] = units === 'metric' ? ['mm', 'g', 2] : ['in', 'oz', 3];
  const scale = units === 'metric' ? MILLIMETERS_PER_INCH : 1;
  return [
    {
      name: 'Limits',
      note: `Runout in ${length}, peak-to-peak; stock step in ${weight}. Assembly limits and steps are common practice; rim and curve start in proportion. Set your own.`,
      headings: ['Class', 'Assembly', 'Rim', 'Curve', 'Stock step'],
      rows: CLASSES.map((name, i) => {
        const assembly = ASSEMBLY_INCH[i] * scale;
        return [
          name,
          round(assembly, digits),
          round(0.85 * assembly, digits),
          round(1.7 * assembly, digits),
          STEPS[units][i],
        ];
      }),
    },
    {
      name: 'Prices',
      note: 'In your own currency. All are 0 until you set them.',
      headings: ['Item', 'Value', 'Unit'],
      rows: [
        ['Balance weight', 0, `per ${weight}`],
        ['Labor', 0, 'per hour'],
        ['Minutes to turn a tire on its rim', 0, 'min'],
        ['Vehicle that comes back', 0, 'each'],
        ['Risk of coming back as it is', 0, 'probability'],
        ['Risk of coming back after a match', 0, 'probability'],
        ['Share of weight left after a match', 1, 'share'],
      ],
    },
    {
      name: 'Positions',
      note: 'How much the driver feels a wheel at each position; 1 is least. Common practice: worst assembly to the rear, farthest from the driver.',
      headings: ['Class', 'Position', 'Sensitivity'],
      rows: CLASSES.flatMap((name) =>
        (
          [
            ['LF', 4],
            ['RF', 3],
            ['LR', 2],
            ['RR', 1],
          ] as const
        ).map(([position, value]) => [name, position, value]),
      ),
    },
    {
      name: 'Planes',
      note: `Correction planes in ${length}: position along the axle from the middle of the rim, + outboard; radius of the weights. Measure your own rims.`,
      headings: ['Class', 'Inboard position', 'Inboard radius', 'Outboard position', 'Outboard radius'],
      rows: CLASSES.map((name, i) => [
        name,
        ...[
          [-85, 205, 75, 200],
          [-95, 208, 90, 203],
          [-105, 265, 105, 265],
        ][i].map((mm) => (units === 'metric' ? mm : round(mm / MILLIMETERS_PER_INCH, 2))),
      ]),
    },
  ];
}

/** The map of a ledger as Wheel Ledger starts it. */
export function startedMap(units: LedgerUnits): LedgerMap {
  const weight = units === 'metric' ? 'g' : 'oz';
  const own = (first: string, last = first): Place => ({table: TABLE, first, last, by: undefined});
  const places: [Role, Place][] = [
    ['Job', own('Job')],
    ['Date', own('Date')],
    ['Vehicle', own('Vehicle')],
    ['Class', own('Class')],
    ['Position', own('Position')],
    ['Tire size', own('Size')],
    ['Supplier', own('Supplier')],
    ['TIN', own('TIN')],
    ['Assembly readings', own('A1', 'A16')],
    ['Inner bead seat', own('I1', 'I16')],
    ['Outer bead seat', own('O1', 'O16')],
    ['Unbalance', own(`In ${weight}`, 'Out °')],
    ['Limits', own('Limit', 'Curve limit')],
    ['Stock step', {table: 'Limits', first: 'Stock step', last: 'Stock step', by: 'Class'}],
    ['Planes', {table: 'Planes', first: 'Inboard position', last: 'Outboard radius', by: 'Class'}],
  ];
  return {
    table: TABLE,
    places: new Map(places),
    runoutUnit: units === 'metric' ? 'mm' : 'in',
    weightUnit: weight,
    clockwise: true,
    origin: 'map',
  };
}
