import {unavailable, type Refusal} from './refusal';
import {extremes, type Readings} from './readings';

export interface Closure {
  readonly drift: number;
  /** Drift ÷ TIR of the turn; undefined when the turn shows no runout. */
  readonly share: number | undefined;
}

/** Total indicator reading, max − min of the readings present. */
export function tir(readings: Readings): number {
  if (readings.present < 2) throw tooFew(readings, 2);
  const {most, least} = extremes(readings);
  return most - least;
}

const tooFew = ({name, present}: Readings, wanted: number): Refusal =>
  unavailable(`at least ${wanted} readings are needed, ${present} present`, name);

/** The turn without the reading that repeats its first position. */
const oneTurn = (readings: Readings): Readings => ({
  ...readings,
  positions: readings.positions - 1,
  present: readings.present - 1,
});

/** The last reading repeats the first position after a full turn: by how much the two differ. */
export function closure(readings: Readings): Closure {
  if (readings.positions < 3) throw tooFew(readings, 3);
  const [first, last] = [readings.values[0], readings.values[readings.positions - 1]];
  if (Number.isNaN(first))
    throw unavailable('the first reading is missing, so the turn cannot be closed', readings.name);
  if (Number.isNaN(last)) throw unavailable('the last reading is missing, so the turn cannot be closed', readings.name);
  const drift = last - first;
  const turn = tir(oneTurn(readings));
  return {drift, share: turn > 0 ? drift / turn : undefined};
}

/** The readings without the closing one, the drift taken out linearly over the turn; NaN where one is missing. */
export function closed(readings: Readings): Float64Array {
  const {drift} = closure(readings);
  const positions = readings.positions - 1;
  return readings.values.slice(0, positions).map((value, i) => value - (drift * i) / positions);
}
