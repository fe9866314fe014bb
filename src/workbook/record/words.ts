/** What a record sheet says in words. */
import {quoted} from '../escape';
import type {Finding} from '../../maths/assess';

/** What to mind wherever wheels are demounted, mounted or inflated. */
export const CAUTIONS: readonly string[] = [
  'Demounting and inflating are for trained people, with the tire and rim makers’ instructions and local rules.',
  'Never inflate above the maximum that the tire or rim maker states.',
  'Rims of large vehicles: deflate by removing the valve core, use a restraining device, nobody in the trajectory, never hammer or heat rim parts, do not interchange multi-piece parts (29 CFR 1910.177).',
  'Wheel nuts by the vehicle maker’s figure, checked again after the first drive.',
];

/** Placeholders: {a} assembly, {l} limit, {m} after a match, with the unit. */
export const CUSTOMER_WORDS: Readonly<Record<Finding, string>> = {
  accept: 'Round enough: {a} of runout, the limit is {l}. It only needs balancing.',
  remeasure:
    'Too close to the limit to decide: {a}, the limit is {l}. It is cleaned, clamped anew and measured again before anything is replaced.',
  'match mount':
    'Tire and rim are both usable, but their high points come together and give {a}; the limit is {l}. Turned on the rim, the tire leaves {m}.',
  'replace tire':
    'The tire is out of round: the wheel has {a}, the limit is {l}, and no turn on this rim cures it (the best leaves {m}). The tire is to be replaced.',
  'replace rim':
    'The rim is out of round: the wheel has {a}, the limit is {l}, and no turn of this tire cures it (the best leaves {m}). The rim is to be replaced.',
  'replace both':
    'Tire and rim are both out of round: the wheel has {a}, the limit is {l}, and no turn cures it (the best leaves {m}). Both are to be replaced.',
};

/** A formula's text from words with placeholders. */
export function wordsFormula(words: string, figures: Readonly<Record<string, string>>): string {
  return words
    .split(/\{(\w)\}/)
    .map((piece, i) => (i % 2 === 1 ? figures[piece] : quoted(piece)))
    .filter((piece) => piece !== '""')
    .join('&');
}
