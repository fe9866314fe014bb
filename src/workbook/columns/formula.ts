/** Prints what an added column computes as the formula of a record's row. */
import {quoted} from '../escape';
import {NAMESPACE} from '../../functions/catalogue';
import {columnLetters} from '../addresses';
import {allCells, headingCell, ownCells, rowsOfCells} from './cells';
import {lastLimit} from './evaluate';
import type {Expression} from './expression';
import type {ReadingsPlace, Side} from './mapping';
import {baseOf, enteredSpan, type Records} from './records';
import type {Settings} from './settings';

export interface Printing {
  readonly records: Records;
  readonly settings: Settings;
  readonly expressions: ReadonlyMap<string, Expression>;
  /** Columns that are added too: sheet column and heading. */
  readonly added: ReadonlyMap<string, {readonly column: number; readonly heading: string}>;
}

const one = (column: number): {first: number; last: number} => ({first: column, last: column});
const presentOf = (range: string): string => `IF(${range}="","",${range})`;

/** The formula with its equals sign. */
export function formulaFor(expression: Expression, record: number, printing: Printing): string {
  const {records} = printing;
  const {mapping} = records;
  const text = print(expression, record, printing);
  if (mapping.firstOf === undefined || mapping.records.kind !== 'table') return `=${text}`;
  // The same formula in every row of the table: it answers in the first row of each wheel.
  const keys = mapping.firstOf
    .map((k) => `(${allCells(mapping.records, one(k), '')}=${ownCells(mapping.records, one(k), record)})`)
    .join('*');
  const here = `ROW()-ROW(${headingCell(mapping.records, mapping.firstOf[0])})`;
  return `=IF(MATCH(1,${mapping.firstOf.length === 1 ? `${keys}*1` : keys},0)<>${here},"",${text})`;
}

function print(expression: Expression, record: number, printing: Printing): string {
  const {records, settings, expressions, added} = printing;
  const {mapping} = records;
  const within = (inner: Expression): string => print(inner, record, printing);
  switch (expression.kind) {
    case 'call': {
      const args = expression.args.map((arg) => (arg === undefined ? '' : within(arg)));
      while (args[args.length - 1] === '') args.pop();
      return `${NAMESPACE}.${expression.name}(${args.join(',')})`;
    }
    case 'readings':
      return readingsText(expression.of, record, printing);
    case 'angles':
      return anglesText(expression.of, record, printing);
    case 'own':
      return ownCells(mapping.records, mapping.columns.get(expression.role)!, record);
    case 'own cell':
      return ownCells(mapping.records, one(mapping.columns.get(expression.role)!.first + expression.at), record);
    case 'record':
      return presentOf(ownCells(mapping.records, enteredSpan(mapping), record));
    case 'limits': {
      if (settings.limitsFrom.kind !== 'columns')
        return ofClass('Limits', 'Assembly', lastLimit(settings), record, printing);
      const span = mapping.columns.get('Limits')!;
      const cells = ownCells(mapping.records, span, record);
      // A single limit serves for assembly and rim.
      return span.first === span.last ? `CHOOSE({1,2},${cells},${cells})` : cells;
    }
    case 'class':
      return ofClass(expression.table, expression.first, expression.last, record, printing);
    case 'step': {
      const own = mapping.columns.get('Stock step');
      return own === undefined
        ? ofClass('Limits', 'Stock step', 'Stock step', record, printing)
        : ownCells(mapping.records, own, record);
    }
    case 'price':
      return `INDEX(Prices[Value],MATCH(${quoted(expression.item)},Prices[Item],0))`;
    case 'constant':
      return typeof expression.value === 'string'
        ? quoted(expression.value)
        : typeof expression.value === 'boolean'
          ? String(expression.value).toUpperCase()
          : String(expression.value);
    case 'added': {
      const column = added.get(expression.id);
      if (column === undefined) return within(expressions.get(expression.id)!);
      const {records: source} = mapping;
      if (source.kind === 'range') return `$${columnLetters(column.column)}${source.firstRow + record + 1}`;
      return ownCells({...source, headings: [column.heading]}, one(0), record);
    }
    case 'when measured': {
      const tests = expression.of.map((side) => `${countText(side, record, printing)}=0`);
      return `IF(${tests.length === 1 ? tests[0] : `OR(${tests.join(',')})`},"",${within(expression.then)})`;
    }
    case 'when filled': {
      const {first} = mapping.columns.get(expression.role)!;
      return `IF(${ownCells(mapping.records, one(first), record)}="","",${within(expression.then)})`;
    }
    case 'when is':
      return `IF(${within(expression.test)}=${quoted(expression.text)},${within(expression.then)},"")`;
    case 'years': {
      const to = expression.to === undefined ? 'TODAY()' : within(expression.to);
      return `(${to}-${within(expression.from)})/365.25`;
    }
    case 'sum':
      return expression.of.map(within).join('+');
  }
}

function ofClass(table: string, first: string, last: string, record: number, {records, settings}: Printing): string {
  const {mapping} = records;
  const name =
    settings.limitsFrom.kind === 'one class'
      ? quoted(settings.limitsFrom.name)
      : ownCells(mapping.records, mapping.columns.get('Class')!, record);
  const row = `MATCH(${name},${table}[Class],0)`;
  return first === last ? `INDEX(${table}[${first}],${row})` : `INDEX(${table}[[${first}]:[${last}]],${row},0)`;
}

type Elsewhere = Exclude<ReadingsPlace, {kind: 'row'}>;

/** Rows of the other source that belong to the record, as factors of 0 and 1. */
function conditions(place: Elsewhere, record: number, {records}: Printing): string[] {
  const {records: own} = records.mapping;
  const column = (k: number): string => allCells(place.source, one(k), own.sheet);
  const tests = place.keys.map((key) => `(${column(key.other)}=${ownCells(own, one(key.own), record)})`);
  if (place.side !== undefined) tests.push(`(${column(place.side.column)}=${quoted(place.side.word)})`);
  return tests;
}

/** The row elsewhere that holds a record's readings. */
function otherRow(place: Extract<ReadingsPlace, {kind: 'other row'}>, record: number, printing: Printing): string {
  const {records: own} = printing.records.mapping;
  const tests = conditions(place, record, printing);
  const [key] = place.keys;
  const row =
    tests.length === 1
      ? `MATCH(${ownCells(own, one(key.own), record)},${allCells(place.source, one(key.other), own.sheet)},0)`
      : `MATCH(1,${tests.join('*')},0)`;
  return `INDEX(${allCells(place.source, place.span, own.sheet)},${row},0)`;
}

/**
 * The rows of a list that belong to a record, where they can be named as a range: in the sheet of the records, one below
 * the other, in the order of their positions. Else undefined: then they are looked for by their key.
 */
function block(place: Extract<ReadingsPlace, {kind: 'list'}>, side: Side, record: number, {records}: Printing) {
  const {mapping} = records;
  if (place.source.kind !== 'range' || mapping.firstOf === undefined) return undefined;
  const {rows} = records.readings(side, record);
  if (rows.length === 0 || rows.some((row, i) => i > 0 && row !== rows[i - 1] + 1)) return undefined;
  const {at} = place;
  const positions = at === undefined ? [] : rows.map((row) => Number(place.source.cells[row][at]));
  if (positions.some((v, i) => i > 0 && v <= positions[i - 1])) return undefined;
  return {first: rows[0], last: rows[rows.length - 1], complete: rows.length === place.positions};
}

function readingsText(side: Side, record: number, printing: Printing): string {
  const {mapping} = printing.records;
  const place = mapping.readings.get(side)!;
  const {records: own} = mapping;
  if (place.kind === 'row') return presentOf(ownCells(own, place.span, record));
  if (place.kind === 'other row') return presentOf(otherRow(place, record, printing));
  const found = block(place, side, record, printing);
  if (found !== undefined)
    return presentOf(rowsOfCells(place.source, one(place.value), found.first, found.last, own.sheet, false));
  const rows = conditions(place, record, printing).join('*');
  const values = `FILTER(${presentOf(allCells(place.source, one(place.value), own.sheet))},${rows})`;
  return place.at === undefined ? values : `SORTBY(${values},${positionsText(place, record, printing)})`;
}

const positionsText = (place: Extract<ReadingsPlace, {kind: 'list'}>, record: number, printing: Printing): string =>
  `FILTER(${allCells(place.source, one(place.at!), printing.records.mapping.records.sheet)},${conditions(place, record, printing).join('*')})`;

/** Nothing where the readings stand in even steps and none is left out. */
function anglesText(side: Side, record: number, printing: Printing): string {
  const {mapping} = printing.records;
  const place = mapping.readings.get(side)!;
  if (place.kind !== 'list' || place.at === undefined) return '';
  const found = block(place, side, record, printing);
  const base = baseOf(place);
  if (found?.complete && (place.counts === 'numbers' || base === 0)) return '';
  const positions =
    found === undefined
      ? `SORT(${positionsText(place, record, printing)})`
      : rowsOfCells(place.source, one(place.at), found.first, found.last, mapping.records.sheet, false);
  if (place.counts === 'angles') return positions;
  return `(${positions}${base === 0 ? '' : `-${base}`})*360/${place.positions}`;
}

/** How many readings of a side a record has. */
function countText(side: Side, record: number, printing: Printing): string {
  const {mapping} = printing.records;
  const place = mapping.readings.get(side)!;
  if (place.kind === 'row') return `COUNT(${ownCells(mapping.records, place.span, record)})`;
  if (place.kind === 'other row') return `COUNT(${otherRow(place, record, printing)})`;
  const found = block(place, side, record, printing);
  const {sheet} = mapping.records;
  if (found !== undefined)
    return `COUNT(${rowsOfCells(place.source, one(place.value), found.first, found.last, sheet, false)})`;
  const values = `ISNUMBER(${allCells(place.source, one(place.value), sheet)})`;
  return `SUMPRODUCT(${[...conditions(place, record, printing), values].join('*')})`;
}
