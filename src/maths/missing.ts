/**
 * Least squares with readings missing, without factoring anything anew. A reading on the very curve pulls it nowhere: so
 * each missing reading is given the value that the curve through the others has at its place, and the sums over all
 * positions then give that same curve. With H the hat matrix of all positions, m the missing and p the present ones,
 * these values are y_m = (I − H_mm)⁻¹·H_mp·y_p (Cook and Weisberg, Residuals and Influence in Regression, value from
 * memory).
 */
import type {Readings} from './readings';
import type {Spacing} from './spacing';

/** With more missing, factoring anew is no slower. */
const MOST = 16;
/**
 * Least determinant of I − H_mm: what is lost of the digits, and what the condition number of the positions present can
 * exceed that of all, as its least eigenvalue is not below (all of them lie between 0 and 1).
 */
const LEAST = 1e-3;
/** Largest condition number of all positions: with LEAST it leaves that of the present ones far below the worst. */
const WORST = 1e5;

const missing = new Int32Array(MOST);
const system = new Float64Array(MOST * MOST);
const wanted = new Float64Array(MOST);
let filled = new Float64Array(64);

/**
 * The readings less `level`, the missing ones filled in; undefined when the others say too little of them. The array is
 * used again by the next call.
 */
export function filledUp(readings: Readings, spacing: Spacing, level: number): Float64Array | undefined {
  const {values, positions, present} = readings;
  const m = positions - present;
  if (m > MOST || spacing.condition > WORST) return undefined;
  if (filled.length < positions) filled = new Float64Array(positions);
  for (let i = 0, next = 0; i < positions; i++) {
    const value = values[i] - level;
    const isMissing = Number.isNaN(value);
    if (isMissing) missing[next++] = i;
    filled[i] = isMissing ? 0 : value;
  }
  for (let a = 0; a < m; a++) {
    const row = spacing.influence(missing[a]);
    for (let b = 0; b < m; b++) system[a * MOST + b] = (a === b ? 1 : 0) - row[missing[b]];
    let sum = 0;
    for (let i = 0; i < positions; i++) sum += row[i] * filled[i];
    wanted[a] = sum;
  }
  if (!eliminate(m)) return undefined;
  for (let a = 0; a < m; a++) filled[missing[a]] = wanted[a];
  return filled;
}

/** Gauss and Jordan on the diagonal, which serves as the matrix is positive definite; the solution replaces `wanted`. */
function eliminate(m: number): boolean {
  let determinant = 1;
  for (let a = 0; a < m; a++) {
    const pivot = system[a * MOST + a];
    determinant *= pivot;
    if (!(determinant >= LEAST)) return false;
    for (let b = 0; b < m; b++) {
      if (b === a) continue;
      const factor = system[b * MOST + a] / pivot;
      for (let c = a + 1; c < m; c++) system[b * MOST + c] -= factor * system[a * MOST + c];
      wanted[b] -= factor * wanted[a];
    }
  }
  for (let a = 0; a < m; a++) wanted[a] /= system[a * MOST + a];
  return true;
}
