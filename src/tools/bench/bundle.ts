/** The mathematics as one plain script, as it is built for the add-in: the loader of the tools adds calls of its own. */
import path from 'node:path';
import {createRequire} from 'node:module';
import {build} from 'esbuild';
import type * as Mathematics from './mathematics';
import {OUT, SOURCES} from './folders';

let loaded: Promise<typeof Mathematics> | undefined;

export const mathematics = (): Promise<typeof Mathematics> => (loaded ??= load());

async function load(): Promise<typeof Mathematics> {
  const outfile = path.join(OUT, 'mathematics.cjs');
  await build({
    entryPoints: [path.join(SOURCES, 'mathematics.ts')],
    outfile,
    bundle: true,
    format: 'cjs',
    platform: 'node',
    target: 'es2022',
    logLevel: 'error',
  });
  return createRequire(import.meta.url)(outfile) as typeof Mathematics;
}
