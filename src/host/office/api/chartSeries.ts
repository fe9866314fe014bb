/** Excel.ChartSeries and its collection. */
import {isError} from '../../book/cells';
import type {CellsOf, SeriesState} from '../state';
import {ChartDataLabels, ChartSeriesFormat} from './chartParts';
import type {Chart} from './charts';
import {Collection, isGiven, number, text} from './officeObject';
import {invalid, notFound} from './problem';
import {Range} from './range';
import {record, Recorded, storeOver} from './recorded';

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
