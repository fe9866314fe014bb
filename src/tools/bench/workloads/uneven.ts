/** The same with readings missing and angles that are not even: least squares by QR. */
import {randomFrom} from '../../random';
import {compileC, dataFile} from '../c';
import {readingRows} from '../data';
import {time} from '../measure';
import {mathematics} from '../bundle';
import {atMost, missing, type Run} from '../workload';

const POSITIONS = 16;
const ROWS = 100_000;

export const unevenHarmonics: Run = async ({rounds}) => {
  const {unevenSum} = await mathematics();
  const workload = `the same, 10 % missing and angles uneven, by QR, ${ROWS} rows`;
  const random = randomFrom(2);
  const values = readingRows(ROWS, POSITIONS).map((y) => (random() < 0.1 ? NaN : y));
  const degrees = Float64Array.from({length: POSITIONS}, (_, i) => (360 * (i + 0.6 * random())) / POSITIONS);
  const complete = enoughInEveryRow(values);
  const program = compileC();
  if (!program) return [missing(workload, 'C by QR', 'at most 1.5 ×', 'gcc is not installed')];
  const file = dataFile('uneven.bin', degrees, complete);
  const {sum} = program('qr', file, POSITIONS);
  const agrees = Math.abs(sum - unevenSum(complete, POSITIONS, degrees)) <= 1e-8 * Math.abs(sum);
  const ours = () => time(() => unevenSum(complete, POSITIONS, degrees));
  const theirs = () => program('qr', file, POSITIONS).time;
  return [await atMost(1.5, {workload, against: 'C by QR, gcc -O3 -march=native', ours, theirs, rounds, agrees})];
};

/** Rows with too few readings for four harmonics get one back. */
function enoughInEveryRow(values: Float64Array): Float64Array {
  for (let from = 0; from < values.length; from += POSITIONS) {
    for (let i = 0, lost = 0; i < POSITIONS; i++) {
      if (Number.isNaN(values[from + i]) && ++lost > POSITIONS - 10) values[from + i] = 0;
    }
  }
  return values;
}
