/** The built bundle of worksheet functions, run as Excel runs it: it associates its functions with a runtime. */

/** Excel's metadata of the functions, as far as the host needs it. */
export interface BundleMetadata {
  readonly functions: readonly BundleFunctionMetadata[];
}

export interface BundleFunctionMetadata {
  readonly id: string;
  readonly name: string;
  readonly parameters: readonly {
    readonly name: string;
    readonly dimensionality?: 'scalar' | 'matrix';
    readonly optional?: boolean;
    readonly repeating?: boolean;
  }[];
}

/** A function as the bundle associates it. */
export type Callable = (...args: unknown[]) => unknown;

export interface WorksheetFunction extends BundleFunctionMetadata {
  readonly call: Callable;
}

/** The error that a worksheet function throws or puts into a cell of its answer. */
export class CustomFunctionsError extends Error {
  constructor(
    readonly code: string = '#VALUE!',
    message = '',
  ) {
    super(message);
  }
}

export const ERROR_CODES = {
  invalidValue: '#VALUE!',
  notAvailable: '#N/A',
  divisionByZero: '#DIV/0!',
  invalidNumber: '#NUM!',
  nullReference: '#NULL!',
  invalidName: '#NAME?',
  invalidReference: '#REF!',
} as const;

/** Runs a script with `CustomFunctions` in sight. */
export type RunScript = (script: string, customFunctions: object) => void;

/**
 * The worksheet functions of a bundle.
 * @throws Error when the bundle and its metadata do not fit each other
 */
export function loadFunctions(script: string, metadata: BundleMetadata, run: RunScript): readonly WorksheetFunction[] {
  const associated = new Map<string, Callable>();
  const associate = (id: string | Readonly<Record<string, Callable>>, call?: Callable): void => {
    if (typeof id === 'string') associated.set(id.toUpperCase(), call!);
    else Object.entries(id).forEach(([each, its]) => associated.set(each.toUpperCase(), its));
  };
  run(script, {associate, Error: CustomFunctionsError, ErrorCode: ERROR_CODES});
  const missing = metadata.functions.filter(({id}) => !associated.has(id.toUpperCase()));
  if (missing.length > 0) {
    throw new Error(`the functions bundle does not define ${missing.map(({id}) => id).join(', ')}: build it again`);
  }
  return metadata.functions.map((declared) => ({...declared, call: associated.get(declared.id.toUpperCase())!}));
}

/** Functions that fetch what they need when they are first called, and a call that makes each do so. */
const FETCHING: Readonly<Record<string, readonly unknown[]>> = {WORKING: ['EDITION', []]};

/**
 * Settles when every function answers at once, as the engine needs it. Excel waits for a function that does not: the
 * first call of such a function is made here.
 */
export async function answeringAtOnce(functions: readonly WorksheetFunction[]): Promise<void> {
  await Promise.all(
    functions.map(async ({name, call}) => {
      const first = FETCHING[name];
      if (first !== undefined) await call(...first);
    }),
  );
}
