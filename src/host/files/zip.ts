/** The parts of a workbook file, unpacked within bounds and packed again in the same order. */
import {unzipSync, zipSync, type Zippable} from 'fflate';
import {FileProblem} from './problems';

/** By name, in the order of the file. */
export type Parts = Map<string, Uint8Array>;

/** More than any workbook needs, and little enough to be held in memory. */
const LARGEST_TOTAL = 512 * 1024 * 1024;
const MOST_PARTS = 20_000;
/** A part that grows more than this when unpacked, and is large then, is no worksheet. */
const MOST_GROWTH = 400;
const LARGE = 64 * 1024 * 1024;

/**
 * Unpacks a file.
 * @throws FileProblem when it is too large, has names that lead out of the file, or is damaged
 */
export function unpackZip(bytes: Uint8Array): Parts {
  const parts: Parts = new Map();
  const sizes = new Map<string, number>();
  let total = 0;
  let unpacked: Record<string, Uint8Array>;
  try {
    // Sizes are looked at before anything is unpacked.
    unpacked = unzipSync(bytes, {
      filter: ({name, size, originalSize}) => {
        total += originalSize;
        if (total > LARGEST_TOTAL) throw new FileProblem('is too large: unpacked it would exceed 512 MB');
        if (originalSize > LARGE && originalSize > size * MOST_GROWTH) {
          throw new FileProblem(`is refused: its part ${name} is packed beyond reason`);
        }
        if (isOutside(name)) throw new FileProblem(`is refused: its part ${name} would lie outside of it`);
        if (sizes.has(name)) throw new FileProblem(`is damaged: it has two parts ${name}`);
        if (sizes.size >= MOST_PARTS) throw new FileProblem('is refused: it has too many parts');
        sizes.set(name, originalSize);
        return true;
      },
    });
  } catch (error) {
    if (error instanceof FileProblem) throw error;
    throw new FileProblem('is damaged: it cannot be unpacked, perhaps because it is incomplete');
  }
  for (const [name, size] of sizes) {
    // Never more than declared is unpacked; less means that something is missing.
    if (unpacked[name].length !== size) throw new FileProblem(`is damaged: its part ${name} is incomplete`);
    parts.set(name, unpacked[name]);
  }
  return parts;
}

const isOutside = (name: string): boolean =>
  name.startsWith('/') || /^[A-Za-z]:/.test(name) || name.split(/[\\/]/).includes('..');

/** Packs parts in their order; the same parts give the same bytes. */
export function packZip(parts: Parts, level: 0 | 6 = 6): Uint8Array {
  const files: Zippable = Object.create(null) as Zippable;
  for (const [name, content] of parts) files[name] = content;
  return zipSync(files, {level, mtime: new Date(1980, 0, 1)});
}
