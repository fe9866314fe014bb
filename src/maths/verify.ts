import {inWords} from './format';
import {invalid} from './refusal';
import {difference, type Vector} from './vectors';

export type Verdict = 'as predicted' | 'turned wrong' | 'seating or other';

export interface Verified {
  readonly finding: Verdict;
  readonly en: number;
  readonly reason: string;
}

/**
 * Predicted and measured assembly after a remount. En = size of their difference ÷ combined 95 % uncertainty
 * (normalized error, ISO 13528; value from memory): up to 1 they agree. When they do not but the tire's part, assembly
 * less rim, has the size it should have, the tire was turned by another angle; otherwise it sits differently.
 */
export function verify(
  predicted: Vector,
  plusPredicted: number,
  measured: Vector,
  plusMeasured: number,
  limit: number,
  rim: Vector,
): Verified {
  const plus = Math.sqrt(plusPredicted ** 2 + plusMeasured ** 2);
  if (plus === 0) throw invalid('one of the two uncertainties must be above 0, or nothing can be said', 'plusMeasured');
  const apart = difference(measured, predicted).amount;
  const en = apart / plus;
  const sizes = Math.abs(difference(measured, rim).amount - difference(predicted, rim).amount);
  const finding: Verdict = en <= 1 ? 'as predicted' : sizes <= plus ? 'turned wrong' : 'seating or other';
  const met = measured.amount <= limit ? 'is within' : 'exceeds';
  const why = {
    'as predicted': `measured and predicted differ by ${inWords(apart)}, within the uncertainty of ${inWords(plus)}`,
    'turned wrong': `measured and predicted differ by ${inWords(apart)}, beyond the uncertainty of ${inWords(plus)}, but the tire's part has the size it should have, so it was turned by another angle`,
    'seating or other': `measured and predicted differ by ${inWords(apart)}, beyond the uncertainty of ${inWords(plus)}, and the tire's part has changed its size by ${inWords(sizes)}, so look at the bead seating first`,
  }[finding];
  return {
    finding,
    en,
    reason: `${capital(why)}; what was measured, ${inWords(measured.amount)}, ${met} the limit ${inWords(limit)}.`,
  };
}

const capital = (text: string): string => text[0].toUpperCase() + text.slice(1);
