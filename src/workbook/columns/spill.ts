/** One formula for all records of a plain range, which spills down: EACHROW. */
import {quoted} from '../escape';
import {find, NAMESPACE} from '../../functions/catalogue';
import {rowsOfCells} from './cells';
import {lastLimit} from './evaluate';
import type {Expression} from './expression';
import type {Printing} from './formula';
import type {Span} from './mapping';

/**
 * The formula of a column's first record; undefined where the layout or the column asks for a formula in each row.
 * An empty record gives empty cells by itself, so that no test for empty readings is needed.
 */
export function spillFor(expression: Expression, printing: Printing): string | undefined {
  const {mapping} = printing.records;
  const {records} = mapping;
  if (records.kind === 'table' || mapping.firstOf !== undefined || records.cells.length < 2) return undefined;
  if ([...mapping.readings.values()].some(({kind}) => kind !== 'row')) return undefined;
  const inner = bare(expression);
  if (inner.kind !== 'call' || inner.name === 'FINGERPRINT') return undefined;
  const answers = find(inner.name)?.answers;
  if (answers !== 'row' && answers !== 'cell') return undefined;
  const args = inner.args.map((arg) => (arg === undefined ? '' : argument(arg, printing)));
  if (args.includes(undefined)) return undefined;
  while (args[args.length - 1] === '') args.pop();
  return `=${NAMESPACE}.EACHROW("${inner.name}",${args.join(',')})`;
}

const bare = (expression: Expression): Expression =>
  expression.kind === 'when measured' || expression.kind === 'when filled' ? bare(expression.then) : expression;

/** The rows of all records, or what is shared by them. */
function argument(expression: Expression, printing: Printing): string | undefined {
  const {records, settings} = printing;
  const {mapping} = records;
  const rowsText = (span: Span): string =>
    rowsOfCells(mapping.records, span, 0, mapping.records.cells.length - 1, mapping.records.sheet);
  const rows = (span: Span): string => `IF(${rowsText(span)}="","",${rowsText(span)})`;
  switch (expression.kind) {
    case 'readings': {
      const place = mapping.readings.get(expression.of)!;
      return place.kind === 'row' ? rows(place.span) : undefined;
    }
    case 'angles':
      return '';
    case 'own':
      return rows(mapping.columns.get(expression.role)!);
    case 'limits': {
      const {limitsFrom} = settings;
      if (limitsFrom.kind === 'columns') {
        const span = mapping.columns.get('Limits')!;
        if (span.last === span.first) return undefined;
        // Limits that stand ready do not make a wheel without readings a record.
        const range = rowsText(span);
        const measured = mapping.readings.get('Assembly readings');
        if (measured?.kind !== 'row') return `IF(${range}="","",${range})`;
        const ones = `SEQUENCE(${measured.span.last - measured.span.first + 1},1,1,0)`;
        return `IF(MMULT(--ISNUMBER(${rowsText(measured.span)}),${ones})=0,"",${range})`;
      }
      return limitsFrom.kind === 'one class'
        ? shared('Limits', 'Assembly', lastLimit(settings), limitsFrom.name)
        : undefined;
    }
    case 'class':
      return settings.limitsFrom.kind === 'one class'
        ? shared(expression.table, expression.first, expression.last, settings.limitsFrom.name)
        : undefined;
    case 'step':
      if (mapping.columns.has('Stock step')) return rows(mapping.columns.get('Stock step')!);
      return settings.limitsFrom.kind === 'one class'
        ? shared('Limits', 'Stock step', 'Stock step', settings.limitsFrom.name)
        : undefined;
    case 'constant':
      return typeof expression.value === 'string' ? quoted(expression.value) : String(expression.value).toUpperCase();
    default:
      return undefined;
  }
}

const shared = (table: string, first: string, last: string, name: string): string =>
  `INDEX(${first === last ? `${table}[${first}]` : `${table}[[${first}]:[${last}]]`},MATCH(${quoted(name)},${table}[Class],0),0)`;
