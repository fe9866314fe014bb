/**
 * What an added column computes, independent of how the sheet is laid out. The same expression is printed as a formula
 * and evaluated for the preview.
 */
import type {Role} from '../ledgerMap';
import type {Side} from './mapping';

/** Tables of settings that formulas look up. */
export type SettingsTable = 'Limits' | 'Planes' | 'Prices';

export type Expression =
  /** A worksheet function of ours; an argument left out is undefined. */
  | {readonly kind: 'call'; readonly name: string; readonly args: readonly (Expression | undefined)[]}
  /** The readings of a side, blanks as empty texts. */
  | {readonly kind: 'readings'; readonly of: Side}
  /** Their angles, where the layout says them; nothing else. */
  | {readonly kind: 'angles'; readonly of: Side}
  /** Cells of the record's own row. */
  | {readonly kind: 'own'; readonly role: Role}
  /** Cells of the record's own row from its first to its last column, blanks as empty texts. */
  | {readonly kind: 'record'}
  /** Columns of a table of settings, in the row of the record's class. */
  | {readonly kind: 'class'; readonly table: 'Limits' | 'Planes'; readonly first: string; readonly last: string}
  /** Assembly, rim and, where known, curve limit. */
  | {readonly kind: 'limits'}
  | {readonly kind: 'step'}
  | {readonly kind: 'price'; readonly item: string}
  | {readonly kind: 'constant'; readonly value: string | number | boolean}
  /** Another added column, or what it computes where it is not added. */
  | {readonly kind: 'added'; readonly id: string}
  /** `then`, or an empty text as long as the record has no readings of the side. */
  | {readonly kind: 'when measured'; readonly of: readonly Side[]; readonly then: Expression}
  /** `then`, or an empty text while the record's cell is empty. */
  | {readonly kind: 'when filled'; readonly role: Role; readonly then: Expression}
  /** `then` where `test` is the text, else an empty text. */
  | {readonly kind: 'when is'; readonly test: Expression; readonly text: string; readonly then: Expression}
  /** Years from one day to another; without `to`, to today. */
  | {readonly kind: 'years'; readonly from: Expression; readonly to: Expression | undefined}
  | {readonly kind: 'sum'; readonly of: readonly Expression[]}
  /** A cell of a range of the record's own row, from 0. */
  | {readonly kind: 'own cell'; readonly role: Role; readonly at: number};

export const call = (name: string, ...args: (Expression | undefined)[]): Expression => ({kind: 'call', name, args});
export const constant = (value: string | number | boolean): Expression => ({kind: 'constant', value});
export const own = (role: Role): Expression => ({kind: 'own', role});
export const added = (id: string): Expression => ({kind: 'added', id});
export const readings = (of: Side): Expression => ({kind: 'readings', of});
export const angles = (of: Side): Expression => ({kind: 'angles', of});
export const whenMeasured = (of: Side | readonly Side[], then: Expression): Expression => ({
  kind: 'when measured',
  of: typeof of === 'string' ? [of] : of,
  then,
});
