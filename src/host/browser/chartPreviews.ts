/** Previews of charts over the grid, drawn anew when their cells change. */
import type {HostBook} from '../office/hostBook';
import type {ChartState} from '../office/state';
import {drawnChart} from './chartModel';
import {chartSvg} from './chartSvg';
import type {Grid} from './grid';

/** The component of the grid's floating elements that shows a chart. */
const COMPONENT = 'workbook-host-chart';
/** Pixels in a point. */
const SCALE = 4 / 3;

interface ReactLike {
  createElement(type: string, props: object): unknown;
}

interface Floating {
  addFloatDomToPosition(layer: object, id: string): unknown;
  removeFloatDom(id: string): unknown;
}

/** What the drawing preset adds to the grid's own classes. */
interface WithComponents {
  registerComponent(key: string, component: (props: {data?: {chart?: string}}) => unknown): unknown;
}

const withComponents = new WeakSet<Grid>();
/** Charts on the screen, by their ids within the page: the component is told the id alone. */
const shown = new Map<string, {readonly book: HostBook; readonly chart: ChartState}>();

function drawInto(place: HTMLElement | null, id: string | undefined): void {
  const found = id === undefined ? undefined : shown.get(id);
  if (!place || !found) return;
  const {width, height} = found.chart;
  place.replaceChildren(chartSvg(drawnChart(found.book, found.chart), width * SCALE, height * SCALE));
}

export class ChartPreviews {
  /** What is drawn, by the page's id of the chart. */
  readonly #drawn = new Map<string, {readonly sheetId: string; readonly chart: ChartState}>();
  readonly #end: (() => void)[];

  constructor(
    private readonly grid: Grid,
    private readonly book: HostBook,
  ) {
    if (!withComponents.has(grid)) {
      withComponents.add(grid);
      const {React} = globalThis as unknown as {React: ReactLike};
      (grid.started.univerAPI as unknown as WithComponents).registerComponent(COMPONENT, ({data}) =>
        React.createElement('div', {
          'data-chart': data?.chart,
          ref: (place: HTMLElement | null) => drawInto(place, data?.chart),
        }),
      );
    }
    this.#end = [
      book.observe(({kind}) => {
        if (kind === 'charts' || kind === 'sheets') this.#draw();
      }),
      book.listen(({kind}) => {
        if (kind === 'calculated' || kind === 'contents') this.#renew();
      }),
    ];
  }

  end(): void {
    this.#end.forEach((end) => end());
    for (const id of [...this.#drawn.keys()]) this.#remove(id);
  }

  /** Adds, moves and takes away. */
  #draw(): void {
    const wanted = new Map<string, {sheetId: string; chart: ChartState}>();
    for (const {id: sheetId} of this.book.sheets) {
      for (const chart of this.book.state(sheetId).charts) {
        wanted.set(`${this.book.calculation.unit}-${sheetId}-${chart.id}`, {sheetId, chart});
      }
    }
    for (const [id, {chart}] of this.#drawn) if (wanted.get(id)?.chart !== chart) this.#remove(id);
    for (const [id, {sheetId, chart}] of wanted) if (!this.#drawn.has(id)) this.#add(id, sheetId, chart);
  }

  #add(id: string, sheetId: string, chart: ChartState): void {
    const {left, top, width, height} = chart;
    shown.set(id, {book: this.book, chart});
    this.#drawn.set(id, {sheetId, chart});
    this.#sheet(sheetId)?.addFloatDomToPosition(
      {
        componentKey: COMPONENT,
        allowTransform: false,
        initPosition: {
          startX: left * SCALE,
          endX: (left + width) * SCALE,
          startY: top * SCALE,
          endY: (top + height) * SCALE,
        },
        data: {chart: id},
      },
      id,
    );
  }

  #remove(id: string): void {
    const {sheetId} = this.#drawn.get(id)!;
    this.#drawn.delete(id);
    shown.delete(id);
    this.#sheet(sheetId)?.removeFloatDom(id);
  }

  /** The cells of the charts may have changed. */
  #renew(): void {
    for (const id of this.#drawn.keys()) {
      const place = document.querySelector<HTMLElement>(`[data-chart="${CSS.escape(id)}"]`);
      drawInto(place, id);
    }
  }

  #sheet(id: string): Floating | undefined {
    const book = this.grid.started.univerAPI.getUniverSheet(this.book.calculation.unit);
    return (book?.getSheetBySheetId(id) ?? undefined) as unknown as Floating | undefined;
  }
}
