import {assign, type Assignment} from './assign';
import {invalid, unavailable} from './refusal';

const MOST = 300;

/**
 * Which wheel goes to which position: the worst to the least sensitive. Wheels within `tolerance` of the worst not yet
 * placed count as equal and keep their row order. With a table of allowed places, the least Σ severity · sensitivity
 * by exact assignment. Positions count from 0; more positions than wheels are allowed.
 */
export function place(
  severities: readonly number[],
  sensitivities: readonly number[],
  tolerance: number,
  allowed?: readonly (readonly boolean[])[],
): number[] {
  const [wheels, positions] = [severities.length, sensitivities.length];
  if (wheels > positions) {
    throw invalid(`a position for each of the ${wheels} wheels is wanted, found ${positions}`, 'sensitivities');
  }
  if (positions > MOST) throw invalid(`at most ${MOST} positions are wanted, found ${positions}`, 'sensitivities');
  const levels = leveled(severities, tolerance);
  // Worst wheels and least sensitive positions first; the sorts are stable, so equals keep their order.
  const byWheel = severities.map((_, i) => i).sort((i, j) => levels[j] - levels[i]);
  const byPosition = sensitivities.map((_, j) => j).sort((i, j) => sensitivities[i] - sensitivities[j]);
  const answer: number[] = [];
  if (allowed === undefined) {
    byWheel.forEach((wheel, k) => (answer[wheel] = byPosition[k]));
    return answer;
  }
  const {columns} = assigned(byWheel, byPosition, levels, sensitivities, allowed);
  byWheel.forEach((wheel, k) => (answer[wheel] = byPosition[columns[k]]));
  return answer;
}

function assigned(
  byWheel: readonly number[],
  byPosition: readonly number[],
  levels: readonly number[],
  sensitivities: readonly number[],
  allowed: readonly (readonly boolean[])[],
): Assignment {
  const cost = byWheel.map((wheel) =>
    byPosition.map((position) => (allowed[wheel][position] ? levels[wheel] * sensitivities[position] : Infinity)),
  );
  const found = assign(cost);
  if (found === undefined)
    throw unavailable('no placing gives every wheel a position that is allowed for it', 'allowed');
  return found;
}

/** A placing among allowed places with prices that prove it: none costs less than its two prices together. */
export interface PlaceProof {
  readonly placing: readonly number[];
  readonly wheelPrices: readonly number[];
  readonly positionPrices: readonly number[];
}

export function placeProof(
  severities: readonly number[],
  sensitivities: readonly number[],
  tolerance: number,
  allowed: readonly (readonly boolean[])[],
): PlaceProof {
  const all = severities.map((_, i) => i);
  const {rowPrices, columnPrices} = assigned(
    all,
    sensitivities.map((_, j) => j),
    leveled(severities, tolerance),
    sensitivities,
    allowed,
  );
  return {
    placing: place(severities, sensitivities, tolerance, allowed),
    wheelPrices: Array.from(rowPrices),
    positionPrices: Array.from(columnPrices),
  };
}

/** Slack that lets 0.8 be within 0.2 of 0.6, as it is on paper. */
const SLACK = 1e-9;

/** Severities with those within tolerance of the worst of their group raised to it. */
export function leveled(severities: readonly number[], tolerance: number): number[] {
  const levels: number[] = [];
  let worst = Infinity;
  for (const i of severities.map((_, k) => k).sort((a, b) => severities[b] - severities[a])) {
    if (worst - severities[i] > tolerance * (1 + SLACK)) worst = severities[i];
    levels[i] = worst;
  }
  return levels;
}
