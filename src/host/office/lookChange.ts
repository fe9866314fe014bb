/** Changing how cells look. */
import type {Border, CellLook, Side} from '../files/looks';

/** What is to change; null takes it away. */
export type LookChange = {readonly [K in Exclude<keyof CellLook, 'borders'>]?: CellLook[K] | null} & {
  readonly borders?: Readonly<Partial<Record<Side, Border | null>>>;
};

export function changedLook(look: CellLook, {borders, ...rest}: LookChange): CellLook {
  const changed: Record<string, unknown> = {...look, ...rest};
  if (borders) changed.borders = {...look.borders, ...borders};
  const kept = withoutNull(changed);
  if (kept.borders) {
    const sides = withoutNull(kept.borders as Record<string, unknown>);
    if (Object.keys(sides).length === 0) delete kept.borders;
    else kept.borders = sides;
  }
  return kept;
}

const withoutNull = (all: Record<string, unknown>): Record<string, unknown> =>
  Object.fromEntries(Object.entries(all).filter(([, value]) => value !== null && value !== undefined));
