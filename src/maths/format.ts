/** A figure for a sentence: four significant digits, no trailing zeros. */
export const inWords = (value: number): string => String(Number(value.toPrecision(4)));

/**
 * A figure with its uncertainty, to the digits that the uncertainty allows: two significant ones of the half-width, and
 * as many decimals of the figure.
 */
export function withUncertainty(value: number, plusminus: number): string {
  if (!(plusminus > 0)) return inWords(value);
  const decimals = Math.min(9, Math.max(0, 1 - Math.floor(Math.log10(plusminus))));
  return `${value.toFixed(decimals)} ± ${plusminus.toFixed(decimals)}`;
}
