/** What a workload is, and what it tells. */
import {interleaved, type Timed} from './measure';

export interface Setting {
  /** Fewer rows and rounds. */
  readonly quick: boolean;
  readonly rounds: number;
}

export interface Result {
  readonly workload: string;
  readonly against: string;
  /** Undefined when the peer is missing. */
  readonly ratio: number | undefined;
  readonly goal: string;
  readonly met: boolean | undefined;
  /** Half of the interquartile range ÷ median, of the less steady side. */
  readonly spread?: number;
  /** What the figures were, or which peer is missing. */
  readonly note: string;
}

export interface Workload {
  readonly name: string;
  readonly run: (setting: Setting) => Promise<Result[]>;
}

interface Compared {
  readonly workload: string;
  readonly against: string;
  readonly ours: Timed;
  readonly theirs: Timed;
  /** How much more work ours did than theirs in a round; the peer's time is scaled up by it. */
  readonly times?: number;
  readonly rounds: number;
  /** Whether both gave the same answer; anything else fails the workload. */
  readonly agrees?: boolean;
}

/** Goal: ours takes at most `most` times the peer's time. */
export async function atMost(most: number, compared: Compared): Promise<Result> {
  const {ours, theirs, spread} = await scaled(compared);
  const ratio = ours / theirs;
  return finish(compared, ratio, `at most ${most} ×`, ratio <= most, spread, ours, theirs);
}

/** Goal: ours is at least `least` times faster than the peer. */
export async function atLeast(least: number, compared: Compared): Promise<Result> {
  const {ours, theirs, spread} = await scaled(compared);
  const ratio = theirs / ours;
  return finish(compared, ratio, `at least ${least} × faster`, ratio >= least, spread, ours, theirs);
}

async function scaled({ours, theirs, times = 1, rounds}: Compared) {
  const measured = await interleaved(ours, theirs, rounds);
  return {...measured, theirs: measured.theirs * times};
}

function finish(
  {workload, against, agrees = true}: Compared,
  ratio: number,
  goal: string,
  met: boolean,
  spread: number,
  ours: number,
  theirs: number,
): Result {
  const note = `${ms(ours)} against ${ms(theirs)}${agrees ? '' : '; the answers differ'}`;
  return {workload, against, ratio, goal, met: met && agrees, spread, note};
}

export const missing = (workload: string, against: string, goal: string, why: string): Result => ({
  workload,
  against,
  ratio: undefined,
  goal,
  met: undefined,
  note: why,
});

export const ms = (value: number): string => `${value.toPrecision(3)} ms`;
