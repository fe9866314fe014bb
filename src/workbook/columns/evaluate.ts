/** Evaluates what an added column computes, with the worksheet functions themselves, for the preview. */
import {find} from '../../functions/catalogue';
import type {Cell, Grid, OutCell, Raw} from '../../functions/cells';
import {invalid, Refusal} from '../../maths/refusal';
import type {CellValue} from '../ledger';
import type {Expression} from './expression';
import type {Side} from './mapping';
import {enteredSpan, type Records} from './records';
import type {Settings} from './settings';

export interface Evaluating {
  readonly records: Records;
  readonly settings: Settings;
  readonly expressions: ReadonlyMap<string, Expression>;
  /** Today as Excel counts days. */
  readonly today: number;
}

/** The figure that the formula will show, or why it will show an error. */
export function evaluate(expression: Expression, record: number, within: Evaluating): OutCell {
  try {
    const result = value(expression, record, within);
    const cell = Array.isArray(result) ? (result as Grid)[0][0] : result;
    return typeof cell === 'number' || typeof cell === 'string' || typeof cell === 'boolean' ? cell : '';
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
}

/** A blank cell arrives at a function as 0. */
const asExcel = (cell: CellValue): Cell => (cell === '' ? 0 : cell);

function value(expression: Expression, record: number, within: Evaluating): Raw {
  const {records, settings, expressions, today} = within;
  const {mapping} = records;
  const row = records.row(record);
  switch (expression.kind) {
    case 'call': {
      const declared = find(expression.name);
      if (declared === undefined) throw new Error(`no function ${expression.name}`);
      const args = expression.args.map((arg) => (arg === undefined ? null : value(arg, record, within)));
      const answer = declared.evaluate(args);
      if (answer[0][0] instanceof Refusal) throw answer[0][0];
      return answer as Grid;
    }
    case 'readings': {
      const {values} = records.readings(expression.of, record);
      if (values.length === 0) throw new Refusal('unavailable', 'no readings of this wheel were found');
      return inShape(expression.of, values, within);
    }
    case 'angles': {
      const {angles} = records.readings(expression.of, record);
      return angles === undefined ? null : inShape(expression.of, angles, within);
    }
    case 'own': {
      const span = mapping.columns.get(expression.role)!;
      const cells = row.slice(span.first, span.last + 1).map(asExcel);
      return cells.length === 1 ? cells[0] : [cells];
    }
    case 'own cell':
      return asExcel(row[mapping.columns.get(expression.role)!.first + expression.at] ?? '');
    case 'record': {
      const {first, last} = enteredSpan(mapping);
      return [Array.from({length: last - first + 1}, (_, i) => row[first + i] ?? '')];
    }
    case 'limits':
      if (settings.limitsFrom.kind === 'columns') {
        const {first, last} = mapping.columns.get('Limits')!;
        const cells = row.slice(first, last + 1).map(asExcel);
        return [cells.length === 1 ? [cells[0], cells[0]] : cells];
      }
      return ofClass('Limits', 'Assembly', lastLimit(settings), row, within);
    case 'class':
      return ofClass(expression.table, expression.first, expression.last, row, within);
    case 'step': {
      const own = mapping.columns.get('Stock step');
      return own === undefined
        ? ofClass('Limits', 'Stock step', 'Stock step', row, within)
        : asExcel(row[own.first] ?? '');
    }
    case 'price': {
      const prices = settings.tables.get('Prices')!;
      const [item, amount] = [prices.headings.indexOf('Item'), prices.headings.indexOf('Value')];
      const found = prices.rows.find((cells) => same(cells[item], expression.item));
      if (found === undefined) throw new Refusal('unavailable', `the table Prices has no “${expression.item}”`);
      return asExcel(found[amount]);
    }
    case 'constant':
      return expression.value;
    case 'added':
      return value(expressions.get(expression.id)!, record, within);
    case 'when measured': {
      const measured = expression.of.every((side) =>
        records.readings(side, record).values.some((cell) => typeof cell === 'number'),
      );
      return measured ? value(expression.then, record, within) : '';
    }
    case 'when filled': {
      const cell = row[mapping.columns.get(expression.role)!.first] ?? '';
      return cell === '' ? '' : value(expression.then, record, within);
    }
    case 'when is': {
      const test = value(expression.test, record, within);
      const cell = Array.isArray(test) ? (test as Grid)[0][0] : test;
      return cell === expression.text ? value(expression.then, record, within) : '';
    }
    case 'years': {
      const from = number(value(expression.from, record, within));
      const to = expression.to === undefined ? today : number(value(expression.to, record, within));
      return (to - from) / 365.25;
    }
    case 'sum':
      return expression.of.reduce((sum, part) => sum + number(value(part, record, within)), 0);
  }
}

/** As the formula gets them: a list below each other, a row side by side. */
const inShape = (side: Side, cells: readonly CellValue[], {records}: Evaluating): Grid =>
  records.mapping.readings.get(side)?.kind === 'list' ? cells.map((cell) => [cell]) : [cells];

function number(raw: Raw): number {
  const cell = Array.isArray(raw) ? (raw as Grid)[0][0] : raw;
  if (typeof cell === 'number') return cell;
  throw invalid(`a number is wanted, found ${String(cell)}`, 'cell');
}

const same = (a: unknown, b: string): boolean => String(a).trim().toLowerCase() === b.trim().toLowerCase();

/** The last limit that the table of limits has. */
export const lastLimit = ({tables}: Settings): string =>
  tables.get('Limits')?.headings.includes('Curve') ? 'Curve' : 'Rim';

function ofClass(table: string, first: string, last: string, row: readonly CellValue[], within: Evaluating): Raw {
  const {records, settings} = within;
  const column = records.mapping.columns.get('Class');
  const name =
    settings.limitsFrom.kind === 'one class' ? settings.limitsFrom.name : String(column ? row[column.first] : '');
  const cells = settings.tables.get(table);
  const found = cells?.rows.find((line) => same(line[cells.headings.indexOf('Class')], name));
  if (cells === undefined || found === undefined)
    throw new Refusal('unavailable', `the table ${table} has no class “${name}”`);
  const [from, to] = [cells.headings.indexOf(first), cells.headings.indexOf(last)];
  const part = found.slice(from, to + 1).map(asExcel);
  return part.length === 1 ? part[0] : [part];
}
