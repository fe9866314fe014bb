/** `npm run --silent recalc -- IN.xlsx OUT.xlsx`: a workbook with its worksheet functions calculated anew. */
import type {Recomputed} from '../book/recompute';
import {bounds} from '../node/bounds';
import {checkOutput, naming, readBytes, writeBytes} from '../node/files';
import {print, readArguments, runCommand, UsageProblem} from './command';

const HELP = `Calculates the WHEEL functions of a workbook anew, and what depends on them, and writes the result into a new file.
Everything else in the file stays as it is.

  npm run --silent recalc -- IN.xlsx OUT.xlsx

  --force   replace OUT.xlsx when it exists; IN.xlsx itself is never written
  --large   without the bounds of 60 seconds and 1 GB of memory, beyond which a file is given up
  --help    this text

Prints how many formulas were calculated, how many values changed, and the errors with their addresses.

Ends with 0 when the file was written, with errors in cells or without; 2 when a file cannot be read or written or is given up; 64 when
the command was not understood.`;

/** The engine takes its time to load, and is not needed to find out that a file cannot be read. */
async function recomputed(name: string, bytes: Uint8Array): Promise<Recomputed> {
  const {readWorkbook} = await import('../files/read');
  const book = await naming(name, () => readWorkbook(bytes));
  const [{recompute}, {nodeEngine}] = await Promise.all([import('../book/recompute'), import('../node/engine')]);
  return recompute(bytes, book, nodeEngine());
}

function report(output: string, {ours, dependents, changed, errors, kept}: Recomputed): string {
  return [
    `${output}: ${counted(ours, 'formula')} with WHEEL functions and ${dependents} that ${dependents === 1 ? 'depends' : 'depend'} on them, ` +
      `${counted(changed, 'value')} changed, ${counted(errors.length, 'error')}${kept.length > 0 ? `, ${kept.length} not calculated` : ''}.`,
    ...errors.map(({address, code, message}) => `${address}  ${code}  ${message}`),
    ...kept.map(({address, reason}) => `${address}  kept as it was  ${reason}`),
  ].join('\n');
}

const counted = (count: number, what: string): string => `${count} ${what}${count === 1 ? '' : 's'}`;

await runCommand(HELP, async () => {
  const {values, positionals} = readArguments({force: {type: 'boolean'}, large: {type: 'boolean'}});
  if (positionals.length !== 2) throw new UsageProblem('two files are wanted: IN.xlsx OUT.xlsx');
  const [input, output] = positionals;
  const bytes = readBytes(input);
  const check = (): void => checkOutput(output, input, values.force ?? false);
  check();
  const result = await bounds(values.large ?? false).within(input, () => recomputed(input, bytes));
  // Again: another program may have made it meanwhile.
  check();
  writeBytes(output, result.bytes);
  await print(report(output, result));
});
