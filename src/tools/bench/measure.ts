/** Timing two ways of doing the same work side by side. */

/** Does the work once and gives the milliseconds that it took. */
export type Timed = () => number | Promise<number>;

export interface Comparison {
  /** Medians, ms. */
  readonly ours: number;
  readonly theirs: number;
  /** Half of the range between the quartiles, as a share of the median: the larger of the two. */
  readonly spread: number;
}

export const MOST_ROUNDS = 9;
export const LEAST_ROUNDS = 5;

/**
 * Milliseconds of the processor that a piece of work takes: what other programs take meanwhile does not count. Threads
 * that collect garbage or compile do.
 */
export function time(work: () => unknown): number {
  const start = process.cpuUsage();
  work();
  const {user, system} = process.cpuUsage(start);
  return (user + system) / 1000;
}

/** Milliseconds that a person waits for a piece of work. */
export async function waited(work: () => unknown): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

/** Milliseconds of work after which the engine of JavaScript has compiled what is run over and over. */
const WARM = 500;
const MOST_WARMING = 20;

async function warm(work: Timed): Promise<void> {
  for (let run = 0, took = 0; run < MOST_WARMING && took < WARM; run++) took += await work();
}

/** Runs both in turn, so that whatever else the machine does meets both alike. First both warm up. */
export async function interleaved(ours: Timed, theirs: Timed, rounds: number): Promise<Comparison> {
  await warm(ours);
  await warm(theirs);
  const [a, b]: [number[], number[]] = [[], []];
  for (let round = 0; round < rounds; round++) {
    a.push(await ours());
    b.push(await theirs());
  }
  return comparison(a, b);
}

export const comparison = (ours: readonly number[], theirs: readonly number[]): Comparison => ({
  ours: median(ours),
  theirs: median(theirs),
  spread: Math.max(spread(ours), spread(theirs)),
});

export const median = (values: readonly number[]): number => quantile(values, 0.5);

const spread = (values: readonly number[]): number =>
  (quantile(values, 0.75) - quantile(values, 0.25)) / 2 / median(values);

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((x, y) => x - y);
  const at = share * (sorted.length - 1);
  const low = Math.floor(at);
  return sorted[low] + (at - low) * ((sorted[low + 1] ?? sorted[low]) - sorted[low]);
}
