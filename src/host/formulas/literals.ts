/** Constants of a formula as text that the engine reads without changing them. */
import type {ArrayExpression} from '@borgar/fx';
import {packedConstant, packedFailure} from './packing';

/** Texts without digits or signs reach a function as they stand. */
const HARMLESS = /^[\p{L} .,:;]*$/u;

/** A number, a text, TRUE or FALSE. */
export function literal(value: string | number | boolean): string {
  if (typeof value === 'boolean') return value ? 'TRUE' : 'FALSE';
  if (typeof value === 'string') return HARMLESS.test(value) ? `"${value}"` : packedConstant(value);
  if (!Number.isFinite(value)) return packedFailure('#NUM!', 'a number is too large');
  const text = number(value);
  if (text === undefined) return packedConstant(value);
  return value < 0 ? `(${text})` : text;
}

/** A number as the engine reads it bit for bit. */
function number(value: number): string | undefined {
  const text = String(value === 0 ? 0 : value);
  return text.includes('e') ? undefined : text;
}

/** An array in braces. */
export function array({elements}: ArrayExpression): string {
  const rows = elements.map((row) => row.map(constant));
  const width = rows[0].length;
  if (rows.some((row) => row.length !== width)) {
    return packedFailure('#VALUE!', 'the rows of an array in braces are not equally long');
  }
  const plain = rows.every((row) => row.every((value) => typeof value === 'number' && number(value) !== undefined));
  if (!plain) return packedConstant(rows);
  return `{${rows.map((row) => row.map((value) => number(value as number)).join(',')).join(';')}}`;
}

function constant(element: ArrayExpression['elements'][number][number]): number | string | boolean | {code: string} {
  if (element.type === 'Literal') return element.value;
  if (element.type === 'ErrorLiteral') return {code: element.value};
  return {code: '#VALUE!'};
}
