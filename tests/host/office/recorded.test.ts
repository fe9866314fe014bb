/** @jest-environment ./tests/host/support/environment.cjs */
import {book} from '../support/books';
import {closePanes, openPane} from './support/panes';

afterEach(closePanes);

const data = book({
  Data: {
    A1: 'Angle',
    B1: 'Rim',
    C1: 'Tire',
    A2: 0,
    B2: 1,
    C2: 2,
    A3: 90,
    B3: 3,
    C3: 4,
    E1: 'x',
    E2: 'a',
    F2: 5,
    E3: 'b',
    F3: 6,
  },
  Sheet: {},
});

describe('charts', () => {
  test('keep their series, looks and places, and give them back', async () => {
    const {run, book: model} = await openPane(data);
    await run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('Data');
      const target = context.workbook.worksheets.getItem('Sheet');
      const chart = target.charts.add('XYScatterLines', sheet.getRange('A1:C3'), 'Columns');
      chart.name = 'Runout';
      chart.title.text = 'Runout over the turn';
      chart.title.format.font.size = 14;
      chart.legend.position = 'Bottom';
      chart.axes.valueAxis.title.text = 'mm';
      chart.axes.valueAxis.minimum = 0;
      chart.axes.categoryAxis.maximum = 360;
      chart.axes.categoryAxis.majorGridlines.visible = true;
      chart.axes.getItem('Value', 'Secondary').maximum = 9;
      chart.setPosition('B2', 'D5');
      const series = chart.series.getItemAt(0);
      series.format.line.color = '#0072B2';
      series.markerStyle = 'Circle';
      const own = chart.series.add('Limit');
      own.setValues(sheet.getRange('F2:F3'));
      own.setXAxisValues(sheet.getRange('A2:A3'));
      chart.series.load('items/name,items/chartType');
      target.charts.load('items/name,count');
      chart.load('left,top,width,height,title/text,axes/valueAxis/minimum,axes/valueAxis/title/visible');
      await context.sync();
      expect(chart.series.items.map(({name}) => name)).toEqual(['Rim', 'Tire', 'Limit']);
      expect(target.charts.items.map(({name}) => name)).toEqual(['Runout']);
      expect([chart.left, chart.top, chart.width, chart.height]).toEqual([48, 15, 144, 60]);
      expect([chart.title.text, chart.axes.valueAxis.minimum, chart.axes.valueAxis.title.visible]).toEqual([
        'Runout over the turn',
        0,
        true,
      ]);
      // Found again by its name and by number, in another batch.
      const again = target.charts.getItem('Runout');
      again.load('id');
      chart.series.items[2].delete();
      await context.sync();
      again.series.load('count');
      await context.sync();
      expect(again.series.count).toBe(2);
    });
    const [chart] = model.state('s1').charts;
    expect(chart.set).toEqual({
      'title.text': 'Runout over the turn',
      'title.format.font.size': 14,
      'legend.position': 'Bottom',
      'axes.valueAxis.title.text': 'mm',
      'axes.valueAxis.title.visible': true,
      'axes.valueAxis.minimum': 0,
      'axes.categoryAxis.maximum': 360,
      'axes.categoryAxis.majorGridlines.visible': true,
      'axes.secondary.valueAxis.maximum': 9,
    });
    expect(chart.series[0]).toMatchObject({
      name: {sheetId: 's0', area: {top: 0, left: 1, bottom: 0, right: 1}},
      values: {sheetId: 's0', area: {top: 1, left: 1, bottom: 2, right: 1}},
      xValues: {sheetId: 's0', area: {top: 1, left: 0, bottom: 2, right: 0}},
      set: {'format.line.color': '#0072B2', markerStyle: 'Circle'},
    });
  });

  test('labels before the numbers become categories; rows can be series', async () => {
    const {run, book: model} = await openPane(data);
    await run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('Data');
      sheet.charts.add('ColumnClustered', sheet.getRange('E2:F3'), 'Columns');
      sheet.charts.add('ColumnClustered', sheet.getRange('E2:F3'), 'Rows');
      await context.sync();
    });
    const [columns, rows] = model.state('s0').charts;
    expect(columns.series).toHaveLength(1);
    expect(columns.series[0].xValues).toEqual({sheetId: 's0', area: {top: 1, left: 4, bottom: 2, right: 4}});
    expect(rows.series.map(({name}) => name)).toEqual([
      {sheetId: 's0', area: {top: 1, left: 4, bottom: 1, right: 4}},
      {sheetId: 's0', area: {top: 2, left: 4, bottom: 2, right: 4}},
    ]);
  });

  test('a deleted one is gone', async () => {
    const {run, book: model} = await openPane(data);
    await run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('Data');
      const chart = sheet.charts.add('Line', sheet.getRange('B1:C3'));
      chart.load('name');
      await context.sync();
      chart.delete();
      const none = sheet.charts.getItemOrNullObject(chart.name);
      none.load('name');
      await context.sync();
      expect(none.isNullObject).toBe(true);
    });
    expect(model.state('s0').charts).toEqual([]);
  });
});

test('the sheet on paper', async () => {
  const {run, book: model} = await openPane(data);
  await run(async (context) => {
    const sheet = context.workbook.worksheets.getItem('Data');
    const {pageLayout} = sheet;
    pageLayout.orientation = 'Landscape';
    pageLayout.paperSize = 'A4';
    pageLayout.zoom = {horizontalFitToPages: 1, verticalFitToPages: 0};
    pageLayout.leftMargin = 36;
    pageLayout.setPrintMargins('Inches', {top: 1, footer: 0.25});
    pageLayout.setPrintArea('A1:C3');
    pageLayout.setPrintTitleRows('$1:$2');
    pageLayout.centerHorizontally = true;
    pageLayout.headersFooters.defaultForAllPages.centerFooter = 'Page &P of &N';
    sheet.horizontalPageBreaks.add('A3');
    sheet.horizontalPageBreaks.add('A2');
    const area = pageLayout.getPrintAreaOrNullObject();
    area.load('address');
    pageLayout.load('orientation,zoom,topMargin,footerMargin,paperSize');
    sheet.horizontalPageBreaks.load('items');
    await context.sync();
    expect(area.address).toBe('Data!A1:C3');
    expect([pageLayout.orientation, pageLayout.paperSize, pageLayout.topMargin, pageLayout.footerMargin]).toEqual([
      'Landscape',
      'A4',
      72,
      18,
    ]);
    expect(pageLayout.zoom).toEqual({horizontalFitToPages: 1, verticalFitToPages: 0});
    expect(sheet.horizontalPageBreaks.items).toHaveLength(2);
    sheet.horizontalPageBreaks.items[0].delete();
    await context.sync();
  });
  expect(model.state('s0').page).toMatchObject({
    isSet: true,
    leftMargin: 36,
    rowBreaks: [2],
    titleRows: {top: 0, bottom: 1},
    headersFooters: {'defaultForAllPages.centerFooter': 'Page &P of &N'},
  });
  expect(model.state('s1').page.isSet).toBe(false);
});

test('conditional formats are kept as they were described', async () => {
  const {run, book: model} = await openPane(data);
  await run(async (context) => {
    const range = context.workbook.worksheets.getItem('Data').getRange('B2:C3');
    const custom = range.conditionalFormats.add('Custom');
    custom.custom.rule.formula = '=B2>$F$2';
    custom.custom.format.fill.color = '#FFC000';
    const cell = range.conditionalFormats.add('CellValue');
    cell.cellValue.rule = {formula1: '=2', operator: 'GreaterThan'};
    cell.cellValue.format.font.color = '#FF0000';
    range.conditionalFormats.load('count,items/type');
    await context.sync();
    expect(range.conditionalFormats.items.map(({type}) => type)).toEqual(['CellValue', 'Custom']);
  });
  expect(model.state('s0').addedConditional.map(({type, areas, set}) => ({type, areas, set}))).toEqual([
    {
      type: 'CellValue',
      areas: [{top: 1, left: 1, bottom: 2, right: 2}],
      set: {
        'cellValue.rule': {formula1: '=2', operator: 'GreaterThan'},
        'cellValue.format.font.color': '#FF0000',
      },
    },
    {
      type: 'Custom',
      areas: [{top: 1, left: 1, bottom: 2, right: 2}],
      set: {'custom.rule.formula': '=B2>$F$2', 'custom.format.fill.color': '#FFC000'},
    },
  ]);
});

test('validations are kept with their cells, and move with them', async () => {
  const {run, book: model} = await openPane(data);
  await run(async (context) => {
    const sheet = context.workbook.worksheets.getItem('Data');
    const {dataValidation} = sheet.getRange('A2:A3');
    dataValidation.rule = {list: {inCellDropDown: true, source: 'LF,RF,LR,RR'}};
    dataValidation.errorAlert = {message: 'One of the positions', showAlert: true, style: 'Stop', title: 'Position'};
    const inside = sheet.getRange('A3').dataValidation;
    inside.load('type,rule');
    sheet.getRange('1:1').insert('Down');
    await context.sync();
    expect(inside.type).toBe('List');
  });
  expect(model.state('s0').validations).toMatchObject([
    {area: {top: 2, left: 0, bottom: 3, right: 0}, rule: {list: {source: 'LF,RF,LR,RR'}}},
  ]);
});
