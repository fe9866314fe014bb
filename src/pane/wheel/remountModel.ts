/** After a remount: what was predicted against what was measured. */
import {shortWay} from '../../maths/angles';
import {fit, harmonic, plusMinus} from '../../maths/harmonics';
import {turnDone} from '../../maths/match';
import {readingsOf} from '../../maths/readings';
import {Refusal} from '../../maths/refusal';
import {plus, point, product, unit, vector, type Vector} from '../../maths/vectors';
import {verify, type Verified} from '../../maths/verify';
import type {CellValue, LedgerRecord} from '../../workbook/ledger';
import {ORDERS, wheelModel, type WheelModel} from './model';

export interface Remount {
  readonly turn: number;
  readonly predicted: Vector;
  readonly plusPredicted: number;
  readonly measured: Vector;
  readonly plusMeasured: number;
  readonly verified: Verified;
  /** By how much the tire was really turned, in (−180, 180]; undefined for a round part. */
  readonly reallyTurned: number | undefined;
}

/** The turn that the record before asked for, in whole degrees, in (−180, 180]. */
export const askedTurn = (before: WheelModel): number =>
  Math.round(shortWay(before.parts?.assessed?.turn ?? before.parts?.curve.turn ?? 0));

/**
 * Prediction from the record before, with the tire turned, against the assembly readings of the record now.
 * @returns why not, in words, when one of the two cannot be had
 */
export function remount(before: LedgerRecord, now: LedgerRecord, turn: number): Remount | string {
  const then = wheelModel(before);
  const {parts, limits} = then;
  if (parts === undefined || limits === undefined)
    return `The record before has no figures: ${then.missing ?? 'no limits.'}`;
  const plusPredicted = parts.assessed?.plusafter;
  try {
    const again = fit(
      readingsOf(
        now.cells('Assembly readings').map((cell: CellValue) => (typeof cell === 'number' ? cell : NaN)),
        'assembly',
      ),
      ORDERS,
    );
    const plusMeasured = plusMinus(again, 1);
    if (plusPredicted === undefined || plusMeasured === undefined)
      return 'There are too few readings to say how sure the figures are.';
    const [rim, tire] = [harmonic(parts.rim, 1), harmonic(parts.tire, 1)];
    const predicted = vector(plus(point(rim), product(point(tire), unit(turn))));
    const measured = harmonic(again, 1);
    const {turn: really} = turnDone(rim, tire, measured);
    return {
      turn,
      predicted,
      plusPredicted,
      measured,
      plusMeasured,
      verified: verify(predicted, plusPredicted, measured, plusMeasured, limits.assembly, rim),
      reallyTurned: really === undefined ? undefined : shortWay(really),
    };
  } catch (error) {
    if (error instanceof Refusal) return error.message;
    throw error;
  }
}
