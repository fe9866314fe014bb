/** What of a chart the preview draws: its series as numbers, its axes and words. */
import {isError, type CellValue} from '../book/cells';
import type {HostBook} from '../office/hostBook';
import type {CellsOf, ChartState, SeriesData, SeriesState} from '../office/state';

export interface DrawnSeries {
  readonly name: string;
  readonly values: readonly (number | undefined)[];
  /** Numbers of a scatter chart, or the labels of categories. */
  readonly across: readonly (number | string | undefined)[];
  readonly color: string;
  readonly weight: number;
  readonly dashed: boolean;
}

export interface DrawnChart {
  readonly kind: 'columns' | 'lines' | 'scatter';
  readonly title: string;
  readonly series: readonly DrawnSeries[];
  readonly valueTitle: string;
  readonly categoryTitle: string;
  readonly legend: boolean;
  readonly minimum: number | undefined;
  readonly maximum: number | undefined;
  readonly from: number | undefined;
  readonly to: number | undefined;
}

/** For series that have no color of their own. */
const COLORS = ['#0072B2', '#D55E00', '#404040', '#009E73', '#CC79A7', '#E69F00'];

export function drawnChart(book: HostBook, chart: ChartState): DrawnChart {
  const {chartType, set, series} = chart;
  const text = (path: string): string => (typeof set[path] === 'string' ? (set[path] as string) : '');
  const number = (path: string): number | undefined =>
    typeof set[path] === 'number' ? (set[path] as number) : undefined;
  return {
    kind: /^XYScatter/.test(chartType) ? 'scatter' : /^(Line|Area)/.test(chartType) ? 'lines' : 'columns',
    title: set['title.visible'] === false ? '' : text('title.text') || chart.name,
    series: series.map((one, i) => drawnSeries(book, one, i)),
    valueTitle: text('axes.valueAxis.title.text'),
    categoryTitle: text('axes.categoryAxis.title.text'),
    legend: set['legend.visible'] !== false && series.length > 1,
    minimum: number('axes.valueAxis.minimum'),
    maximum: number('axes.valueAxis.maximum'),
    from: number('axes.categoryAxis.minimum'),
    to: number('axes.categoryAxis.maximum'),
  };
}

function drawnSeries(book: HostBook, {name, values, xValues, set}: SeriesState, index: number): DrawnSeries {
  const own = (...paths: string[]): unknown => paths.map((path) => set[path]).find((value) => value !== undefined);
  const color = own('format.line.color', 'format.fill.solidColor', 'format.fill.color', 'markerForegroundColor');
  const weight = own('format.line.weight');
  const numbers = cellsOfSeries(book, values);
  return {
    name: typeof name === 'string' ? name : String(cellsOfSeries(book, name)[0] ?? ''),
    values: numbers.map((value) => (typeof value === 'number' ? value : undefined)),
    across:
      xValues === undefined
        ? numbers.map((_, i) => i + 1)
        : cellsOfSeries(book, xValues).map((value) =>
            typeof value === 'number' || typeof value === 'string' ? value : undefined,
          ),
    color: typeof color === 'string' ? color : COLORS[index % COLORS.length],
    weight: typeof weight === 'number' ? weight : 2,
    dashed: /dash|dot/i.test(String(own('format.line.lineStyle') ?? '')),
  };
}

/** The values of a series, or of its labels. */
export function cellsOfSeries(book: HostBook, of: SeriesData): CellValue[] {
  if (!isCells(of)) return [...of];
  if (!book.has(of.sheetId)) return [];
  const {top, left, bottom, right} = of.area;
  const found: CellValue[] = [];
  for (let row = top; row <= bottom; row++) {
    for (let column = left; column <= right; column++) {
      const value = book.value(of.sheetId, row, column);
      found.push(isError(value) ? null : value);
    }
  }
  return found;
}

const isCells = (of: SeriesData): of is CellsOf => !Array.isArray(of);
