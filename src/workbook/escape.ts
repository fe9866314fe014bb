/** Words of the user within formulas and cells: they stay words, whatever characters they have. */

/** Excel takes no longer text between quotation marks. */
const LONGEST = 255;
/** Characters of a piece; some take the room of two. */
const PIECE = 127;

/** A text as a formula writes it: one too long for a pair of quotation marks in pieces that are put together. */
export function quoted(text: string): string {
  if (text.length <= LONGEST) return `"${text.replace(/"/g, '""')}"`;
  const pieces = text.match(new RegExp(`.{1,${PIECE}}`, 'gsu')) ?? [];
  return `(${pieces.map((piece) => quoted(piece)).join('&')})`;
}

/** A column's name within a structured reference: brackets, number signs and apostrophes need an apostrophe before. */
export const columnName = (name: string): string => name.replace(/['[\]#@]/g, "'$&");

/**
 * A text as it is put into a cell: not a formula for its first character, nor a date, a number or a truth value for how
 * it reads, such as "1-2". Excel does not show the apostrophe.
 */
export const plainText = (text: string): string =>
  /^\p{L}[\p{L} ]*$/u.test(text) && !/^(?:true|false)$/i.test(text) ? text : text === '' ? '' : `'${text}`;
