/** Readings to measure with: a seeded wheel a row. */
import {normalFrom, randomFrom} from '../random';

/** Rows of readings one after another, `positions` each: four harmonics and noise. */
export function readingRows(rows: number, positions: number, seed = 1): Float64Array {
  const random = randomFrom(seed);
  const normal = normalFrom(random);
  const values = new Float64Array(rows * positions);
  for (let row = 0; row < rows; row++) {
    const waves = [1, 2, 3, 4].map((order) => ({order, size: random() / order, at: 2 * Math.PI * random()}));
    for (let i = 0; i < positions; i++) {
      let y = 0.02 * normal();
      for (const {order, size, at} of waves) y += size * Math.cos((2 * Math.PI * order * i) / positions - at);
      values[row * positions + i] = y;
    }
  }
  return values;
}

/** The same as Excel hands it over: rows of cells. */
export const asCells = (values: Float64Array, positions: number): number[][] =>
  Array.from({length: values.length / positions}, (_, r) =>
    Array.from(values.subarray(r * positions, (r + 1) * positions)),
  );
