/**
 * The two angles at which fitted unbalances of given sizes serve best: local minima of stockPair's objective subject to
 * its limit on the static unbalance. Both, as functions of the angles φ₁, φ₂, have one form,
 *
 *   level + link·cos(φ₁ − φ₂) − pull₁·u(φ₁) − pull₂·u(φ₂),   u(φ) the unit vector at φ.
 *
 * With φ₁ fixed that is a single cosine of φ₂: the objective is least where u(φ₂) points along pull₂ − link·u(φ₁), and
 * the limit leaves an arc of the circle. So the search runs along φ₁ alone, in samples, and Newton's method finishes it.
 */
import type {Two} from './planes';
import {length, minus, plus, times, type Point} from './vectors';

interface Form {
  readonly level: number;
  readonly link: number;
  readonly pull1: Point;
  readonly pull2: Point;
}

const dot = (p: Point, q: Point): number => p.x * q.x + p.y * q.y;

/** 5/4·(|e₁|² + |e₂|²) + 3/2·e₁·e₂ for errors e = ρ·u(φ) − U. */
const objectiveOf = ([u1, u2]: Two<Point>, [rho1, rho2]: Two<number>): Form => ({
  level: 1.25 * (rho1 ** 2 + rho2 ** 2 + dot(u1, u1) + dot(u2, u2)) + 1.5 * dot(u1, u2),
  link: 1.5 * rho1 * rho2,
  pull1: times(rho1, plus(times(2.5, u1), times(1.5, u2))),
  pull2: times(rho2, plus(times(2.5, u2), times(1.5, u1))),
});

/** |e₁ + e₂|². */
const staticOf = (whole: Point, [rho1, rho2]: Two<number>): Form => ({
  level: rho1 ** 2 + rho2 ** 2 + dot(whole, whole),
  link: 2 * rho1 * rho2,
  pull1: times(2 * rho1, whole),
  pull2: times(2 * rho2, whole),
});

/** Value, slopes and bends of a form at a pair of angles. */
function slopes({level, link, pull1, pull2}: Form, first: number, second: number) {
  const u1 = {x: Math.cos(first), y: Math.sin(first)};
  const u2 = {x: Math.cos(second), y: Math.sin(second)};
  const along = link * dot(u1, u2);
  const across = link * (u1.y * u2.x - u1.x * u2.y);
  const [p1, p2] = [dot(pull1, u1), dot(pull2, u2)];
  return {
    value: level + along - p1 - p2,
    d1: -across - (pull1.y * u1.x - pull1.x * u1.y),
    d2: across - (pull2.y * u2.x - pull2.x * u2.y),
    d11: p1 - along,
    d12: along,
    d22: p2 - along,
  };
}

const FULL = 2 * Math.PI;
/** Steps a full turn, and the least for a part of one; the objective has at most a few waves around it. */
const STEPS = 24;
const LEAST_STEPS = 12;
/** Steps of the golden-section search: to a hundredth of a sample's step, and to rounding. */
const ROUGH = 10;
const FINE = 40;
/** Share of the squares in play that is rounding. */
const NOISE = 1e-13;
/** A limit of this share of the sizes in play, and below, is none: its square is beyond what their squares can show. */
const TIGHT = 1e-9;

interface Tried {
  readonly first: number;
  readonly second: number;
  /** The limit decides the second angle. */
  readonly held: boolean;
  /** Infinite where the limit allows no second angle. */
  readonly objective: number;
}

class Search {
  private readonly objective: Form;
  private readonly static: Form;
  private readonly whole: Point;
  /** The two must make up the whole. Then the second angle is that of what the first leaves. */
  readonly tight: boolean;

  constructor(
    required: Two<Point>,
    private readonly rho: Two<number>,
    private readonly limit: number,
  ) {
    this.whole = plus(required[0], required[1]);
    this.objective = objectiveOf(required, rho);
    this.static = staticOf(this.whole, rho);
    this.tight = limit <= TIGHT * Math.sqrt(this.static.level);
  }

  /** The best second angle for a first one. */
  at(first: number): Tried {
    const u1 = {x: Math.cos(first), y: Math.sin(first)};
    const {level, link, pull1, pull2} = this.static;
    const center = minus(pull2, times(link, u1));
    const needed = level - dot(pull1, u1) - this.limit ** 2;
    if (needed > length(center) + NOISE * level) return {first, second: NaN, held: true, objective: Infinity};
    const wanted = minus(this.objective.pull2, times(this.objective.link, u1));
    let second = Math.atan2(wanted.y, wanted.x);
    const held = this.tight || dot(center, {x: Math.cos(second), y: Math.sin(second)}) < needed;
    if (held) {
      const half = this.tight ? 0 : Math.acos(Math.min(1, needed / length(center)));
      const side = center.x * wanted.y - center.y * wanted.x < 0 ? -1 : 1;
      second = Math.atan2(center.y, center.x) + side * half;
    }
    const u2 = {x: Math.cos(second), y: Math.sin(second)};
    const objective = this.objective.level - dot(this.objective.pull1, u1) - dot(wanted, u2);
    return {first, second, held, objective};
  }

  /**
   * The first angle where it needs no search: any, where there is nothing to turn; and where nothing static is wanted
   * or allowed, that to which the two, opposite each other, are drawn.
   */
  known(): number | undefined {
    if (this.rho[0] === 0) return 0;
    if (!this.tight || this.isWhole()) return undefined;
    const drawn = minus(this.objective.pull1, this.objective.pull2);
    return Math.atan2(drawn.y, drawn.x);
  }

  /** Whether a static unbalance is wanted at all. */
  private isWhole(): boolean {
    return 2 * this.rho[0] * length(this.whole) > NOISE * this.static.level;
  }

  /**
   * Where the first angle may lie: the vector that the second unbalance then has to make up, whole − F₁, must be
   * within the limit of ρ₂ in length. That is one stretch or two, mirrored at the direction of the whole.
   */
  intervals(): Two<number>[] {
    const size = length(this.whole);
    const [rho1, rho2] = this.rho;
    const middle = Math.atan2(this.whole.y, this.whole.x);
    // Where the whole is nothing the angle does not matter.
    if (!this.isWhole()) return [[middle - Math.PI, middle + Math.PI]];
    const off = (far: number): number => {
      const cosine = (size ** 2 + rho1 ** 2 - far ** 2) / (2 * rho1 * size);
      return Math.acos(Math.max(-1, Math.min(1, cosine)));
    };
    const [near, far] = [off(Math.max(0, rho2 - this.limit)), off(rho2 + this.limit)];
    if (near === 0) return [[middle - far, middle + far]];
    if (far === Math.PI) return [[middle + near, middle + FULL - near]];
    return [
      [middle - far, middle - near],
      [middle + near, middle + far],
    ];
  }

  /** Newton's method from a sample: slopes zero, or, where the limit holds, slope zero along it. */
  finish(start: Tried): Tried {
    let {first, second} = start;
    for (let n = 0; n < 12; n++) {
      const o = slopes(this.objective, first, second);
      let [f, g, f1, f2, g1, g2] = [o.d1, o.d2, o.d11, o.d12, o.d12, o.d22];
      if (start.held) {
        const s = slopes(this.static, first, second);
        f = o.d1 * s.d2 - o.d2 * s.d1;
        f1 = o.d11 * s.d2 + o.d1 * s.d12 - o.d12 * s.d1 - o.d2 * s.d11;
        f2 = o.d12 * s.d2 + o.d1 * s.d22 - o.d22 * s.d1 - o.d2 * s.d12;
        [g, g1, g2] = [s.value - this.limit ** 2, s.d1, s.d2];
      }
      const determinant = f1 * g2 - f2 * g1;
      const move1 = (f2 * g - f * g2) / determinant;
      const move2 = (f * g1 - f1 * g) / determinant;
      if (!(Math.abs(move1) + Math.abs(move2) < 1)) return start;
      first += move1;
      second += move2;
      if (Math.abs(move1) + Math.abs(move2) < 1e-15) break;
    }
    return {first, second, held: start.held, objective: slopes(this.objective, first, second).value};
  }

  /** Whether a finished search is what it should be: no worse than its start, but for rounding, and within the limit. */
  holds(end: Tried, start: Tried): boolean {
    const {value} = slopes(this.static, end.first, end.second);
    const noise = NOISE * this.objective.level;
    return end.objective <= start.objective + noise && value <= this.limit ** 2 + NOISE * this.static.level;
  }

  /** Whether a finished search ended at the best second angle that its first one allows. */
  settled(end: Tried): boolean {
    return this.at(end.first).objective >= end.objective - NOISE * this.objective.level;
  }
}

/** @returns pairs of angles in radians */
export function bestAngles(required: Two<Point>, rho: Two<number>, limit: number): Two<number>[] {
  if (rho[0] > 0 && rho[1] === 0) {
    return bestAngles([required[1], required[0]], [0, rho[0]], limit).map(([a, b]): Two<number> => [b, a]);
  }
  const search = new Search(required, rho, limit);
  const known = search.known();
  if (known !== undefined) {
    const {second, objective} = search.at(known);
    return objective === Infinity ? [] : [[known, second]];
  }
  return search
    .intervals()
    .flatMap(([from, to]) => minima(search, from, to))
    .map(({first, second}) => [first, second]);
}

function minima(search: Search, from: number, to: number): Tried[] {
  const around = to - from > FULL - 1e-9;
  // An even number of steps: where both requirements lie on one line, so does a sample, between the two mirror images.
  const steps = 2 * Math.max(LEAST_STEPS / 2, Math.ceil((STEPS * (to - from)) / FULL / 2));
  // Towards the ends of a stretch the arc for the second angle closes like a square root. Places that follow a half
  // circle over the stretch straighten that out; beyond its ends they run back.
  const at = (place: number): Tried =>
    search.at(from + (to - from) * (around ? place : (1 - Math.cos(Math.PI * place)) / 2));
  const tried = Array.from({length: around ? steps : steps + 1}, (_, i) => at(i / steps));
  const value = (i: number): number => tried[around ? (i + steps) % steps : i]?.objective ?? Infinity;
  return tried.flatMap((start, i) => {
    const {objective} = start;
    if (objective === Infinity || value(i - 1) < objective || value(i + 1) < objective) return [];
    // The sure search first, on either side of the sample, which may stand on a hill between two valleys: Newton's
    // method alone may end on such a hill, and still below its start.
    return [-1, 1].map((side) => {
      if (search.tight) return golden(at, start, i / steps, side / steps, FINE);
      // A rough search does nearly always.
      const rough = golden(at, start, i / steps, side / steps, ROUGH);
      const finished = search.finish(rough);
      if (search.holds(finished, rough) && search.settled(finished)) return finished;
      const near = golden(at, start, i / steps, side / steps, FINE);
      const end = search.finish(near);
      return search.holds(end, near) ? end : near;
    });
  });
}

/** Golden-section search from a sample to the next. */
function golden(at: (place: number) => Tried, start: Tried, place: number, step: number, most: number): Tried {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [place, place + step];
  let best = start;
  const look = (where: number): Tried => {
    const tried = at(where);
    if (tried.objective < best.objective) best = tried;
    return tried;
  };
  let [a, b] = [high - ratio * (high - low), low + ratio * (high - low)];
  let [atA, atB] = [look(a), look(b)];
  for (let n = 0; n < most; n++) {
    if (atA.objective <= atB.objective) {
      high = b;
      [b, atB] = [a, atA];
      a = high - ratio * (high - low);
      atA = look(a);
    } else {
      low = a;
      [a, atA] = [b, atB];
      b = low + ratio * (high - low);
      atB = look(b);
    }
  }
  return best;
}
