/** `npm run --silent check -- BOOK.xlsx`: what is wrong with the WHEEL functions of a workbook. */
import type {Checked, Finding} from '../../audit/check';
import {placeAddress} from '../book/addresses';
import {naming, readBytes} from '../node/files';
import {EXIT, print, readArguments, runCommand, UsageProblem} from './command';

const HELP = `Calculates the WHEEL functions of a workbook anew and lists what does not fit: values that are not what the formula gives,
constants typed over formulas, blank cells that are read as zero, formulas that differ from their neighbors, units and
limits that do not go together, functions that got lost, records whose fingerprint no longer fits, and errors. The file
is only read.

  npm run --silent check -- BOOK.xlsx
  npm run --silent check -- BOOK.xlsx --json

  --json   one JSON object: {"file","formulas","findings":[{"sheet","cell","kind","shown","computed","toDo","more"}],"unknown"}
  --help   this text

A line for each finding: sheet, cell, kind, what is shown, what is computed, what to do; with tabs between them.

Ends with 0 when nothing was found; 1 when something was; 2 when the file cannot be read; 64 when the command was not
understood; 70 after a fault of the program itself.`;

/** The engine takes its time to load, and is not needed to find out that a file cannot be read. */
async function checked(name: string, bytes: Uint8Array): Promise<Checked> {
  const {readWorkbook} = await import('../files/read');
  const book = await naming(name, () => readWorkbook(bytes));
  const [{checkBook}, {nodeEngine}] = await Promise.all([import('../book/audited'), import('../node/engine')]);
  return checkBook(book, nodeEngine());
}

const line = ({sheet, cell, kind, shown, computed, toDo, more}: Finding): string =>
  [sheet, more > 0 ? `${cell} (and ${more} more)` : cell, kind, `shown: ${shown}`, `computed: ${computed}`, toDo]
    .map((part) => part.replace(/\s+/g, ' '))
    .join('\t');

await runCommand(HELP, async () => {
  const {values, positionals} = readArguments({json: {type: 'boolean'}});
  if (positionals.length !== 1) throw new UsageProblem('one file is wanted: BOOK.xlsx');
  const [file] = positionals;
  const {findings, formulas, unknown} = await checked(file, readBytes(file));
  if (values.json) {
    await print(
      JSON.stringify({
        file,
        formulas,
        findings: findings.map(({sheet, cell, kind, shown, computed, toDo, more}) => ({
          sheet,
          cell,
          kind,
          shown,
          computed,
          toDo,
          more,
        })),
        unknown: unknown.map(({place, reason}) => ({
          cell: placeAddress(place),
          reason,
        })),
      }),
    );
  } else {
    for (const finding of findings) await print(line(finding));
    for (const {place, reason} of unknown) await print(`${placeAddress(place)}\tnot calculated here\t${reason}`);
    if (findings.length === 0) await print(`${file}: ${formulas} formulas with WHEEL functions, nothing found.`);
  }
  return findings.length > 0 ? EXIT.found : EXIT.done;
});
