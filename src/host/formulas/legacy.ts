/**
 * How Excel calculates a formula that is not stored as an array formula: where one value is wanted and a range of
 * several cells stands, the cell in the formula's own row or column is taken ("implicit intersection"; opened in
 * today's Excel, the formula shows "@" there). Which arguments want one value depends on the function.
 */

/** array: all cells count. value: one value is wanted. any: a range stays a range, a calculation gives one value. */
export type Wanted = 'array' | 'value' | 'any';

/** What is wanted of the operands of a calculation. */
export const calculated = (wanted: Wanted): Wanted => (wanted === 'array' ? 'array' : 'value');

/** What a native function wants of its argument (counted from 0), in a place where `wanted` is wanted of it. */
export function wantedOf(name: string, argument: number, wanted: Wanted): Wanted {
  if (wanted === 'array' || ARRAY.has(name)) return 'array';
  if (VALUE.has(name)) return 'value';
  if (BRANCHING.has(name)) return argument === 0 ? 'value' : wanted;
  const ranges = RANGES[name];
  if (ranges) return ranges.includes(argument) ? 'any' : 'value';
  if (PAIRED.has(name)) return argument % 2 === (name === 'COUNTIFS' ? 0 : 1) || argument === 0 ? 'any' : 'value';
  return 'any';
}

const list = (names: string): ReadonlySet<string> => new Set(names.split(' '));

/** Functions that calculate over arrays without being entered as an array formula. */
const ARRAY = list(
  'SUMPRODUCT MMULT MINVERSE MDETERM TRANSPOSE FREQUENCY LINEST LOGEST TREND GROWTH LOOKUP MODE MODE.SNGL MODE.MULT ' +
    'CORREL COVAR COVARIANCE.P COVARIANCE.S PEARSON RSQ SLOPE INTERCEPT STEYX FORECAST FORECAST.LINEAR SUMX2MY2 SUMX2PY2 SUMXMY2 ' +
    'AGGREGATE PROB CHITEST CHISQ.TEST FTEST F.TEST TTEST T.TEST',
);

/** Functions of single values. */
const VALUE = list(
  'ABS ACOS ACOSH ASIN ASINH ATAN ATAN2 ATANH CEILING CEILING.MATH COMBIN COS COSH DEGREES EVEN EXP FACT FLOOR FLOOR.MATH ' +
    'INT LN LOG LOG10 MOD MROUND ODD PI POWER QUOTIENT RADIANS RAND RANDBETWEEN ROUND ROUNDDOWN ROUNDUP SIGN SIN SINH SQRT ' +
    'TAN TANH TRUNC NOT IFERROR IFNA ISBLANK ISERR ISERROR ISEVEN ISLOGICAL ISNA ISNONTEXT ISNUMBER ISODD ISTEXT N TYPE ' +
    'ERROR.TYPE CHAR CLEAN CODE CONCATENATE DOLLAR EXACT FIND FIXED LEFT LEN LOWER MID PROPER REPLACE REPT RIGHT SEARCH ' +
    'SUBSTITUTE T TEXT TRIM UPPER VALUE DATE DATEVALUE DAY DAYS DAYS360 EDATE EOMONTH HOUR MINUTE MONTH SECOND TIME ' +
    'TIMEVALUE WEEKDAY WEEKNUM YEAR YEARFRAC ADDRESS INDIRECT HYPERLINK COMPLEX IMABS IMARGUMENT IMREAL IMAGINARY ' +
    'NORMDIST NORMSDIST NORM.DIST NORM.S.DIST NORMINV NORMSINV NORM.INV NORM.S.INV TDIST TINV T.DIST T.INV T.INV.2T ' +
    'CHIDIST CHIINV FDIST FINV BINOMDIST BINOM.DIST POISSON CONVERT',
);

/** The first argument is one value, the others are given back as they are. */
const BRANCHING = list('IF CHOOSE SWITCH IFS');

/** The arguments that take a range; the others are single values. */
const RANGES: Readonly<Record<string, readonly number[]>> = {
  INDEX: [0],
  OFFSET: [0],
  MATCH: [1],
  VLOOKUP: [1],
  HLOOKUP: [1],
  XLOOKUP: [1, 2],
  XMATCH: [1],
  COUNTIF: [0],
  SUMIF: [0, 2],
  AVERAGEIF: [0, 2],
  LARGE: [0],
  SMALL: [0],
  PERCENTILE: [0],
  QUARTILE: [0],
  PERCENTRANK: [0],
  RANK: [1],
  'RANK.EQ': [1],
  'RANK.AVG': [1],
  ROW: [0],
  ROWS: [0],
  COLUMN: [0],
  COLUMNS: [0],
};

/** Ranges and criteria by turns. */
const PAIRED = list('COUNTIFS SUMIFS AVERAGEIFS MAXIFS MINIFS');
