/** One input cell changed, so that a function still answers in the same shape. */
import type {Cell, Raw} from '../../functions/cells';
import {isGrid} from '../../functions/cells';
import type {Declaration} from '../../functions/declare';
import type {CellOf} from '../../functions/workings/steps';
import type {Working} from '../../working/workingOf';
import {answers} from './cases';
import type {Draw} from './draw';

const TRIES = 200;

/** The cells that a working is made from. */
function cellsOf({worked}: Working): CellOf[] {
  return worked.steps.flatMap((step) => {
    if (step.kind === 'column input') return [...step.from];
    return (step.kind === 'input' || step.kind === 'piece') && step.from !== undefined ? [step.from] : [];
  });
}

/** @returns undefined when nothing can be changed */
export function changed(working: Working, args: readonly Raw[], d: Draw): Raw[] | undefined {
  const {declared, answer} = working;
  const cells = cellsOf(working);
  if (cells.length === 0) return undefined;
  for (let i = 0; i < TRIES; i++) {
    const cell = d.one(cells);
    const next = withCell(declared, args, cell, (was) => other(declared, cell, was, d));
    if (next === undefined || !answers(declared, next)) continue;
    const now = declared.evaluate(next);
    if (now.length === answer.length && now[0].length === answer[0].length) return next;
  }
  return undefined;
}

function other(declared: Declaration, {argument}: CellOf, was: Cell, d: Draw): Cell | undefined {
  if (typeof was === 'boolean') return !was;
  if (typeof was === 'string') return declared.family === 'Tire and wheel data' ? otherDigit(was, d) : undefined;
  if (typeof was !== 'number') return undefined;
  const kind = declared.arguments.find(({name}) => name === argument)?.kind;
  if (kind === 'readings' && d.chance(0.3)) return '';
  return d.one([Number((was * 1.07 + 0.01).toFixed(4)), was + 1, Number((was * 0.94).toFixed(4))]);
}

/** The same text with another digit in one place: of the same length, so that its pieces stand where they stood. */
function otherDigit(text: string, d: Draw): string {
  const places = [...text].flatMap((c, i) => (/\d/.test(c) ? [i] : []));
  if (places.length === 0) return d.one([...'qrsthv']);
  const at = d.one(places);
  return `${text.slice(0, at)}${d.whole(0, 9)}${text.slice(at + 1)}`;
}

function withCell(
  declared: Declaration,
  args: readonly Raw[],
  {argument, index}: CellOf,
  change: (was: Cell) => Cell | undefined,
): Raw[] | undefined {
  const repeated = /^(.*) (\d+)$/.exec(argument);
  const at = declared.arguments.findIndex(({name}) => name === (repeated?.[1] ?? argument));
  const list = repeated ? [...(args[at] as unknown as Raw[])] : [...args];
  const place = repeated ? Number(repeated[2]) - 1 : at;
  const raw = list[place];
  if (isGrid(raw)) {
    const columns = raw[0].length;
    const rows = raw.map((row) => [...row]);
    const next = change(rows[Math.floor(index / columns)][index % columns]);
    if (next === undefined) return undefined;
    rows[Math.floor(index / columns)][index % columns] = next;
    list[place] = rows;
  } else {
    const next = change(raw);
    if (next === undefined) return undefined;
    list[place] = next;
  }
  return repeated ? args.map((arg, i) => (i === at ? (list as unknown as Raw) : arg)) : list;
}
