/** Exact by definition (international yard and pound agreement of 1959; standard gravity for the pound-force). */
export const GRAMS_PER_OUNCE = 28.349523125;
export const KILOGRAMS_PER_POUND = 0.45359237;
export const MILLIMETERS_PER_INCH = 25.4;
export const METERS_PER_MILE = 1609.344;
export const NEWTONS_PER_POUND_FORCE = 4.4482216152605;

export type UnitSystem = 'metric' | 'us';

/** Factors from a system's units to g, mm, kg, m/s and N. */
export interface Units {
  readonly weightGrams: number;
  readonly lengthMm: number;
  readonly massKg: number;
  readonly speedMetersPerSecond: number;
  readonly forceNewtons: number;
}

/** metric: g, mm, kg, km/h, N; us: oz, in, lb, mph, lbf. */
export const UNITS: Readonly<Record<UnitSystem, Units>> = {
  metric: {weightGrams: 1, lengthMm: 1, massKg: 1, speedMetersPerSecond: 1 / 3.6, forceNewtons: 1},
  us: {
    weightGrams: GRAMS_PER_OUNCE,
    lengthMm: MILLIMETERS_PER_INCH,
    massKg: KILOGRAMS_PER_POUND,
    speedMetersPerSecond: METERS_PER_MILE / 3600,
    forceNewtons: NEWTONS_PER_POUND_FORCE,
  },
};
