/**
 * The columns [1, cos θ, sin θ, …, cos Kθ, sin Kθ] at the angles of the readings present, taken apart once and kept:
 * a sheet asks for the same angles row after row.
 */
import {cosd, sind} from './angles';
import {condition, factor, inverse, type Factored} from './leastSquares';
import {angleAt, presentPositions, type Angles, type Readings} from './readings';
import {invalid, unavailable} from './refusal';

export interface Basis extends Factored {
  readonly orders: number;
  /** Position of each reading present. */
  readonly index: Int32Array;
  /** Their angles. */
  readonly degrees: Float64Array;
  /** The angles are the even steps of the positions; none were given. */
  readonly steps: boolean;
  /** Even steps with no reading missing: the columns are orthogonal. */
  readonly even: boolean;
  /** Of the columns, in the 2-norm. */
  readonly condition: number;
  /** R⁻¹, row by row. */
  readonly inverse: Float64Array;
}

/** Beyond this a fit is refused: its figures would be noise. */
export const WORST_CONDITION = 1e8;

/** Readings times the square of the parameters: above it an elimination takes more than a second. */
const MOST_WORK = 3e7;

/** How many harmonics are fitted when `order` is the highest asked for and n readings are present. */
export const fittedOrders = (order: number, n: number): number => Math.max(order, Math.min(4, Math.floor((n - 2) / 2)));

/**
 * The basis for a fit of `order` and, with it, of all the harmonics that the readings can tell apart.
 * @throws Refusal `unavailable` for fewer than 2·order + 1 readings, `invalid` for angles too close together.
 */
export function basisFor(readings: Readings, angles: Angles | undefined, order: number): Basis {
  enough(readings, order);
  const basis = anyBasis(readings, angles, fittedOrders(order, readings.present));
  return spreadOut(basis, angles?.name ?? readings.name);
}

/** @throws Refusal `invalid` when the angles lie too close together */
export function spreadOut(basis: Basis, argument: string): Basis {
  if (wellSpread(basis)) return basis;
  throw invalid(
    `the angles lie too close together to tell ${basis.orders} harmonics apart (condition number above 1E+8); spread the readings around the turn or lower the order`,
    argument,
  );
}

/** Whether the condition number is not beyond the worst. */
export const wellSpread = (basis: Basis): boolean =>
  conditionBound(basis) <= WORST_CONDITION || basis.condition <= WORST_CONDITION;

/** The condition number is not above this, the product of Frobenius norms, which costs far less. */
export const conditionBound = ({r, inverse}: Basis): number => norm(r) * norm(inverse);

const norm = (m: Float64Array): number => Math.sqrt(m.reduce((sum, v) => sum + v * v, 0));

/** @throws Refusal `unavailable` when fewer than 2·order + 1 readings are present. */
export function enough({name, present}: Readings, order: number): void {
  if (present >= 2 * order + 1) return;
  const there = present === 1 ? '1 reading is present' : `${present} readings are present`;
  throw unavailable(`${there}, order ${order} needs at least ${2 * order + 1}`, name);
}

/** The last few bases, newest first. Angles are compared before anything is computed: it is what a column repeats. */
const recent: Basis[] = [];
const KEPT = 6;

/**
 * The basis of exactly these orders, however badly its angles are spread.
 * @throws Refusal `invalid` for so many readings and harmonics that a sheet would wait for them
 */
export function anyBasis(readings: Readings, angles: Angles | undefined, orders: number): Basis {
  const known = recent.findIndex((basis) => serves(basis, readings, angles, orders));
  const basis = known < 0 ? build(readings, angles, orders) : recent[known];
  if (known > 0) recent.splice(known, 1);
  if (known !== 0) {
    recent.unshift(basis);
    recent.length = Math.min(recent.length, KEPT);
  }
  return basis;
}

function serves(basis: Basis, readings: Readings, angles: Angles | undefined, wanted: number): boolean {
  const {orders, n, index, degrees, steps, even} = basis;
  if (orders !== wanted || n !== readings.present) return false;
  // Built in another way a basis at the same angles has other last digits, and an answer is not to depend on which call
  // came before.
  if (steps !== (angles === undefined)) return false;
  // Nothing to compare: all positions there are.
  if (even && n === readings.positions) return true;
  for (let i = 0; i < n; i++) {
    if (Number.isNaN(readings.values[index[i]])) return false;
    if (degrees[i] !== angleAt(readings, angles, index[i])) return false;
  }
  return true;
}

function build(readings: Readings, angles: Angles | undefined, orders: number): Basis {
  const index = presentPositions(readings);
  const n = index.length;
  const p = 2 * orders + 1;
  const degrees = Float64Array.from(index, (position) => angleAt(readings, angles, position));
  const steps = angles === undefined;
  const even = steps && n === readings.positions;
  if (!even && n * p * p > MOST_WORK) {
    const most = Math.floor((Math.sqrt(MOST_WORK / n) - 1) / 2);
    throw invalid(
      `${n} readings with gaps or at angles of their own allow harmonics up to order ${most}, not ${orders}`,
      readings.name,
    );
  }
  const x = new Float64Array(n * p);
  for (let i = 0; i < n; i++) {
    x[i] = 1;
    for (let k = 1; k <= orders; k++) {
      const turns = multiple(k, readings, angles, index[i]);
      x[(2 * k - 1) * n + i] = cosd(turns);
      x[2 * k * n + i] = sind(turns);
    }
  }
  const factored = even ? orthogonal(x, n, p) : factor(x, n, p);
  return new Columns(factored, orders, index, degrees, steps, even);
}

/** What few ask for is worked out when it is asked for. */
class Columns implements Basis {
  readonly n: number;
  readonly p: number;
  readonly q: Float64Array;
  readonly r: Float64Array;
  private knownCondition: number | undefined;
  private knownInverse: Float64Array | undefined;

  constructor(
    {n, p, q, r}: Factored,
    readonly orders: number,
    readonly index: Int32Array,
    readonly degrees: Float64Array,
    readonly steps: boolean,
    readonly even: boolean,
  ) {
    this.n = n;
    this.p = p;
    this.q = q;
    this.r = r;
  }

  get condition(): number {
    return (this.knownCondition ??= this.even ? Math.SQRT2 : condition(this.r, this.p));
  }

  get inverse(): Float64Array {
    return (this.knownInverse ??= inverse(this.r, this.p));
  }
}

/** k times the angle of a position; for even steps whole turns are taken off before anything is rounded. */
const multiple = (k: number, readings: Readings, angles: Angles | undefined, position: number): number =>
  angles === undefined
    ? (360 * ((k * position) % readings.positions)) / readings.positions
    : k * angles.degrees[position];

/** Even angles need no elimination: the columns are orthogonal already, of squared length n and n / 2. */
function orthogonal(x: Float64Array, n: number, p: number): Factored {
  const r = new Float64Array(p * p);
  for (let j = 0; j < p; j++) {
    const size = Math.sqrt(j === 0 ? n : n / 2);
    r[j * p + j] = size;
    for (let i = 0; i < n; i++) x[j * n + i] /= size;
  }
  return {n, p, q: x, r};
}

/** (XᵀX)⁻¹ of the cosine and sine coefficients of one harmonic. */
export interface Spread {
  readonly cc: number;
  readonly cs: number;
  readonly ss: number;
}

export function spreadOf(basis: Basis, order: number): Spread {
  const {p, inverse: inv} = basis;
  const c = (2 * order - 1) * p;
  const s = 2 * order * p;
  let [cc, cs, ss] = [0, 0, 0];
  for (let k = 0; k < p; k++) {
    cc += inv[c + k] * inv[c + k];
    cs += inv[c + k] * inv[s + k];
    ss += inv[s + k] * inv[s + k];
  }
  return {cc, cs, ss};
}
