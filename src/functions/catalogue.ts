/** All worksheet functions, family by family. */
import {bare, columnFunctions} from './columns';
import type {Declaration} from './declare';
import {MATCHING} from './matching';
import {PLACING} from './placing';
import {RUNOUT} from './runout';
import {UNBALANCE} from './unbalance';

export const NAMESPACE = 'WHEEL';

const byName = new Map<string, Declaration>();

/** A function by its name in any letter case, with or without the namespace. */
export const find = (name: string): Declaration | undefined => byName.get(bare(name));

export const CATALOGUE: readonly Declaration[] = [
  ...RUNOUT,
  ...MATCHING,
  ...UNBALANCE,
  ...PLACING,
  ...columnFunctions(find),
];

for (const declaration of CATALOGUE) byName.set(declaration.name, declaration);
