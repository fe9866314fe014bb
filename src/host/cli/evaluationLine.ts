/** The result of a formula as a line of JSON. */
import {isError, plainMessage, type CellValue} from '../book/cells';
import type {Evaluation} from '../book/workbook';

export function evaluationLine(formula: string, evaluation: Evaluation): string {
  if ('error' in evaluation) {
    const {code, message = plainMessage(code)} = evaluation.error;
    return JSON.stringify({formula, error: code, message});
  }
  const messages: [number, number, string][] = [];
  const values = evaluation.values.map((row, r) =>
    row.map((value: CellValue, c) => {
      if (!isError(value)) return value;
      if (value.message !== undefined) messages.push([r + 1, c + 1, value.message]);
      return value.code;
    }),
  );
  return JSON.stringify({formula, values, ...(messages.length > 0 ? {messages} : {})});
}
