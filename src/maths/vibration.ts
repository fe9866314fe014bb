import {rotatingForce, spinRateHz} from './spin';
import type {UnitSystem} from './units';

export interface Source {
  readonly source: string;
  /** Hz */
  readonly frequency: number;
  /** Frequency asked about less that of the source, Hz. */
  readonly difference: number;
}

export interface Driveline {
  /** Turns of the propeller shaft for one of the wheel. */
  readonly axleRatio: number | undefined;
  readonly engineRpm: number | undefined;
}

/**
 * What turns at a speed that fits a frequency: wheel orders 1 to 4, propeller shaft 1 and 2, engine in half orders from
 * 0.5 to 4, those within tolerance · source, nearest first.
 */
export function sources(
  frequency: number,
  wheelHz: number,
  {axleRatio, engineRpm}: Driveline,
  tolerance: number,
): Source[] {
  const orders = (name: string, hz: number, list: readonly number[]): [string, number][] =>
    list.map((order) => [`${name} order ${order}`, order * hz]);
  const all = [
    ...orders('wheel', wheelHz, [1, 2, 3, 4]),
    ...(axleRatio === undefined ? [] : orders('propeller shaft', axleRatio * wheelHz, [1, 2])),
    ...(engineRpm === undefined ? [] : orders('engine', engineRpm / 60, [0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4])),
  ];
  return all
    .map(([source, hz]) => ({source, frequency: hz, difference: frequency - hz}))
    .filter((s) => Math.abs(s.difference) <= tolerance * s.frequency)
    .sort((a, b) => Math.abs(a.difference) - Math.abs(b.difference));
}

/** Order of the wheel that a frequency is. */
export const wheelOrder = (frequency: number, speed: number, circumference: number, units: UnitSystem): number =>
  frequency / spinRateHz(speed, circumference, units);

/**
 * Mass in g or oz at a radius whose rotating force is that of a runout (peak-to-peak, zero to peak is half of it)
 * against a radial stiffness in N/mm or lbf/in.
 */
export function equivalentMass(
  runout: number,
  stiffness: number,
  radius: number,
  speed: number,
  circumference: number,
  units: UnitSystem,
): number {
  return (stiffness * runout) / 2 / rotatingForce(1, radius, speed, circumference, units);
}
