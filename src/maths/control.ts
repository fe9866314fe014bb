import {unavailable} from './refusal';
import type {Readings} from './readings';

export interface Control {
  readonly mean: number;
  readonly lower: number;
  readonly upper: number;
  /** How many points lie strictly outside. */
  readonly out: number;
}

/** Mean of the range of two standard normal values; three digits, as control charts are published. */
const D2 = 1.128;

/**
 * Individuals chart: mean ± 3 · mean moving range ÷ 1.128, no moving range across a missing value (NIST/SEMATECH
 * e-Handbook 6.3.2.2). The lower limit is not clipped at 0.
 */
export function control({values, positions, present, name}: Readings): Control {
  const list = Array.from(values.subarray(0, positions));
  const ranges = list
    .slice(1)
    .map((v, i) => Math.abs(v - list[i]))
    .filter((range) => !Number.isNaN(range));
  if (ranges.length === 0) throw unavailable('at least two values in a row are needed', name);
  const there = list.filter((v) => !Number.isNaN(v));
  const mean = there.reduce((sum, v) => sum + v, 0) / present;
  const reach = (3 * ranges.reduce((sum, r) => sum + r, 0)) / ranges.length / D2;
  const [lower, upper] = [mean - reach, mean + reach];
  return {mean, lower, upper, out: there.filter((v) => v < lower || v > upper).length};
}
