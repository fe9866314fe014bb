/**
 * Exact assignment: each row gets a column of its own at the least total cost. Shortest augmenting paths with prices
 * (Hungarian method; Kuhn 1955, Jonker and Volgenant 1987, values from memory). A cost of Infinity forbids a pair.
 */
export interface Assignment {
  /** The column of each row. */
  readonly columns: number[];
  /** Prices with row price + column price ≤ cost, and equality on every chosen pair: they prove the total least. */
  readonly rowPrices: Float64Array;
  readonly columnPrices: Float64Array;
}

/**
 * Assigns every row; there must be at least as many columns as rows. Of equally good assignments the one that gives
 * the first row its lowest column, then the second, and so on. Undefined when no allowed assignment is complete.
 */
export function assign(cost: readonly ArrayLike<number>[]): Assignment | undefined {
  const rows = cost.length;
  const width = rows === 0 ? 0 : cost[0].length;
  // Index 0 of the column arrays stands for "none yet"; rows and columns count from 1 inside this function.
  const u = new Float64Array(rows + 1);
  const v = new Float64Array(width + 1);
  const owner = new Int32Array(width + 1);
  const from = new Int32Array(width + 1);
  const slack = new Float64Array(width + 1);
  const done = new Uint8Array(width + 1);
  for (let row = 1; row <= rows; row++) {
    slack.fill(Infinity);
    done.fill(0);
    owner[0] = row;
    let column = 0;
    do {
      done[column] = 1;
      const at = owner[column];
      const costs = cost[at - 1];
      const price = u[at];
      let delta = Infinity;
      let next = 0;
      for (let j = 1; j <= width; j++) {
        if (done[j]) continue;
        const reduced = costs[j - 1] - price - v[j];
        if (reduced < slack[j]) {
          slack[j] = reduced;
          from[j] = column;
        }
        if (slack[j] < delta) {
          delta = slack[j];
          next = j;
        }
      }
      if (next === 0) return undefined;
      for (let j = 0; j <= width; j++) {
        if (done[j]) {
          u[owner[j]] += delta;
          v[j] -= delta;
        } else {
          slack[j] -= delta;
        }
      }
      column = next;
    } while (owner[column] !== 0);
    while (column !== 0) {
      owner[column] = owner[from[column]];
      column = from[column];
    }
  }
  const prices = {rowPrices: u.slice(1), columnPrices: v.slice(1)};
  const columns = new Array<number>(rows);
  for (let j = 1; j <= width; j++) if (owner[j] > 0) columns[owner[j] - 1] = j - 1;
  return {columns: lowest(cost, columns, prices.rowPrices, prices.columnPrices), ...prices};
}

/** Whether no row has a tight pair beside its own, so that nothing can be exchanged: so it is with most measured costs. */
function isAlone(
  cost: readonly ArrayLike<number>[],
  columns: readonly number[],
  u: Float64Array,
  v: Float64Array,
  near: number,
): boolean {
  for (let i = 0; i < columns.length; i++) {
    const row = cost[i];
    for (let j = 0; j < v.length; j++) if (j !== columns[i] && row[j] - u[i] - v[j] <= near) return false;
  }
  return true;
}

/**
 * The equally good assignment that comes first in the order of the columns. Every best assignment uses only pairs whose
 * prices add up to their cost, and every column whose price is not 0. Columns that nobody needs are held by rows without
 * a cost, after all others; those may hold any column whose price is 0.
 */
function lowest(
  cost: readonly ArrayLike<number>[],
  columns: readonly number[],
  u: Float64Array,
  v: Float64Array,
): number[] {
  const [rows, width] = [columns.length, v.length];
  // Prices are sums and differences of costs: rounding leaves them off by a few units of the largest.
  let scale = 0;
  for (let i = 0; i < rows; i++) {
    const row = cost[i];
    for (let j = 0; j < width; j++) if (row[j] < Infinity && row[j] > scale) scale = row[j];
  }
  const near = 1e-12 * scale;
  if (isAlone(cost, columns, u, v, near)) return [...columns];
  const tight = (i: number, j: number): boolean => (i < rows ? cost[i][j] - u[i] - v[j] <= near : v[j] >= -near);
  const taken = new Set(columns);
  const best = [...columns, ...Array.from(v, (_, j) => j).filter((j) => !taken.has(j))];
  const owner = new Array<number>(width);
  best.forEach((j, i) => (owner[j] = i));

  for (let row = 0; row < rows; row++) {
    const left = best[row];
    // Columns from which no exchange leads back to the one given up.
    const seen = new Set<number>();
    // Gives a later row another column by moving later rows along tight pairs, until one takes the column given up.
    const move = (i: number): boolean => {
      for (let j = 0; j < width; j++) {
        if (seen.has(j) || owner[j] < row || !tight(i, j)) continue;
        seen.add(j);
        if (j === left || move(owner[j])) {
          best[i] = j;
          owner[j] = i;
          return true;
        }
      }
      return false;
    };
    for (let j = 0; j < left; j++) {
      if (seen.has(j) || owner[j] < row || !tight(row, j)) continue;
      seen.add(j);
      if (move(owner[j])) {
        best[row] = j;
        owner[j] = row;
        break;
      }
    }
  }
  return best.slice(0, rows);
}
