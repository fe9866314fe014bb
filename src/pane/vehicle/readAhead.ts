/**
 * Records of many jobs, read some jobs ahead: between the writing of two sheets each reading would have Excel calculate
 * the sheet before.
 */
const AHEAD = 25;

interface WithRecords {
  readonly indices: readonly number[];
}

/**
 * @param read reads records by their indices, in that order
 * @returns the records of the job at a place of the list; asked for in the order of the list
 */
export function readingAhead<R>(
  jobs: readonly WithRecords[],
  read: (indices: readonly number[]) => Promise<readonly R[]>,
): (at: number) => Promise<readonly R[]> {
  const known = new Map<number, readonly R[]>();
  return async (at) => {
    if (!known.has(at)) {
      known.clear();
      const next = jobs.slice(at, at + AHEAD);
      const records = await read(next.flatMap(({indices}) => indices));
      let from = 0;
      next.forEach(({indices}, i) => known.set(at + i, records.slice(from, (from += indices.length))));
    }
    return known.get(at)!;
  };
}
