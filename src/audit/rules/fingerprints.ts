/** Records that were changed after their fingerprint was kept. */
import {rawsOf, type CallMade} from '../calls';
import type {Place} from '../../host/book/addresses';
import {calls, type Context, type OwnFormula} from '../context';
import {answerOf} from '../evaluate/ours';
import {finding, type Finding} from '../findings';

const FINGERPRINT = /^[0-9a-f]{16}$/i;

/** A text that can only be a fingerprint. */
export const isFingerprint = (value: unknown): value is string =>
  typeof value === 'string' && FINGERPRINT.test(value.trim());

const TO_DO =
  'Find out who changed the record after sign-off, and why; put it back, or sign it again with the fingerprint of today.';

export const brokenFingerprint = (place: Place, kept: string, now: string): Finding =>
  finding('broken fingerprint', place, `${kept} as kept`, `${now} for the record of today`, TO_DO);

interface Signed {
  readonly at: Place;
  readonly kept: string;
  readonly now: string;
  readonly call: CallMade;
}

export function* fingerprintFindings(context: Context): Iterable<Finding> {
  const broken = new Map<string, Signed>();
  for (const {at, call} of calls(context)) {
    if (call.declaration.name !== 'FINGERPRINT') continue;
    const kept = keptOf(at, call, context);
    const now = kept && fingerprintNow(call);
    if (kept && now !== undefined && now !== kept.kept.trim().toLowerCase())
      broken.set(name(kept.at), {...kept, now, call});
  }
  for (const signed of broken.values()) {
    if (!followsFrom(signed, broken)) yield brokenFingerprint(signed.at, signed.kept, signed.now);
  }
}

const name = ({sheet, row, column}: Place): string => `${row} ${column} ${sheet}`;

function fingerprintNow({declaration, args}: CallMade, previous?: string): string | undefined {
  const [range, before] = rawsOf(declaration, args);
  const [[answer]] = answerOf(declaration, [range, previous ?? before ?? null]);
  return typeof answer === 'string' ? answer : undefined;
}

/** The fingerprint kept at sign-off: the argument for it, or a text in the same row. */
function keptOf(at: OwnFormula, {args}: CallMade, {book}: Context): {at: Place; kept: string} | undefined {
  const signed = args[2];
  if (signed?.node) {
    const value: unknown = Array.isArray(signed.raw) ? (signed.raw as unknown[][])[0][0] : signed.raw;
    if (!isFingerprint(value)) return undefined;
    const {from} = signed;
    return {at: from ? {sheet: from.sheet, row: from.top, column: from.left} : at, kept: value};
  }
  const texts = book.textsInRow(at).filter(({value}) => isFingerprint(value));
  // The nearest one, to the right rather than to the left.
  const distance = ({column}: Place): number => (column > at.column ? column - at.column : 1e5 + at.column - column);
  const nearest = texts.sort((a, b) => distance(a) - distance(b))[0];
  return nearest && {at: nearest, kept: nearest.value};
}

/** The record itself fits; what does not is the fingerprint before it, which is told on its own. */
function followsFrom({call, kept}: Signed, broken: ReadonlyMap<string, Signed>): boolean {
  const from = call.args[1]?.from;
  const before = from && broken.get(name({sheet: from.sheet, row: from.top, column: from.left}));
  return before !== undefined && fingerprintNow(call, before.now) === kept.trim().toLowerCase();
}
