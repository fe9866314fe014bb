/** Operators of formulas. */
import {cellError, isError, type CellValue} from '../../host/book/cells';
import {asNumber, asText, Beyond, compare, type Grid} from './values';

/**
 * What an operator makes of two values.
 * @throws Beyond for one that is not known here
 */
export function operate(operator: string, a: CellValue, b: CellValue): CellValue {
  if (operator === '&') {
    const [left, right] = [asText(a), asText(b)];
    return isError(left) ? left : isError(right) ? right : left + right;
  }
  if (/^[<>=]/.test(operator)) {
    const order = compare(a, b);
    if (isError(order)) return order;
    return {'=': order === 0, '<>': order !== 0, '<': order < 0, '>': order > 0, '<=': order <= 0, '>=': order >= 0}[
      operator
    ]!;
  }
  const [x, y] = [asNumber(a), asNumber(b)];
  if (isError(x)) return x;
  if (isError(y)) return y;
  if (operator === '/' && y === 0) return cellError('#DIV/0!');
  const result = {'+': x + y, '-': x - y, '*': x * y, '/': x / y, '^': x ** y}[operator];
  if (result === undefined) throw new Beyond(`the operator ${operator} is not worked out here`);
  return Number.isFinite(result) ? result : cellError('#NUM!');
}

/** A text that stands for others when something is looked for. */
export const hasWildcards = (grid: Grid): boolean =>
  grid.some((row) => row.some((cell) => typeof cell === 'string' && /[*?~]/.test(cell)));
