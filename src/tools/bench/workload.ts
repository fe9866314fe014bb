/** What a workload is, and what it tells. */
import {interleaved, type Comparison, type Timed} from './measure';

export interface Setting {
  /** Fewer rows and rounds. */
  readonly quick: boolean;
  readonly rounds: number;
}

export interface Result {
  readonly workload: string;
  readonly against: string;
  /** Null when the peer is missing or the workload failed. */
  readonly ratio: number | null;
  readonly goal: string;
  /** Null when the peer is missing. */
  readonly met: boolean | null;
  /** Half of the interquartile range ÷ median, of the less steady side. */
  readonly spread?: number;
  /** What the figures were, which peer is missing, or what went wrong. */
  readonly note: string;
  /** The workload broke off, or its answers are wrong: its ratio says nothing. */
  readonly failed?: boolean;
}

export type Run = (setting: Setting) => Promise<Result[]>;

export interface Workload {
  readonly name: string;
  readonly run: Run;
}

interface Named {
  readonly workload: string;
  readonly against: string;
  /** How much more work ours did than theirs in a round; the peer's time is scaled up by it. */
  readonly times?: number;
  /** Whether both gave the same answer; anything else fails the workload. */
  readonly agrees?: boolean;
  /** What else is to be said. */
  readonly note?: string;
}

interface Compared extends Named {
  readonly ours: Timed;
  readonly theirs: Timed;
  readonly rounds: number;
  /** The same as `agrees`, looked at after the rounds. */
  readonly isSame?: () => boolean;
}

/** Goal: ours takes at most `most` times the peer's time. */
export const atMost = async (most: number, compared: Compared): Promise<Result> =>
  judgedAtMost(most, ...(await measured(compared)));

/** Goal: ours is at least `least` times faster than the peer. */
export const atLeast = async (least: number, compared: Compared): Promise<Result> =>
  judgedAtLeast(least, ...(await measured(compared)));

async function measured(compared: Compared): Promise<[Named, Comparison]> {
  const {ours, theirs, rounds, agrees = true, isSame} = compared;
  const found = await interleaved(ours, theirs, rounds);
  return [{...compared, agrees: agrees && (isSame?.() ?? true)}, found];
}

export function judgedAtMost(most: number, named: Named, measured: Comparison): Result {
  const ratio = measured.ours / (measured.theirs * (named.times ?? 1));
  return judged(named, measured, ratio, goalAtMost(most), ratio <= most);
}

export function judgedAtLeast(least: number, named: Named, measured: Comparison): Result {
  const ratio = (measured.theirs * (named.times ?? 1)) / measured.ours;
  return judged(named, measured, ratio, goalAtLeast(least), ratio >= least);
}

export const goalAtMost = (most: number): string => `at most ${most} ×`;

export const goalAtLeast = (least: number): string => `at least ${least} × faster`;

function judged(
  {workload, against, times = 1, agrees = true, note}: Named,
  {ours, theirs, spread}: Comparison,
  ratio: number,
  goal: string,
  met: boolean,
): Result {
  const figures = [`${ms(ours)} against ${ms(theirs * times)}`, ...(note === undefined ? [] : [note])];
  if (agrees) return {workload, against, ratio, goal, met, spread, note: figures.join('; ')};
  return {...failure(workload, against, goal, `the answers differ; ${figures.join('; ')}`), spread};
}

/** A limit that no peer sets. */
export const withinLimit = (
  workload: string,
  against: string,
  ratio: number,
  most: number,
  note: string,
  spread?: number,
): Result => ({
  workload,
  against,
  ratio,
  goal: goalAtMost(most),
  met: ratio <= most,
  note,
  ...(spread === undefined ? {} : {spread}),
});

export const missing = (workload: string, against: string, goal: string, why: string): Result => ({
  workload,
  against,
  ratio: null,
  goal,
  met: null,
  note: why,
});

export const failure = (workload: string, against: string, goal: string, why: string): Result => ({
  workload,
  against,
  ratio: null,
  goal,
  met: false,
  failed: true,
  note: why,
});

export const ms = (value: number): string => (value >= 1000 ? `${Math.round(value)} ms` : `${value.toPrecision(3)} ms`);
