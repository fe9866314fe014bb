/** Names of functions as a file stores them. */
import type {KnownFunctions} from './surroundings';

/** A formula as a user writes it: the prefixes of the file format are gone. */
export function withoutPrefixes(formula: string, {namespace, parameters}: KnownFunctions): string {
  return formula
    .replace(FUNCTION_PREFIX, '')
    .replace(STORED_NAME, (written, name: string) => ownName(name, namespace, parameters) ?? written);
}

const FUNCTION_PREFIX = /\b_xl(?:fn|ws|udf|pm|eta)\./gi;
const STORED_NAME = /\b_xldudf_([A-Za-z0-9_]+)(?=\s*\()/gi;

/** "WHEEL_MATCH" → "WHEEL.MATCH" when there is such a function; an unknown one of the namespace is told apart too. */
export function ownName(
  stored: string,
  namespace: string,
  parameters: KnownFunctions['parameters'],
): string | undefined {
  const prefix = `${namespace}_`;
  if (!stored.toUpperCase().startsWith(prefix)) return undefined;
  const rest = stored.slice(prefix.length).toUpperCase();
  // Dots are stored as underscores: a name with a dot of its own is found by trying it.
  return `${namespace}.${parameters(rest) ? rest : parameters(rest.replace(/_/g, '.')) ? rest.replace(/_/g, '.') : rest}`;
}
