/** Excel.Chart and its collection: charts as they were described, of which the page draws a preview. */
import {oneCell, type Area} from '../../book/addresses';
import {isError, type CellValue} from '../../book/cells';
import {columnCount, rowCount} from '../areas';
import type {CellsOf, ChartState, SeriesState} from '../state';
import {
  ChartAreaFormat,
  ChartAxes,
  ChartDataLabels,
  ChartLegend,
  ChartPlotArea,
  ChartSeriesFormat,
  ChartTitle,
} from './chartParts';
import {Collection, isGiven, number, sameName, text, type Surrounding} from './officeObject';
import {invalid, notFound} from './problem';
import {Range} from './range';
import {RangeFormat} from './rangeFormat';
import {record, Recorded, storeOver, type Store} from './recorded';
import {Worksheet} from './worksheet';

/** Size of a new chart, in points. */
const NEW_SIZE = {width: 360, height: 216};

export class ChartCollection extends Collection<Chart> {
  readonly officeType = 'ChartCollection';

  constructor(
    surrounding: Surrounding,
    readonly sheetId: string,
  ) {
    super(surrounding);
  }

  get #charts(): readonly ChartState[] {
    return this.surrounding.book.state(this.sheetId).charts;
  }

  listed(): readonly Chart[] {
    return this.#charts.map(({id}) => new Chart(this.surrounding, this.sheetId, id));
  }

  isMeant(chart: Chart, key: unknown): boolean {
    return chart.chartId === key || sameName(chart.state.name, key);
  }

  add(type: unknown, source: unknown, seriesBy: unknown): Chart {
    if (!(source instanceof Range)) throw invalid();
    this.mayChange(this.sheetId);
    const {book} = this.surrounding;
    const {sheetId, area} = source;
    const by =
      seriesBy === 'Rows' || seriesBy === 'Columns'
        ? seriesBy
        : rowCount(area) >= columnCount(area)
          ? 'Columns'
          : 'Rows';
    const id = `{${String(book.newId()).padStart(8, '0')}-0000-4000-8000-0000000000C0}`;
    let count = this.#charts.length + 1;
    while (this.#charts.some(({name}) => name === `Chart ${count}`)) count++;
    const chart: ChartState = {
      id,
      name: `Chart ${count}`,
      chartType: text(type),
      seriesBy: by,
      source: {sheetId, area},
      left: 100,
      top: 50,
      ...NEW_SIZE,
      series: seriesOf(this.surrounding, {sheetId, area}, by, text(type)),
      set: {},
    };
    book.setSheet(this.sheetId, {charts: [...this.#charts, chart]}, 'charts');
    return new Chart(this.surrounding, this.sheetId, id);
  }
}

/** The series that Excel makes of a block of cells: headings first, and labels before the numbers. */
function seriesOf({book}: Surrounding, {sheetId, area}: CellsOf, by: 'Columns' | 'Rows', type: string): SeriesState[] {
  const inColumns = by === 'Columns';
  const at = (along: number, across: number): CellValue =>
    inColumns
      ? book.value(sheetId, area.top + along, area.left + across)
      : book.value(sheetId, area.top + across, area.left + along);
  const [length, width] = inColumns ? [rowCount(area), columnCount(area)] : [columnCount(area), rowCount(area)];
  const isText = (value: CellValue): boolean => typeof value === 'string' && value !== '';
  const isLabel = (value: CellValue): boolean => value === null || isText(value) || isError(value);
  const hasHeadings =
    length > 1 &&
    Array.from({length: width}, (_, i) => at(0, i))
      .slice(-1)
      .every(isText);
  const start = hasHeadings ? 1 : 0;
  const isXY = /^(?:XYScatter|Bubble)/.test(type);
  const hasLabels =
    width > 1 &&
    (isXY ||
      Array.from({length: length - start}, (_, i) => at(start + i, 0)).every(isLabel) ||
      (hasHeadings && at(0, 0) === null));
  const strip = (across: number, from: number): CellsOf => ({
    sheetId,
    area: inColumns
      ? {top: area.top + from, left: area.left + across, bottom: area.bottom, right: area.left + across}
      : {top: area.top + across, left: area.left + from, bottom: area.top + across, right: area.right},
  });
  const first = hasLabels ? 1 : 0;
  return Array.from({length: width - first}, (_, i): SeriesState => {
    const across = first + i;
    const heading: Area = inColumns ? oneCell(area.top, area.left + across) : oneCell(area.top + across, area.left);
    return {
      id: String(book.newId()),
      name: hasHeadings ? {sheetId, area: heading} : `Series${i + 1}`,
      chartType: undefined,
      values: strip(across, start),
      xValues: hasLabels ? strip(0, start) : undefined,
      set: {},
    };
  });
}

export class Chart extends Recorded {
  readonly officeType = 'Chart';

  constructor(
    surrounding: Surrounding,
    readonly sheetId: string,
    readonly chartId: string,
  ) {
    super(surrounding, chartStore(surrounding, sheetId, chartId), '');
  }

  override identity(): Record<string, unknown> {
    return {Id: this.chartId};
  }

  get state(): ChartState {
    return chartState(this.surrounding, this.sheetId, this.chartId);
  }

  change(change: Partial<ChartState>): void {
    this.mayChange(this.sheetId);
    changeChart(this.surrounding, this.sheetId, this.chartId, change);
  }

  get id(): string {
    return this.chartId;
  }

  get name(): string {
    return this.state.name;
  }

  set name(given: unknown) {
    this.change({name: text(given)});
  }

  get chartType(): string {
    return this.state.chartType;
  }

  set chartType(given: unknown) {
    this.change({chartType: text(given)});
  }

  get plotBy(): string {
    return this.state.seriesBy;
  }

  get left(): number {
    return this.state.left;
  }

  set left(given: unknown) {
    this.change({left: number(given)});
  }

  get top(): number {
    return this.state.top;
  }

  set top(given: unknown) {
    this.change({top: number(given)});
  }

  get width(): number {
    return this.state.width;
  }

  set width(given: unknown) {
    if (number(given) <= 0) throw invalid();
    this.change({width: number(given)});
  }

  get height(): number {
    return this.state.height;
  }

  set height(given: unknown) {
    if (number(given) <= 0) throw invalid();
    this.change({height: number(given)});
  }

  get worksheet(): Worksheet {
    return new Worksheet(this.surrounding, this.sheetId);
  }

  get series(): ChartSeriesCollection {
    return new ChartSeriesCollection(this);
  }

  /** Puts the chart over cells, from the upper left corner of one to the lower right corner of the other. */
  setPosition(start: unknown, end: unknown): null {
    const sheet = this.worksheet;
    const range = (given: unknown): Range => (given instanceof Range ? given : sheet.getRange(given));
    const from = new RangeFormat(range(start)).offsets();
    if (!isGiven(end)) {
      this.change({left: from.left, top: from.top});
      return null;
    }
    const to = new RangeFormat(range(end)).offsets();
    this.change({
      left: from.left,
      top: from.top,
      width: to.left + to.width - from.left,
      height: to.top + to.height - from.top,
    });
    return null;
  }

  setData(source: unknown, seriesBy: unknown): null {
    if (!(source instanceof Range)) throw invalid();
    const {sheetId, area} = source;
    const by =
      seriesBy === 'Rows' || seriesBy === 'Columns'
        ? seriesBy
        : rowCount(area) >= columnCount(area)
          ? 'Columns'
          : 'Rows';
    this.change({
      source: {sheetId, area},
      seriesBy: by,
      series: seriesOf(this.surrounding, {sheetId, area}, by, this.state.chartType),
    });
    return null;
  }

  activate(): null {
    return null;
  }

  delete(): null {
    this.mayChange(this.sheetId);
    const {book} = this.surrounding;
    const charts = book.state(this.sheetId).charts.filter(({id}) => id !== this.chartId);
    book.setSheet(this.sheetId, {charts}, 'charts');
    return null;
  }
}

record(Chart as never, {
  values: {
    categoryLabelLevel: 0,
    displayBlanksAs: 'NotPlotted',
    plotVisibleOnly: true,
    seriesNameLevel: 0,
    showAllFieldButtons: false,
    style: 2,
  },
  parts: {
    axes: ChartAxes,
    dataLabels: ChartDataLabels,
    format: ChartAreaFormat,
    legend: ChartLegend,
    plotArea: ChartPlotArea,
    title: ChartTitle,
  },
});

function chartState({book}: Surrounding, sheetId: string, chartId: string): ChartState {
  const found = book.has(sheetId) ? book.state(sheetId).charts.find(({id}) => id === chartId) : undefined;
  if (!found) throw notFound();
  return found;
}

function changeChart({book}: Surrounding, sheetId: string, chartId: string, change: Partial<ChartState>): void {
  const charts = book.state(sheetId).charts.map((chart) => (chart.id === chartId ? {...chart, ...change} : chart));
  book.setSheet(sheetId, {charts}, 'charts');
}

const chartStore = (surrounding: Surrounding, sheetId: string, chartId: string): Store =>
  storeOver(
    () => chartState(surrounding, sheetId, chartId).set,
    (set) => changeChart(surrounding, sheetId, chartId, {set}),
  );

export class ChartSeriesCollection extends Collection<ChartSeries> {
  readonly officeType = 'ChartSeriesCollection';

  constructor(readonly chart: Chart) {
    super(chart.surrounding);
  }

  listed(): readonly ChartSeries[] {
    return this.chart.state.series.map(({id}) => new ChartSeries(this.chart, id));
  }

  /** office.js finds series again by their number. */
  isMeant(series: ChartSeries, key: unknown): boolean {
    return series.index === key;
  }

  add(name: unknown, index: unknown): ChartSeries {
    const {series} = this.chart.state;
    const id = String(this.surrounding.book.newId());
    const made: SeriesState = {
      id,
      name: isGiven(name) ? text(name) : `Series${series.length + 1}`,
      chartType: undefined,
      values: [],
      xValues: undefined,
      set: {},
    };
    const at = isGiven(index) ? number(index) : series.length;
    this.chart.change({series: [...series.slice(0, at), made, ...series.slice(at)]});
    return new ChartSeries(this.chart, id);
  }
}

export class ChartSeries extends Recorded {
  readonly officeType = 'ChartSeries';

  constructor(
    readonly chart: Chart,
    readonly seriesId: string,
  ) {
    super(
      chart.surrounding,
      storeOver(
        () => this.state.set,
        (set) => this.#change({set}),
      ),
      '',
    );
  }

  get state(): SeriesState {
    const found = this.chart.state.series.find(({id}) => id === this.seriesId);
    if (!found) throw notFound();
    return found;
  }

  get index(): number {
    return this.chart.state.series.findIndex(({id}) => id === this.seriesId);
  }

  #change(change: Partial<SeriesState>): void {
    const series = this.chart.state.series.map((one) => (one.id === this.seriesId ? {...one, ...change} : one));
    this.chart.change({series});
  }

  get name(): string {
    const {name} = this.state;
    if (typeof name === 'string') return name;
    const {sheetId, area} = name;
    const value = this.surrounding.book.value(sheetId, area.top, area.left);
    return value === null ? '' : isError(value) ? value.code : String(value);
  }

  set name(given: unknown) {
    this.#change({name: text(given)});
  }

  get chartType(): string {
    return this.state.chartType ?? this.chart.chartType;
  }

  set chartType(given: unknown) {
    this.#change({chartType: text(given)});
  }

  #cells(given: unknown): CellsOf {
    if (!(given instanceof Range)) throw invalid();
    return {sheetId: given.sheetId, area: given.area};
  }

  setValues(given: unknown): null {
    this.#change({values: this.#cells(given)});
    return null;
  }

  setXAxisValues(given: unknown): null {
    this.#change({xValues: this.#cells(given)});
    return null;
  }

  delete(): null {
    this.chart.change({series: this.chart.state.series.filter(({id}) => id !== this.seriesId)});
    return null;
  }
}

record(ChartSeries as never, {
  values: {
    axisGroup: 'Primary',
    filtered: false,
    gapWidth: 150,
    hasDataLabels: false,
    markerBackgroundColor: '',
    markerForegroundColor: '',
    markerSize: 5,
    markerStyle: 'Automatic',
    overlap: 0,
    plotOrder: 0,
    showLeaderLines: false,
    showShadow: false,
    smooth: false,
    varyByCategories: false,
  },
  parts: {dataLabels: ChartDataLabels, format: ChartSeriesFormat},
});
