import {point, vector, sum, times} from './vectors';

export interface AngleTest {
  /** Undefined when the angles cancel each other. */
  readonly mean: number | undefined;
  /** Mean resultant length, 0 to 1. */
  readonly length: number;
  readonly p: number;
}

/**
 * Whether angles gather at one: circular mean, mean resultant length and Rayleigh test with Zar's approximation
 * (Zar, Biostatistical Analysis, value from memory).
 */
export function angleTest(angles: readonly number[]): AngleTest {
  const n = angles.length;
  const {amount, angle} = vector(times(1 / n, sum(angles.map((a) => point({amount: 1, angle: a})))));
  const length = Math.min(1, amount);
  return {
    mean: length > 1e-12 ? angle : undefined,
    length,
    p: Math.exp(Math.sqrt(1 + 4 * n + 4 * n * n * (1 - length * length)) - (1 + 2 * n)),
  };
}
