/** What was changed of rows and charts of a sheet, for a copy of its file. */
import type {CellValue} from '../book/cells';
import {isError} from '../book/cells';
import {isWritable, type DataToSave} from '../files/chartXml';
import type {Corner, PlacedChart} from '../files/drawingXml';
import type {CellLook} from '../files/looks';
import type {SheetToSave} from '../files/saveBook';
import {absoluteAddress} from '../office/absolute';
import {bandAt} from '../office/bands';
import type {HostBook} from '../office/hostBook';
import type {Band, CellsOf, ChartState, SeriesData, SheetState} from '../office/state';
import {cellsOfSeries} from './chartModel';

/** Rows beyond this would each need an entry of their own in the file. */
const MOST_ROWS = 20_000;
const POINTS_OF_PIXEL = 0.75;

type RowsToSave = NonNullable<SheetToSave['rows']>;

/**
 * Rows that have another height or look than before, from one to another.
 * @returns undefined when they are too many to be written one by one
 */
export function rowsToSave(before: readonly Band[], now: readonly Band[]): RowsToSave | undefined {
  const starts = new Set<number>();
  for (const {from, to} of [...before, ...now]) starts.add(from).add(to + 1);
  const edges = [...starts].sort((a, b) => a - b);
  const rows = edges.slice(0, -1).flatMap((from, i): RowsToSave[number][] => {
    const [was, is] = [bandAt(before, from), bandAt(now, from)];
    if (was?.size === is?.size && sameLook(was?.look, is?.look)) return [];
    const look = sameLook(was?.look, is?.look) ? undefined : {look: is?.look ?? {}, base: 0, baseLook: {}};
    return [{from, to: edges[i + 1] - 1, size: is?.size, look}];
  });
  return rows.reduce((sum, {from, to}) => sum + to - from + 1, 0) > MOST_ROWS ? undefined : rows;
}

const sameLook = (a: CellLook = {}, b: CellLook = {}): boolean => a === b || JSON.stringify(a) === JSON.stringify(b);

export interface ChartsToSave {
  readonly charts: readonly PlacedChart[];
  /** Names of charts whose kind is not written. */
  readonly lost: readonly string[];
}

/** The charts of a sheet that were made since its file was opened. */
export function chartsToSave(book: HostBook, sheetId: string): ChartsToSave {
  const state = book.state(sheetId);
  const made = state.charts.map((chart) => ({chart, isKnown: isWritable({type: chart.chartType})}));
  return {
    charts: made.flatMap(({chart, isKnown}) => (isKnown ? [placed(book, state, chart)] : [])),
    lost: made.flatMap(({chart, isKnown}) => (isKnown ? [] : [chart.name])),
  };
}

function placed(book: HostBook, state: SheetState, chart: ChartState): PlacedChart {
  const {name, chartType: type, series, set, left, top, width, height} = chart;
  const data = (of: SeriesData): DataToSave => ({
    formula: isCells(of) && book.has(of.sheetId) ? absoluteAddress(book.sheet(of.sheetId).name, of.area) : undefined,
    values: cellsOfSeries(book, of).map(shown),
  });
  return {
    chart: {
      name,
      type,
      set,
      series: series.map((one) => ({
        name: typeof one.name === 'string' ? {formula: undefined, values: [one.name]} : data(one.name),
        values: data(one.values),
        across: one.xValues && data(one.xValues),
        set: one.set,
      })),
    },
    from: cornerAt(state, left, top),
    to: cornerAt(state, left + width, top + height),
  };
}

const isCells = (of: SeriesData): of is CellsOf => !Array.isArray(of);

function shown(value: CellValue): number | string | undefined {
  if (value === null || isError(value)) return undefined;
  return typeof value === 'boolean' ? Number(value) : value;
}

/** The cell under a point of a sheet, which is given in points. */
function cornerAt({columns, columnWidth, rows, rowHeight}: SheetState, x: number, y: number): Corner {
  const [across, down] = [along(columns, columnWidth, x), along(rows, rowHeight, y)];
  return {column: across.at, right: across.rest, row: down.at, down: down.rest};
}

function along(bands: readonly Band[], usual: number, points: number): {at: number; rest: number} {
  let rest = points;
  for (let at = 0; ; at++) {
    const size = (bandAt(bands, at)?.size ?? usual) * POINTS_OF_PIXEL;
    if (rest < size) return {at, rest};
    rest -= size;
  }
}
