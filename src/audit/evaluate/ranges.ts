/** Ranges of cells put together, and told apart. */
import {fixedReference, type Reference} from '../../host/formulas/references';

/** The smallest range that holds both. */
export const around = (a: Reference, b: Reference): Reference =>
  fixedReference(a.sheet, {
    top: Math.min(a.top, b.top),
    left: Math.min(a.left, b.left),
    bottom: Math.max(a.bottom, b.bottom),
    right: Math.max(a.right, b.right),
  });

const sameCells = (a: Reference, b: Reference): boolean =>
  a.sheet === b.sheet && a.top === b.top && a.left === b.left && a.bottom === b.bottom && a.right === b.right;

/** Each range once. */
export const distinct = (references: readonly Reference[]): readonly Reference[] =>
  references.filter((reference, i) => references.findIndex((other) => sameCells(other, reference)) === i);

/** The one range that an argument was made from, cell by cell, such as that of IF(range="","",range). */
export function sameShape(reads: readonly Reference[], raw: unknown): Reference | undefined {
  if (reads.length !== 1) return undefined;
  const [{top, left, bottom, right}] = reads;
  const [rows, columns] = Array.isArray(raw) ? [raw.length, (raw[0] as unknown[]).length] : [1, 1];
  return rows === bottom - top + 1 && columns === right - left + 1 ? reads[0] : undefined;
}
