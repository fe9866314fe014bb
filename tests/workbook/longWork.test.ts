/** What follows the workbook waits while work goes on part by part. */
import {readingAhead} from '../../src/pane/vehicle/readAhead';
import {atRest, longWork} from '../../src/workbook/longWork';

test('at once when nothing goes on; once at the end when something does, however often it was asked', async () => {
  const acted: string[] = [];
  const act = (): void => void acted.push('looked');
  atRest(act);
  expect(acted).toEqual(['looked']);
  await longWork(async () => {
    atRest(act);
    await longWork(async () => atRest(act));
    expect(acted).toEqual(['looked']);
    acted.push('written');
  });
  expect(acted).toEqual(['looked', 'written', 'looked']);
});

test('work that fails ends too', async () => {
  const acted: string[] = [];
  const failing = longWork(async () => {
    atRest(() => acted.push('looked'));
    throw new Error('no');
  });
  await expect(failing).rejects.toThrow('no');
  expect(acted).toEqual(['looked']);
});

test('records of jobs, some jobs ahead, each with its own', async () => {
  const jobs = Array.from({length: 60}, (_, job) => ({indices: job % 7 === 0 ? [] : [job * 10, job * 10 + 1]}));
  const asked: number[][] = [];
  const recordsOf = readingAhead(jobs, async (indices) => {
    asked.push([...indices]);
    return indices.map((index) => `record ${index}`);
  });
  for (let at = 0; at < jobs.length; at++) {
    expect(await recordsOf(at)).toEqual(jobs[at].indices.map((index) => `record ${index}`));
  }
  expect(asked.length).toBe(3);
});

test('a reading that fails is tried again for the next job', async () => {
  let fails = true;
  const recordsOf = readingAhead([{indices: [1]}, {indices: [2]}], async (indices) => {
    if (fails) throw new Error('busy');
    return indices;
  });
  await expect(recordsOf(0)).rejects.toThrow('busy');
  fails = false;
  expect(await recordsOf(1)).toEqual([2]);
});
