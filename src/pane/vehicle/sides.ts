/** Side and axle of a position as a shop writes it. */
export type Side = 'left' | 'right';

const SIDES: readonly (readonly [RegExp, Side])[] = [
  // Codes: LF, RR, and the German VL, HR, the French AVG, ARD.
  [/^(l[fr]|[vh]l|(av|ar)g)\b/, 'left'],
  [/^(r[fr]|[vh]r|(av|ar)d)\b/, 'right'],
  [/\b(left|links?|gauche|l)\b/, 'left'],
  [/\b(right|rechts?|droite?|r)\b/, 'right'],
];

/** The side that a position's words name; undefined when they name none. */
export function sideOf(position: string): Side | undefined {
  const words = position
    .trim()
    .toLowerCase()
    .replace(/[._/-]+/g, ' ');
  return SIDES.find(([pattern]) => pattern.test(words))?.[1];
}
