/** Columns of a ledger as Wheel Ledger starts it: what the clerk types, and the formulas that assess it. */

export type LedgerUnits = 'metric' | 'us';

export interface LedgerColumn {
  readonly name: string;
  /** In characters. */
  readonly width: number;
  readonly format?: string;
  /** Without its equals sign; a column without one is typed. */
  readonly formula?: string;
  /** The formula computes over a range: in a file it has to be stored as a dynamic array formula. */
  readonly overRange?: boolean;
}

/** Even positions around the turn. */
export const POSITIONS = 16;

export const TABLE = 'Wheels';

interface UnitWords {
  readonly runout: string;
  readonly plusminus: string;
  readonly reading: string;
  readonly weight: string;
  readonly weightName: string;
}

const WORDS: Readonly<Record<LedgerUnits, UnitWords>> = {
  metric: {runout: '0.00', plusminus: '0.000', reading: '0.000', weight: '0.0', weightName: 'g'},
  us: {runout: '0.000', plusminus: '0.0000', reading: '0.0000', weight: '0.00', weightName: 'oz'},
};

const row = (name: string): string => `${TABLE}[[#This Row],[${name}]]`;
const span = (from: string, to: string): string => `${TABLE}[[#This Row],[${from}]:[${to}]]`;

/** Readings with blanks as empty texts: Excel hands a blank cell over as 0. */
const present = (letter: string): string => {
  const range = span(`${letter}1`, `${letter}${POSITIONS}`);
  return `IF(${range}="","",${range})`;
};

const byClass = (table: string, column: string): string =>
  `INDEX(${table}[${column}],MATCH(${row('Class')},${table}[Class],0))`;
const planesOfClass = `INDEX(Planes[[Inboard position]:[Outboard radius]],MATCH(${row('Class')},Planes[Class],0),0)`;

/** An empty row stays empty instead of showing errors. */
const whenMeasured = (letter: string, formula: string): string =>
  `IF(COUNT(${span(`${letter}1`, `${letter}${POSITIONS}`)})=0,"",${formula})`;

const readings = (letter: string, format: string): LedgerColumn[] =>
  Array.from({length: POSITIONS}, (_, i) => ({name: `${letter}${i + 1}`, width: 7.5, format}));

const assessed = (name: string, part: string, width: number, format?: string): LedgerColumn => ({
  name,
  width,
  ...(format === undefined ? {} : {format}),
  overRange: true,
  formula: whenMeasured(
    'A',
    `WHEEL.ASSESSREADINGS(${present('A')},${present('I')},${present('O')},${span('Limit', 'Curve limit')},4,,"${part}")`,
  ),
});

const check = (name: string, letter: string): LedgerColumn => ({
  name,
  width: 24,
  overRange: true,
  formula: whenMeasured(letter, `WHEEL.READINGCHECK(${present(letter)})`),
});

const limit = (name: string, column: string, width: number, format: string): LedgerColumn => ({
  name,
  width,
  format,
  formula: `IF(${row('Class')}="","",${byClass('Limits', column)})`,
});

export function ledgerColumns(units: LedgerUnits): LedgerColumn[] {
  const {runout, plusminus, reading, weight, weightName} = WORDS[units];
  const [inMass, outMass] = [`In ${weightName}`, `Out ${weightName}`];
  const stock = (name: string, part: string, format: string): LedgerColumn => ({
    name,
    width: 9,
    format,
    overRange: true,
    formula: `IF(${row(inMass)}="","",WHEEL.STOCKPAIR(${span(inMass, 'Out °')},${planesOfClass},${byClass('Limits', 'Stock step')},"${part}"))`,
  });
  return [
    {name: 'Job', width: 8},
    {name: 'Date', width: 12, format: 'yyyy-mm-dd'},
    {name: 'Vehicle', width: 17},
    {name: 'Class', width: 12},
    {name: 'Position', width: 10},
    {name: 'Size', width: 25},
    {name: 'Supplier', width: 24},
    {name: 'TIN', width: 22},
    ...readings('A', reading),
    ...readings('I', reading),
    ...readings('O', reading),
    {name: inMass, width: 7, format: weight},
    {name: 'In °', width: 7, format: '0'},
    {name: outMass, width: 7, format: weight},
    {name: 'Out °', width: 7, format: '0'},
    limit('Limit', 'Assembly', 7, runout),
    limit('Rim limit', 'Rim', 9, runout),
    limit('Curve limit', 'Curve', 10, runout),
    check('Check', 'A'),
    check('Inner seat', 'I'),
    check('Outer seat', 'O'),
    assessed('Finding', 'finding', 14),
    assessed('Assembly', 'assembly', 10, runout),
    assessed('±', 'plusminus', 7, plusminus),
    assessed('Rim', 'rim', 7, runout),
    assessed('Tire', 'tire', 7, runout),
    assessed('Turn', 'turn', 7, '0'),
    assessed('After', 'after', 7, runout),
    assessed('± after', 'plusafter', 8, plusminus),
    {
      name: 'Bring to',
      width: 9,
      overRange: true,
      formula: `IF(${row('Finding')}="match mount",WHEEL.CLOCK(${row('Turn')}),"")`,
    },
    stock('In stock', 'inboard', weight),
    stock('In at', 'inboardangle', '0'),
    stock('Out stock', 'outboard', weight),
    stock('Out at', 'outboardangle', '0'),
    assessed('Reason', 'reason', 70),
  ];
}
