/** Puts a planned sheet into the workbook: a new sheet each, in few round trips. */
import {batch} from '../batch';
import {longWork} from '../longWork';
import {withNewSheets} from '../newSheets';
import {asProblem, WorkbookProblem} from '../problems';
import {extent, freeName, matrix, type ChartPlan, type Look, type Place, type SheetPlan} from './plan';

/** Points for each character of a column: a little more than Excel takes, for other fonts. */
const POINTS = 6.2;
const MARGINS = {left: 0.4, right: 0.4, top: 0.6, bottom: 0.6, header: 0.3, footer: 0.3};

/**
 * Adds a sheet and fills it as planned. A sheet of that name stays as it is; the new one gets a number. When Excel ends
 * the request halfway, the new sheet is taken away again.
 * @returns the name of the new sheet
 */
export async function writeSheet(plan: SheetPlan, show = true): Promise<string> {
  return batch(async (context) => {
    const sheets = context.workbook.worksheets;
    sheets.load('items/name');
    await context.sync();
    const name = freeName(
      plan.name,
      sheets.items.map((sheet) => sheet.name),
    );
    await withNewSheets(context, [name], async ([sheet]) => {
      const range = (at: Place): Excel.Range => sheet.getRangeByIndexes(at.row, at.column, at.rows, at.columns);
      const all = extent(plan);
      // Formats first: a text that looks like a number has to find its cell formatted as text.
      for (const {at, format} of plan.formats) range(at).numberFormat = filled(at, format);
      range(all).formulas = matrix(plan, all);
      await context.sync();
      for (const look of plan.looks) dress(range(look.at), look);
      plan.widths.forEach((width, i) => {
        sheet.getRangeByIndexes(0, i, 1, 1).format.columnWidth = width * POINTS;
      });
      for (const {row, points} of plan.heights) sheet.getRangeByIndexes(row, 0, 1, 1).format.rowHeight = points;
      sheet.showGridlines = false;
      for (const chart of plan.charts) draw(sheet, chart, range);
      setPage(sheet, plan, range);
      if (show) {
        sheet.activate();
        sheet.getRangeByIndexes(0, 0, 1, 1).select();
      }
      await context.sync();
    });
    return name;
  });
}

const filled = ({rows, columns}: Place, format: string): string[][] =>
  Array.from({length: rows}, () => new Array<string>(columns).fill(format));

function dress(range: Excel.Range, look: Look): void {
  const {format} = range;
  if (look.merge) range.merge();
  if (look.bold) format.font.bold = true;
  if (look.italic) format.font.italic = true;
  if (look.size !== undefined) format.font.size = look.size;
  if (look.color !== undefined) format.font.color = look.color;
  if (look.wrap) format.wrapText = true;
  if (look.align !== undefined) {
    format.horizontalAlignment = ({left: 'Left', center: 'Center', right: 'Right'} as const)[look.align];
  }
  if (look.top) format.verticalAlignment = 'Top';
  if (look.line) {
    const line = format.borders.getItem('EdgeBottom');
    line.style = 'Continuous';
    line.color = '#808080';
  }
}

function draw(sheet: Excel.Worksheet, plan: ChartPlan, range: (at: Place) => Excel.Range): void {
  const lines = plan.kind === 'lines';
  const [first, ...rest] = plan.series;
  const chart = sheet.charts.add(lines ? 'XYScatterLinesNoMarkers' : 'ColumnClustered', range(first.values), 'Columns');
  chart.name = plan.title;
  chart.title.text = plan.title;
  chart.title.format.font.size = 10;
  const last = {row: plan.at.row + plan.at.rows - 1, column: plan.at.column + plan.at.columns - 1};
  chart.setPosition(range({...plan.at, rows: 1, columns: 1}), range({...last, rows: 1, columns: 1}));
  const all = [chart.series.getItemAt(0), ...rest.map(({name}) => chart.series.add(name))];
  all.forEach((series, i) => {
    const {name, values, x, color, weight, dash} = plan.series[i];
    series.name = name;
    if (i > 0) series.setValues(range(values));
    const across = x ?? plan.categories;
    if (across !== undefined) series.setXAxisValues(range(across));
    if (weight === undefined) series.format.fill.setSolidColor(color);
    else {
      series.format.line.color = color;
      series.format.line.weight = weight;
      series.format.line.lineStyle = dash ? 'Dash' : 'Continuous';
      series.markerStyle = 'None';
    }
  });
  chart.legend.visible = plan.legend;
  if (plan.legend) chart.legend.position = 'Bottom';
  const {valueAxis, categoryAxis} = chart.axes;
  valueAxis.title.text = plan.yTitle;
  if (lines) {
    categoryAxis.minimum = 0;
    categoryAxis.maximum = 360;
    categoryAxis.majorUnit = 90;
    // The axis crosses at 0, the middle; its figures stand below the drawing.
    categoryAxis.tickLabelPosition = 'Low';
  }
}

/** In a header an ampersand begins a code; two of them are one. */
const literal = (text: string): string => text.replace(/&/g, '&&');

function setPage(sheet: Excel.Worksheet, {page}: SheetPlan, range: (at: Place) => Excel.Range): void {
  const {pageLayout} = sheet;
  pageLayout.setPrintArea(range(page.area));
  pageLayout.orientation = 'Portrait';
  pageLayout.paperSize = page.paper === 'a4' ? 'A4' : 'Letter';
  pageLayout.zoom = {horizontalFitToPages: 1, verticalFitToPages: 1};
  pageLayout.centerHorizontally = true;
  pageLayout.setPrintMargins('Inches', MARGINS);
  const pages = pageLayout.headersFooters.defaultForAllPages;
  pages.leftHeader = literal(page.header);
  pages.rightHeader = '&D';
  pages.leftFooter = literal(page.footer);
  pages.rightFooter = 'Page &P of &N';
}

export interface Progress {
  readonly done: number;
  readonly of: number;
}

export interface WrittenSheets {
  readonly names: readonly string[];
  /** Jobs that have no sheet, and why. */
  readonly failed: readonly {readonly job: string; readonly why: string}[];
  readonly cancelled: boolean;
}

/**
 * One sheet after another. Between two of them it can be cancelled; what is written stays, and is named.
 * @param plan plans the sheet of a job; undefined when there is nothing to record
 */
export async function writeSheets(
  jobs: readonly string[],
  plan: (index: number) => Promise<SheetPlan | undefined>,
  onProgress: (progress: Progress) => void,
  signal: AbortSignal,
): Promise<WrittenSheets> {
  return longWork(async () => {
    const names: string[] = [];
    const failed: {job: string; why: string}[] = [];
    for (let i = 0; i < jobs.length && !signal.aborted; i++) {
      onProgress({done: i, of: jobs.length});
      try {
        const planned = await plan(i);
        if (planned === undefined) throw new WorkbookProblem('No wheel of this job has readings and limits.');
        names.push(await writeSheet(planned, i === jobs.length - 1));
      } catch (error) {
        failed.push({job: jobs[i], why: asProblem(error).message});
      }
    }
    onProgress({done: names.length + failed.length, of: jobs.length});
    return {names, failed, cancelled: signal.aborted && names.length + failed.length < jobs.length};
  });
}
