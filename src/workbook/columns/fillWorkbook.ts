/** Fills the columns of a plan in the open workbook, and keeps the mapping on its visible sheet. */
import {mergesUndo, undoableBatch} from '../batch';
import type {LedgerMap} from '../ledgerMap';
import {longWork} from '../longWork';
import {asProblem} from '../problems';
import {fill, type Filled, type Watching} from './fill';
import {keepMap} from './keepMap';
import {officeSheet} from './officeSheet';
import type {Plan} from './plan';
import type {Source} from './source';
import {takeBackFilled} from './failure';
import type {Undo} from './takeBack';

/** Up to this many cells go in one request, which Excel undoes in one step. */
const ONE_REQUEST = 6000;
/** Beyond, parts of this size show progress and can be cancelled. */
const PART = 2500;

/** Whether Excel's own undo takes the filling back in one step. */
export const undoesInOneStep = (plan: Plan): boolean =>
  mergesUndo() || plan.rows.length * plan.columns.length <= ONE_REQUEST;

const inOneStep = <T>(requests: (context: Excel.RequestContext) => Promise<T>): Promise<T> =>
  longWork(() => undoableBatch(requests));

export async function fillWorkbook(
  plan: Plan,
  map: LedgerMap | undefined,
  watching: Omit<Watching, 'cellsAtOnce' | 'along'>,
): Promise<Filled & {readonly mapProblem?: string}> {
  return inOneStep(async (context) => {
    const sheet = await officeSheet(context, plan.mapping.records);
    const cellsAtOnce = plan.rows.length * plan.columns.length <= ONE_REQUEST ? ONE_REQUEST : PART;
    const keeping = map === undefined ? undefined : await keepMap(context, map);
    let kept = false;
    let mapProblem = keeping?.problem;
    const along = {
      // With the first part, so that one step undoes the map too.
      write: (): void => {
        keeping?.write?.();
        kept = true;
      },
      takeBack: async (error: unknown): Promise<void> => {
        mapProblem = (await keeping?.takeBack?.(error)) ?? mapProblem;
      },
    };
    const filled = await fill(plan, sheet, {...watching, cellsAtOnce, along});
    if (filled.kind === 'done' && !kept) {
      along.write();
      await context.sync().catch(async (error: unknown) => {
        mapProblem = `The map was not kept. ${asProblem(error).message}`;
        await along.takeBack(asProblem(error));
      });
    }
    return mapProblem === undefined ? filled : {...filled, mapProblem};
  });
}

/** Takes back what a filling wrote. */
export async function takeBackFilling(records: Source, undo: Undo): Promise<void> {
  await inOneStep(async (context) => takeBackFilled(await officeSheet(context, records), undo));
}
