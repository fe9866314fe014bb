/** Workbook files on the disk: every problem in one sentence with the file's name, and no half-written file ever. */
import {
  accessSync,
  closeSync,
  constants,
  existsSync,
  fsyncSync,
  lstatSync,
  openSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import path from 'node:path';
import {FileProblem} from '../files/problems';

/** The path as the user means it: npm starts commands in the folder of the package. */
export const userPath = (name: string): string => path.resolve(process.env.INIT_CWD ?? process.cwd(), name);

/** Does something with a file; its problems get the name of the file, as it was given, before their words. */
export async function naming<T>(name: string, act: () => Promise<T>): Promise<T> {
  try {
    return await act();
  } catch (error) {
    throw error instanceof FileProblem ? new FileProblem(`${name} ${error.message}`) : error;
  }
}

/**
 * The bytes of a file.
 * @throws FileProblem when it is not there or cannot be read
 */
export function readBytes(name: string): Uint8Array {
  const file = userPath(name);
  try {
    const stat = statSync(file);
    if (stat.isDirectory()) throw new FileProblem(`${name} is a folder, not a workbook`);
    // A device or a pipe may have no end.
    if (!stat.isFile()) throw new FileProblem(`${name} is no ordinary file`);
    if (stat.size > LARGEST_FILE) throw new FileProblem(`${name} is too large: more than 256 MB`);
    return readFileSync(file);
  } catch (error) {
    if (error instanceof FileProblem) throw error;
    throw new FileProblem(`${name} ${READING[codeOf(error)] ?? `cannot be read (${codeOf(error)})`}`);
  }
}

const LARGEST_FILE = 256 * 1024 * 1024;

const LOCKED = 'is locked: close it in the program that has it open';

const READING: Readonly<Record<string, string>> = {
  ENOENT: 'does not exist',
  ENOTDIR: 'does not exist',
  EACCES: 'cannot be read: permission is missing',
  EPERM: LOCKED,
  EBUSY: LOCKED,
};

const WRITING: Readonly<Record<string, string>> = {
  ENOENT: 'cannot be written: its folder does not exist',
  ENOTDIR: 'cannot be written: its folder does not exist',
  EACCES: 'cannot be written: permission is missing',
  EROFS: 'cannot be written: the disk is read-only',
  ENOSPC: 'cannot be written: the disk is full',
  EDQUOT: 'cannot be written: the disk is full',
  EFBIG: 'cannot be written: the disk takes no file of this size',
  EPERM: LOCKED,
  EBUSY: LOCKED,
};

const codeOf = (error: unknown): string => (error as NodeJS.ErrnoException).code ?? String(error);

/**
 * Makes sure that a file may be written.
 * @throws FileProblem when it is the input itself, is no .xlsx file, or exists and may not be replaced
 */
export function checkOutput(name: string, input: string, replace: boolean): void {
  const file = targetOf(name);
  if (path.extname(userPath(name)).toLowerCase() !== '.xlsx') throw new FileProblem(`${name} does not end with .xlsx`);
  if (!existsSync(path.dirname(file))) throw new FileProblem(`${name} ${WRITING.ENOENT}`);
  if (!existsSync(file)) return;
  if (statSync(file).isDirectory()) throw new FileProblem(`${name} is a folder`);
  if (!statSync(file).isFile()) throw new FileProblem(`${name} is no ordinary file`);
  if (isSameFile(file, userPath(input))) throw new FileProblem(`${name} is the input itself: write to another file`);
  if (!replace) throw new FileProblem(`${name} exists: use --force to replace it`);
  try {
    // Its folder would let it be replaced; somebody has protected it all the same.
    accessSync(file, constants.W_OK);
  } catch {
    throw new FileProblem(`${name} cannot be written: it is read-only`);
  }
}

/** The file that a name leads to: a link stays, and what it points to is written. */
function targetOf(name: string): string {
  const file = userPath(name);
  if (!lstatSync(file, {throwIfNoEntry: false})?.isSymbolicLink()) return file;
  try {
    return realpathSync(file);
  } catch {
    throw new FileProblem(`${name} is a link to a file that does not exist`);
  }
}

/** By what they are on the disk, so that links and letter case do not matter. */
function isSameFile(a: string, b: string): boolean {
  if (!existsSync(b)) return false;
  const [one, other] = [statSync(a, {bigint: true}), statSync(b, {bigint: true})];
  return one.dev === other.dev && one.ino === other.ino;
}

/**
 * Writes a file: beside it first, then under its name, so that it is there as a whole or not at all.
 * @throws FileProblem when it cannot be written
 */
export function writeBytes(name: string, bytes: Uint8Array): void {
  const file = targetOf(name);
  const beside = path.join(path.dirname(file), `.${path.basename(file)}.${process.pid}.part`);
  try {
    const descriptor = openSync(beside, constants.O_WRONLY | constants.O_CREAT | constants.O_EXCL, 0o666);
    try {
      for (let written = 0; written < bytes.length;) written += writeSync(descriptor, bytes, written);
      fsyncSync(descriptor);
    } finally {
      closeSync(descriptor);
    }
    renameSync(beside, file);
    settle(path.dirname(file));
  } catch (error) {
    rmSync(beside, {force: true});
    throw new FileProblem(`${name} ${WRITING[codeOf(error)] ?? `cannot be written (${codeOf(error)})`}`);
  }
}

/** Has the disk keep the new name of a file, where the system can be asked to. */
function settle(folder: string): void {
  try {
    const descriptor = openSync(folder, constants.O_RDONLY);
    try {
      fsyncSync(descriptor);
    } finally {
      closeSync(descriptor);
    }
  } catch {
    // Windows does not open folders; the file is written all the same.
  }
}
