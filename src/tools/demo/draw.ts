/** Draws the wheels of the demo: rim and tire separately, so that the truth behind every reading is known. */
import {POSITIONS} from '../../workbook/ledgerColumns';
import {normalFrom, randomFrom} from '../random';
import {FLEET, LIMITS, SUPPLIERS, type ClassLimits, type Supplier, type Vehicle} from './fleet';

/** Peak-to-peak amount and high point of each order, from order 1. */
export type Wave = readonly {readonly amount: number; readonly angle: number}[];

/** What the wheel was drawn to be. */
export type Story =
  'good' | 'matchable' | 'bad tire' | 'bad rim' | 'both bad' | 'borderline' | 'dent' | 'flat spot' | 'mounting error';

export interface DrawnWheel {
  readonly vehicle: Vehicle;
  readonly limits: ClassLimits;
  readonly position: string;
  readonly supplier: Supplier;
  readonly tin: string;
  readonly story: Story;
  /** The truth: rim and tire as they are, in the coordinates of the wheel. */
  readonly rim: Wave;
  readonly tire: Wave;
  /** What the clamping added to every reading of this mounting: amount and angle of one first harmonic. */
  readonly clamping: {readonly amount: number; readonly angle: number};
  /** Readings in mm; undefined where the clerk left the cell blank. */
  readonly assembly: readonly (number | undefined)[];
  readonly inner: readonly (number | undefined)[];
  readonly outer: readonly (number | undefined)[];
  /** Correction masses in g and degrees: inboard, outboard; undefined where none was measured. */
  readonly unbalance: readonly [number, number, number, number] | undefined;
}

/** Height of a wave at an angle. */
export const height = (wave: Wave, degrees: number): number =>
  wave.reduce((y, {amount, angle}, i) => y + (amount / 2) * Math.cos(((i + 1) * (degrees - angle) * Math.PI) / 180), 0);

/** Where the special wheels stand: job, position. */
const SPECIAL: Readonly<Record<string, Story>> = {
  'J-403 RF': 'dent',
  'J-406 LR': 'flat spot',
  'J-411 LF': 'mounting error',
  'J-408 RR': 'borderline',
  'J-407 RR inner': 'both bad',
};

/** Shares in order of the draw: good, matchable, bad tire, bad rim. Fulmar's tires are out of round far more often. */
const SHARES: Readonly<Record<string, readonly number[]>> = {
  'Gannet Supply': [0.72, 0.2, 0.05, 0.03],
  'Fulmar Trading': [0.4, 0.27, 0.3, 0.03],
  'Dunlin and Daughters': [0.7, 0.22, 0.04, 0.04],
};
const ORDINARY: readonly Story[] = ['good', 'matchable', 'bad tire', 'bad rim'];

export function drawWheels(seed = 20260302): DrawnWheel[] {
  const random = randomFrom(seed);
  const normal = normalFrom(random);
  const between = (low: number, high: number): number => low + (high - low) * random();
  const angle = (): number => Math.floor(random() * 360);
  return FLEET.flatMap((vehicle) => vehicle.positions.map((position) => drawWheel(vehicle, position)));

  function drawWheel(vehicle: Vehicle, position: string): DrawnWheel {
    const limits = LIMITS.find((l) => l.class === vehicle.class)!;
    const supplier = SUPPLIERS[Math.floor(random() * SUPPLIERS.length)];
    const story = SPECIAL[`${vehicle.job} ${position}`] ?? ordinary(SHARES[supplier.name]);
    const [rim, tire] = parts(story, limits);
    const clamping =
      story === 'mounting error' ? {amount: 0.5 * limits.assembly, angle: angle()} : {amount: 0, angle: 0};
    const noise = 0.025 * limits.assembly;
    const seatTilt: Wave = [{amount: between(0, 0.15) * limits.rim, angle: angle()}];
    const read = (at: (degrees: number) => number): number[] =>
      Array.from({length: POSITIONS}, (_, i) => {
        const degrees = (360 * i) / POSITIONS;
        return round(at(degrees) + height([clamping], degrees) + noise * normal());
      });
    const assembly: (number | undefined)[] = read((d) => height(rim, d) + height(tire, d) + flatSpot(story, d, limits));
    const inner: (number | undefined)[] = read((d) => height(rim, d) + height(seatTilt, d));
    const outer: (number | undefined)[] = read((d) => height(rim, d) - height(seatTilt, d) + dent(story, d, limits));
    if (random() < 0.08) assembly[Math.floor(random() * POSITIONS)] = undefined;
    if (random() < 0.06) inner[Math.floor(random() * POSITIONS)] = undefined;
    const week = 1 + Math.floor(random() * 52);
    return {
      vehicle,
      limits,
      position,
      supplier,
      tin: `DOT ${supplier.plant} ${code()} ${String(week).padStart(2, '0')}${24 + Math.floor(random() * 2)}`,
      story,
      rim,
      tire,
      clamping,
      assembly,
      inner,
      outer,
      unbalance: random() < 0.05 ? undefined : [mass(limits), angle(), mass(limits), angle()],
    };
  }

  function ordinary(shares: readonly number[]): Story {
    let left = random();
    for (let i = 0; i < shares.length; i++) {
      left -= shares[i];
      if (left < 0) return ORDINARY[i];
    }
    return 'good';
  }

  /** Rim and tire of a story; amounts in shares of the limits keep clear of what would be undecided. */
  function parts(story: Story, {assembly: l, rim: lr}: ClassLimits): [Wave, Wave] {
    const wave = (first: number, high: number): Wave => [
      {amount: first, angle: high},
      {amount: between(0.03, 0.12) * l, angle: angle()},
      {amount: between(0.02, 0.06) * l, angle: angle()},
    ];
    const high = angle();
    switch (story) {
      case 'matchable': {
        const rim = between(0.6, 0.85) * lr;
        // Nearly in line, so that together they exceed the limit and apart they do not.
        return [wave(rim, high), wave(between(0.85, 1.15) * l, high + between(-35, 35))];
      }
      case 'bad tire':
        return [wave(between(0.1, 0.3) * lr, high), wave(between(1.6, 2.1) * l, angle())];
      case 'bad rim':
        return [wave(between(1.9, 2.4) * l, high), wave(between(0.2, 0.5) * l, angle())];
      case 'both bad':
        return [wave(3 * l, high), wave(1.4 * l, high + 20)];
      case 'borderline':
        return [wave(0.3 * lr, high), wave(l - 0.3 * lr, high)];
      default:
        return [wave(between(0.1, 0.5) * lr, high), wave(between(0.1, 0.35) * l, angle())];
    }
  }

  function mass({stepGrams}: ClassLimits): number {
    return Math.round(10 * stepGrams * between(0.4, 7)) / 10;
  }

  function code(): string {
    const symbols = 'ABCDEFHJKLMNPRTUVWXY123456789';
    return Array.from({length: 6}, () => symbols[Math.floor(random() * symbols.length)]).join('');
  }
}

const round = (value: number): number => Math.round(value * 1000) / 1000 + 0;

/** A dent of the outboard bead seat, one position wide. */
const dent = (story: Story, degrees: number, {rim}: ClassLimits): number =>
  story === 'dent' && degrees === 157.5 ? -1.1 * rim : 0;

/** A flat spot of the tire: three positions wide, deepest in the middle. */
function flatSpot(story: Story, degrees: number, {curve}: ClassLimits): number {
  if (story !== 'flat spot') return 0;
  return -1.7 * curve * ({202.5: 0.55, 225: 1, 247.5: 0.55}[degrees] ?? 0);
}
