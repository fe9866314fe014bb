/** Files of dist/ that are derived from the declarations. */
import {metadata} from '../../functions/metadata';
import {DEVELOPMENT, DEVELOPMENT_URL, manifest, PRODUCTION, releaseUrl} from './manifest';
import {referenceHtml} from './referenceHtml';

/**
 * Names and texts. With an address the build is one for release; without, it is for trying on this machine.
 * @param addInUrl where dist/ will be served, from ADDIN_URL
 */
export function derivedFiles(addInUrl: string | undefined): Record<string, string> {
  const url = addInUrl === undefined ? DEVELOPMENT_URL : releaseUrl(addInUrl);
  const variant = addInUrl === undefined ? DEVELOPMENT : PRODUCTION;
  return {
    'functions.json': JSON.stringify(metadata(`${url}/reference.html`), null, 1),
    'manifest.xml': manifest({...variant, url}),
    'reference.html': referenceHtml(),
  };
}
