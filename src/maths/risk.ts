import {normalUpper} from './distributions';
import {invalid, unavailable} from './refusal';
import {length, times, type Point} from './vectors';

export interface Risk {
  readonly risk: number;
  readonly low: number;
  readonly high: number;
}

/** Logistic regression of an event on one amount: log odds = a + b·x, x = (amount − center) ÷ scale. */
export interface Logistic {
  readonly a: number;
  readonly b: number;
  readonly center: number;
  readonly scale: number;
  readonly information: Information;
}

/**
 * Fisher's information of (a, b), with each record's weight w = p·(1 − p): about the weighted mean of x it has no mixed
 * term, so that amounts far apart cost no digits.
 */
export interface Information {
  /** Σw */
  readonly weight: number;
  /** Σw·x ÷ Σw */
  readonly middle: number;
  /** Σw·(x − middle)² */
  readonly spread: number;
}

/** Rounds of Newton's method; a dozen do. */
const MOST_ROUNDS = 100;
/** Standard errors: a step this small is the last one, and a score this large no maximum. */
const LAST_STEP = 1e-10;
const NO_MAXIMUM = 1e-6;
/** Heights that rounding alone tells apart. */
const SAME = 1e-9;

/**
 * Firth's bias-reduced logistic regression (Firth 1993; Heinze and Schemper 2002, values from memory): the maximum of
 * log likelihood + ½·log of the determinant of the information. It stays finite when a limit parts good from bad.
 * @throws Refusal `invalid` for amounts that are all the same, `unavailable` where no maximum is found
 */
export function logistic(amounts: readonly number[], events: readonly boolean[]): Logistic {
  const n = amounts.length;
  const center = amounts.reduce((s, v) => s + v, 0) / n;
  const scale = Math.sqrt(amounts.reduce((s, v) => s + (v - center) ** 2, 0) / n);
  if (!(scale > 1e-12 * (Math.abs(center) + scale))) {
    throw invalid('amounts that differ are wanted, found the same throughout', 'amounts');
  }
  const x = amounts.map((v) => (v - center) / scale);
  const at = (a: number, b: number): Place => placeAt(x, events, a, b);
  // Few records near a limit that parts them make a hill of their own: the higher top counts.
  const tops = [[0, 0], ...limitStarts(x, events)].flatMap(([a, b]) => climbed(at(a, b), at));
  if (tops.length === 0) throw unavailable('the records do not tell how the risk grows with the amount', 'amounts');
  const {a, b, information} = tops.reduce((best, top) => (top.value > best.value + SAME ? top : best));
  return {a, b, center, scale, information};
}

/** Slopes at the limit that parts the records best, over the width of the nearest two of them, four and so on. */
function limitStarts(x: readonly number[], events: readonly boolean[]): (readonly [number, number])[] {
  const order = x.map((_, i) => i).sort((i, j) => x[i] - x[j]);
  const sorted = order.map((i) => x[i]);
  // How many more than half would be right in saying that what is above the limit comes back; below 0 the other way.
  let right = events.filter(Boolean).length - x.length / 2;
  let best = {right: 0, above: 0};
  for (let k = 1; k < x.length; k++) {
    right += events[order[k - 1]] ? -1 : 1;
    if (sorted[k] > sorted[k - 1] && Math.abs(right) >= Math.abs(best.right)) best = {right, above: k};
  }
  const {above} = best;
  const found: [number, number][] = [];
  for (let near = 1; above > 0 && near < 2 * x.length; near *= 2) {
    const width = sorted[Math.min(above - 1 + near, x.length - 1)] - sorted[Math.max(above - near, 0)];
    const slope = (4 * (best.right < 0 ? -1 : 1)) / width;
    found.push([(-slope * (sorted[above - 1] + sorted[above])) / 2, slope]);
  }
  return found;
}

/** The top above a place; none where the climb ends elsewhere. */
function climbed(start: Place, at: (a: number, b: number) => Place): Place[] {
  let here = start;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    // So steep that no record has a weight: nothing says which way is up.
    if (!Number.isFinite(here.value)) return [];
    let step = newton(here);
    let next = moved(here, step, at);
    // Halved until it climbs, but for rounding.
    while (!(next.value >= here.value - 1e-12 * (1 + Math.abs(here.value))) && length(step) > LAST_STEP) {
      step = times(0.5, step);
      next = moved(here, step, at);
    }
    here = next;
    if (length(step) <= LAST_STEP) break;
  }
  return length(here.score) <= NO_MAXIMUM ? [here] : [];
}

/** Directions in standard errors of a place: of its level at the middle, and of its slope. */
interface Place {
  readonly a: number;
  readonly b: number;
  readonly information: Information;
  /** Penalized log likelihood, worked out when it is asked for. */
  readonly value: number;
  /** Its derivatives in those directions. */
  readonly score: Point;
  readonly second: {readonly xx: number; readonly xy: number; readonly yy: number};
}

function placeAt(x: readonly number[], events: readonly boolean[], a: number, b: number): Place {
  const n = x.length;
  const p = new Float64Array(n);
  const q = new Float64Array(n);
  let weight = 0;
  let moment = 0;
  for (let i = 0; i < n; i++) {
    // The smaller one from the exponential: 1 − p has no digits where p is all but 1.
    const odds = a + b * x[i];
    const less = Math.exp(-Math.abs(odds));
    const more = 1 / (1 + less);
    p[i] = odds < 0 ? less * more : more;
    q[i] = odds < 0 ? more : less * more;
    weight += p[i] * q[i];
    moment += p[i] * q[i] * x[i];
  }
  const middle = moment / weight;
  let spread = 0;
  for (let i = 0; i < n; i++) spread += p[i] * q[i] * (x[i] - middle) ** 2;

  // In these directions the information is the identity. With h = w·z², z² = z₁² + z₂², the score is
  // Σ z·(y − p + h·(½ − p)), and its derivative Σ w·(2·(½ − p)²·z² − 1 − h)·z·zᵀ − ½·Σ T·T over the third moments
  // T = Σ w·(1 − 2·p)·z·z·z, which are those of the change of the information.
  const [z1, slope] = [1 / Math.sqrt(weight), 1 / Math.sqrt(spread)];
  let [gx, gy, xx, xy, yy, t111, t112, t122, t222] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    const z2 = (x[i] - middle) * slope;
    const w = p[i] * q[i];
    const zz = z1 * z1 + z2 * z2;
    const off = (q[i] - p[i]) / 2;
    const u = (events[i] ? q[i] : -p[i]) + w * zz * off;
    gx += u * z1;
    gy += u * z2;
    const bend = w * (2 * off * off * zz - 1 - w * zz);
    xx += bend * z1 * z1;
    xy += bend * z1 * z2;
    yy += bend * z2 * z2;
    const skew = 2 * w * off;
    t111 += skew * z1 * z1 * z1;
    t112 += skew * z1 * z1 * z2;
    t122 += skew * z1 * z2 * z2;
    t222 += skew * z2 * z2 * z2;
  }
  let height: number | undefined;
  return {
    a,
    b,
    information: {weight, middle, spread},
    get value() {
      return (height ??= p.reduce(
        (sum, pi, i) => sum + Math.log(events[i] ? pi : q[i]),
        Math.log(weight * spread) / 2,
      ));
    },
    score: {x: gx, y: gy},
    second: {
      xx: xx - (t111 * t111 + 2 * t112 * t112 + t122 * t122) / 2,
      xy: xy - (t111 * t112 + 2 * t112 * t122 + t122 * t222) / 2,
      yy: yy - (t112 * t112 + 2 * t122 * t122 + t222 * t222) / 2,
    },
  };
}

/** Moves so many standard errors. */
function moved({a, b, information: {weight, middle, spread}}: Place, by: Point, at: (a: number, b: number) => Place) {
  const slope = by.y / Math.sqrt(spread);
  return at(a + by.x / Math.sqrt(weight) - middle * slope, b + slope);
}

/** Newton's step; where the curve is not that of a top, that of Fisher's scoring, which is the score itself. */
function newton({score: g, second: {xx, xy, yy}}: Place): Point {
  const determinant = xx * yy - xy * xy;
  if (!(xx < 0 && determinant > 0)) return g;
  return {x: (xy * g.y - yy * g.x) / determinant, y: (xy * g.x - xx * g.y) / determinant};
}

/** Probability at an amount, with its 95 % Wald interval worked out on the scale of log odds. */
export function riskAt({a, b, center, scale, information}: Logistic, amount: number): Risk {
  const x = (amount - center) / scale;
  const odds = a + b * x;
  const {weight, middle, spread} = information;
  const half = normalUpper(0.025) * Math.sqrt(1 / weight + (x - middle) ** 2 / spread);
  const probability = (t: number): number => 1 / (1 + Math.exp(-t));
  return {risk: probability(odds), low: probability(odds - half), high: probability(odds + half)};
}
