/** Columns of the demo's table of wheels: what the clerk types, and the formulas that assess it. */
import {POSITIONS, type DrawnWheel} from './draw';

type Value = string | number | Date | undefined;

export interface Column {
  readonly name: string;
  readonly width: number;
  readonly format?: string;
  /** What the clerk typed, or the formula of the whole column. */
  readonly of: ((wheel: DrawnWheel) => Value) | string;
  /** The formula computes over a range, so that Excel has to read it as a dynamic array formula. */
  readonly overRange?: boolean;
}

const MM = '0.00';
const DEGREES = '0';
const GRAMS = '0.0';

/** Reading columns: A assembly, I inboard bead seat, O outboard bead seat. */
const readings = (letter: string, of: (w: DrawnWheel) => readonly (number | undefined)[]): Column[] =>
  Array.from({length: POSITIONS}, (_, i) => ({
    name: `${letter}${i + 1}`,
    width: 6.5,
    format: '0.000',
    of: (w) => of(w)[i],
  }));

const row = (name: string): string => `Wheels[[#This Row],[${name}]]`;
const span = (from: string, to: string): string => `Wheels[[#This Row],[${from}]:[${to}]]`;
/** Readings with blanks as empty texts: Excel hands a blank cell over as 0. */
const present = (letter: string): string => {
  const range = span(`${letter}1`, `${letter}${POSITIONS}`);
  return `IF(${range}="","",${range})`;
};
const byClass = (table: string, column: string): string =>
  `INDEX(${table}[${column}],MATCH(${row('Class')},${table}[Class],0))`;
const planesOfClass = `INDEX(Planes[[Inboard position]:[Outboard radius]],MATCH(${row('Class')},Planes[Class],0),0)`;

const assessed = (name: string, part: string, width: number, format?: string): Column => ({
  name,
  width,
  ...(format === undefined ? {} : {format}),
  overRange: true,
  of: `WHEEL.ASSESSREADINGS(${present('A')},${present('I')},${present('O')},${span('Limit', 'Curve limit')},4,,"${part}")`,
});

const weight = (name: string, part: string, format: string): Column => ({
  name,
  width: 9,
  format,
  overRange: true,
  of: `IF(${row('In g')}="","",WHEEL.STOCKPAIR(${span('In g', 'Out °')},${planesOfClass},${byClass('Limits', 'Stock step')},"${part}"))`,
});

export const COLUMNS: readonly Column[] = [
  {name: 'Job', width: 8, of: (w) => w.vehicle.job},
  {name: 'Date', width: 11, format: 'yyyy-mm-dd', of: (w) => w.vehicle.date},
  {name: 'Vehicle', width: 17, of: (w) => w.vehicle.name},
  {name: 'Class', width: 12, of: (w) => w.limits.class},
  {name: 'Position', width: 10, of: (w) => w.position},
  {name: 'Size', width: 23, of: (w) => w.vehicle.size},
  {name: 'Supplier', width: 22, of: (w) => w.supplier.name},
  {name: 'TIN', width: 22, of: (w) => w.tin},
  ...readings('A', (w) => w.assembly),
  ...readings('I', (w) => w.inner),
  ...readings('O', (w) => w.outer),
  ...['In g', 'In °', 'Out g', 'Out °'].map((name, i): Column => ({
    name,
    width: 7,
    format: i % 2 === 0 ? GRAMS : DEGREES,
    of: (w) => w.unbalance?.[i],
  })),
  {name: 'Limit', width: 7, format: MM, of: byClass('Limits', 'Assembly')},
  {name: 'Rim limit', width: 9, format: MM, of: byClass('Limits', 'Rim')},
  {name: 'Curve limit', width: 10, format: MM, of: byClass('Limits', 'Curve')},
  {name: 'Check', width: 24, overRange: true, of: `WHEEL.READINGCHECK(${present('A')})`},
  {name: 'Inner seat', width: 24, overRange: true, of: `WHEEL.READINGCHECK(${present('I')})`},
  {name: 'Outer seat', width: 24, overRange: true, of: `WHEEL.READINGCHECK(${present('O')})`},
  assessed('Finding', 'finding', 14),
  assessed('Assembly', 'assembly', 10, MM),
  assessed('±', 'plusminus', 7, '0.000'),
  assessed('Rim', 'rim', 7, MM),
  assessed('Tire', 'tire', 7, MM),
  assessed('Turn', 'turn', 7, DEGREES),
  assessed('After', 'after', 7, MM),
  assessed('± after', 'plusafter', 8, '0.000'),
  {
    name: 'Bring to',
    width: 9,
    overRange: true,
    of: `IF(${row('Finding')}="match mount",WHEEL.CLOCK(${row('Turn')}),"")`,
  },
  weight('In stock', 'inboard', GRAMS),
  weight('In at', 'inboardangle', DEGREES),
  weight('Out stock', 'outboard', GRAMS),
  weight('Out at', 'outboardangle', DEGREES),
  assessed('Reason', 'reason', 70),
];

/** Index of a column by its name. */
export const columnIndex = (name: string): number => COLUMNS.findIndex((column) => column.name === name);
