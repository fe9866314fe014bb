/** From what a person typed for each argument to a formula, and to the cells that the function gets. */
import {NAMESPACE} from '../../functions/catalogue';
import type {Cell, Raw} from '../../functions/cells';
import type {Argument, Declaration} from '../../functions/declare';
import type {CellValue} from '../../workbook/ledger';

const REFERENCE = /^(?:'(?:[^']|'')+'!|[A-Za-z_][\w.]*!)?\$?[A-Za-z]{1,3}\$?\d+(?::\$?[A-Za-z]{1,3}\$?\d+)?$/;

export const isReference = (text: string): boolean => REFERENCE.test(text.trim());

const WORDS = new Set(['text', 'choice', 'part']);

/** An argument as the formula writes it: blanks of readings as missing, words in quotation marks. */
function written({kind}: Argument, typed: string): string {
  const text = typed.trim();
  if (isReference(text)) return kind === 'readings' ? `IF(${text}="","",${text})` : text;
  const plainWord = WORDS.has(kind) && !/^["{(]|[([]/.test(text) && Number.isNaN(Number(text));
  return plainWord ? `"${text.replace(/"/g, '""')}"` : text;
}

/** The formula, arguments left out at the end left out, others as empty places. */
export function formulaOf(declared: Declaration, typed: readonly string[]): string {
  const list = declared.arguments.map((argument, i) => {
    const text = typed[i]?.trim() ?? '';
    return text === '' ? '' : written(argument, text);
  });
  while (list.length > 0 && list[list.length - 1] === '') list.pop();
  return `=${NAMESPACE}.${declared.name}(${list.join(',')})`;
}

/** Reads the cells of a reference. */
export type ReadCells = (reference: string) => Promise<CellValue[][]>;

/**
 * The arguments as the function gets them; undefined when one is an expression that only Excel can work out.
 */
export async function cellsOf(
  declared: Declaration,
  typed: readonly string[],
  read: ReadCells,
): Promise<Raw[] | undefined> {
  const args: Raw[] = [];
  for (let i = 0; i < declared.arguments.length; i++) {
    const text = typed[i]?.trim() ?? '';
    const {kind} = declared.arguments[i];
    if (text === '') args.push(null);
    else if (isReference(text)) {
      const cells = await read(text);
      // Excel hands a blank cell over as 0, except where the formula says otherwise.
      args.push(kind === 'readings' ? cells : cells.map((row) => row.map((cell) => (cell === '' ? 0 : cell))));
    } else {
      const value = literal(text, WORDS.has(kind));
      if (value === undefined) return undefined;
      args.push(value);
    }
  }
  return args;
}

/** A number, word, TRUE, FALSE or array constant. */
function literal(text: string, words: boolean): Raw | undefined {
  const array = /^\{(.*)\}$/s.exec(text);
  if (array !== null) {
    const rows = array[1].split(';').map((row) => row.split(',').map((cell) => single(cell.trim(), false)));
    return rows.some((row) => row.includes(undefined)) ? undefined : (rows as Cell[][]);
  }
  return single(text, words);
}

function single(text: string, words: boolean): Cell | undefined {
  if (/^".*"$/s.test(text)) return text.slice(1, -1).replace(/""/g, '"');
  if (/^(true|false)$/i.test(text)) return /^true$/i.test(text);
  if (text !== '' && !Number.isNaN(Number(text))) return Number(text);
  return words && !/[(![]/.test(text) ? text : undefined;
}
