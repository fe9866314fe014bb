/** Rows next to each other, taken together. */

export interface Run {
  readonly first: number;
  readonly last: number;
}

export function runsOf(rows: readonly number[]): Run[] {
  const runs: {first: number; last: number}[] = [];
  for (const row of rows) {
    const run = runs[runs.length - 1];
    if (run !== undefined && row === run.last + 1) run.last = row;
    else runs.push({first: row, last: row});
  }
  return runs;
}
