/** Files of dist/ that are derived from the declarations. */
import {functionsJson} from './functionsJson';
import {DEVELOPMENT, DEVELOPMENT_URL, manifest, PRODUCTION, releaseUrl} from './manifest';
import type {Publisher} from './publisher';
import {referenceHtml} from './referenceHtml';

/**
 * Names and texts. With an address the build is one for release; without, it is for trying on this machine.
 * @param source manifest/manifest.xml
 * @param addInUrl where dist/ will be served, from ADDIN_URL
 * @param by who serves it; placeholders without
 */
export function derivedFiles(source: string, addInUrl: string | undefined, by?: Publisher): Record<string, string> {
  const url = addInUrl === undefined ? DEVELOPMENT_URL : releaseUrl(addInUrl);
  const variant = addInUrl === undefined ? DEVELOPMENT : PRODUCTION;
  return {
    'functions.json': JSON.stringify(functionsJson(url, addInUrl === undefined), null, 1),
    'manifest.xml': manifest(source, {...variant, url}, by),
    'reference.html': referenceHtml(),
  };
}
