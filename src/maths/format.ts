/** A figure for a sentence: four significant digits, no trailing zeros. */
export function inWords(value: number): string {
  const digits = value.toPrecision(4);
  if (digits.includes('e')) return String(Number(digits));
  // Cut by hand: the runtime keeps every number that it turns into a text for a while, which a column of sentences pays
  // for in collecting garbage.
  let end = digits.length;
  if (digits.includes('.')) {
    while (digits[end - 1] === '0') end--;
    if (digits[end - 1] === '.') end--;
  }
  return digits.slice(0, end);
}

/**
 * A figure with its uncertainty, to the digits that the uncertainty allows: two significant ones of the half-width, and
 * as many decimals of the figure.
 */
export function withUncertainty(value: number, plusminus: number): string {
  if (!(plusminus > 0)) return inWords(value);
  const decimals = Math.min(9, Math.max(0, 1 - Math.floor(Math.log10(plusminus))));
  return `${value.toFixed(decimals)} ± ${plusminus.toFixed(decimals)}`;
}
