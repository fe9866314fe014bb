/**
 * What the words that look through all rows of a column need to know of it, found once for a column: they are asked in
 * every row, and looking through all rows each time would take minutes for a long list.
 */
type Value = number | string;
type Values = readonly Value[];

interface Classes {
  /** The class of each row; rows that are alike have the same one. NaN is like nothing, not even itself. */
  readonly of: readonly number[];
  readonly byValue: ReadonlyMap<Value, number>;
  /** Rows of each class. */
  readonly counts: readonly number[];
  /** The first row of each class. */
  readonly firsts: readonly number[];
}

const NONE = -1;

/** Spreadsheets compare texts without regard to letter case. */
const folded = (value: Value): Value => (typeof value === 'string' ? value.toLowerCase() : value);

/** Keeps what was found of an array of values, as long as that lives and does not grow. */
function remembered<T>(find: (values: Values) => T): (values: Values) => T {
  const known = new WeakMap<Values, {readonly length: number; readonly found: T}>();
  return (values) => {
    let there = known.get(values);
    if (there?.length !== values.length) known.set(values, (there = {length: values.length, found: find(values)}));
    return there.found;
  };
}

const classes = remembered((values): Classes => {
  const byValue = new Map<Value, number>();
  const counts: number[] = [];
  const firsts: number[] = [];
  const of = values.map((value, row) => {
    if (Number.isNaN(value)) return NONE;
    const key = folded(value);
    let found = byValue.get(key);
    if (found === undefined) {
      byValue.set(key, (found = counts.length));
      counts.push(0);
      firsts.push(row);
    }
    counts[found]++;
    return found;
  });
  return {of, byValue, counts, firsts};
});

const classOf = (values: Values, wanted: Value): number => classes(values).byValue.get(folded(wanted)) ?? NONE;

/** How many rows have a value. */
export const countOf = (values: Values, wanted: Value): number => classes(values).counts[classOf(values, wanted)] ?? 0;

/** The first row that has a value; undefined when none has. */
export const firstRow = (values: Values, wanted: Value): number | undefined =>
  classes(values).firsts[classOf(values, wanted)];

interface Total {
  sum: number;
  count: number;
}

/** The last sums: they are asked for one row after another. */
let last:
  {readonly y: Values; readonly groups: readonly Values[]; readonly totals: ReadonlyMap<string, Total>} | undefined;

/** Sums of a column over the rows that are alike in all the groups, added up from above to below. */
function totalsBy(y: Values, groups: readonly Values[]): ReadonlyMap<string, Total> {
  const same =
    last !== undefined &&
    last.y === y &&
    last.groups.length === groups.length &&
    last.groups.every((group, i) => group === groups[i]);
  if (same) return last!.totals;
  const of = groups.map((group) => classes(group).of);
  const totals = new Map<string, Total>();
  y.forEach((value, row) => {
    const key = of.map((group) => group[row]).join();
    let total = totals.get(key);
    if (total === undefined) totals.set(key, (total = {sum: 0, count: 0}));
    total.sum += value as number;
    total.count++;
  });
  last = {y, groups: [...groups], totals};
  return totals;
}

/** The mean of a column over the rows that are like one of them in all the groups. */
export function meanLike(y: Values, groups: readonly Values[], row: number): number {
  const key = groups.map((group) => classes(group).of[row]);
  if (key.includes(NONE)) return NaN;
  const {sum, count} = totalsBy(y, groups).get(key.join())!;
  return sum / count;
}

/** The sum of a column over the rows in which another one has a value. */
export function sumWhere(y: Values, group: Values, wanted: Value): number {
  const found = classOf(group, wanted);
  return found === NONE ? 0 : (totalsBy(y, [group]).get(String(found))?.sum ?? 0);
}

/** The place of each row when they are sorted upwards, the upper of two equal ones first; 0 for what is no number. */
export const ranks = remembered((values): readonly number[] => {
  const found = new Array<number>(values.length).fill(0);
  values
    .map((value, row) => ({value: value as number, row}))
    .filter(({value}) => !Number.isNaN(value))
    .sort((a, b) => (a.value < b.value ? -1 : a.value > b.value ? 1 : 0))
    .forEach(({row}, place) => (found[row] = place + 1));
  return found;
});
