/** Calls as Excel makes them: cells in, cells out, through the built bundle. */
import {bundledFunctions} from '../../../host/node/bundle';
import type {Callable} from '../../../host/engine/functionsBundle';
import {mathematics} from '../bundle';
import {asCells, readingRows} from '../data';
import {time} from '../measure';
import {atMost, type Run} from '../workload';

export function builtFunction(id: string): Callable {
  const found = bundledFunctions().find((each) => each.id === id);
  if (!found) throw new RangeError(`the functions bundle has no ${id}`);
  return found.call;
}

export const harmonicCall: Run = async ({quick, rounds}) => {
  const calls = quick ? 50_000 : 200_000;
  const {readings, takeBackBuffers} = await mathematics();
  const call = builtFunction('HARMONIC');
  const rows = asCells(readingRows(1000, 16), 16).map((row) => [row]);
  const each = (work: (cells: number[][]) => unknown) => () =>
    time(() => {
      for (let i = 0; i < calls; i++) work(rows[i % rows.length]);
    });
  const {read} = readings('readings of one turn');
  return [
    await atMost(3, {
      workload: `one HARMONIC call of 16 cells (${calls} calls)`,
      against: 'reading and checking the 16 cells',
      ours: each((cells) => call(cells)),
      // The reader that the call itself uses, and nothing around it.
      theirs: each((cells) => {
        takeBackBuffers();
        return read(cells, 'readings', {});
      }),
      rounds,
    }),
  ];
};
