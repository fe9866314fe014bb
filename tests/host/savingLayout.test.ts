/** @jest-environment ./tests/host/support/environment.cjs */
import {DOMParser, type Element} from '@xmldom/xmldom';
import ExcelJS from 'exceljs';
import {parseArea} from '../../src/host/book/addresses';
import {Calculation} from '../../src/host/book/calculation';
import {extentOf} from '../../src/host/book/extent';
import {bookToSave, originalOf} from '../../src/host/browser/saving';
import {rowsToSave} from '../../src/host/browser/savingLayout';
import {chartXml} from '../../src/host/files/chartXml';
import {readWithLooks} from '../../src/host/files/read';
import {relationships, textPart, workbookParts} from '../../src/host/files/parts';
import {sheetPath} from '../../src/host/files/patch';
import {saveBook} from '../../src/host/files/saveBook';
import {unpackZip, type Parts} from '../../src/host/files/zip';
import {HostBook} from '../../src/host/office/hostBook';
import type {Band, ChartState, SeriesState} from '../../src/host/office/state';
import {richWorkbook, SHEET} from '../files/richWorkbook';
import {nodeEngine} from './support/books';

const opened: Calculation[] = [];
afterEach(() => opened.splice(0).forEach((calculation) => calculation.dispose()));

async function open(bytes: Uint8Array) {
  const {book: content, looks: readLooks} = await readWithLooks(bytes);
  const looks = readLooks();
  const sheets = content.sheets.map((sheet, i) => ({...sheet, id: `s${i}`}));
  const calculation = new Calculation(nodeEngine(), sheets, content, extentOf(content));
  opened.push(calculation);
  await calculation.calculate();
  const book = new HostBook(calculation, content, looks);
  const original = originalOf(book, content, looks, new Map(sheets.map(({name, id}) => [name, id])));
  const save = async () => {
    await book.settle();
    const {book: toSave, lost} = bookToSave(book, original);
    return {bytes: saveBook(bytes, toSave), lost};
  };
  return {book, save};
}

async function plainWorkbook(): Promise<Uint8Array> {
  const workbook = new ExcelJS.Workbook();
  const sheet = workbook.addWorksheet("Ann's <wheels>");
  sheet.addRows([
    ['', 'a & b'],
    ['LF', 0.2],
    ['RF', 0.5],
  ]);
  sheet.getRow(2).height = 30;
  return new Uint8Array((await workbook.xlsx.writeBuffer()) as ArrayBuffer);
}

const series = (sheetId: string, change: Partial<SeriesState> = {}): SeriesState => ({
  id: '1',
  name: {sheetId, area: parseArea('B1')!},
  chartType: undefined,
  values: {sheetId, area: parseArea('B2:B4')!},
  xValues: {sheetId, area: parseArea('A2:A4')!},
  set: {},
  ...change,
});

const chart = (sheetId: string, change: Partial<ChartState> = {}): ChartState => ({
  id: '{1}',
  name: 'Runout <&> "so"',
  chartType: 'ColumnClustered',
  seriesBy: 'Columns',
  source: {sheetId, area: parseArea('A1:B4')!},
  left: 60,
  top: 20,
  width: 240,
  height: 150,
  series: [series(sheetId)],
  set: {},
  ...change,
});

const all = (xml: string, name: string): Element[] =>
  Array.from(
    new DOMParser({onError: (_, message) => fail(message)}).parseFromString(xml, 'text/xml').getElementsByTagName(name),
  );

const fail = (message: string): never => {
  throw new Error(message);
};

function chartsOf(parts: Parts, sheet: string): string[] {
  const path = sheetPath(workbookParts(parts), sheet);
  const drawing = relationships(parts, path).find(({type}) => type === 'drawing')!.target;
  return relationships(parts, drawing)
    .filter(({type}) => type === 'chart')
    .map(({target}) => textPart(parts, target));
}

test('a chart of the page in a workbook without drawings: its cells, their values, its place', async () => {
  const {book, save} = await open(await plainWorkbook());
  const [{id, name}] = book.sheets;
  const row = book.state(id).rowHeight * 0.75;
  const columns = [{from: 0, to: 0, size: 40, look: undefined}];
  book.setSheet(id, {columns, charts: [chart(id, {top: row + 30, height: 10 * row})]}, 'charts');
  const {bytes, lost} = await save();
  expect(lost).toEqual([]);
  const parts = unpackZip(bytes);
  const [xml] = chartsOf(parts, name);
  expect(all(xml, 'c:f').map(({textContent}) => textContent)).toEqual([
    "'Ann''s <wheels>'!$B$1",
    "'Ann''s <wheels>'!$A$2:$A$4",
    "'Ann''s <wheels>'!$B$2:$B$4",
  ]);
  expect(all(xml, 'c:v').map(({textContent}) => textContent)).toEqual(['a & b', 'LF', 'RF', '0.2', '0.5']);
  expect(all(xml, 'c:barChart').length).toBe(1);
  expect(all(xml, 'a:t').map(({textContent}) => textContent)).toEqual(['Runout <&> "so"']);
  // 60 points are the first column, of 30, and 30 of the second one; down are the first two rows, and ten more.
  const drawing = textPart(parts, 'xl/drawings/drawing1.xml');
  const corner = (element: string) =>
    Array.from(all(drawing, element)[0].childNodes).map((node) => Number(node.textContent));
  expect(corner('xdr:from')).toEqual([1, 30 * 12700, 2, 0]);
  expect(corner('xdr:to')).toEqual([6, 30 * 12700, 12, 0]);
});

test('a chart beside those that the file has: these stay as they are', async () => {
  const before = richWorkbook();
  const {book, save} = await open(before);
  const {id} = book.sheets.find(({name}) => name === SHEET)!;
  const number = chartsOf(unpackZip(before), SHEET).length;
  expect(number).toBeGreaterThan(0);
  book.setSheet(id, {charts: [chart(id), chart(id, {id: '{2}', name: 'Second'})]}, 'charts');
  const parts = unpackZip((await save()).bytes);
  const charts = chartsOf(parts, SHEET);
  expect(charts.length).toBe(number + 2);
  expect(charts.slice(0, number)).toEqual(chartsOf(unpackZip(before), SHEET));
  const path = sheetPath(workbookParts(parts), SHEET);
  const drawing = textPart(parts, relationships(parts, path).find(({type}) => type === 'drawing')!.target);
  const numbers = all(drawing, 'xdr:cNvPr').map((shape) => shape.getAttribute('id'));
  expect(new Set(numbers).size).toBe(numbers.length);
});

test('a kind of chart that is not written is named', async () => {
  const {book, save} = await open(await plainWorkbook());
  const [{id, name}] = book.sheets;
  book.setSheet(id, {charts: [chart(id, {chartType: 'Funnel'})]}, 'charts');
  const {bytes, lost} = await save();
  expect(lost).toEqual([`the chart “Runout <&> "so"” of the sheet ${name}`]);
  expect([...unpackZip(bytes).keys()].filter((part) => /chart|drawing/.test(part))).toEqual([]);
});

test.each([
  ['ColumnStacked', 'c:barChart', {'c:grouping': 'stacked', 'c:barDir': 'col', 'c:overlap': '100'}],
  ['BarClustered', 'c:barChart', {'c:grouping': 'clustered', 'c:barDir': 'bar'}],
  ['Line', 'c:lineChart', {'c:symbol': 'none', 'c:crossBetween': 'between'}],
  ['LineMarkers', 'c:lineChart', {'c:smooth': '0'}],
  ['XYScatter', 'c:scatterChart', {'c:crossBetween': 'midCat'}],
  ['XYScatterSmoothNoMarkers', 'c:scatterChart', {'c:smooth': '1', 'c:symbol': 'none'}],
])('%s', (type, element, wanted) => {
  const data = (values: (number | string | undefined)[]) => ({formula: undefined, values});
  const one = {name: data(['s']), values: data([1, undefined, 3]), across: data([0, 90, 180]), set: {}};
  const xml = chartXml({name: 'Chart 1', type, series: [one], set: {}});
  expect(all(xml, element).length).toBe(1);
  for (const [name, value] of Object.entries(wanted))
    expect([name, all(xml, name)[0].getAttribute('val')]).toEqual([name, value]);
  // A cell without a value is a gap, not a zero.
  const values = all(xml, element === 'c:scatterChart' ? 'c:yVal' : 'c:val')[0];
  expect(Array.from(values.getElementsByTagName('c:pt')).map((point) => point.getAttribute('idx'))).toEqual(['0', '2']);
});

test('what was set of a chart', () => {
  const set = {
    'title.visible': false,
    'legend.position': 'Bottom',
    'axes.categoryAxis.minimum': 0,
    'axes.categoryAxis.maximum': 360,
    'axes.categoryAxis.majorUnit': 90,
    'axes.categoryAxis.tickLabelPosition': 'Low',
    'axes.valueAxis.title.text': 'mm < in',
  };
  const of = {'format.line.color': '#d55e00', 'format.line.weight': 1.5, 'format.line.lineStyle': 'Dash'};
  const data = {formula: undefined, values: [1, 2]};
  const one = {name: {formula: undefined, values: ['tire']}, values: data, across: data, set: of};
  const xml = chartXml({name: 'x', type: 'XYScatterLinesNoMarkers', series: [one], set});
  const value = (name: string) => all(xml, name).map((each) => each.getAttribute('val'));
  expect(value('c:autoTitleDeleted')).toEqual(['1']);
  expect(all(xml, 'a:t').map(({textContent}) => textContent)).toEqual(['mm < in']);
  expect([value('c:legendPos'), value('c:max'), value('c:min'), value('c:majorUnit')]).toEqual([
    ['b'],
    ['360'],
    ['0'],
    ['90'],
  ]);
  expect(value('c:tickLblPos')).toEqual(['low', 'nextTo']);
  const [line] = all(xml, 'c:ser')[0].getElementsByTagName('a:ln');
  expect([line.getAttribute('w'), line.toString()]).toEqual(['19050', expect.stringContaining('val="D55E00"')]);
  expect(value('a:prstDash')).toEqual(['dash']);
});

test('heights of rows: those that differ, others as they were', async () => {
  const {book, save} = await open(await plainWorkbook());
  const [{id}] = book.sheets;
  const band = (from: number, to: number, size: number | undefined): Band => ({from, to, size, look: undefined});
  book.setSheet(id, {rows: [band(1, 1, 40), band(2, 2, 0), band(6, 7, 60)]}, 'sizes');
  const {bytes, lost} = await save();
  expect(lost).toEqual([]);
  const again = new ExcelJS.Workbook();
  await again.xlsx.load(bytes as unknown as ArrayBuffer);
  const sheet = again.worksheets[0];
  const heights = [1, 2, 4, 7, 8, 9].map((row) => sheet.getRow(row).height);
  expect(heights).toEqual([undefined, 30, undefined, 45, 45, undefined]);
  expect(sheet.getRow(3).hidden).toBe(true);
  expect(sheet.getCell('B3').value).toBe(0.5);

  const {book: reopened, save: saveAgain} = await open(bytes);
  reopened.setSheet(reopened.sheets[0].id, {rows: []}, 'sizes');
  const usual = new ExcelJS.Workbook();
  await usual.xlsx.load((await saveAgain()).bytes as unknown as ArrayBuffer);
  expect([1, 2, 3, 7].map((row) => usual.worksheets[0].getRow(row).height)).toEqual(Array(4).fill(undefined));
  expect(usual.worksheets[0].getRow(3).hidden).toBe(false);
});

test('rows that differ, from one to another', () => {
  const band = (from: number, to: number, size: number): Band => ({from, to, size, look: undefined});
  expect(rowsToSave([], [])).toEqual([]);
  expect(rowsToSave([band(2, 5, 30)], [band(2, 5, 30)])).toEqual([]);
  expect(rowsToSave([band(2, 5, 30)], [band(4, 8, 40)])).toEqual([
    {from: 2, to: 3, size: undefined, look: undefined},
    {from: 4, to: 5, size: 40, look: undefined},
    {from: 6, to: 8, size: 40, look: undefined},
  ]);
  expect(rowsToSave([], [band(0, 1_048_575, 40)])).toBeUndefined();
});
