/** What the commands have in common: their exit codes and how they end. */
import {parseArgs, type ParseArgsConfig} from 'node:util';
import {FileProblem} from '../files/problems';

/** The command was called in a way that it does not understand. */
export class UsageProblem extends Error {}

export const EXIT = {done: 0, found: 1, file: 2, usage: 64, fault: 70} as const;

/** The values of the options and the other arguments. */
export function readArguments<const O extends NonNullable<ParseArgsConfig['options']>>(options: O) {
  try {
    return parseArgs({options, allowPositionals: true, strict: true});
  } catch (error) {
    throw new UsageProblem(error instanceof Error ? error.message.split('. ')[0] : String(error));
  }
}

/**
 * Runs a command to its end: problems in one sentence on standard error, an exit code (what the command gives back, or
 * else 0), and no waiting for timers.
 */
export async function runCommand(help: string, command: () => Promise<number | void>): Promise<void> {
  silenceLibraries();
  // The reader of a pipe may have had enough.
  process.stdout.on('error', () => process.exit(EXIT.done));
  process.on('unhandledRejection', (error) => void report(error, help).then((code) => process.exit(code)));
  let code: number = EXIT.done;
  try {
    if (process.argv.slice(2).includes('--help')) await print(help);
    else code = (await command()) ?? EXIT.done;
  } catch (error) {
    code = await report(error, help);
  }
  process.exit(code);
}

async function report(error: unknown, help: string): Promise<number> {
  if (error instanceof FileProblem) {
    await complain(error.message);
    return EXIT.file;
  }
  if (error instanceof UsageProblem) {
    await complain(`${error.message}\n\n${help}`);
    return EXIT.usage;
  }
  await complain(`A fault of this program; please report it.\n${error instanceof Error ? error.stack : String(error)}`);
  return EXIT.fault;
}

/** What libraries have to say is not for the output of a command. */
function silenceLibraries(): void {
  for (const method of ['log', 'info', 'warn', 'error', 'debug', 'trace'] as const) console[method] = () => undefined;
}

/** Writes a line and waits until it is out: a pipe may be slower than the end of the process. */
export const print = (line: string): Promise<void> => write(process.stdout, line);

const complain = (line: string): Promise<void> => write(process.stderr, line);

const write = (stream: NodeJS.WriteStream, line: string): Promise<void> =>
  new Promise((resolve) => {
    stream.write(`${line}\n`, () => resolve());
  });
