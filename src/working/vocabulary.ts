/**
 * The closed vocabulary of a working: one entry a function, each with what it does, how Excel says it and how it is
 * typeset. What mathjs and Excel would read in two ways is absent or has a name of its own; what Excel 2016 and
 * LibreOffice do not both know is absent too.
 */
import {jStat} from 'jstat';

export interface Word {
  readonly arguments: number;
  readonly does: (...x: number[]) => number | string;
  readonly excel: (...a: string[]) => string;
  /** MathML of the call from that of its arguments. */
  readonly typeset: (...a: string[]) => string;
  /** Excel prints more than one term: needs parentheses inside a larger expression. */
  readonly loose?: boolean;
  /** Excel prints an IF, which SUMPRODUCT does not work out over an array. */
  readonly branches?: boolean;
}

const RAD = Math.PI / 180;

const called =
  (name: string) =>
  (...a: string[]): string =>
    `<mi>${name}</mi><mo>&#x2061;</mo><mrow><mo>(</mo>${a.join('<mo>,</mo>')}<mo>)</mo></mrow>`;

export const VOCABULARY: Readonly<Record<string, Word>> = {
  cosd: {arguments: 1, does: (x) => Math.cos(x * RAD), excel: (a) => `COS(RADIANS(${a}))`, typeset: called('cos')},
  sind: {arguments: 1, does: (x) => Math.sin(x * RAD), excel: (a) => `SIN(RADIANS(${a}))`, typeset: called('sin')},
  asind: {
    arguments: 1,
    does: (x) => Math.asin(x) / RAD,
    excel: (a) => `DEGREES(ASIN(${a}))`,
    typeset: called('arcsin'),
  },
  acosd: {
    arguments: 1,
    does: (x) => Math.acos(x) / RAD,
    excel: (a) => `DEGREES(ACOS(${a}))`,
    typeset: called('arccos'),
  },
  /** Direction of the point (x, y) in [0, 360); 0 for the origin. Excel's ATAN2 takes x first. */
  direction: {
    arguments: 2,
    does: (x, y) => {
      if (x === 0 && y === 0) return 0;
      const angle = Math.atan2(y, x) / RAD;
      return y < 0 ? angle + 360 : angle;
    },
    excel: (x, y) => `IF(AND(${x}=0,${y}=0),0,DEGREES(ATAN2(${x},${y}))+IF(${y}<0,360,0))`,
    typeset: called('direction'),
    branches: true,
  },
  /** An angle brought into [0, 360]. Not MOD, which LibreOffice answers with an error for −1E−14. */
  turned: {
    arguments: 1,
    does: (x) => x - 360 * Math.floor(x / 360),
    excel: (a) => `${a}-360*INT(${a}/360)`,
    typeset: (a) => `<mrow><mo>(</mo>${a}<mo>)</mo></mrow><mtext> mod </mtext><mn>360</mn>`,
    loose: true,
  },
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
  log: {arguments: 1, does: Math.log, excel: (a) => `LN(${a})`, typeset: called('ln')},
  floor: {
    arguments: 1,
    does: Math.floor,
    excel: (a) => `INT(${a})`,
    typeset: (a) => `<mrow><mo>⌊</mo>${a}<mo>⌋</mo></mrow>`,
  },
  larger: {arguments: 2, does: Math.max, excel: (a, b) => `MAX(${a},${b})`, typeset: called('max')},
  smaller: {arguments: 2, does: Math.min, excel: (a, b) => `MIN(${a},${b})`, typeset: called('min')},
  /** 1 where a reading is there, 0 where it is missing. */
  present: {
    arguments: 1,
    does: (y) => (Number.isNaN(y) ? 0 : 1),
    excel: (a) => `IF(${a}="",0,1)`,
    typeset: called('present'),
    branches: true,
  },
  /** Student t that leaves p on both sides together. */
  student: {
    arguments: 2,
    does: (p, freedom) =>
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
    does: (p) =>
      refine(
        jStat.normal.inv(p, 0, 1),
        (z) => jStat.normal.cdf(z, 0, 1) - p,
        (z) => jStat.normal.pdf(z, 0, 1),
      ),
    excel: (p) => `NORMSINV(${p})`,
    typeset: (p) => `<msub><mi>z</mi><mrow>${p}</mrow></msub>`,
  },
  /** Upper tail of an F statistic. */
  fright: {
    arguments: 3,
    does: (f, extra, freedom) => 1 - jStat.centralF.cdf(f, extra, freedom),
    excel: (f, extra, freedom) => `FDIST(${f},${extra},${freedom})`,
    typeset: called('P'),
  },
  /** "4:30" from hours and minutes. */
  clocktext: {
    arguments: 2,
    does: (hours, minutes) => `${hours}:${String(minutes).padStart(2, '0')}`,
    excel: (hours, minutes) => `${hours}&":"&TEXT(${minutes},"00")`,
    typeset: (hours, minutes) => `${hours}<mo>:</mo>${minutes}`,
    loose: true,
  },
};

/** One to three steps of Newton's method: the library's inverse is good to eight digits, its distribution to more. */
function refine(start: number, off: (x: number) => number, slope: (x: number) => number): number {
  let x = start;
  for (let i = 0; i < 3; i++) x -= off(x) / slope(x);
  return x;
}

/** Words over the columns of a row set; how they are worked out and printed is in engine.ts and excel.ts. */
export const OVER_ROWS = ['sum', 'max', 'min', 'count', 'meanby', 'coefficient', 'spread'] as const;

export type OverRows = (typeof OVER_ROWS)[number];

export const isOverRows = (name: string): name is OverRows => (OVER_ROWS as readonly string[]).includes(name);
