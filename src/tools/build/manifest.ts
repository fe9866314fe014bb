/** The add-in's manifests from their one source. */
import {NAMESPACE} from '../../functions/catalogue';
import {VERSION} from '../../functions/edition';
import {httpsAddress, PLACEHOLDERS} from './publisher';

export interface Variant {
  readonly id: string;
  readonly name: string;
  readonly namespace: string;
  /** Where dist/ is served, without a slash at the end. */
  readonly url: string;
}

/** A build for trying: an add-in of its own beside the released one. */
export const DEVELOPMENT: Omit<Variant, 'url'> = {
  id: '7f2c5a0e-3b64-4e0d-9c55-1a0d8d0b6f42',
  name: 'Wheel Ledger (development)',
  namespace: `${NAMESPACE}DEV`,
};

export const PRODUCTION: Omit<Variant, 'url'> = {
  id: 'b0a4a7c6-52f1-4a0b-8c8e-6d5d7a1f9e30',
  name: 'Wheel Ledger',
  namespace: NAMESPACE,
};

export const DEVELOPMENT_URL = 'https://localhost:3000';

/**
 * Where a released build is served, from ADDIN_URL.
 * @throws Error unless it is an https address
 */
export function releaseUrl(text: string): string {
  return httpsAddress('ADDIN_URL', text).replace(/\/+$/, '');
}

/** Excel wants four numbers. */
export const manifestVersion = (version: string): string => `${version}.0`;

/**
 * @param source manifest/manifest.xml
 * @throws Error when it asks for a word that is unknown here
 */
export function manifest(source: string, {id, name, namespace, url}: Variant, {support} = PLACEHOLDERS): string {
  const values: Readonly<Record<string, string>> = {
    ID: id,
    NAME: name,
    NAMESPACE: namespace,
    URL: url,
    SUPPORT: support,
    VERSION: manifestVersion(VERSION),
  };
  return source.replace(/\{\{(\w+)\}\}/g, (_, key: string) => {
    const value = values[key];
    if (value === undefined) throw new Error(`manifest.xml asks for ${key}, which is unknown`);
    return value.replace(/&/g, '&amp;').replace(/"/g, '&quot;').replace(/</g, '&lt;');
  });
}
