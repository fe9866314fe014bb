/**
 * The closed vocabulary of a working: one entry a function, each with what it does, how Excel says it and how it is
 * typeset. What mathjs and Excel would read in two ways is absent or has a name of its own; what Excel 2016 and
 * LibreOffice do not both know is absent too.
 */
import jStat from 'jstat';

export interface Word {
  readonly arguments: number;
  readonly does: (...x: never[]) => number | string | boolean;
  readonly excel: (...a: string[]) => string;
  /** MathML of the call from that of its arguments. */
  readonly typeset: (...a: string[]) => string;
  /** Excel prints more than one term: needs parentheses inside a larger expression. */
  readonly loose?: boolean;
  /** Excel prints what SUMPRODUCT does not work out row by row, an IF or a MAX: it needs a column of its own. */
  readonly alone?: boolean;
  /** Answers yes or no, for a condition alone. */
  readonly asks?: boolean;
}

const RAD = Math.PI / 180;

const called =
  (name: string) =>
  (...a: string[]): string =>
    `<mi>${name}</mi><mo>&#x2061;</mo><mrow><mo>(</mo>${a.join('<mo>,</mo>')}<mo>)</mo></mrow>`;

const bracket = (a: string): string => `<mrow><mo>(</mo>${a}<mo>)</mo></mrow>`;

const ANGLES: Readonly<Record<string, Word>> = {
  cosd: {
    arguments: 1,
    does: (x: number) => Math.cos(x * RAD),
    excel: (a) => `COS(RADIANS(${a}))`,
    typeset: called('cos'),
  },
  sind: {
    arguments: 1,
    does: (x: number) => Math.sin(x * RAD),
    excel: (a) => `SIN(RADIANS(${a}))`,
    typeset: called('sin'),
  },
  asind: {
    arguments: 1,
    does: (x: number) => Math.asin(x) / RAD,
    excel: (a) => `DEGREES(ASIN(${a}))`,
    typeset: called('arcsin'),
  },
  /** Direction of the point (x, y) in [0, 360); 0 for the origin. Excel's ATAN2 takes x first. */
  direction: {
    arguments: 2,
    does: (x: number, y: number) => {
      if (x === 0 && y === 0) return 0;
      const angle = Math.atan2(y, x) / RAD;
      return y < 0 ? angle + 360 : angle;
    },
    excel: (x, y) => `IF(AND(${x}=0,${y}=0),0,DEGREES(ATAN2(${x},${y}))+IF(${y}<0,360,0))`,
    typeset: called('direction'),
    loose: true,
    alone: true,
  },
  /** An angle brought into [0, 360]. Not MOD, which LibreOffice answers with an error for −1E−14. */
  turned: {
    arguments: 1,
    does: (x: number) => x - 360 * Math.floor(x / 360),
    excel: (a) => `${a}-360*INT(${a}/360)`,
    typeset: (a) => `${bracket(a)}<mtext> mod </mtext><mn>360</mn>`,
    loose: true,
  },
};

const NUMBERS: Readonly<Record<string, Word>> = {
  sqrt: {arguments: 1, does: Math.sqrt, excel: (a) => `SQRT(${a})`, typeset: (a) => `<msqrt>${a}</msqrt>`},
  abs: {
    arguments: 1,
    does: Math.abs,
    excel: (a) => `ABS(${a})`,
    typeset: (a) => `<mrow><mo>|</mo>${a}<mo>|</mo></mrow>`,
  },
  exp: {
    arguments: 1,
    does: Math.exp,
    excel: (a) => `EXP(${a})`,
    typeset: (a) => `<msup><mi>e</mi><mrow>${a}</mrow></msup>`,
  },
  floor: {
    arguments: 1,
    does: Math.floor,
    excel: (a) => `INT(${a})`,
    typeset: (a) => `<mrow><mo>⌊</mo>${a}<mo>⌋</mo></mrow>`,
  },
  greater: {arguments: 2, does: Math.max, excel: (a, b) => `MAX(${a},${b})`, typeset: called('max'), alone: true},
  lesser: {arguments: 2, does: Math.min, excel: (a, b) => `MIN(${a},${b})`, typeset: called('min'), alone: true},
  /** A figure that does not exist: #N/A. */
  none: {arguments: 0, does: () => NaN, excel: () => 'NA()', typeset: () => '<mtext>none</mtext>', alone: true},
  /** 1 where a reading is there, 0 where it is missing. */
  present: {
    arguments: 1,
    does: (y: number | string) => (y === '' || Number.isNaN(y) ? 0 : 1),
    excel: (a) => `IF(${a}="",0,1)`,
    typeset: called('present'),
    alone: true,
  },
  /** 1 for a number, 0 for a text or an empty cell. */
  isnumber: {
    arguments: 1,
    does: (y: number | string) => (typeof y === 'number' && !Number.isNaN(y) ? 1 : 0),
    excel: (a) => `IF(ISNUMBER(${a}),1,0)`,
    typeset: called('is a number'),
    alone: true,
  },
};

const DISTRIBUTIONS: Readonly<Record<string, Word>> = {
  /** Student t that leaves p on both sides together. */
  student: {
    arguments: 2,
    does: (p: number, freedom: number) =>
      refine(
        jStat.studentt.inv(1 - p / 2, freedom),
        (t) => jStat.studentt.cdf(t, freedom) - (1 - p / 2),
        (t) => jStat.studentt.pdf(t, freedom),
      ),
    excel: (p, freedom) => `TINV(${p},${freedom})`,
    typeset: (p, freedom) => `<msub><mi>t</mi><mrow>${p}<mo>,</mo>${freedom}</mrow></msub>`,
  },
  /** Standard normal value below which p lies. */
  normalquantile: {
    arguments: 1,
    does: (p: number) =>
      refine(
        jStat.normal.inv(p, 0, 1),
        (z) => jStat.normal.cdf(z, 0, 1) - p,
        (z) => jStat.normal.pdf(z, 0, 1),
      ),
    excel: (p) => `NORMSINV(${p})`,
    typeset: (p) => `<msub><mi>z</mi><mrow>${p}</mrow></msub>`,
  },
  /** Upper tail of an F statistic; by the beta function, which keeps the digits of a small tail. */
  fright: {
    arguments: 3,
    does: (f: number, extra: number, freedom: number) =>
      f === 0 ? 1 : jStat.ibeta(freedom / (freedom + extra * f), freedom / 2, extra / 2),
    excel: (f, extra, freedom) => `FDIST(${f},${extra},${freedom})`,
    typeset: called('P'),
  },
  /** Probability of x marked ones among n drawn from N of which K are marked. */
  hypergeometric: {
    arguments: 4,
    does: (x: number, n: number, k: number, all: number) => jStat.hypgeom.pdf(x, all, k, n),
    excel: (x, n, k, all) => `HYPGEOMDIST(${x},${n},${k},${all})`,
    typeset: called('hypergeometric'),
  },
};

const TEXTS: Readonly<Record<string, Word>> = {
  /** Whether two texts are the same but for letter case and outer blanks. */
  same: {
    arguments: 2,
    does: (a: unknown, b: unknown) => trimmed(a).toLowerCase() === trimmed(b).toLowerCase(),
    excel: (a, b) => `TRIM(${a})=TRIM(${b})`,
    typeset: (a, b) => `${a}<mo>=</mo>${b}`,
    loose: true,
    alone: true,
    asks: true,
  },
  trimmed: {arguments: 1, does: (a: unknown) => trimmed(a), excel: (a) => `TRIM(${a})`, typeset: (a) => a, alone: true},
  upper: {
    arguments: 1,
    does: (a: unknown) => String(a).toUpperCase(),
    excel: (a) => `UPPER(${a})`,
    typeset: (a) => a,
    alone: true,
  },
  /** A tire identification number in capitals, without blanks and hyphens. */
  compact: {
    arguments: 1,
    does: (a: unknown) =>
      String(a)
        .toUpperCase()
        .replace(/[\s-]+/g, ''),
    excel: (a) => `SUBSTITUTE(SUBSTITUTE(UPPER(${a})," ",""),"-","")`,
    typeset: called('compact'),
    alone: true,
  },
  /** `length` symbols of a text from the `at`-th, counted from 1. */
  mid: {
    arguments: 3,
    does: (a: unknown, at: number, length: number) => String(a).slice(at - 1, at - 1 + length),
    excel: (a, at, length) => `MID(${a},${at},${length})`,
    typeset: called('symbols'),
    alone: true,
  },
  textlength: {
    arguments: 1,
    does: (a: unknown) => String(a).length,
    excel: (a) => `LEN(${a})`,
    typeset: called('length'),
    alone: true,
  },
  numberin: {
    arguments: 1,
    does: (a: unknown) => Number(a),
    excel: (a) => `VALUE(${a})`,
    typeset: (a) => a,
    alone: true,
  },
  /** "4:30" from hours and minutes. */
  clocktext: {
    arguments: 2,
    does: (hours: number, minutes: number) => `${hours}:${String(minutes).padStart(2, '0')}`,
    excel: (hours, minutes) => `${hours}&":"&TEXT(${minutes},"00")`,
    typeset: (hours, minutes) => `${hours}<mo>:</mo>${minutes}`,
    loose: true,
    alone: true,
  },
  /** Serial number of the first of January, as spreadsheets count days. */
  newyear: {
    arguments: 1,
    does: (year: number) => (Date.UTC(year, 0, 1) - Date.UTC(1899, 11, 30)) / 86400000,
    excel: (year) => `DATE(${year},1,1)`,
    typeset: called('January 1'),
    alone: true,
  },
};

export const VOCABULARY: Readonly<Record<string, Word>> = {...ANGLES, ...NUMBERS, ...DISTRIBUTIONS, ...TEXTS};

/** A cell as a text without outer blanks; an empty cell is an empty text. */
export const trimmed = (cell: unknown): string => (Number.isNaN(cell) ? '' : String(cell).trim());

/** One to three steps of Newton's method: the library's inverse is good to eight digits, its distribution to more. */
function refine(start: number, off: (x: number) => number, slope: (x: number) => number): number {
  let x = start;
  for (let i = 0; i < 3; i++) x -= off(x) / slope(x);
  return x;
}

/**
 * Words over the columns of a row set; how they are worked out and printed is in engine.ts and excel.ts. `plain` says
 * which arguments must be the names of columns, blocks or constants as they are.
 */
export const OVER_ROWS = {
  sum: {arguments: 1, plain: []},
  max: {arguments: 1, plain: []},
  min: {arguments: 1, plain: []},
  count: {arguments: 1, plain: [0]},
  /** Mean of y over the rows that share this row's value in another column, or in two. */
  meanby: {arguments: [2, 3], plain: [0, 1, 2]},
  /** In how many rows a column has a value, which may be a text. */
  countwhere: {arguments: 2, plain: [0]},
  /** Sum of a column over the rows in which another has a value. */
  sumwhere: {arguments: 3, plain: [0, 1]},
  /** Place of this row's value among all in rising order, from 1; equal ones in their order. */
  rank: {arguments: 1, plain: [0]},
  /** lookup(key, keys, values): the value in the first row whose key is that. */
  lookup: {arguments: 3, plain: [1, 2]},
  /** The value in the row before, around the turn. */
  previous: {arguments: 1, plain: [0]},
  /** The value in the row after, around the turn. */
  next: {arguments: 1, plain: [0]},
  /** The value in the row above, or in the first row a start. A column may look above in itself. */
  above: {arguments: 2, plain: [0]},
  /** The j-th least-squares coefficient of a column on a block of columns. */
  coefficient: {arguments: 3, plain: [0, 1, 2]},
  /** Standard error of the j-th coefficient ÷ residual standard deviation. */
  spread: {arguments: 3, plain: [0, 1, 2]},
  /** Sum of squares that the fit of a column on a block of columns leaves. */
  leftover: {arguments: 2, plain: [0, 1]},
} as const;

export type OverRows = keyof typeof OVER_ROWS;

export const isOverRows = (name: string): name is OverRows => Object.hasOwn(OVER_ROWS, name);

/** Those of them whose first argument is an expression that is worked out row by row. */
export const SUMS: readonly string[] = ['sum', 'max', 'min'];
