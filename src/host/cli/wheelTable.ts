/** The assessed wheels of the demo ledger as a table to read in a terminal. */
import {withUncertainty} from '../../maths/format';
import type {Book} from '../book/content';
import {isError, type CellValue} from '../book/cells';

type WheelRecord = ReadonlyMap<string, CellValue>;

/** The rows of a table by their headings, from the values that the file stores. */
export function records(book: Book, name: string): WheelRecord[] {
  const {sheet, area} = book.tables.find((table) => table.name === name)!;
  const cells = new Map(
    book.sheets.find((s) => s.name === sheet)!.cells.map(({row, column, value}) => [`${row} ${column}`, value]),
  );
  const at = (row: number, column: number): CellValue => cells.get(`${row} ${column}`) ?? null;
  return Array.from(
    {length: area.bottom - area.top},
    (_, i) =>
      new Map(
        Array.from({length: area.right - area.left + 1}, (__, c) => [
          String(at(area.top, area.left + c)),
          at(area.top + 1 + i, area.left + c),
        ]),
      ),
  );
}

const text = (value: CellValue = null): string => (isError(value) ? value.code : String(value ?? ''));

const uncertain = (value: CellValue = null, plusminus: CellValue = null): string =>
  typeof value === 'number' && typeof plusminus === 'number' ? withUncertainty(value, plusminus) : text(value);

const figure = (value: CellValue | undefined, digits: number): string =>
  typeof value === 'number' ? value.toFixed(digits) : text(value);

const weight = (mass: CellValue | undefined, angle: CellValue | undefined): string =>
  typeof mass !== 'number' ? '–' : mass === 0 ? 'none' : `${figure(mass, 0)} g at ${figure(angle, 0)}°`;

const COLUMNS: readonly {readonly head: string; readonly right?: boolean; readonly of: (r: WheelRecord) => string}[] = [
  {head: 'job', of: (r) => text(r.get('Job'))},
  {head: 'vehicle', of: (r) => text(r.get('Vehicle'))},
  {head: 'position', of: (r) => text(r.get('Position'))},
  {head: 'finding', of: (r) => text(r.get('Finding'))},
  {head: 'assembly mm', of: (r) => uncertain(r.get('Assembly'), r.get('±'))},
  {head: 'best turn', right: true, of: (r) => `${figure(r.get('Turn'), 0)}°`},
  {head: 'after mm', of: (r) => uncertain(r.get('After'), r.get('± after'))},
  {head: 'weight inboard', right: true, of: (r) => weight(r.get('In stock'), r.get('In at'))},
  {head: 'weight outboard', right: true, of: (r) => weight(r.get('Out stock'), r.get('Out at'))},
];

export function wheelTable(book: Book): string {
  const rows = records(book, 'Wheels').map((record) => COLUMNS.map(({of}) => of(record)));
  const widths = COLUMNS.map(({head}, i) => Math.max(head.length, ...rows.map((row) => row[i].length)));
  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, i) => (COLUMNS[i].right ? cell.padStart(widths[i]) : cell.padEnd(widths[i])))
      .join('  ')
      .trimEnd();
  return [line(COLUMNS.map(({head}) => head)), line(widths.map((width) => '-'.repeat(width))), ...rows.map(line)].join(
    '\n',
  );
}
