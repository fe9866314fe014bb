/** What the grid offers and this host could not follow, or could not save. It is refused in words. */
import type {GridCommand} from './grid';

const CELLS =
  'Moving cells, rows and columns is not possible in this local host; whole ones can be inserted and deleted.';
const SHEETS = 'Copying a sheet is not possible in this local host.';
const NAMES = 'Names are not edited in this local host.';
const DATA = 'Sorting, filtering and splitting are not possible in this local host.';
const OTHER = 'This is not possible in this local host.';

const REFUSED: readonly (readonly [RegExp, string])[] = [
  [/^sheet\.command\.append-row/, CELLS],
  [/^sheet\.command\.(insert|delete)-range-move/, CELLS],
  [/^sheet\.command\.move-(range|rows|cols|columns)/, CELLS],
  [/^sheet\.command\.(reorder-range|split-text|sort|set-.*filter|.*-filter)/, DATA],
  [/^sheet\.command\.copy-sheet/, SHEETS],
  [/defined-name/, NAMES],
  [/protection|permission/, OTHER],
  [/^sheet\.command\.(add|set|delete|move|clear)-.*conditional/, OTHER],
  [/insert-float-image|insert-cell-image|insert-image/, OTHER],
];

/** Changes that only look like one of these. */
const ALLOWED = /^sheet\.(mutation|operation)\./;

/** Why a command of the grid is refused; undefined when it is not. */
export function refusal({id}: GridCommand): string | undefined {
  if (ALLOWED.test(id)) return undefined;
  return REFUSED.find(([pattern]) => pattern.test(id))?.[1];
}
