/** A figure for a sentence: four significant digits, no trailing zeros. */
export const inWords = (value: number): string => String(Number(value.toPrecision(4)));
