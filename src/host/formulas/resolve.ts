/** What a reference within a formula stands for: cells by their address, or a table's. */
import type {ReferenceIdentifier} from '@borgar/fx';
import type {Place} from '../book/addresses';
import type {Table} from '../book/content';
import {resolveReference, type Reference, type SheetList, type Unresolved} from './references';
import {findTable, resolveTable} from './tables';

export interface Resolved {
  readonly references: readonly Reference[];
  /** Refers to the formula's own row of this table. */
  readonly rowOf?: Table;
}

/** Written as an address, not as the name of something. */
export const isAddress = ({kind}: Pick<ReferenceIdentifier, 'kind'>): boolean => kind === 'range' || kind === 'beam';

/** The cells of a range or of a table, for a formula at a place; undefined for a name. */
export function resolve(
  node: Pick<ReferenceIdentifier, 'kind' | 'value'>,
  at: Place,
  list: SheetList,
  tables: readonly Table[],
): Resolved | Unresolved | undefined {
  if (isAddress(node)) {
    const references = resolveReference(node.value, at.sheet, list);
    return 'code' in references ? references : {references};
  }
  if (node.kind === 'name' && !findTable(tables, node.value)) return undefined;
  const found = resolveTable(node.value, at, tables);
  return 'code' in found ? found : {references: [found.reference], ...(found.rowOf ? {rowOf: found.rowOf} : {})};
}
