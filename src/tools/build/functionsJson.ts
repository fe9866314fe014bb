import {metadata} from '../../functions/metadata';
import {probeMetadata} from '../../functions/probe';

/**
 * functions.json.
 * @param url where the build is served
 * @param development with the function that shows how cells arrive
 */
export function functionsJson(url: string, development: boolean) {
  const {functions, ...rest} = metadata(`${url}/reference.html`);
  return {...rest, functions: development ? [...functions, probeMetadata] : functions};
}
