/** `npm run --silent formula -- '=WHEEL.MATCH(…)'`: formulas calculated as in a workbook, one line of JSON each. */
import {createInterface} from 'node:readline';
import {parseCell} from '../book/addresses';
import type {Workbook} from '../book/workbook';
import {evaluationLine} from './evaluationLine';
import {bareFormula} from '../formulas/syntax';
import {bounds} from '../node/bounds';
import {naming, readBytes} from '../node/files';
import {print, readArguments, runCommand, UsageProblem} from './command';

const HELP = `Calculates formulas as a workbook does and prints one line of JSON for each.

  npm run --silent formula -- '=WHEEL.MATCH({0.8,40},{0.6,100})'
  npm run --silent formula -- '=SUM(A1:A9)' --book readings.xlsx
  npm run --silent formula < formulas.txt

Without a formula as an argument, formulas are read from standard input, one a line.

  --book FILE   calculate inside this workbook (.xlsx); the file is only read
  --at CELL     as if the formula stood in this cell, such as Sheet1!B3 or B3
  --large       without the bounds of 60 seconds and 1 GB of memory, beyond which a file or a formula is given up
  --help        this text

A line holds {"formula","values"}, with rows of values, or {"formula","error","message"}. An error within values is its
code as text; "messages" then lists [row, column, message], counted from 1.

Ends with 0 when all formulas were calculated, whatever they gave; 2 when the file cannot be read or is given up; 64 when the command
was not understood.`;

/** The engine takes its time to load, and is not needed to find out that a file is not there. */
async function opened(name: string | undefined): Promise<Workbook> {
  const bytes = name === undefined ? undefined : readBytes(name);
  const {emptyWorkbook, openWorkbook} = await import('../node/books');
  return bytes && name !== undefined ? naming(name, () => openWorkbook(bytes)) : emptyWorkbook();
}

const linesOf = (input: NodeJS.ReadableStream): AsyncIterable<string> => createInterface({input, crlfDelay: Infinity});

function placeOf(text: string, {sheets}: Workbook): {sheet: string; cell: string} {
  const end = text.lastIndexOf('!');
  const written = text
    .slice(0, Math.max(end, 0))
    .replace(/^'(.*)'$/, '$1')
    .replace(/''/g, "'");
  const cell = text.slice(end + 1);
  const sheet = end < 0 ? sheets[0] : sheets.find((name) => name.toLowerCase() === written.toLowerCase());
  if (sheet === undefined)
    throw new UsageProblem(`--at: the workbook has no sheet ${written}, but ${sheets.join(', ')}`);
  if (!parseCell(cell)) throw new UsageProblem(`--at: ${cell} is not the address of a cell, such as B3`);
  return {sheet, cell};
}

await runCommand(HELP, async () => {
  const {values, positionals} = readArguments({book: {type: 'string'}, at: {type: 'string'}, large: {type: 'boolean'}});
  if (positionals.length === 0 && process.stdin.isTTY) throw new UsageProblem('a formula is wanted');
  const {within} = bounds(values.large ?? false);
  const workbook = await within(values.book ?? 'The engine', () => opened(values.book));
  const at = values.at === undefined ? undefined : placeOf(values.at, workbook);
  for await (const formula of positionals.length > 0 ? positionals : linesOf(process.stdin)) {
    if (formula.trim() === '') continue;
    const shown = `=${bareFormula(formula)}`;
    await print(evaluationLine(shown, await within(shown.slice(0, 60), () => workbook.evaluate(formula, at))));
  }
  workbook.dispose();
});
