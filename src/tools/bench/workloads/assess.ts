/** The whole assessment of a wheel from 48 readings, row after row. */
import {all, create} from 'mathjs';
import {asCells, readingRows} from '../data';
import {time} from '../measure';
import {atLeast, type Run} from '../workload';
import {builtFunction} from './calls';

const POSITIONS = 16;
const SAMPLE = 100;

export const assessments: Run = async ({quick, rounds}) => {
  const rows = quick ? 2_000 : 10_000;
  const call = builtFunction('ASSESSREADINGS');
  const [assembly, inner, outer] = [1, 2, 3].map((seed) => asCells(readingRows(rows, POSITIONS, seed), POSITIONS));
  const limits = [[0.5, 0.4]];
  const ours = () =>
    time(() => {
      for (let i = 0; i < rows; i++) call([assembly[i]], [inner[i]], [outer[i]], limits);
    });
  const mathjs = mathjsAssessment();
  const theirs = () =>
    time(() => {
      for (let i = 0; i < SAMPLE; i++) mathjs(assembly[i], inner[i], outer[i]);
    });
  const agrees = Array.from({length: 20}, (_, i) => i).every((i) => {
    const [row] = call([assembly[i]], [inner[i]], [outer[i]], limits) as number[][];
    return mathjs(assembly[i], inner[i], outer[i]).every((value) => row.some((cell) => Math.abs(cell - value) < 1e-9));
  });
  return [
    await atLeast(100, {
      workload: `ASSESSREADINGS, 48 readings, ${rows} rows`,
      against: 'mathjs doing the same sums',
      ours,
      theirs,
      times: rows / SAMPLE,
      rounds,
      agrees,
    }),
  ];
};

/** Three fits, the rim's mean, the tire, ± of the assembly: amounts of assembly, rim, tire, and the ±. */
function mathjsAssessment() {
  const mathjs = create(all);
  const basis = Array.from({length: POSITIONS}, (_, i) => {
    const at = (2 * Math.PI * i) / POSITIONS;
    return [1, ...[1, 2, 3, 4].flatMap((k) => [Math.cos(k * at), Math.sin(k * at)])];
  });
  // It has no least squares of its own: its user writes the normal equations, XᵀX \ Xᵀy, for each set of readings.
  const fitted = (y: number[]): number[] => {
    const transposed = mathjs.transpose(basis);
    const normal = mathjs.multiply(transposed, basis);
    return (mathjs.lusolve(normal, mathjs.multiply(transposed, y)) as number[][]).flat();
  };
  // 95 % quantile of Student's t with 16 − 9 = 7 degrees of freedom (NIST/SEMATECH e-Handbook, table 1.3.6.7.2: 2.365).
  const T7 = 2.364624251592785;
  return (assembly: number[], inner: number[], outer: number[]): number[] => {
    const whole = fitted(assembly);
    const rim = mathjs.multiply(mathjs.add(fitted(inner), fitted(outer)), 0.5) as number[];
    const tire = mathjs.subtract(whole, rim) as number[];
    const left = mathjs.subtract(assembly, mathjs.multiply(basis, whole)) as number[];
    const s2 = (mathjs.dot(left, left) as number) / (POSITIONS - 9);
    const amount = (c: number[]) => 2 * (mathjs.norm([c[1], c[2]]) as number);
    return [amount(whole), amount(rim), amount(tire), 2 * T7 * Math.sqrt((s2 * 2) / POSITIONS)];
  };
}
