/** Excel.Chart and its collection: charts as they were described, of which the page draws a preview. */
import type {Area} from '../../book/addresses';
import {seriesOf, usualDirection} from '../chartSeries';
import type {ChartState} from '../state';
import {ChartAreaFormat, ChartAxes, ChartDataLabels, ChartLegend, ChartPlotArea, ChartTitle} from './chartParts';
import {ChartSeriesCollection} from './chartSeries';
import {Collection, isGiven, number, sameName, text, type Surrounding} from './officeObject';
import {invalid, notFound} from './problem';
import {Range} from './range';
import {RangeFormat} from './rangeFormat';
import {record, Recorded, storeOver, type Store} from './recorded';
import {Worksheet} from './worksheet';

/** Size of a new chart, in points. */
const NEW_SIZE = {width: 360, height: 216};

const directionOf = (given: unknown, area: Area): 'Columns' | 'Rows' =>
  given === 'Rows' || given === 'Columns' ? given : usualDirection(area);

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
    const by = directionOf(seriesBy, area);
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
      series: seriesOf(book, {sheetId, area}, by, text(type)),
      set: {},
    };
    book.setSheet(this.sheetId, {charts: [...this.#charts, chart]}, 'charts');
    return new Chart(this.surrounding, this.sheetId, id);
  }
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
    const by = directionOf(seriesBy, area);
    this.change({
      source: {sheetId, area},
      seriesBy: by,
      series: seriesOf(this.surrounding.book, {sheetId, area}, by, this.state.chartType),
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
