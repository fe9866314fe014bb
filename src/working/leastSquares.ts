/**
 * Least squares for the second engine of a working, by modified Gram–Schmidt: other code than the worksheet functions',
 * so that the two check each other.
 */
export function leastSquares(columns: readonly (readonly number[])[], y: readonly number[]) {
  const p = columns.length;
  const q = columns.map((column) => [...column]);
  const r = columns.map(() => new Array<number>(p).fill(0));
  const rest = [...y];
  const along = new Array<number>(p).fill(0);
  for (let j = 0; j < p; j++) {
    // Twice: once more takes out what rounding left of the earlier columns.
    for (let pass = 0; pass < 2; pass++) {
      for (let i = 0; i < j; i++) r[i][j] += takeOut(q[j], q[i]);
    }
    r[j][j] = Math.sqrt(dot(q[j], q[j]));
    q[j] = q[j].map((v) => v / r[j][j]);
    along[j] = takeOut(rest, q[j]);
  }
  const inverse = invert(r);
  return {
    coefficients: inverse.map((row) => dot(row, along)),
    spreads: inverse.map((row) => Math.sqrt(dot(row, row))),
    /** Sum of squares of what is left of y. */
    leftover: dot(rest, rest),
  };
}

const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((total, v, i) => total + v * b[i], 0);

/** Takes the part along a unit column out of another and says how much it was. */
function takeOut(from: number[], unit: readonly number[]): number {
  const size = dot(from, unit);
  from.forEach((_, i) => (from[i] -= size * unit[i]));
  return size;
}

/** Inverse of an upper triangle. */
function invert(r: readonly (readonly number[])[]): number[][] {
  const p = r.length;
  const inverse = r.map(() => new Array<number>(p).fill(0));
  for (let j = 0; j < p; j++) {
    inverse[j][j] = 1 / r[j][j];
    for (let i = j - 1; i >= 0; i--) {
      let total = 0;
      for (let k = i + 1; k <= j; k++) total += r[i][k] * inverse[k][j];
      inverse[i][j] = -total / r[i][i];
    }
  }
  return inverse;
}
