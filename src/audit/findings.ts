/** What a check of a workbook finds, in plain words. */
import {cellAddress, type Place} from '../host/book/addresses';
import {isError, plainMessage, type CellValue} from '../host/book/cells';

/** The kinds of findings. Of several at one cell the first is told: it explains the others. */
export const KINDS = [
  'lost function',
  'error',
  'broken fingerprint',
  'blank read as zero',
  'typed over',
  'mixed units or limits',
  'differs from its neighbors',
  'stale value',
] as const;

export type Kind = (typeof KINDS)[number];

export interface Finding {
  readonly kind: Kind;
  readonly sheet: string;
  /** Address without the sheet. */
  readonly cell: string;
  /** Zero-based. */
  readonly row: number;
  readonly column: number;
  readonly shown: string;
  readonly computed: string;
  readonly toDo: string;
  /** Further cells with the same finding, told with this one. */
  readonly more: number;
}

export const finding = (
  kind: Kind,
  {sheet, row, column}: Place,
  shown: string,
  computed: string,
  toDo: string,
  more = 0,
): Finding => ({kind, sheet, cell: cellAddress(row, column), row, column, shown, computed, toDo, more});

const digits = (value: number, significant: number): string => String(Number(value.toPrecision(significant)));

/** A value as a person reads it. */
export function words(value: CellValue, significant = 6): string {
  if (value === null) return 'nothing';
  if (isError(value)) return `${value.code} (${value.message ?? plainMessage(value.code)})`;
  if (typeof value === 'boolean') return value ? 'TRUE' : 'FALSE';
  if (typeof value === 'number') return digits(value, significant);
  return value === '' ? 'an empty text' : `"${value.length > 60 ? `${value.slice(0, 60)}…` : value}"`;
}

/** Two values with as many digits as it takes to tell them apart. */
export function bothWords(shown: CellValue, computed: CellValue): [string, string] {
  const significant = words(shown) === words(computed) ? 15 : 6;
  return [words(shown, significant), words(computed, significant)];
}

/** What a cell shows, as its stored value has it: an error's code alone. */
export const shownWords = (value: CellValue): string => (isError(value) ? value.code : words(value));

/**
 * Of several findings at one cell the one that explains the others; errors of one row that say the same as one. In the
 * order of the sheets, by rows.
 */
export function settled(findings: readonly Finding[], sheets: readonly string[]): Finding[] {
  const rank = ({kind}: Finding): number => KINDS.indexOf(kind);
  const byCell = new Map<string, Finding>();
  for (const each of findings) {
    const at = `${each.cell} ${each.sheet}`;
    const known = byCell.get(at);
    if (!known || rank(each) < rank(known)) byCell.set(at, each);
  }
  const ordered = [...byCell.values()].sort(
    (a, b) => sheets.indexOf(a.sheet) - sheets.indexOf(b.sheet) || a.row - b.row || a.column - b.column,
  );
  const merged = new Map<string, Finding>();
  for (const each of ordered) {
    const same = each.kind === 'error' ? `${each.row} ${each.computed} ${each.sheet}` : `${each.cell} ${each.sheet}`;
    const known = merged.get(same);
    merged.set(same, known ? {...known, more: known.more + 1 + each.more} : each);
  }
  return [...merged.values()];
}
