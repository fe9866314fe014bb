/** The bundle of worksheet functions: associates every function of the catalogue with Excel's runtime. */
import {CATALOGUE} from '../functions/catalogue';
import type {OutCell, Raw} from '../functions/cells';
import type {Declaration} from '../functions/declare';
import {setWorking} from '../functions/listed';
import {PROBE, probe} from '../functions/probe';
import {Refusal, unavailable} from '../maths/refusal';

/** Set at build: true unless the build is one for release. */
declare const DEVELOPMENT_BUILD: boolean;

function toError(refusal: Refusal): CustomFunctions.Error {
  const code =
    refusal.reason === 'invalid' ? CustomFunctions.ErrorCode.invalidValue : CustomFunctions.ErrorCode.notAvailable;
  return new CustomFunctions.Error(code, refusal.message);
}

type Answer = number | string | boolean | CustomFunctions.Error;

/** An answer as Excel takes it: errors within a spill become cells of it. */
function toCells(rows: OutCell[][]): Answer[][] {
  for (const row of rows) {
    for (let i = 0; i < row.length; i++) {
      const cell = row[i];
      // Replaced in place: the rows were made for this answer, and a spill of 100,000 rows is not copied again.
      if (cell instanceof Refusal) row[i] = toError(cell) as unknown as OutCell;
    }
  }
  return rows as Answer[][];
}

function callable(declared: Declaration): (...args: unknown[]) => Answer[][] | Promise<Answer[][]> {
  const {evaluate, before} = declared;
  const answer = (given: readonly Raw[]): Answer[][] => {
    try {
      return toCells(evaluate(given));
    } catch (error) {
      if (error instanceof Refusal) throw toError(error);
      throw error;
    }
  };
  return (...args) => {
    // Excel adds an invocation object behind the declared arguments; nobody looks that far.
    const given = args as Raw[];
    // What is fetched when it is first asked for lets Excel wait; from then on it answers at once.
    const fetched = before?.();
    return fetched === undefined ? answer(given) : fetched.then(() => answer(given), notFetched);
  };
}

function notFetched(): never {
  throw toError(
    unavailable('the part of the add-in that writes workings could not be fetched; enter the formula again'),
  );
}

setWorking(async () => {
  const {loadWorkings} = await import(/* webpackChunkName: "working" */ '../working/workingOf');
  await loadWorkings();
});

for (const declared of CATALOGUE) CustomFunctions.associate(declared.name, callable(declared));

if (DEVELOPMENT_BUILD) {
  // Excel adds an invocation object behind the declared arguments.
  CustomFunctions.associate(PROBE, (...args: unknown[]) => probe(args.slice(0, 3)));
}
