import {RADIAN, direction, shortWay, turned} from './angles';
import {length, minus, plus, point, product, times, unit, type Point, type Vector} from './vectors';

export interface Sides {
  readonly inboard: Vector;
  readonly outboard: Vector;
}

export interface Limits {
  readonly runout: number;
  readonly static: number;
  readonly couple: number;
}

export interface AllMatch {
  readonly turn: number;
  readonly runout: number;
  readonly static: number;
  readonly couple: number;
  readonly score: number;
}

/** What stays with the rim and what turns with the tire, as shares of the limit. */
interface Pair {
  readonly stays: Point;
  readonly turns: Point;
}

/** Rounds a figure's square f(turn) = level + swing·cos(turn − peak). */
interface Square {
  readonly level: number;
  readonly x: number;
  readonly y: number;
}

const STEP = 0.01;
const SAME = 1e-12;

/**
 * One turn of the tire that serves runout, static and couple unbalance together: the turn, to 0.01°, with the least
 * score (largest figure ÷ its limit), then with the least Σ(figure ÷ limit)², then the shorter and the positive one.
 *
 * The square of each figure is a level and one cosine of the turn. The largest of the three is least at the low point
 * of one of them or where two of them cross; so a dozen candidates hold the answer. Should only a window narrower than
 * the step meet all limits, the turn within it is given unrounded.
 */
export function matchAll(
  rim: Vector,
  tire: Vector,
  rimUnbalance: Sides,
  tireUnbalance: Sides,
  limits: Limits,
): AllMatch {
  const pairs = pairsOf(rim, tire, rimUnbalance, tireUnbalance, limits);
  const exact = candidates(pairs.map(square));
  const rounded = exact.flatMap((turn) => [-1, 0, 1].map((n) => turned((Math.round(turn / STEP) + n) / 100)));
  let best = choose(pairs, rounded);
  if (best.score > 1) {
    const between = choose(pairs, exact);
    if (between.score <= 1) best = between;
  }
  const [runout, fixed, couple] = best.shares;
  return {
    turn: best.turn,
    runout: runout * limits.runout,
    static: fixed * limits.static,
    couple: couple * limits.couple,
    score: best.score,
  };
}

const pairsOf = (rim: Vector, tire: Vector, rimUnbalance: Sides, tireUnbalance: Sides, limits: Limits): Pair[] => [
  scaled(point(rim), point(tire), limits.runout),
  scaled(staticOf(rimUnbalance), staticOf(tireUnbalance), limits.static),
  scaled(coupleOf(rimUnbalance), coupleOf(tireUnbalance), limits.couple),
];

/** Degrees between the turns that are looked at before any is ruled out. */
const COARSE = 5;

/**
 * Turns that together show that none scores less than `score`. Between two turns each share of a limit is bounded twice:
 * it changes with a degree by no more than the size of what turns, and its square, a level and one cosine, bends by no
 * more than the cosine's size. Where that is not enough another turn is looked at, down to hundredths of a degree and up
 * to `most` turns.
 */
export function allLines(
  rim: Vector,
  tire: Vector,
  rimUnbalance: Sides,
  tireUnbalance: Sides,
  limits: Limits,
  score: number,
  most: number,
): number[] {
  const pairs = pairsOf(rim, tire, rimUnbalance, tireUnbalance, limits);
  const slopes = pairs.map(({turns}) => length(turns) / RADIAN);
  const bends = pairs.map(({stays, turns}) => (2 * length(stays) * length(turns)) / RADIAN ** 2);
  const enough = score * (1 - SAME);
  const hundredths = COARSE * 100;
  const shares = (at: number): readonly number[] => tried(pairs, at / 100).shares;
  const turns = new Set<number>();
  let stretches: [number, number][] = [];
  for (let i = 0; i < 36000; i += hundredths) {
    turns.add(i);
    stretches.push([i, i + hundredths]);
  }
  while (stretches.length > 0 && turns.size + stretches.length < most) {
    stretches = stretches.flatMap(([from, to]): [number, number][] => {
      const [one, two] = [shares(from), shares(to)];
      const width = (to - from) / 100;
      const bounds = one.map((share, i) =>
        Math.max(
          (share + two[i]) / 2 - (slopes[i] * width) / 2,
          Math.sqrt(Math.max(0, Math.min(share, two[i]) ** 2 - (bends[i] * width ** 2) / 8)),
        ),
      );
      if (to - from < 2 || Math.max(...bounds) >= enough) return [];
      const middle = (from + to) >> 1;
      turns.add(middle);
      return [
        [from, middle],
        [middle, to],
      ];
    });
  }
  return [...turns].sort((a, b) => a - b).map((i) => i / 100);
}

const staticOf = ({inboard, outboard}: Sides): Point => plus(point(inboard), point(outboard));

const coupleOf = ({inboard, outboard}: Sides): Point => times(0.5, minus(point(outboard), point(inboard)));

const scaled = (stays: Point, turns: Point, limit: number): Pair => ({
  stays: times(1 / limit, stays),
  turns: times(1 / limit, turns),
});

/** |stays + turns·e^{i·turn}|² = level + x·cos turn + y·sin turn. */
function square({stays, turns}: Pair): Square {
  const across = product({x: stays.x, y: -stays.y}, turns);
  return {level: length(stays) ** 2 + length(turns) ** 2, x: 2 * across.x, y: -2 * across.y};
}

function candidates(squares: readonly Square[]): number[] {
  const turns = [0];
  const all = squares.reduce((sum, s) => ({level: 0, x: sum.x + s.x, y: sum.y + s.y}));
  for (const {x, y} of [...squares, all]) turns.push(direction(-x, -y));
  for (let i = 0; i < squares.length; i++) {
    for (let j = i + 1; j < squares.length; j++) turns.push(...crossings(squares[i], squares[j]));
  }
  return turns.filter((turn) => turn >= 0);
}

/** The turns at which two squares are equal: two, that may be one, or no numbers where there are none. */
function crossings(f: Square, g: Square): number[] {
  const [level, x, y] = [f.level - g.level, f.x - g.x, f.y - g.y];
  const size = Math.sqrt(x * x + y * y);
  const half = Math.acos(-level / size) * RADIAN;
  const middle = direction(x, y);
  return [turned(middle - half), turned(middle + half)];
}

interface Tried {
  readonly turn: number;
  readonly shares: readonly number[];
  readonly score: number;
  readonly total: number;
}

function choose(pairs: readonly Pair[], turns: readonly number[]): Tried {
  return turns.map((turn) => tried(pairs, turn)).reduce((best, next) => (goesBefore(next, best) ? next : best));
}

function tried(pairs: readonly Pair[], turn: number): Tried {
  const by = unit(turn);
  const shares = pairs.map(({stays, turns}) => length(plus(stays, product(turns, by))));
  return {turn, shares, score: Math.max(...shares), total: shares.reduce((sum, s) => sum + s * s, 0)};
}

function goesBefore(a: Tried, b: Tried): boolean {
  const [way, other] = [shortWay(a.turn), shortWay(b.turn)];
  const further = Math.abs(way) - Math.abs(other);
  // 125.2 and 234.8 are equally far, though 234.8 − 360 falls short of it by rounding.
  const shorter = Math.abs(further) > STEP / 1e6 ? further : other - way;
  return (compare(a.score, b.score) || compare(a.total, b.total) || shorter) < 0;
}

/** −1, 0 or 1; figures within rounding of each other are the same. */
const compare = (a: number, b: number): number => (Math.abs(a - b) <= SAME * Math.max(a, b) ? 0 : a - b);
