/** What the Trace view says of calls and workings. */
import {NAMESPACE} from '../../functions/catalogue';
import type {CallMade} from '../../audit/trace';
import type {Area} from '../../workbook/addresses';
import {fullAddress} from '../../workbook/addresses';
import {openGuards} from '../../working/guards';
import type {Working, WorkingStep} from '../../working/workingOf';

interface Cells {
  readonly sheet: string;
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
}

export const areaOf = ({sheet, top, left, bottom, right}: Cells): Area => ({
  sheet,
  row: top,
  column: left,
  rows: bottom - top + 1,
  columns: right - left + 1,
});

/** A figure with the digits that matter to the eye. */
export function figure(value: unknown): string {
  if (value === null || value === undefined) return 'left out';
  if (typeof value === 'number') return Number.isNaN(value) ? '#N/A' : String(Number(value.toPrecision(8)));
  if (typeof value === 'boolean') return value ? 'TRUE' : 'FALSE';
  if (typeof value === 'object' && 'code' in value) return String(value.code);
  return value === '' ? 'empty' : String(value);
}

/** Cells that are told one by one; of more the first ones and how many there are. */
const TOLD = 8;

/** The values of an argument, row by row. */
export function valuesOf(raw: unknown): string {
  if (!Array.isArray(raw)) return figure(raw);
  const cells = (raw as unknown[][]).flat();
  const told = cells.slice(0, TOLD).map(figure).join(', ');
  return cells.length > TOLD ? `${told}, … (${cells.length} cells)` : told;
}

/** The cells of an argument: of which it is, or those that were looked at for it. */
export const areasOf = ({from, reads}: CallMade['args'][number]): readonly Area[] =>
  from ? [areaOf(from)] : reads.map(areaOf);

export const callName = ({declaration}: CallMade): string => `${NAMESPACE}.${declaration.name}`;

/** "'Wheels'!$B$2" as cells to go to. */
export function addressed(address: string): Area | undefined {
  const found = /^'((?:[^']|'')+)'!\$([A-Z]{1,3})\$(\d+)$/.exec(address);
  if (!found) return undefined;
  const column = [...found[2]].reduce((n, c) => 26 * n + c.charCodeAt(0) - 64, 0) - 1;
  return {sheet: found[1].replace(/''/g, "'"), row: Number(found[3]) - 1, column, rows: 1, columns: 1};
}

/** A unit in words; that of an argument is named by it. */
export const unitWords = (unit: string): string => unit.replace(/^as (.+)$/, '(unit of $1)');

export const resultOf = ({value, values}: WorkingStep): string =>
  values === undefined ? figure(value) : valuesOf([values]);

/** What a working leaves open, a sentence a step: a search found a figure, and the steps behind it do not prove it. */
export const openWords = ({steps}: Pick<Working, 'steps'>): readonly string[] =>
  openGuards(steps).map(
    ({step, symbol, says, value}) =>
      `Left open: ${symbol} in step ${step} is ${figure(value)}, not 1 (${says}). The figure is what the function’s search found; this working does not prove it.`,
  );

/** A call with its arguments and its working as text to paste elsewhere. */
export function asText(call: CallMade, working: Working, cell: Area): string {
  const args = call.args.map((argument) => {
    const from = areasOf(argument).map(fullAddress).join(', ');
    return `  ${argument.name}: ${valuesOf(argument.raw)}${from === '' ? '' : `  [${from}]`}`;
  });
  const steps = working.steps.map(({step, symbol, says, formula, withFigures, unit, ...rest}) => {
    const figures = withFigures === '' ? '' : ` = ${withFigures}`;
    return `${step}. ${symbol} (${says}) = ${formula}${figures} = ${resultOf({...rest, step, symbol, says, formula, withFigures, unit})} ${unitWords(unit)}`.trimEnd();
  });
  return [
    `${callName(call)} in ${fullAddress(cell)}`,
    ...args,
    'Working',
    ...steps,
    ...openWords(working),
    `Source: ${working.declared.source}`,
  ].join('\n');
}

/** Another order of adding up makes differences of this size, relative to the figures. */
const ROUNDING = 1e-9;

/** Differences between a working and the function's figures: 0, or 0 but for rounding, or what they are. */
export function differenceWords(differences: readonly unknown[], answer: readonly unknown[]): string {
  const sizes = differences.map((difference) => (typeof difference === 'number' ? Math.abs(difference) : Infinity));
  const largest = Math.max(0, ...sizes);
  const scale = Math.max(1, ...answer.map((cell) => (typeof cell === 'number' ? Math.abs(cell) : 0)));
  if (largest === 0) return '0';
  if (largest <= ROUNDING * scale) return `0 but for rounding (at most ${Number(largest.toPrecision(1))})`;
  return differences.map(figure).join(', ');
}
