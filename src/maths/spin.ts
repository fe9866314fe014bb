import {UNITS, type UnitSystem} from './units';

/** Turns a second of a wheel of this rolling circumference at this road speed. */
export function spinRateHz(speed: number, circumference: number, units: UnitSystem): number {
  const {speedMetersPerSecond, lengthMm} = UNITS[units];
  return (speed * speedMetersPerSecond) / ((circumference * lengthMm) / 1000);
}

/** Angular speed Ω in rad/s. */
export const angularSpeed = (speed: number, circumference: number, units: UnitSystem): number =>
  2 * Math.PI * spinRateHz(speed, circumference, units);

/** Rotating force m·r·Ω² of a mass in g or oz at a radius in mm or in; N or lbf. */
export function rotatingForce(
  mass: number,
  radius: number,
  speed: number,
  circumference: number,
  units: UnitSystem,
): number {
  const {weightGrams, lengthMm, forceNewtons} = UNITS[units];
  const kilogramMeters = (mass * weightGrams * radius * lengthMm) / 1e6;
  return (kilogramMeters * angularSpeed(speed, circumference, units) ** 2) / forceNewtons;
}

/**
 * Permissible residual unbalance U_per = 1000·G·m/Ω (ISO 21940-11), G in mm/s, mass in kg or lb; g·mm or oz·in.
 */
export function permissibleUnbalance(
  grade: number,
  mass: number,
  speed: number,
  circumference: number,
  units: UnitSystem,
): number {
  const {weightGrams, lengthMm, massKg} = UNITS[units];
  const gramMillimeters = (1000 * grade * mass * massKg) / angularSpeed(speed, circumference, units);
  return gramMillimeters / (weightGrams * lengthMm);
}

/** Least and greatest share of one plane (ISO 21940-11; values from memory). */
const LEAST_SHARE = 0.3;
const GREATEST_SHARE = 0.7;

/**
 * The permissible unbalance of each plane: by the other plane's distance from the center of mass ÷ their separation,
 * held to 0.3–0.7. Positions count from the center of mass along the axle.
 */
export function allocate(uper: number, inboard: number, outboard: number): {inboard: number; outboard: number} {
  const held = (share: number): number => Math.min(GREATEST_SHARE, Math.max(LEAST_SHARE, share));
  return {
    inboard: uper * held(outboard / (outboard - inboard)),
    outboard: uper * held(inboard / (inboard - outboard)),
  };
}
