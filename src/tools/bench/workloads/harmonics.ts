/** Harmonics 1 to 4 and TIR of rows of 16 even readings, the mathematics alone. */
import FFT from 'fft.js';
import {all, create} from 'mathjs';
import {Matrix, solve} from 'ml-matrix';
import {compileC, dataFile} from '../c';
import {readingRows} from '../data';
import {time} from '../measure';
import {mathematics} from '../bundle';
import {atLeast, atMost, missing, type Result, type Run} from '../workload';

const POSITIONS = 16;
const ORDERS = 4;
const ROWS = 100_000;
const WORKLOAD = 'harmonics 1–4 and TIR, 16 even readings';

export const evenHarmonics: Run = async ({rounds}) => {
  const {harmonicsSum} = await mathematics();
  const values = readingRows(ROWS, POSITIONS);
  const workload = `${WORKLOAD}, ${ROWS} rows`;
  const ours = () => time(() => harmonicsSum(values, POSITIONS));
  const results: Result[] = [];

  const program = compileC();
  if (program) {
    const file = dataFile('even.bin', values);
    const {sum} = program('even', file, POSITIONS);
    const agrees = close(sum, harmonicsSum(values, POSITIONS));
    const theirs = () => program('even', file, POSITIONS).time;
    results.push(await atMost(1.25, {workload, against: 'C, gcc -O3 -march=native', ours, theirs, rounds, agrees}));
  } else results.push(missing(workload, 'C', 'at most 1.25 ×', 'gcc is not installed'));

  for (const {against, least, sample, sums} of peers()) {
    const share = Math.min(ROWS, sample);
    const part = values.subarray(0, share * POSITIONS);
    const agrees = close(sums(part), harmonicsSum(part, POSITIONS));
    const theirs = () => time(() => sums(part));
    results.push(await atLeast(least, {workload, against, ours, theirs, times: ROWS / share, rounds, agrees}));
  }
  return results;
};

const close = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-9 * Math.abs(a);

interface Peer {
  readonly against: string;
  readonly least: number;
  /** Rows measured; the time is scaled up. */
  readonly sample: number;
  readonly sums: (values: Float64Array) => number;
}

function peers(): Peer[] {
  const fft = new FFT(POSITIONS);
  const spectrum = fft.createComplexArray() as number[];
  const c = new Float64Array(2 * ORDERS + 1);
  const basis = Array.from({length: POSITIONS}, (_, i) => [
    1,
    ...Array.from({length: ORDERS}, (_, k) => (2 * Math.PI * (k + 1) * i) / POSITIONS).flatMap((a) => [
      Math.cos(a),
      Math.sin(a),
    ]),
  ]);
  const design = new Matrix(basis);
  const mathjs = create(all);
  return [
    {
      against: 'fft.js',
      least: 2,
      sample: 100_000,
      sums: byRow((y) => {
        fft.realTransform(spectrum, y);
        for (let k = 1; k <= ORDERS; k++) {
          c[2 * k - 1] = (spectrum[2 * k] * 2) / POSITIONS;
          c[2 * k] = (-spectrum[2 * k + 1] * 2) / POSITIONS;
        }
        return c;
      }),
    },
    {
      against: 'ml-matrix',
      least: 100,
      sample: 1_000,
      // Its least squares: one call a row, as its user writes it.
      sums: byRow((y) => {
        return solve(design, Matrix.columnVector(y)).to1DArray();
      }),
    },
    {
      against: 'mathjs',
      least: 200,
      sample: 200,
      sums: byRow((y) => {
        // It has no least squares of its own: its user writes the normal equations, XᵀX \ Xᵀy, for each row of readings.
        const transposed = mathjs.transpose(basis);
        const solved = mathjs.lusolve(mathjs.multiply(transposed, basis), mathjs.multiply(transposed, y)) as number[][];
        return solved.flat();
      }),
    },
  ];
}

/** Amounts, angles and TIR from the coefficients of each row, added up. */
const byRow =
  (coefficients: (y: number[]) => ArrayLike<number>) =>
  (values: Float64Array): number => {
    const y = new Array<number>(POSITIONS).fill(0.5);
    let sum = 0;
    for (let from = 0; from < values.length; from += POSITIONS) {
      let most = -Infinity;
      let least = Infinity;
      for (let i = 0; i < POSITIONS; i++) {
        y[i] = values[from + i];
        if (y[i] > most) most = y[i];
        if (y[i] < least) least = y[i];
      }
      sum += most - least;
      const c = coefficients(y);
      for (let k = 1; k <= ORDERS; k++) {
        const a = c[2 * k - 1];
        const b = c[2 * k];
        const degrees = (Math.atan2(b, a) * 180) / Math.PI;
        sum += 2 * Math.sqrt(a * a + b * b) + (degrees < 0 ? degrees + 360 : degrees) / k;
      }
    }
    return sum;
  };
