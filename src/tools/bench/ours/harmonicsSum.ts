/** Harmonics 1 to 4 and TIR of many rows by the product's own mathematics, added up so that results can be compared. */
import {tir} from '../../../maths/closure';
import {fit, harmonic} from '../../../maths/harmonics';
import type {Angles} from '../../../maths/readings';

const ORDERS = 4;

export const harmonicsSum = (values: Float64Array, positions: number): number => unevenSum(values, positions);

/** NaN is a missing reading. */
export function unevenSum(values: Float64Array, positions: number, degrees?: Float64Array): number {
  const angles: Angles | undefined = degrees && {name: 'angles', degrees};
  // One buffer for all rows, as the reader of cells has one for all calls.
  const row = new Float64Array(positions);
  const readings = {name: 'readings', values: row, positions, present: 0, rows: 1, columns: positions};
  let sum = 0;
  for (let from = 0; from < values.length; from += positions) {
    let present = 0;
    for (let i = 0; i < positions; i++) {
      row[i] = values[from + i];
      if (!Number.isNaN(row[i])) present++;
    }
    readings.present = present;
    const wave = fit(readings, ORDERS, angles);
    sum += tir(readings);
    for (let k = 1; k <= ORDERS; k++) {
      const {amount, angle} = harmonic(wave, k);
      sum += amount + angle;
    }
  }
  return sum;
}
