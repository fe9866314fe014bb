/** One workload after the other: one that fails says so in a row of its own, and the others go on. */
import {failure, type Result, type Setting, type Workload} from './workload';

export async function measureAll(
  workloads: readonly Workload[],
  setting: Setting,
  begins: (name: string) => void,
): Promise<Result[]> {
  const results: Result[] = [];
  for (const {name, run} of workloads) {
    begins(name);
    try {
      results.push(...(await run(setting)));
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      results.push(failure(name, '–', '–', why.split('\n')[0].slice(0, 200)));
    }
  }
  return results;
}

/** 0 when all that could be measured was; whether goals are met is another matter. */
export const exitCode = (results: readonly Result[]): 0 | 1 => (results.some(({failed}) => failed) ? 1 : 0);
