/** All worksheet functions, family by family. */
import {bare, columnFunctions} from './columns';
import type {Declaration} from './declare';
import {MATCHING} from './matching';
import {MONEY} from './money';
import {PLACING} from './placing';
import {QUALITY} from './quality';
import {RUNOUT} from './runout';
import {TIRES} from './tires';
import {UNBALANCE} from './unbalance';
import {VIBRATION} from './vibration';

export const NAMESPACE = 'WHEEL';

const byName = new Map<string, Declaration>();

/** A function by its name in any letter case, with or without the namespace. */
export const find = (name: string): Declaration | undefined => byName.get(bare(name));

export const CATALOGUE: readonly Declaration[] = [
  ...RUNOUT,
  ...MATCHING,
  ...UNBALANCE,
  ...VIBRATION,
  ...TIRES,
  ...PLACING,
  ...QUALITY,
  ...MONEY,
  ...columnFunctions(find),
];

for (const declaration of CATALOGUE) byName.set(declaration.name, declaration);
