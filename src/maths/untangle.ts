import {condition, coefficients, factor, residuals} from './leastSquares';
import {squares} from './harmonics';
import {inWords} from './format';
import {invalid} from './refusal';
import {point, unit, vector, type Vector} from './vectors';

export interface Untangled {
  readonly rim: Vector;
  readonly tire: Vector;
  readonly clamping: Vector;
  readonly misfit: number;
}

const WORST_CONDITION = 100;

/**
 * Three or more spins of one wheel, the tire turned on the rim and the wheel turned on the shaft between them: least
 * squares of rim + tire·e^{iτ} + clamping·e^{−iσ}. The misfit is the root mean square of what is left of the spins.
 *
 * Complex unknowns are solved as pairs of real columns, (x, y) and the same a quarter turn on.
 * @throws Refusal `invalid` when the turns cannot tell the three apart (condition number above 100)
 */
export function untangle(
  spins: readonly Vector[],
  tireTurns: ArrayLike<number>,
  shaftTurns: ArrayLike<number>,
): Untangled {
  const n = 2 * spins.length;
  const x = new Float64Array(n * 6);
  const y = new Float64Array(n);
  spins.forEach((spin, i) => {
    const found = point(spin);
    y[2 * i] = found.x;
    y[2 * i + 1] = found.y;
    [unit(0), unit(tireTurns[i]), unit(-shaftTurns[i])].forEach((by, k) => {
      x[2 * k * n + 2 * i] = by.x;
      x[2 * k * n + 2 * i + 1] = by.y;
      x[(2 * k + 1) * n + 2 * i] = -by.y;
      x[(2 * k + 1) * n + 2 * i + 1] = by.x;
    });
  });
  const factored = factor(x, n, 6);
  const spread = condition(factored.r, 6);
  if (!(spread <= WORST_CONDITION)) {
    const how =
      spread < 1e9
        ? `condition number ${inWords(spread)}, at most ${WORST_CONDITION} is wanted`
        : 'they repeat or go together';
    throw invalid(`these turns cannot tell rim, tire and clamping apart (${how})`, 'tireTurns and shaftTurns');
  }
  const c = coefficients(factored, y);
  const part = (k: number): Vector => vector({x: c[2 * k], y: c[2 * k + 1]});
  return {
    rim: part(0),
    tire: part(1),
    clamping: part(2),
    misfit: Math.sqrt(squares(residuals(factored, y)) / spins.length),
  };
}
