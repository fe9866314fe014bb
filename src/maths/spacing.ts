/**
 * The angles of all positions of a turn, whether or not a reading is there, and what follows from them alone. A column
 * of records repeats them row after row, so that each row costs no more than its own sums.
 */
import {cosd, sind} from './angles';
import {anyBasis, conditionBound, wellSpread, type Basis} from './basis';
import type {Wave} from './harmonics';
import {coefficients} from './leastSquares';
import type {Angles, Readings} from './readings';
import type {Point} from './vectors';

export interface Spacing {
  readonly positions: number;
  readonly orders: number;
  /** Not below the condition number of the columns [1, cos θ, sin θ, …] at all positions. */
  readonly condition: number;
  /** How much the reading of each position counts in the curve at this one: a row of the hat matrix. */
  readonly influence: (position: number) => Float64Array;
  /**
   * Least squares for a reading at every position: coefficients into `cos` and `sin`, the mean is returned. `level` is
   * taken off the readings first, so that a large common level costs no digits.
   */
  readonly solve: (readings: Float64Array, level: number, cos: number[], sin: number[]) => number;
  /** Sum of squares of what a wave with all the orders leaves of the readings, NaN where one is missing. */
  readonly squaresLeft: (readings: Float64Array, wave: Wave) => number;
}

/** How many orders a pass over the readings sums up: eight sums that do not wait for each other. */
const AT_ONCE = 4;
const ROW = 2 * AT_ONCE;

/** Even steps: the columns are orthogonal, each order is a sum of its own. */
export class EvenSpacing implements Spacing {
  readonly condition = Math.SQRT2;
  /**
   * Positions half a turn apart differ by a sign in the odd orders and by nothing in the even ones. So sums of opposite
   * readings hold all that is even, differences all that is odd, and half of the products is enough.
   */
  private readonly part: number;
  /**
   * Cosine and sine of orders 1 to 4 at position 0 of the part, at position 1 and so on; then those of orders 5 to 8.
   * So a pass reads them one after the other: twice as fast as a table for each order.
   */
  private readonly waves: Float64Array;
  private readonly rows: Float64Array[] = [];

  constructor(
    readonly positions: number,
    readonly orders: number,
  ) {
    this.part = positions % 2 === 0 ? positions / 2 : positions;
    this.waves = new Float64Array(Math.ceil(orders / AT_ONCE) * this.part * ROW);
    for (let k = 1; k <= orders; k++) {
      for (let i = 0; i < this.part; i++) {
        this.waves[this.start(k) + i * ROW] = cosd(this.degrees(k * i));
        this.waves[this.start(k) + i * ROW + 1] = sind(this.degrees(k * i));
      }
    }
  }

  /** Where the cosines of an order start. */
  private start(order: number): number {
    const before = (order - 1) % AT_ONCE;
    return 2 * ((order - 1 - before) * this.part + before);
  }

  /** Angle of so many steps, whole turns taken off before anything is rounded. */
  private degrees(steps: number): number {
    return (360 * (steps % this.positions)) / this.positions;
  }

  influence(position: number): Float64Array {
    return (this.rows[position] ??= Float64Array.from({length: this.positions}, (_, i) => {
      let sum = 1;
      for (let k = 1; k <= this.orders; k++) sum += 2 * cosd(this.degrees(k * Math.abs(i - position)));
      return sum / this.positions;
    }));
  }

  solve(readings: Float64Array, level: number, cos: number[], sin: number[]): number {
    const {part, positions, orders, waves} = this;
    const opposite = part < positions;
    let total = 0;
    for (let k = 1, at = 0; k <= orders; k += AT_ONCE) {
      let sum = 0;
      let c1 = 0;
      let s1 = 0;
      let c2 = 0;
      let s2 = 0;
      let c3 = 0;
      let s3 = 0;
      let c4 = 0;
      let s4 = 0;
      for (let i = 0; i < part; i++, at += ROW) {
        let odd = readings[i];
        let even = odd - level;
        if (opposite) {
          const other = readings[i + part];
          odd -= other;
          even += other - level;
        } else odd = even;
        sum += even;
        c1 += odd * waves[at];
        s1 += odd * waves[at + 1];
        c2 += even * waves[at + 2];
        s2 += even * waves[at + 3];
        c3 += odd * waves[at + 4];
        s3 += odd * waves[at + 5];
        c4 += even * waves[at + 6];
        s4 += even * waves[at + 7];
      }
      total = sum;
      cos[k] = (2 * c1) / positions;
      sin[k] = (2 * s1) / positions;
      if (k === orders) break;
      cos[k + 1] = (2 * c2) / positions;
      sin[k + 1] = (2 * s2) / positions;
      if (k + 1 === orders) break;
      cos[k + 2] = (2 * c3) / positions;
      sin[k + 2] = (2 * s3) / positions;
      if (k + 2 === orders) break;
      cos[k + 3] = (2 * c4) / positions;
      sin[k + 3] = (2 * s4) / positions;
    }
    return level + total / positions;
  }

  squaresLeft(readings: Float64Array, {mean, cos, sin}: Wave): number {
    const {part, positions, waves, orders} = this;
    let total = 0;
    for (let i = 0; i < part; i++) {
      let even = mean;
      let odd = 0;
      for (let k = 1; k <= orders; k++) {
        const at = this.start(k) + i * ROW;
        const y = cos[k] * waves[at] + sin[k] * waves[at + 1];
        if (k % 2 === 0) even += y;
        else odd += y;
      }
      const here = readings[i] - even - odd;
      if (!Number.isNaN(here)) total += here * here;
      if (part === positions) continue;
      const opposite = readings[i + part] - even + odd;
      if (!Number.isNaN(opposite)) total += opposite * opposite;
    }
    return total;
  }

  /** The coefficients of one order alone. */
  one(order: number, readings: Float64Array, level: number): Point {
    const {part, positions, waves} = this;
    const opposite = part < positions;
    let at = this.start(order);
    let c = 0;
    let s = 0;
    if (opposite && order % 2 !== 0) {
      for (let i = 0; i < part; i++, at += ROW) {
        const y = readings[i] - readings[i + part];
        c += y * waves[at];
        s += y * waves[at + 1];
      }
    } else {
      for (let i = 0; i < part; i++, at += ROW) {
        const y = readings[i] - level + (opposite ? readings[i + part] - level : 0);
        c += y * waves[at];
        s += y * waves[at + 1];
      }
    }
    return {x: (2 * c) / positions, y: (2 * s) / positions};
  }
}

/** Any other angles, one for each position: least squares by their factors. */
class UnevenSpacing implements Spacing {
  readonly positions: number;
  readonly orders: number;
  readonly condition: number;
  private readonly rows: Float64Array[] = [];
  // Used again by every row: a column of records allocates none.
  private readonly shifted: Float64Array;
  private readonly solved: Float64Array;
  /** Cosine and sine of each order, position after position. */
  private waves: Float64Array | undefined;

  constructor(readonly basis: Basis) {
    this.positions = basis.n;
    this.orders = basis.orders;
    this.condition = conditionBound(basis);
    this.shifted = new Float64Array(basis.n);
    this.solved = new Float64Array(basis.p);
  }

  influence(position: number): Float64Array {
    const {n, p, q} = this.basis;
    return (this.rows[position] ??= Float64Array.from({length: n}, (_, i) => {
      let sum = 0;
      for (let j = 0; j < p; j++) sum += q[j * n + i] * q[j * n + position];
      return sum;
    }));
  }

  solve(readings: Float64Array, level: number, cos: number[], sin: number[]): number {
    for (let i = 0; i < this.positions; i++) this.shifted[i] = readings[i] - level;
    const c = coefficients(this.basis, this.shifted, this.solved);
    for (let k = 1; k <= this.orders; k++) {
      cos[k] = c[2 * k - 1];
      sin[k] = c[2 * k];
    }
    return level + c[0];
  }

  squaresLeft(readings: Float64Array, {mean, cos, sin}: Wave): number {
    const {positions, orders} = this;
    this.waves ??= Float64Array.from({length: 2 * positions * orders}, (_, at) => {
      const degrees = (1 + ((at >> 1) % orders)) * this.basis.degrees[Math.floor((at >> 1) / orders)];
      return at % 2 === 0 ? cosd(degrees) : sind(degrees);
    });
    let total = 0;
    for (let i = 0, at = 0; i < positions; i++) {
      let left = readings[i] - mean;
      for (let k = 1; k <= orders; k++, at += 2) left -= cos[k] * this.waves[at] + sin[k] * this.waves[at + 1];
      if (!Number.isNaN(left)) total += left * left;
    }
    return total;
  }
}

/** The last even spacings by positions and orders; few enough to be looked through. */
const even: EvenSpacing[] = [];
let uneven: UnevenSpacing | undefined;
const KEPT = 6;

export function evenSpacing(positions: number, orders: number): EvenSpacing {
  for (let i = 0; i < even.length; i++) {
    const known = even[i];
    if (known.positions === positions && known.orders === orders) return known;
  }
  const made = new EvenSpacing(positions, orders);
  even.unshift(made);
  even.length = Math.min(even.length, KEPT);
  return made;
}

/** The spacing of given angles; undefined where a position has none or the angles are badly spread. */
export function unevenSpacing(readings: Readings, angles: Angles, orders: number): Spacing | undefined {
  if (uneven !== undefined && serves(uneven.basis, readings.positions, angles, orders)) return uneven;
  for (let i = 0; i < readings.positions; i++) if (Number.isNaN(angles.degrees[i])) return undefined;
  const everywhere = {...readings, values: new Float64Array(readings.positions), present: readings.positions};
  const basis = anyBasis(everywhere, angles, orders);
  if (!wellSpread(basis)) return undefined;
  return (uneven = new UnevenSpacing(basis));
}

function serves(basis: Basis, positions: number, {degrees}: Angles, orders: number): boolean {
  if (basis.n !== positions || basis.orders !== orders) return false;
  for (let i = 0; i < positions; i++) if (basis.degrees[i] !== degrees[i]) return false;
  return true;
}
