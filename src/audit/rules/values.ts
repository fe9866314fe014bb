/** Cells that show something else than their formulas give: stale values, errors, and functions that got lost. */
import {cellKey, oneCell, within, type Place} from '../../host/book/addresses';
import {isError, type CellValue} from '../../host/book/cells';
import type {Context, OwnFormula} from '../context';
import type {Grid} from '../evaluate/values';
import {bothWords, finding, shownWords, words, type Finding} from '../findings';
import type {FormulaPlace} from '../indexed';

/** Figures may differ by what another order of adding up makes; angles by a whole turn. */
const TOLERANCE = 1e-9;

export function alike(a: CellValue, b: CellValue): boolean {
  if (typeof a === 'number' && typeof b === 'number') {
    const within = (difference: number): boolean =>
      Math.abs(difference) <= TOLERANCE * Math.max(1, Math.abs(a), Math.abs(b));
    return within(a - b) || within(Math.abs(a - b) - 360);
  }
  if (isError(a) || isError(b)) return isError(a) && isError(b) && asStored(a.code) === asStored(b.code);
  return a === b;
}

/** Errors of later versions have no code of their own in a file. */
const asStored = (code: string): string => (/^#(SPILL|CALC|FIELD|BLOCKED|UNKNOWN)/.test(code) ? '#VALUE!' : code);

const ENTER_AGAIN =
  'Enter the formula again: select the cell, press F2, then Enter. If that does not help, see that the add-in is loaded.';
const CALCULATE = 'Calculate the workbook anew (Ctrl+Alt+F9), and see that calculation is set to automatic.';

/** The findings of a formula of ours. */
export function* ownFindings(own: OwnFormula, context: Context): Iterable<Finding> {
  const lost = lostFunction(own, context);
  if (lost === 'follows') return;
  if (lost) {
    yield lost;
    return;
  }
  if ('unknown' in own.result) return;
  yield* compared(own, own.result, context);
}

/** A formula of the spreadsheet's own that one of ours reads. */
export function* otherFindings(of: FormulaPlace, result: Grid, context: Context): Iterable<Finding> {
  if (!isError(of.shown) && !isError(result[0][0])) yield* compared(of, result, context);
}

function lostFunction(own: OwnFormula, {asSeen, ownAt}: Context): Finding | 'follows' | undefined {
  const {result, shown, formula, evaluated} = own;
  const computed = 'unknown' in result ? 'not known here' : shownOrError(result[0][0]);
  const written = asSeen && /_xldudf_/i.test(formula.text);
  const isLost = (value: CellValue): boolean => isError(value) && value.code === '#NAME?';
  if (!written && !isLost(shown)) return undefined;
  // The name of a function of ours is known; another one, of a range perhaps, is not.
  if (!('unknown' in result) && isLost(result[0][0])) {
    const isOurs = /there is no function WHEEL/.test(words(result[0][0]));
    const toDo = isOurs
      ? 'Correct the name of the function: there is none of that name in this edition.'
      : 'Correct the name in the formula that is not known.';
    return finding(isOurs ? 'lost function' : 'error', own, shownWords(shown), computed, toDo);
  }
  const readsLost = evaluated?.reads.some((area) =>
    somewhere(area, (place) => isLost(ownAt(place)?.shown ?? null) && !samePlace(place, own)),
  );
  if (readsLost && !written) return 'follows';
  return finding('lost function', own, shownWords(shown), computed, ENTER_AGAIN);
}

const samePlace = (a: Place, b: Place): boolean => a.sheet === b.sheet && a.row === b.row && a.column === b.column;

function somewhere(
  {sheet, top, left, bottom, right}: {sheet: string; top: number; left: number; bottom: number; right: number},
  holds: (place: Place) => boolean,
): boolean {
  for (let row = top; row <= bottom; row++)
    for (let column = left; column <= right; column++) if (holds({sheet, row, column})) return true;
  return false;
}

const shownOrError = (value: CellValue): string => words(value);

/** The cells that a formula fills, as they show and as they should. */
function* compared(of: FormulaPlace, result: Grid, context: Context): Iterable<Finding> {
  const {sheet, row, column, formula} = of;
  let first: Finding | undefined;
  let more = 0;
  const seen = new Set<number>();
  const look = (place: Place, computed: CellValue): void => {
    seen.add(cellKey(place.row, place.column));
    const shown = samePlace(place, of) ? of.shown : context.book.shown(place);
    const found = difference(of, place, shown, computed, context);
    if (!found) return;
    if (found.kind === 'error') errors.push(found);
    else if (first) more++;
    else first = found;
  };
  const errors: Finding[] = [];
  result.forEach((cells, r) => cells.forEach((cell, c) => look({sheet, row: row + r, column: column + c}, cell)));
  const {top, left, bottom, right} = formula.area ?? oneCell(row, column);
  for (let r = top; r <= bottom; r++)
    for (let c = left; c <= right; c++)
      if (!seen.has(cellKey(r, c)) && !context.book.isBlank({sheet, row: r, column: c}))
        look({sheet, row: r, column: c}, null);
  if (first) yield {...first, more};
  yield* errors;
}

function difference(
  of: FormulaPlace,
  place: Place,
  shown: CellValue,
  computed: CellValue,
  context: Context,
): Finding | undefined {
  if (isError(shown) && /^#(BUSY|GETTING_DATA|CONNECT)/.test(shown.code))
    return finding('stale value', place, shown.code, words(computed), CALCULATE);
  if (isError(shown) && isError(computed)) {
    if (follows(of, context)) return undefined;
    const toDo = /^#(SPILL)/.test(computed.code)
      ? 'Clear the cells that the result needs, or move the formula.'
      : 'Correct what the message names: an argument of the formula, or the cell that it reads.';
    return finding('error', place, shown.code, words(computed), toDo);
  }
  if (alike(shown, computed)) return undefined;
  if (shown === null && samePlace(place, of))
    return finding('stale value', place, 'nothing (never calculated)', words(computed), CALCULATE);
  return finding('stale value', place, ...bothWords(isError(shown) ? {code: shown.code} : shown, computed), CALCULATE);
}

/** The error comes from another formula of ours, which is told itself. */
function follows({sheet, row, column}: FormulaPlace, {ownAt}: Context): boolean {
  const reads = ownAt({sheet, row, column})?.evaluated?.reads ?? [];
  return reads.some((area) =>
    somewhere(area, (place) => {
      const other = ownAt(place);
      return other !== undefined && isError(other.shown) && !within(oneCell(row, column), place.row, place.column);
    }),
  );
}
