/** The same sums in C, compiled on the spot. */
import {execFileSync, spawnSync} from 'node:child_process';
import {mkdirSync, writeFileSync} from 'node:fs';
import path from 'node:path';
import {OUT, SOURCES} from './folders';

export interface CRound {
  readonly time: number;
  /** The sum of all figures. */
  readonly sum: number;
}

/** Runs one round of a mode on data; undefined when there is no gcc. */
export type CProgram = (mode: 'even' | 'qr', file: string, positions: number) => CRound;

export function compileC(): CProgram | undefined {
  if (spawnSync('gcc', ['--version']).status !== 0) return undefined;
  const program = path.join(OUT, 'harmonics');
  mkdirSync(OUT, {recursive: true});
  const source = path.join(SOURCES, 'c', 'harmonics.c');
  execFileSync('gcc', ['-O3', '-march=native', '-o', program, source, '-lm']);
  return (mode, file, positions) => {
    // The first of its two rounds warms up, as one does here.
    const lines = execFileSync(program, [mode, file, String(positions), '2'], {encoding: 'utf8'})
      .trim()
      .split('\n');
    const [time, sum] = lines[1].split(' ').map(Number);
    return {time, sum};
  };
}

/** Puts numbers where the program reads them. */
export function dataFile(name: string, ...parts: Float64Array[]): string {
  mkdirSync(OUT, {recursive: true});
  const file = path.join(OUT, name);
  writeFileSync(file, Buffer.concat(parts.map((part) => Buffer.from(part.buffer, part.byteOffset, part.byteLength))));
  return file;
}
