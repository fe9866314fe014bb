/**
 * What the pane does to a workbook, with every request failing before, amid and after its actions, once or for good.
 * Afterwards the cells are as before, or the pane says which are not; and the next attempt succeeds. All of them take
 * minutes: two of five are tried here, and every one with the variable FAULTS set to "all".
 *
 * @jest-environment ./tests/host/support/environment.cjs
 */
import {takeBack, writeBlock} from '../../../src/workbook/writeBlock';
import {differing, faultsOf, held, type Held} from './support/faults';
import {at, BLOCK, isTold, mine, open, OPERATIONS, retry, undisturbed} from './support/operations';
import {closePanes, type Pane} from './support/panes';

jest.setTimeout(240000);
afterEach(closePanes);

/** Sheets that the pane asks to be deleted are deleted by the person before the next attempt. */
function deleteTold({book: model}: Pane, before: Held, areas: readonly string[]): void {
  for (const {id, name} of [...model.sheets])
    if (areas.includes(name) && !before.cells.has(name)) model.step(() => model.removeSheet(id));
}

test.each(OPERATIONS)('$name', async ({content, prepare}) => {
  const {wanted, requests} = await undisturbed(content(), prepare);
  // Five has no divisor in common with the number of ways to fail, so that each way is among those tried.
  const all = faultsOf(requests, 4);
  const faults = all.filter(
    (_, i) => process.env.FAULTS === 'all' || i % 5 === 0 || i % 5 === 2 || i === all.length - 1,
  );
  expect(all.length).toBeGreaterThan(8);
  for (const fault of faults) {
    const {pane, faulty} = await open(content());
    const attempt = await prepare();
    await pane.book.settle();
    const before = held(pane.book);
    faulty.begin(fault);
    const {problem, areas, takeBack} = await attempt();
    const where = JSON.stringify({fault, problem, areas});
    // The last request of all only lets go of what was followed; that it failed changes nothing.
    if (problem === undefined) await pane.book.settle();
    else expect(problem).toContain('Something failed');
    const after = held(pane.book);
    if (problem === undefined) {
      expect({where, differs: differing(wanted, after)}).toEqual({where, differs: []});
      closePanes();
      continue;
    }
    const silent = differing(before, after).filter((one) => !isTold(one, areas));
    expect({where, silent}).toEqual({where, silent: []});
    if (areas.length === 0) expect({where, tables: after.tables}).toEqual({where, tables: before.tables});
    // The next attempt, once Excel answers again.
    faulty.begin();
    if (takeBack !== undefined) {
      await takeBack();
      const mine = differing(before, held(pane.book)).filter((one) => !/^Ledger map(!|$)/.test(one));
      expect({where, mine}).toEqual({where, mine: []});
    }
    deleteTold(pane, before, areas);
    const {tables} = await retry(pane, prepare, wanted, where);
    expect({where, tables}).toEqual({where, tables: wanted.tables});
    closePanes();
  }
});

test('a block is taken back at the second attempt, when the first fails', async () => {
  const {pane, faulty} = await open(mine());
  const before = held(pane.book);
  const written = await writeBlock(at(3), BLOCK, [{address: 'D1', content: 'mine'}]);
  expect(differing(before, held(pane.book))).not.toEqual([]);
  faulty.begin({request: 0, actions: 3, lasting: false});
  await expect(takeBack(written)).rejects.toThrow('Something failed');
  await takeBack(written);
  expect(differing(before, held(pane.book))).toEqual([]);
});
