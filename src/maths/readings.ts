/** Readings around one turn, as numbers. Buffers may be longer than what counts: use `positions`, never `.length`. */
export interface Readings {
  /** The worksheet argument they came from; leads the message of a refusal. */
  readonly name: string;
  /** One value a position, in the order in which the shop numbers them; NaN where a reading is missing. */
  readonly values: Float64Array;
  readonly positions: number;
  /** How many are not missing. */
  readonly present: number;
  /** Shape of the range that they filled; rows × columns = positions. */
  readonly rows: number;
  readonly columns: number;
}

/** Angles that replace the even steps; NaN where a missing reading needs none. */
export interface Angles {
  readonly name: string;
  readonly degrees: Float64Array;
}

/** Angle of a position: as given, or the even step from 0° over all positions, missing ones included. */
export const angleAt = (readings: Readings, angles: Angles | undefined, position: number): number =>
  angles === undefined ? (360 * position) / readings.positions : angles.degrees[position];

/** Positions of the readings that are there. */
export function presentPositions({values, positions, present}: Readings): Int32Array {
  const index = new Int32Array(present);
  let n = 0;
  for (let i = 0; i < positions; i++) if (!Number.isNaN(values[i])) index[n++] = i;
  return index;
}

/** The first reading that is there; NaN if none is. */
export function firstPresent({values, positions}: Readings): number {
  let i = 0;
  while (i < positions && Number.isNaN(values[i])) i++;
  return i < positions ? values[i] : NaN;
}

/** Largest and smallest of the readings present. */
export function extremes({values, positions}: Readings): {most: number; least: number} {
  let most = -Infinity;
  let least = Infinity;
  for (let i = 0; i < positions; i++) {
    const value = values[i];
    if (value > most) most = value;
    if (value < least) least = value;
  }
  return {most, least};
}

/** Readings from plain numbers, for use by the mathematics itself and by tests. */
export const readingsOf = (values: ArrayLike<number>, name = 'readings'): Readings => {
  const copy = Float64Array.from(values);
  return {
    name,
    values: copy,
    positions: copy.length,
    present: copy.filter((v) => !Number.isNaN(v)).length,
    rows: 1,
    columns: copy.length,
  };
};
