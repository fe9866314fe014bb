/**
 * Two stock masses at free angles, found the long way round: every pair of masses on a grid of angles, and by what the
 * two may add up to. All in unbalances e = fitted − required.
 */
import {add, scale, size, xy, type Xy} from './polar';
import type {Plane, Two} from '../../src/maths/planes';
import type {Vector} from '../../src/maths/vectors';

export interface Problem {
  readonly weights: Two<Vector>;
  readonly planes: Two<Plane>;
  readonly step: number;
}

export interface Left {
  /** static² + (couple ÷ separation)² */
  readonly objective: number;
  readonly static: number;
  /** Couple over separation: half the size of e_out − e_in … */
  readonly share: number;
}

/** What masses at angles leave. */
export function leftBy({weights, planes}: Problem, inboard: Vector, outboard: Vector): Left {
  const [e1, e2] = [inboard, outboard].map((fitted, i) =>
    scale(planes[i].radius, add(xy(fitted), scale(-1, xy(weights[i])))),
  );
  const [fixed, share] = [size(add(e1, e2)), size(add(e2, scale(-1, e1))) / 2];
  return {static: fixed, share, objective: fixed ** 2 + share ** 2};
}

/** Each plane rounded on its own, halves up. */
export function roundedAlone(problem: Problem): {masses: [number, number]} & Left {
  const {weights, step} = problem;
  const masses = weights.map(({amount}) => Math.floor(amount / step + 0.5 + 1e-9) * step) as [number, number];
  const [inboard, outboard] = weights.map(({angle}, i) => ({amount: masses[i], angle}));
  return {masses, ...leftBy(problem, inboard, outboard)};
}

/** Multiples of the step within two steps of a mass, and 0. */
export function candidates(amount: number, step: number): number[] {
  const masses: number[] = [];
  for (let k = 0; k * step <= amount + 2.5 * step; k++) {
    if (k === 0 || Math.abs(k * step - amount) <= 2 * step * (1 + 1e-9)) masses.push(k * step);
  }
  return masses;
}

/** Least objective over all pairs of masses and a grid of angles in whole degrees (or coarser), within the static. */
export function leastOnGrid(problem: Problem, degrees: number): number {
  const {weights, planes, step} = problem;
  const alone = roundedAlone(problem);
  const n = Math.round(360 / degrees);
  let least = alone.objective;
  const errors = (i: 0 | 1, mass: number): {x: Float64Array; y: Float64Array} => {
    const [u, v] = xy(weights[i]);
    const around = Array.from({length: mass === 0 ? 1 : n}, (_, k) => xy({amount: mass, angle: k * degrees}));
    return {
      x: Float64Array.from(around, ([x]) => planes[i].radius * (x - u)),
      y: Float64Array.from(around, ([, y]) => planes[i].radius * (y - v)),
    };
  };
  const most = alone.static ** 2;
  const outboards = candidates(weights[1].amount, step).map((mass) => errors(1, mass));
  for (const mass of candidates(weights[0].amount, step)) {
    const first = errors(0, mass);
    for (const second of outboards) {
      for (let i = 0; i < first.x.length; i++) {
        const [a, b] = [first.x[i], first.y[i]];
        for (let j = 0; j < second.x.length; j++) {
          const [x, y] = [a + second.x[j], b + second.y[j]];
          const fixed = x * x + y * y;
          if (fixed > most || fixed >= least) continue;
          const [p, q] = [second.x[j] - a, second.y[j] - b];
          const objective = fixed + (p * p + q * q) / 4;
          if (objective < least) least = objective;
        }
      }
    }
  }
  return least;
}

/** Rings and rays on which the first look at a disc is taken. */
const [RINGS, RAYS] = [4, 48];

/**
 * Least objective for a pair of masses. The two unbalances must add up to a point of the disc about the whole whose
 * radius is the static allowed. For each such point there are two triangles with the given sides, one the mirror image of
 * the other. So the search goes over the disc, by rings and rays, and from each low place on by ever smaller steps.
 */
export function leastForMasses(problem: Problem, masses: Two<number>): number {
  const {weights, planes} = problem;
  const required = weights.map((w, i) => scale(planes[i].radius, xy(w))) as unknown as Two<Xy>;
  return leastForSizes(
    required,
    [masses[0] * planes[0].radius, masses[1] * planes[1].radius],
    roundedAlone(problem).static,
  );
}

/** The same for unbalances of given sizes, in place of given ones, within a static. */
export function leastForSizes([u1, u2]: Two<Xy>, [rho1, rho2]: Two<number>, limit: number): number {
  const whole = add(u1, u2);
  if (rho1 === 0 || rho2 === 0) return leastForOne(rho1 === 0 ? rho2 : rho1, rho1 === 0 ? [u2, u1] : [u1, u2], limit);
  const value = (wanted: number, ray: number, side: 1 | -1): number => {
    const ring = limit * Math.max(0, Math.min(1, wanted));
    const [x, y] = [whole[0] + ring * Math.cos(ray), whole[1] + ring * Math.sin(ray)];
    const aim = Math.sqrt(x * x + y * y);
    if (aim === 0) return Infinity;
    // Sides too short or too unlike to reach it come as near as they can.
    const far = Math.max(Math.abs(rho1 - rho2), Math.min(rho1 + rho2, aim));
    const [tx, ty] = [(x * far) / aim, (y * far) / aim];
    const fixed = (tx - whole[0]) ** 2 + (ty - whole[1]) ** 2;
    if (fixed > limit * limit * (1 + 1e-12)) return Infinity;
    const cosine = far === 0 ? 0 : (far * far + rho1 * rho1 - rho2 * rho2) / (2 * far * rho1);
    const angle = Math.atan2(y, x) + side * Math.acos(Math.max(-1, Math.min(1, cosine)));
    const [fx, fy] = [rho1 * Math.cos(angle), rho1 * Math.sin(angle)];
    return fixed + ((tx - 2 * fx - u2[0] + u1[0]) ** 2 + (ty - 2 * fy - u2[1] + u1[1]) ** 2) / 4;
  };
  let least = Infinity;
  for (const side of [1, -1] as const) {
    const grid = Array.from({length: RINGS + 1}, (_, r) =>
      Array.from({length: RAYS}, (_, a) => value(r / RINGS, (2 * Math.PI * a) / RAYS, side)),
    );
    for (let r = 0; r <= RINGS; r++) {
      for (let a = 0; a < RAYS; a++) {
        // The center is one place on all rays; a few ways out of it are enough.
        if (r === 0 && a % 6 > 0) continue;
        const here = grid[r][a];
        const beside = [-1, 0, 1].flatMap((i) =>
          [-1, 0, 1].map((j) => grid[r + i]?.[(a + j + RAYS) % RAYS] ?? Infinity),
        );
        if (here === Infinity || beside.some((other) => other < here)) continue;
        least = Math.min(
          least,
          descend((x, y) => value(x, y, side), r / RINGS, (2 * Math.PI * a) / RAYS),
        );
      }
    }
  }
  return least;
}

/** Downhill from a place by steps that grow where one leads on and are halved where none does. */
function descend(value: (x: number, y: number) => number, x: number, y: number): number {
  let least = value(x, y);
  let step = 0.1;
  for (let n = 0; n < 120 && step > 1e-8; n++) {
    let [bestX, bestY] = [x, y];
    let moved = false;
    for (const [c, s] of DIRECTIONS) {
      const next = value(x + step * c, y + step * s);
      if (next < least) [least, bestX, bestY, moved] = [next, x + step * c, y + step * s, true];
    }
    [x, y] = [Math.max(0, Math.min(1, bestX)), bestY];
    step *= moved ? 1.5 : 0.5;
  }
  return least;
}

const DIRECTIONS = Array.from(
  {length: 12},
  (_, k) => [Math.cos((k * Math.PI) / 6), Math.sin((k * Math.PI) / 6)] as const,
);

/** One weight alone, of a size: as near as it may to where the two square distances together pull it. */
function leastForOne(rho: number, [own, other]: Two<Xy>, limit: number): number {
  const missing = add(own, other);
  const value = ([x, y]: Xy): number =>
    (x - missing[0]) ** 2 + (y - missing[1]) ** 2 + ((x - own[0] + other[0]) ** 2 + (y - own[1] + other[1]) ** 2) / 4;
  if (rho === 0) return size(missing) <= limit * (1 + 1e-12) ? value([0, 0]) : Infinity;
  const pull = add(missing, scale(0.25, add(own, scale(-1, other))));
  let angle = Math.atan2(pull[1], pull[0]);
  const far = size(missing);
  if (Math.abs(rho - far) > limit * (1 + 1e-12)) return Infinity;
  if (far > 0 && rho + far > limit) {
    const half = Math.acos(Math.min(1, (rho * rho + far * far - limit * limit) / (2 * rho * far)));
    const middle = Math.atan2(missing[1], missing[0]);
    let off = angle - middle;
    off -= 2 * Math.PI * Math.round(off / (2 * Math.PI));
    if (Math.abs(off) > half) angle = middle + Math.sign(off) * half;
  }
  return value([rho * Math.cos(angle), rho * Math.sin(angle)]);
}

/** The least that errors at least as long as masses make them can leave: opposite, at best in the ratio 5 to 3. */
export function atBest(problem: Problem, masses: Two<number>): number {
  const errors = masses.map((mass, i) => Math.abs(mass - problem.weights[i].amount) * problem.planes[i].radius);
  const [less, more] = [Math.min(...errors), Math.max(...errors)];
  const value = (a: number) => 1.25 * (a * a + more * more) - 1.5 * a * more;
  return less < 0.6 * more ? value(0.6 * more) : value(less);
}

/** Least objective over all pairs of masses; `known` is one that is reached, so that worse pairs need no search. */
export function leastOfAll(problem: Problem, known: number): number {
  const {weights, step} = problem;
  let least = roundedAlone(problem).objective;
  for (const inboard of candidates(weights[0].amount, step)) {
    for (const outboard of candidates(weights[1].amount, step)) {
      if (atBest(problem, [inboard, outboard]) > Math.min(least, known)) continue;
      least = Math.min(least, leastForMasses(problem, [inboard, outboard]));
    }
  }
  return least;
}
