/** Defined names. */
import {translateFormulaToA1, translateFormulaToR1C1} from '@borgar/fx';
import {cellAddress, type Place} from '../book/addresses';
import type {DefinedName} from '../book/content';

/** The name as a formula on this sheet sees it: one limited to the sheet comes first. */
export function findName(names: readonly DefinedName[], written: string, sheet: string): DefinedName | undefined {
  const wanted = written.toLowerCase();
  const same = names.filter(({name}) => name.toLowerCase() === wanted);
  return (
    same.find((name) => name.sheet?.toLowerCase() === sheet.toLowerCase()) ??
    same.find((name) => name.sheet === undefined)
  );
}

/** A name that stands for another, and so on; deeper than this it is defined by itself. */
export const DEEPEST_NAME = 20;

/** "Sheet1!Limit" → the sheet and the name. */
export function splitName(written: string): [string | undefined, string] {
  const end = written.lastIndexOf('!');
  if (end < 0) return [undefined, written];
  const sheet = written.slice(0, end);
  return [sheet.startsWith("'") ? sheet.slice(1, -1).replace(/''/g, "'") : sheet, written.slice(end + 1)];
}

/** What a name stands for in a certain cell: its relative references are kept as seen from A1. */
export function definitionAt({formula}: DefinedName, {row, column}: Place): string {
  if (row === 0 && column === 0) return formula;
  return translateFormulaToA1(translateFormulaToR1C1(formula, 'A1'), cellAddress(row, column));
}
