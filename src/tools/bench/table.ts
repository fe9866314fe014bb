/** How results are printed. */
import type {Result} from './workload';

/** For programs: what was measured and how it was judged, nothing else. */
export const asJson = (results: readonly Result[]): string =>
  JSON.stringify(
    results.map(({workload, against, ratio, goal, met}) => ({workload, against, ratio, goal, met})),
    null,
    2,
  );

const HEAD = ['workload', 'against', 'ratio', 'spread', 'goal', '', 'figures'] as const;

/** For people: a line a result, in columns as wide as they need to be; the last line counts. */
export function asTable(results: readonly Result[]): string {
  const rows = [HEAD, ...results.map(cellsOf)];
  const widths = HEAD.map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  const lines = rows.map((row) =>
    row
      .map((cell, column) => cell.padEnd(widths[column]))
      .join('  ')
      .trimEnd(),
  );
  return [...lines, '', count(results)].join('\n');
}

const cellsOf = (result: Result): readonly string[] => [
  result.workload,
  result.against,
  result.ratio === null ? '–' : readable(result.ratio),
  result.spread === undefined ? '' : `± ${(100 * result.spread).toFixed(0)} %`,
  result.goal,
  verdict(result),
  result.note,
];

/** Three digits, never as a power of ten. */
const readable = (ratio: number): string => (ratio >= 100 ? ratio.toFixed(0) : ratio.toPrecision(3));

function verdict({met, failed}: Result): string {
  if (failed) return 'FAILED';
  if (met === null) return 'peer missing';
  return met ? 'met' : 'NOT MET';
}

function count(results: readonly Result[]): string {
  const of = (what: string, wanted: (result: Result) => boolean): string[] => {
    const found = results.filter(wanted).length;
    return found === 0 ? [] : [`${found} ${what}`];
  };
  return [
    `${results.filter(({met}) => met).length} of ${results.length} goals met`,
    ...of('without a peer', ({met}) => met === null),
    ...of('failed', ({failed}) => failed === true),
  ].join(', ');
}
