/**
 * Linear least squares by Householder QR, for the small and sometimes badly spread bases of this work. Never by
 * normal equations: they square the condition number.
 *
 * Matrices are flat: X and Q hold their columns one after another (n values each), R is p × p, row by row.
 * Method: Golub and Van Loan, Matrix Computations, section 5.2 (value from memory).
 */
export interface Factored {
  readonly n: number;
  readonly p: number;
  /** n × p with orthonormal columns. */
  readonly q: Float64Array;
  /** p × p upper triangle. */
  readonly r: Float64Array;
}

/** X = Q·R for n ≥ p. X is left as it is. */
export function factor(x: Float64Array, n: number, p: number): Factored {
  const work = Float64Array.from(x);
  const r = new Float64Array(p * p);
  for (let j = 0; j < p; j++) {
    const head = j * n + j;
    let square = 0;
    for (let i = j; i < n; i++) square += work[j * n + i] ** 2;
    const size = work[head] > 0 ? -Math.sqrt(square) : Math.sqrt(square);
    r[j * p + j] = size;
    work[head] -= size;
    for (let k = j + 1; k < p; k++) {
      reflect(work, j * n, work, k * n, j, n);
      r[j * p + k] = work[k * n + j];
    }
  }
  const q = new Float64Array(n * p);
  for (let k = 0; k < p; k++) {
    q[k * n + k] = 1;
    // The reflections behind the k-th leave this column alone.
    for (let j = k; j >= 0; j--) reflect(work, j * n, q, k * n, j, n);
  }
  return {n, p, q, r};
}

/** Mirrors the column at `to` by the Householder vector at `by`; both count from row `first`. */
function reflect(v: Float64Array, by: number, column: Float64Array, to: number, first: number, n: number): void {
  let square = 0;
  let dot = 0;
  for (let i = first; i < n; i++) {
    square += v[by + i] ** 2;
    dot += v[by + i] * column[to + i];
  }
  if (square === 0) return;
  const scale = (2 * dot) / square;
  for (let i = first; i < n; i++) column[to + i] -= scale * v[by + i];
}

/** Qᵀ·y, into an array of at least p numbers. */
export function project(
  {n, p, q}: Factored,
  y: ArrayLike<number>,
  into: Float64Array = new Float64Array(p),
): Float64Array {
  let j = 0;
  // Three columns at a time: sums that do not wait for each other take a third of the time.
  for (; j + 2 < p; j += 3) {
    let [at, next, last] = [j * n, (j + 1) * n, (j + 2) * n];
    let dot = 0;
    let dot2 = 0;
    let dot3 = 0;
    for (let i = 0; i < n; i++) {
      dot += q[at++] * y[i];
      dot2 += q[next++] * y[i];
      dot3 += q[last++] * y[i];
    }
    into[j] = dot;
    into[j + 1] = dot2;
    into[j + 2] = dot3;
  }
  for (; j < p; j++) {
    let dot = 0;
    for (let i = 0; i < n; i++) dot += q[j * n + i] * y[i];
    into[j] = dot;
  }
  return into;
}

/** The least-squares coefficients of y on the columns of X, into an array of at least p numbers. */
export function coefficients(factored: Factored, y: ArrayLike<number>, into?: Float64Array): Float64Array {
  const {p, r} = factored;
  const c = project(factored, y, into);
  for (let j = p - 1; j >= 0; j--) {
    let value = c[j];
    for (let k = j + 1; k < p; k++) value -= r[j * p + k] * c[k];
    c[j] = value / r[j * p + j];
  }
  return c;
}

/** What the fit leaves of y: (I − QQᵀ)·y. */
export function residuals(factored: Factored, y: ArrayLike<number>): Float64Array {
  const {n, p, q} = factored;
  const d = project(factored, y);
  const rest = Float64Array.from(y);
  for (let j = 0; j < p; j++) for (let i = 0; i < n; i++) rest[i] -= d[j] * q[j * n + i];
  return rest;
}

/** R⁻¹, p × p row by row; its rows give the covariance (XᵀX)⁻¹ = R⁻¹·R⁻ᵀ. */
export function inverse(r: Float64Array, p: number): Float64Array {
  const inv = new Float64Array(p * p);
  for (let j = 0; j < p; j++) {
    inv[j * p + j] = 1 / r[j * p + j];
    for (let i = j - 1; i >= 0; i--) {
      let dot = 0;
      for (let k = i + 1; k <= j; k++) dot += r[i * p + k] * inv[k * p + j];
      inv[i * p + j] = -dot / r[i * p + i];
    }
  }
  return inv;
}

/**
 * Condition number of X in the 2-norm, from R: largest ÷ smallest singular value by one-sided Jacobi rotations
 * (Golub and Van Loan, section 8.6). Infinity when a column depends on the others.
 */
export function condition(r: Float64Array, p: number): number {
  const a = orthogonalized(r, p);
  let most = 0;
  let least = Infinity;
  for (let j = 0; j < p; j++) {
    let square = 0;
    for (let i = 0; i < p; i++) square += a[i * p + j] ** 2;
    most = Math.max(most, square);
    least = Math.min(least, square);
  }
  return least === 0 ? Infinity : Math.sqrt(most / least);
}

/**
 * The combinations of the columns of X, of unit length, that X stretches most and least: its singular vectors, by the
 * same rotations as {@link condition}. The ratio of the lengths of X·most and X·least is the condition number.
 */
export function extremeCombinations(r: Float64Array, p: number): {most: Float64Array; least: Float64Array} {
  const v = new Float64Array(p * p);
  for (let j = 0; j < p; j++) v[j * p + j] = 1;
  const a = orthogonalized(r, p, v);
  const column = (m: Float64Array, j: number) => Float64Array.from({length: p}, (_, i) => m[i * p + j]);
  const sizes = Array.from({length: p}, (_, j) => column(a, j).reduce((sum, x) => sum + x * x, 0));
  return {
    most: column(v, sizes.indexOf(Math.max(...sizes))),
    least: column(v, sizes.indexOf(Math.min(...sizes))),
  };
}

/** R with its columns made orthogonal to each other by rotations of two at a time; those of v are turned along. */
function orthogonalized(r: Float64Array, p: number, v?: Float64Array): Float64Array {
  const a = Float64Array.from(r);
  let turning = true;
  // Few sweeps do; the bound is for rounding, which can keep many columns turning.
  for (let sweep = 0; turning && sweep < 30; sweep++) {
    turning = false;
    for (let j = 0; j < p; j++) for (let k = j + 1; k < p; k++) turning = rotate(a, p, j, k, v) || turning;
  }
  return a;
}

/** Makes columns j and k orthogonal, and turns those of v along; false when they already are. */
function rotate(a: Float64Array, p: number, j: number, k: number, v?: Float64Array): boolean {
  let jj = 0;
  let kk = 0;
  let jk = 0;
  for (let i = 0; i < p; i++) {
    jj += a[i * p + j] ** 2;
    kk += a[i * p + k] ** 2;
    jk += a[i * p + j] * a[i * p + k];
  }
  if (Math.abs(jk) <= 1e-15 * Math.sqrt(jj * kk)) return false;
  const zeta = (kk - jj) / (2 * jk);
  const t = (zeta < 0 ? -1 : 1) / (Math.abs(zeta) + Math.sqrt(1 + zeta * zeta));
  const c = 1 / Math.sqrt(1 + t * t);
  for (const m of v === undefined ? [a] : [a, v]) {
    for (let i = 0; i < p; i++) {
      const x = m[i * p + j];
      const y = m[i * p + k];
      m[i * p + j] = c * (x - t * y);
      m[i * p + k] = c * (t * x + y);
    }
  }
  return true;
}
