/**
 * The demo's fleet: an invented ferry district with cars, pick-ups and buses. No shop, brand, person or plant of this
 * ledger exists; codes and names were made up for it.
 */
export type Class = 'passenger' | 'light truck' | 'heavy';

export interface Vehicle {
  readonly job: string;
  readonly date: Date;
  readonly name: string;
  readonly class: Class;
  readonly size: string;
  readonly positions: readonly string[];
}

const FOUR = ['LF', 'RF', 'LR', 'RR'];
const SIX = ['LF', 'RF', 'LR outer', 'LR inner', 'RR inner', 'RR outer'];

const vehicle = (n: number, day: string, name: string, kind: Class, size: string): Vehicle => ({
  job: `J-${400 + n}`,
  date: new Date(`${day}T00:00:00Z`),
  name,
  class: kind,
  size,
  positions: kind === 'heavy' ? SIX : FOUR,
});

export const FLEET: readonly Vehicle[] = [
  vehicle(1, '2026-03-02', 'Pool car 1', 'passenger', '205/55R16 91V'),
  vehicle(2, '2026-03-02', 'Pool car 2', 'passenger', '205/55R16 91V'),
  vehicle(3, '2026-03-04', 'Harbor master', 'passenger', '225/45R17 94W'),
  vehicle(4, '2026-03-05', 'Pool car 4', 'passenger', '195/65R15 91H'),
  vehicle(5, '2026-03-09', 'Survey pick-up', 'light truck', 'LT245/75R16 120/116S'),
  vehicle(6, '2026-03-10', 'Slipway pick-up', 'light truck', 'LT245/75R16 120/116S'),
  vehicle(7, '2026-03-11', 'Shuttle bus A', 'heavy', '225/70R19.5 128/126N'),
  vehicle(8, '2026-03-16', 'Pool car 5', 'passenger', '195/65R15 91H'),
  vehicle(9, '2026-03-17', 'Beacon van', 'light truck', '195R14C 106/104R'),
  vehicle(10, '2026-03-18', 'Trailer hauler', 'heavy', '275/70R22.5 148/145M'),
  vehicle(11, '2026-03-23', 'Pool car 7', 'passenger', '205/55R16 91V'),
  vehicle(12, '2026-03-24', 'Buoy pick-up', 'light truck', '31X10.50R15LT 109R'),
  vehicle(13, '2026-03-25', 'Shuttle bus B', 'heavy', '225/70R19.5 128/126N'),
  vehicle(14, '2026-03-30', 'Night ferry car', 'passenger', '225/45R17 94W'),
  vehicle(15, '2026-03-31', 'Workshop van', 'light truck', '195R14C 106/104R'),
];

/** What a supplier's tires are like: his share of tires drawn out of round, and the plant in his tires' numbers. */
export interface Supplier {
  readonly name: string;
  readonly plant: string;
}

export const SUPPLIERS: readonly Supplier[] = [
  {name: 'Gannet Supply', plant: '9X1'},
  {name: 'Fulmar Trading', plant: '9X4'},
  {name: 'Dunlin and Daughters', plant: '9X7'},
];

export interface ClassLimits {
  readonly class: Class;
  /** First harmonic, peak-to-peak, mm. */
  readonly assembly: number;
  readonly rim: number;
  /** Whole fitted curve, peak-to-peak, mm. */
  readonly curve: number;
  readonly stepGrams: number;
  /** Inboard and outboard plane: position along the axle and radius, mm. */
  readonly planes: readonly [number, number, number, number];
}

/**
 * Assembly limits and stock steps are common practice (0.018, 0.031 and 0.037 in; 5 g, half an ounce, two ounces); the
 * others are this demo shop's own choice.
 */
export const LIMITS: readonly ClassLimits[] = [
  {class: 'passenger', assembly: 0.46, rim: 0.4, curve: 0.8, stepGrams: 5, planes: [-85, 205, 75, 200]},
  {class: 'light truck', assembly: 0.79, rim: 0.6, curve: 1.3, stepGrams: 15, planes: [-95, 208, 90, 203]},
  {class: 'heavy', assembly: 0.94, rim: 0.75, curve: 1.6, stepGrams: 60, planes: [-105, 265, 105, 265]},
];
