import {length, minus, point, sum, times, vector, type Vector} from './vectors';

/**
 * Mean of repeated vectors, with the radius of the circle about it that holds the true mean with 95 % confidence, for
 * scatter that is alike in all directions. Undefined for one vector.
 */
export function average(vectors: readonly Vector[]): Vector & {scatter: number | undefined} {
  const n = vectors.length;
  const points = vectors.map(point);
  const mean = times(1 / n, sum(points));
  const spread = points.reduce((total, p) => total + length(minus(p, mean)) ** 2, 0);
  return {
    ...vector(mean),
    scatter: n > 1 ? Math.sqrt((spread / n) * (0.05 ** (-1 / (n - 1)) - 1)) : undefined,
  };
}
