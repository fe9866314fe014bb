/**
 * A function of development builds that shows how cells arrive: what Excel hands over for blanks, errors, dates and
 * omitted arguments differs by build, and only a real Excel can tell.
 */
import type {FunctionMetadata} from './metadata';

export const PROBE = 'PROBE';

export const probeMetadata: FunctionMetadata & {readonly options: {readonly excludeFromAutoComplete: true}} = {
  id: PROBE,
  name: PROBE,
  description: 'How each cell of the arguments arrives: argument, row, column, type, value. Development builds only.',
  parameters: ['first', 'second', 'third'].map((name) => ({
    name,
    description: 'Any cells, or nothing.',
    type: 'any' as const,
    dimensionality: 'matrix' as const,
    optional: true as const,
  })),
  result: {type: 'any', dimensionality: 'matrix'},
  options: {excludeFromAutoComplete: true},
};

const HEADINGS = ['argument', 'row', 'column', 'type', 'value'];

/** A row for each cell, or for an argument that is no range: its number, row, column, JavaScript type and value. */
export function probe(args: readonly unknown[]): (string | number)[][] {
  const rows = args.flatMap((argument, i): (string | number)[][] => {
    if (!Array.isArray(argument)) return [[i + 1, '–', '–', ...told(argument)]];
    return argument.flatMap((row: unknown, r): (string | number)[][] =>
      Array.isArray(row)
        ? row.map((cell: unknown, c) => [i + 1, r + 1, c + 1, ...told(cell)])
        : [[i + 1, r + 1, '–', ...told(row)]],
    );
  });
  return [HEADINGS, ...rows];
}

function told(value: unknown): [string, string] {
  if (value === null) return ['null', 'null'];
  if (typeof value === 'number') return ['number', Object.is(value, -0) ? '-0' : String(value)];
  if (typeof value !== 'object') return [typeof value, JSON.stringify(value) ?? 'undefined'];
  return [`object ${value.constructor?.name ?? ''}`.trim(), JSON.stringify({...value})];
}
