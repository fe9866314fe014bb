/** Our functions as formulas call them: their names as a file stores them, and how many arguments they take. */
import type {KnownFunctions} from './surroundings';

/** A formula as a user writes it: the prefixes of the file format are gone. */
export function withoutPrefixes(formula: string, {namespace, parameters}: KnownFunctions): string {
  return formula
    .replace(FUNCTION_PREFIX, '')
    .replace(STORED_NAME, (written, name: string) => ownName(name, namespace, parameters) ?? written);
}

const FUNCTION_PREFIX = /\b_xl(?:fn|ws|udf|pm|eta)\./gi;
const STORED = '_XLDUDF_';
const STORED_NAME = /\b_xldudf_([A-Za-z0-9_]+)(?=\s*\()/gi;

/** "WHEEL.MATCH" for a call of ours, in capitals as written or as a file stores it; undefined for any other function. */
export function ownFunction(
  name: string,
  {namespace, parameters}: Pick<KnownFunctions, 'namespace' | 'parameters'>,
): string | undefined {
  if (name.startsWith(`${namespace}.`)) return name;
  return name.startsWith(STORED) ? ownName(name.slice(STORED.length), namespace, parameters) : undefined;
}

/** What is wrong with so many arguments for a function that takes these. */
export function tooMany(
  name: string,
  takes: readonly {readonly repeating?: boolean}[],
  given: number,
): string | undefined {
  if (given <= takes.length || takes.at(-1)?.repeating) return undefined;
  return `${name} takes ${takes.length === 1 ? '1 argument' : `${takes.length} arguments`}, found ${given}`;
}

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
