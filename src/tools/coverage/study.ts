/**
 * Whether "95 %" is 95 %: intervals from simulated readings whose truth is known, and how many of them hold it.
 */
import {average} from '../../maths/average';
import {assessReadings} from '../../maths/assessReadings';
import {harmonics} from '../../maths/harmonics';
import {proportion} from '../../maths/proportions';
import {readingsOf, type Angles} from '../../maths/readings';
import {length, minus, point, type Vector} from '../../maths/vectors';
import {normalFrom, randomFrom} from '../random';

export interface Case {
  /** Function and figure. */
  readonly figure: string;
  readonly situation: string;
  /** How the approximation is known to fail here, if it does: reported, not held to 95 %. */
  readonly fails: Failing;
  /** Draws one sample; true when its interval holds the truth. */
  readonly draw: (random: () => number, normal: () => number) => boolean;
}

type Failing = 'too narrow' | 'too wide' | undefined;

export interface Covered {
  readonly figure: string;
  readonly situation: string;
  readonly fails: Failing;
  readonly trials: number;
  /** Share of intervals that hold the truth. */
  readonly share: number;
}

const RAD = Math.PI / 180;
const NOISE = 0.02;

/** Uneven angles, as a hand-turned wheel gives them. */
const UNEVEN: Angles = {
  name: 'angles',
  degrees: Float64Array.of(0, 20, 47, 70, 95, 111, 140, 160, 185, 207, 230, 251, 275, 300, 318, 340),
};
const EVEN = Float64Array.from({length: 16}, (_, i) => 22.5 * i);

/** Readings of a first harmonic, peak-to-peak, and a little of the second, with noise; positions of `gaps` missing. */
function turn(vectors: readonly Vector[], degrees: Float64Array, normal: () => number, gaps: readonly number[] = []) {
  return readingsOf(
    degrees.map((d, i) => {
      if (gaps.includes(i)) return NaN;
      const first = vectors.reduce((y, {amount, angle}) => y + (amount / 2) * Math.cos((d - angle) * RAD), 0);
      return first + 0.03 * Math.cos(2 * (d - 25) * RAD) + NOISE * normal();
    }),
  );
}

function amplitude(
  situation: string,
  amount: number,
  fails: Failing,
  angles?: Angles,
  gaps: readonly number[] = [],
): Case {
  return {
    figure: 'HARMONICS plusminus',
    situation,
    fails,
    draw: (random, normal) => {
      const truth = {amount, angle: 360 * random()};
      const [row] = harmonics(turn([truth], angles?.degrees ?? EVEN, normal, gaps), 1, angles);
      return Math.abs(row.amount - amount) <= row.plusminus!;
    },
  };
}

function assessed(
  figure: 'plusminus' | 'plusafter',
  situation: string,
  rim: number,
  tire: number,
  fails: Failing,
): Case {
  return {
    figure: `ASSESSREADINGS ${figure}`,
    situation,
    fails,
    draw: (random, normal) => {
      const r = {amount: rim, angle: 360 * random()};
      const t = {amount: tire, angle: 360 * random()};
      const tilt = {amount: 0.1, angle: 360 * random()};
      const back = {amount: 0.1, angle: tilt.angle + 180};
      const found = assessReadings(
        {
          assembly: turn([r, t], EVEN, normal),
          rimInner: turn([r, tilt], EVEN, normal),
          rimOuter: turn([r, back], EVEN, normal),
        },
        {assembly: 0.5, rim: 0.5, total: undefined},
        4,
      );
      const assembly = length(minus(point(r), {x: -point(t).x, y: -point(t).y}));
      return figure === 'plusminus'
        ? Math.abs(found.assembly - assembly) <= found.plusminus!
        : Math.abs(found.after - Math.abs(rim - tire)) <= found.plusafter!;
    },
  };
}

function scatter(spins: number): Case {
  return {
    figure: 'AVERAGE scatter',
    situation: `${spins} spins`,
    fails: undefined,
    draw: (_, normal) => {
      const truth = {x: 20, y: -5};
      const vectors = Array.from({length: spins}, () => {
        const [x, y] = [truth.x + 2 * normal(), truth.y + 2 * normal()];
        return {amount: Math.hypot(x, y), angle: Math.atan2(y, x) / RAD};
      });
      const mean = average(vectors);
      return length(minus(point(mean), truth)) <= mean.scatter!;
    },
  };
}

function share(p: number, total: number): Case {
  return {
    figure: 'PROPORTION low, high',
    situation: `share ${p} of ${total}`,
    fails: undefined,
    draw: (random) => {
      let count = 0;
      for (let i = 0; i < total; i++) if (random() < p) count++;
      const {low, high} = proportion(count, total, 0.95);
      return low <= p && p <= high;
    },
  };
}

/** Peak-to-peak standard uncertainty of an amount from 16 even readings. */
const U = 2 * NOISE * Math.sqrt(2 / 16);

export const CASES: readonly Case[] = [
  amplitude('16 even readings, amount 40 times its standard uncertainty', 40 * U, undefined),
  amplitude('16 even readings, amount 5 times its standard uncertainty', 5 * U, undefined),
  amplitude('16 readings at uneven angles', 40 * U, undefined, UNEVEN),
  amplitude('16 even positions, 3 readings missing side by side', 40 * U, undefined, undefined, [4, 5, 6]),
  amplitude('16 even readings, amount as large as its standard uncertainty', U, undefined),
  amplitude('16 even readings, amount half as large as its standard uncertainty', U / 2, undefined),
  // An amount is never negative: where there is none, it always errs upward.
  amplitude('16 even readings, no amount at all', 0, 'too narrow'),
  assessed('plusminus', 'assembly of a rim of 0.5 and a tire of 0.7', 0.5, 0.7, undefined),
  // The fewest degrees of freedom of three fits stand for all of them, which widens this one.
  assessed('plusafter', 'rim 0.5, tire 0.7: the match leaves 0.2', 0.5, 0.7, undefined),
  assessed('plusafter', 'rim and tire alike: the match leaves nothing', 0.5, 0.5, 'too wide'),
  assessed('plusafter', 'a true rim: its direction is chance', 0, 0.7, undefined),
  assessed('plusafter', 'rim and tire both true', 0, 0, 'too wide'),
  scatter(3),
  scatter(5),
  scatter(10),
  share(0.25, 40),
  share(0.1, 100),
  share(0.5, 12),
];

export function study(trials: number, seed: number): Covered[] {
  return CASES.map(({figure, situation, fails, draw}, i) => {
    const random = randomFrom(seed + i);
    const normal = normalFrom(random);
    let held = 0;
    for (let k = 0; k < trials; k++) if (draw(random, normal)) held++;
    return {figure, situation, fails, trials, share: held / trials};
  });
}
