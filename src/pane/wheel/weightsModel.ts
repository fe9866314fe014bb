/** Balance weights of one wheel: what is needed, where it goes in stock sizes, and what is left. */
import {inWords} from '../../maths/format';
import {onePlane, residual, transfer, type Fitted, type Plane, type StaticCouple, type Two} from '../../maths/planes';
import {Refusal} from '../../maths/refusal';
import {behindSpokes, evenSpokes} from '../../maths/split';
import {nearestStock} from '../../maths/stock';
import {stockPair} from '../../maths/stockPair';
import type {Vector} from '../../maths/vectors';
import type {CellValue, LedgerRecord} from '../../workbook/ledger';

/** What the record says of a wheel's unbalance. */
export interface Needed {
  /** Correction masses, inboard and outboard. */
  readonly required: Two<Vector>;
  /** The planes that these were measured for. */
  readonly planes: Two<Plane>;
  /** Step of the stock masses; 0 when none is known. */
  readonly step: number;
  readonly massUnit: string;
  readonly lengthUnit: string;
  readonly clockwise: boolean;
  /** Limits of what is left, as masses at the radius of the weights; undefined where the ledger has none. */
  readonly limits: {readonly static: number; readonly couple: number} | undefined;
  /** 95 % half-width of the measured unbalance, a mass. */
  readonly plusminus: number | undefined;
}

export const FITTINGS = ['two planes', 'one plane', 'behind spokes'] as const;

/** Where weights may go. Behind spokes: the outboard ones; the inboard one stays free. */
export type Fitting = (typeof FITTINGS)[number];

export interface WeightChoice {
  readonly fitting: Fitting;
  /** The planes that weights go to. */
  readonly planes: Two<Plane>;
  /** The only plane, for one plane. */
  readonly single: Plane;
  readonly spokes: number;
  /** Degrees from the valve hole to the first spoke. */
  readonly firstSpoke: number;
  /** Exact masses instead of stock sizes. */
  readonly exact: boolean;
}

export interface PlacedWeight extends Fitted {
  readonly name: string;
  readonly side: 'inboard' | 'outboard' | 'single';
}

/** What is left to add, and the same as masses at the mean radius of the planes. */
export interface Left extends StaticCouple {
  readonly staticMass: number;
  readonly coupleMass: number;
}

export interface Placed {
  readonly weights: readonly PlacedWeight[];
  readonly left: Left;
}

const numbers = (cells: readonly CellValue[], count: number): number[] | undefined => {
  const found = cells.slice(0, count);
  return found.length === count && found.every((cell) => typeof cell === 'number') ? (found as number[]) : undefined;
};

/** What is needed, or in words why that is not known. */
export function needed(record: LedgerRecord): {readonly needed: Needed} | {readonly missing: string} {
  const {map} = record.ledger;
  const unbalance = record.cells('Unbalance');
  if (unbalance.every((cell) => cell === '')) return {missing: 'No unbalance has been measured for this record.'};
  const masses = numbers(unbalance, 4);
  if (masses === undefined || masses[0] < 0 || masses[2] < 0) {
    return {missing: 'Unbalance is wanted as four figures: mass and angle inboard, mass and angle outboard.'};
  }
  const planes = numbers(record.cells('Planes'), 4);
  if (planes === undefined) {
    return {missing: 'The planes of the weights are not known. Name their table in the ledger map.'};
  }
  const [inPosition, inRadius, outPosition, outRadius] = planes;
  if (inPosition === outPosition || inRadius <= 0 || outRadius <= 0) {
    return {
      missing: 'The two planes need different positions and radii above 0; see the table that the ledger map names.',
    };
  }
  const [step] = record.cells('Stock step');
  const limits = numbers(record.cells('Unbalance limits'), 2);
  const [plusminus] = record.cells('Unbalance uncertainty');
  return {
    needed: {
      required: [
        {amount: masses[0], angle: masses[1]},
        {amount: masses[2], angle: masses[3]},
      ],
      planes: [
        {position: inPosition, radius: inRadius},
        {position: outPosition, radius: outRadius},
      ],
      step: typeof step === 'number' && step > 0 ? step : 0,
      massUnit: map.weightUnit,
      lengthUnit: map.weightUnit === 'oz' ? 'in' : 'mm',
      clockwise: map.clockwise,
      limits: limits !== undefined && limits.every((l) => l > 0) ? {static: limits[0], couple: limits[1]} : undefined,
      plusminus: typeof plusminus === 'number' && plusminus > 0 ? plusminus : undefined,
    },
  };
}

/** Where the choice begins: the ledger's planes, stock sizes. */
export function firstChoice({planes, step}: Pick<Needed, 'planes' | 'step'>): WeightChoice {
  return {
    fitting: 'two planes',
    planes,
    single: {
      position: (planes[0].position + planes[1].position) / 2,
      radius: Math.min(planes[0].radius, planes[1].radius),
    },
    spokes: 5,
    firstSpoke: 0,
    exact: step === 0,
  };
}

export const samePlanes = (a: Two<Plane>, b: Two<Plane>): boolean =>
  a.every(({position, radius}, i) => position === b[i].position && radius === b[i].radius);

/**
 * The weights of a choice and what they leave.
 * @throws Refusal for planes at one position and spokes too close or too far apart
 */
export function placeWeights(need: Needed, choice: WeightChoice): Placed {
  const weights = chosen(need, choice);
  const left = residual(need.required, weights, need.planes);
  const radius = (need.planes[0].radius + need.planes[1].radius) / 2;
  const separation = Math.abs(need.planes[1].position - need.planes[0].position);
  return {
    weights,
    left: {...left, staticMass: left.static.amount / radius, coupleMass: left.couple.amount / (separation * radius)},
  };
}

function chosen(need: Needed, choice: WeightChoice): PlacedWeight[] {
  const step = choice.exact ? 0 : need.step;
  const rounded = (mass: number): number => (step === 0 ? mass : nearestStock(mass, step));
  if (choice.fitting === 'one plane') {
    const {amount, angle} = onePlane(need.required, need.planes, choice.single);
    return [{name: 'Weight', side: 'single', weight: {amount: rounded(amount), angle}, ...choice.single}];
  }
  const [inPlane, outPlane] = choice.planes;
  if (inPlane.position === outPlane.position) {
    throw new Refusal('invalid', 'The two planes stand at one position; move one of them.');
  }
  // Where nothing is moved the record's own figures are used, free of rounding.
  const {inboard, outboard} = samePlanes(choice.planes, need.planes)
    ? {inboard: need.required[0], outboard: need.required[1]}
    : transfer(need.required, need.planes, choice.planes);
  if (choice.fitting === 'behind spokes') {
    const {angleA, massA, angleB, massB} = behindSpokes(outboard, evenSpokes(choice.spokes, choice.firstSpoke), step);
    return [
      {name: 'Inboard', side: 'inboard', weight: {...inboard, amount: rounded(inboard.amount)}, ...inPlane},
      {name: 'Outboard, first spoke', side: 'outboard', weight: {amount: massA, angle: angleA}, ...outPlane},
      {name: 'Outboard, next spoke', side: 'outboard', weight: {amount: massB, angle: angleB}, ...outPlane},
    ];
  }
  const pair = step === 0 ? {inboard, outboard} : stockPair([inboard, outboard], choice.planes, step);
  return [
    {name: 'Inboard', side: 'inboard', weight: pair.inboard, ...inPlane},
    {name: 'Outboard', side: 'outboard', weight: pair.outboard, ...outPlane},
  ];
}

export type Standing = 'within' | 'exceeds' | 'too close to tell';

/** A figure with its uncertainty against a limit: within or beyond only when the uncertainty leaves no doubt. */
export function standing(value: number, limit: number, plusminus: number): Standing {
  if (value + plusminus <= limit) return 'within';
  return value - plusminus > limit ? 'exceeds' : 'too close to tell';
}

/** What is left against its limits, in a sentence. */
export function verdict({staticMass, coupleMass}: Left, need: Needed): string {
  const {limits, plusminus, massUnit} = need;
  if (limits === undefined) {
    return 'No limits of what may be left are known: add a row “Unbalance limits” (static, couple) to the ledger map, or type them below.';
  }
  const one = (name: string, value: number, limit: number): string => {
    const how = standing(value, limit, plusminus ?? 0);
    const words = {
      within: 'is within its limit of',
      exceeds: 'exceeds its limit of',
      'too close to tell': 'is too close to tell to its limit of',
    }[how];
    return `${name}, ${inWords(value)} ${massUnit}, ${words} ${inWords(limit)} ${massUnit}`;
  };
  const guard =
    plusminus === undefined
      ? 'The uncertainty of the measured unbalance is not known and is not counted.'
      : `An uncertainty of ±${inWords(plusminus)} ${massUnit} is counted.`;
  return `${one('Static', staticMass, limits.static)}; ${one('couple', coupleMass, limits.couple)}. ${guard}`;
}

/** A correction so large that something else is wrong first (common practice: 60 g in one plane of a passenger wheel). */
export function largeCorrection({required, massUnit, step}: Needed): string | undefined {
  const [passengerStep, most] = massUnit === 'oz' ? [0.25, 2.1] : [5, 60];
  if (step === 0 || step > passengerStep || required.every(({amount}) => amount <= most)) return undefined;
  return `More than ${inWords(most)} ${massUnit} in one plane: look at the bead seating and the runout before adding weight (common practice).`;
}
