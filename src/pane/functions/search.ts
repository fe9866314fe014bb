/** Finding a function by the words that people in the trade use. */
import {CATALOGUE} from '../../functions/catalogue';
import type {Declaration} from '../../functions/declare';

/** Words that stand in no declaration, and the functions that they mean. */
const TRADE_WORDS: Readonly<Record<string, readonly string[]>> = {
  dent: ['LOCAL', 'READINGCHECK'],
  bulge: ['LOCAL'],
  'flat spot': ['LOCAL', 'MATCHCURVE', 'ASSESSREADINGS'],
  'heavy spot': ['TRIALWEIGHT', 'RESULTANT', 'STATICCOUPLE'],
  'high spot': ['HARMONIC', 'MATCH', 'ANGLETEST'],
  'low spot': ['HARMONIC', 'MATCH'],
  oval: ['HARMONICS', 'MATCHCURVE', 'ROUNDNESS'],
  spoke: ['SPOKES'],
  hidden: ['SPOKES'],
  shake: ['SOURCES', 'FORCE', 'ORDER'],
  shimmy: ['SOURCES', 'ORDER'],
  wobble: ['BEADSEATS', 'STATICCOUPLE'],
  balance: ['STATICCOUPLE', 'TRANSFER', 'STOCKPAIR', 'TOLERANCE'],
  weight: ['STOCKPAIR', 'STOCK', 'SPLIT', 'STRIP'],
  rotate: ['PLACE', 'MATCH'],
  rotation: ['PLACE'],
  supplier: ['GROUPRATE', 'COMPARE'],
  comeback: ['RISK', 'MATCHVALUE', 'CHOICE'],
  warranty: ['TIN', 'FINGERPRINT'],
  'date code': ['TIN'],
  age: ['TIN'],
  dot: ['TIN'],
  remount: ['REMOUNT', 'TURNED', 'VERIFY'],
  clamp: ['REMOUNT', 'UNTANGLE'],
  signature: ['FINGERPRINT'],
  column: ['EACHROW'],
};

/** How well a function fits the words; 0 when it does not. */
function fit(d: Declaration, query: string): number {
  const name = d.name.toLowerCase();
  if (name === query) return 100;
  let score = name.startsWith(query) ? 50 : name.includes(query) ? 30 : 0;
  for (const [word, names] of Object.entries(TRADE_WORDS)) {
    const at = names.indexOf(d.name);
    if (at >= 0 && (word.includes(query) || query.includes(word))) score = Math.max(score, 40 - at);
  }
  const words = query.split(/\s+/);
  const all = (text: string): boolean => words.every((word) => text.toLowerCase().includes(word));
  if (all(d.summary)) score = Math.max(score, 25);
  if (all([d.summary, ...d.notes, ...d.arguments.map(({says}) => says)].join(' '))) score = Math.max(score, 10);
  return score;
}

/** Functions that fit, best first; all in the order of the catalogue when nothing is asked. */
export function search(query: string): readonly Declaration[] {
  const asked = query.trim().toLowerCase();
  if (asked === '') return CATALOGUE;
  return CATALOGUE.map((declared) => ({declared, score: fit(declared, asked)}))
    .filter(({score}) => score > 0)
    .sort((a, b) => b.score - a.score)
    .map(({declared}) => declared);
}
