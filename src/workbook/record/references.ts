/** The cells of a wheel as the formulas of its record sheet name them. */
import {find} from '../../functions/catalogue';
import type {Cell} from '../../functions/cells';
import {cellReference, columnsReference, present, roleReference} from '../references';
import {POSITIONS_TABLE} from '../sensitivities';
import type {LedgerRecord} from '../ledger';
import type {Role} from '../ledgerMap';
import type {RecordWheel} from './input';

export interface WheelReferences {
  readonly assembly: string;
  readonly inner: string;
  readonly outer: string;
  readonly limit: string;
  readonly rimLimit: string;
  /** All limits as one argument. */
  readonly limits: string;
  readonly unbalance: string | undefined;
  readonly planes: string | undefined;
  readonly step: string | undefined;
  /** A cell of the record as it is, or nothing where the ledger has none of it. */
  readonly text: (role: Role) => string | undefined;
}

/** @returns undefined when the ledger does not name the readings' or limits' cells */
export function referencesOf(wheel: RecordWheel): WheelReferences | undefined {
  const {record} = wheel;
  const readings = (role: Role): string | undefined => {
    const reference = roleReference(record, role);
    return reference && present(reference);
  };
  const [assembly, inner, outer] = (['Assembly readings', 'Inner bead seat', 'Outer bead seat'] as const).map(readings);
  const limit = cellReference(record, 'Limits', 0);
  if (assembly === undefined || inner === undefined || outer === undefined || limit === undefined) return undefined;
  const rimLimit = wheel.rimLimit ? cellReference(record, 'Limits', 1)! : limit;
  return {
    assembly,
    inner,
    outer,
    limit,
    rimLimit,
    limits: limitsOf(wheel, limit),
    unbalance: wheel.weighed ? roleReference(record, 'Unbalance') : undefined,
    planes: roleReference(record, 'Planes'),
    step: roleReference(record, 'Stock step'),
    text: (role) => {
      const reference = cellReference(record, role, 0);
      return reference && `=IF(${reference}="","",${reference})`;
    },
  };
}

/** The ledger's own cells where they are as many as there are limits, else those that there are. */
function limitsOf({record, rimLimit, curveLimit}: RecordWheel, limit: string): string {
  const cells = record.cells('Limits').length;
  if (rimLimit && cells === (curveLimit ? 3 : 2)) return roleReference(record, 'Limits')!;
  const rim = rimLimit ? cellReference(record, 'Limits', 1)! : limit;
  return curveLimit
    ? `CHOOSE({1,2,3},${limit},${rim},${cellReference(record, 'Limits', 2)!})`
    : `CHOOSE({1,2},${limit},${rim})`;
}

/** What is measured of a wheel, in the order in which its fingerprint takes it. */
const MEASURED: readonly Role[] = ['Assembly readings', 'Inner bead seat', 'Outer bead seat', 'Unbalance'];

/** The fingerprint of what was measured, chained behind another one. */
export function fingerprintFormula(record: LedgerRecord, previous: string | undefined): string {
  return MEASURED.reduce<string | undefined>((chain, role) => {
    const reference = roleReference(record, role);
    if (reference === undefined) return chain;
    return `WHEEL.FINGERPRINT(${present(reference)}${chain === undefined ? '' : `,${chain}`})`;
  }, previous)!;
}

/** The same, worked out now. */
export function fingerprintNow(record: LedgerRecord, previous: string | undefined): string {
  const {evaluate} = find('FINGERPRINT')!;
  return MEASURED.reduce<string | undefined>((chain, role) => {
    if (roleReference(record, role) === undefined) return chain;
    const cells = record.cells(role) as readonly Cell[];
    return String(evaluate([[[...cells]], chain ?? null])[0][0]);
  }, previous)!;
}

/** How much the driver feels at a wheel's position, found in the shop's own table. */
export function sensitivityFormula(record: LedgerRecord, byClass: boolean): string | undefined {
  const position = cellReference(record, 'Position', 0);
  const kind = cellReference(record, 'Class', 0);
  if (position === undefined || (byClass && kind === undefined)) return undefined;
  const column = (name: string): string => columnsReference(POSITIONS_TABLE, name, name);
  const ofClass = byClass ? `${column('Class')},${kind},` : '';
  return `=SUMIFS(${column('Sensitivity')},${ofClass}${column('Position')},${position})`;
}
