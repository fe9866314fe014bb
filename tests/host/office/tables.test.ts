/** @jest-environment ./tests/host/support/environment.cjs */
import {parseCell} from '../../../src/host/book/addresses';
import {enter} from '../../../src/host/office/writing';
import {book, plain} from '../support/books';
import {closePanes, openPane, type Pane} from './support/panes';

afterEach(closePanes);

const wheels = book(
  {
    Data: {
      A1: 'Job',
      B1: 'Runout',
      C1: 'Double',
      A2: 7,
      B2: 1.5,
      C2: plain('Wheels[[#This Row],[Runout]]*2'),
      A3: 8,
      B3: 2,
      C3: plain('Wheels[[#This Row],[Runout]]*2'),
      E1: plain('SUM(Wheels[Double])'),
      A5: 'below',
    },
  },
  {
    tables: [
      {
        name: 'Wheels',
        sheet: 'Data',
        area: {top: 0, left: 0, bottom: 2, right: 2},
        header: true,
        totals: false,
        columns: ['Job', 'Runout', 'Double'],
      },
    ],
  },
);

const formulas = (pane: Pane, address: string): Promise<unknown[][]> =>
  pane.run(async (context) => {
    const range = context.workbook.worksheets.getItem('Data').getRange(address);
    range.load('formulas');
    await context.sync();
    return range.formulas;
  });

const values = (pane: Pane, address: string): Promise<unknown[][]> =>
  pane.run(async (context) => {
    const range = context.workbook.worksheets.getItem('Data').getRange(address);
    range.load('values');
    await context.sync();
    return range.values;
  });

test('a table of a file with its columns, rows and ranges', async () => {
  const {run} = await openPane(wheels);
  await run(async (context) => {
    const {tables} = context.workbook;
    tables.load('items/name,items/worksheet/name,items/columns/items/name,count');
    const table = tables.getItem('wheels');
    const [all, header, body] = [table.getRange(), table.getHeaderRowRange(), table.getDataBodyRange()];
    const column = table.columns.getItem('Runout');
    const cells = column.getDataBodyRange();
    for (const range of [all, header, body]) range.load('address');
    cells.load('address,values');
    column.load('name,index,id');
    table.rows.load('count');
    const none = table.columns.getItemOrNullObject('No such');
    none.load('name');
    await context.sync();
    expect(tables.count).toBe(1);
    expect(tables.items[0].worksheet.name).toBe('Data');
    expect(tables.items[0].columns.items.map(({name}) => name)).toEqual(['Job', 'Runout', 'Double']);
    expect([all, header, body].map(({address}) => address)).toEqual(['Data!A1:C3', 'Data!A1:C1', 'Data!A2:C3']);
    expect([cells.address, cells.values]).toEqual(['Data!B2:B3', [[1.5], [2]]]);
    expect([column.name, column.index, table.rows.count, none.isNullObject]).toEqual(['Runout', 1, 2, true]);
  });
});

test('a table is made of cells, named and styled; formulas use it at once', async () => {
  const {run, book: model} = await openPane(book({Data: {}}));
  await run(async (context) => {
    const sheet = context.workbook.worksheets.getItem('Data');
    const range = sheet.getRange('B2:C4');
    range.values = [
      ['Class', 'Limit'],
      ['light', 1],
      ['heavy', 2],
    ];
    const table = sheet.tables.add(range, true);
    table.name = 'Limits';
    table.style = 'TableStyleLight1';
    sheet.getRange('E1').formulas = [['=SUM(Limits[Limit])']];
    const cell = sheet.getRange('E1');
    cell.load('values');
    table.load('name,style,showHeaders,showTotals,id');
    await context.sync();
    expect(cell.values).toEqual([[3]]);
    expect([table.name, table.style, table.showHeaders, table.showTotals]).toEqual([
      'Limits',
      'TableStyleLight1',
      true,
      false,
    ]);
    // By its id, in another batch.
    const again = context.workbook.tables.getItem(table.id);
    again.load('name');
    await context.sync();
    expect(again.name).toBe('Limits');
  });
  expect(model.tables[0].origin).toBeUndefined();
});

test('headings that are blank, numbers or repeated become names', async () => {
  const pane = await openPane(book({Data: {A1: 'A', B1: 'a', D1: 2024, A2: 1}}));
  await pane.run(async (context) => {
    context.workbook.worksheets.getItem('Data').tables.add('A1:D2', true);
    await context.sync();
  });
  expect(await values(pane, 'A1:D1')).toEqual([['A', 'a2', 'Column3', '2024']]);
});

test('without headings a row is put above', async () => {
  const pane = await openPane(book({Data: {A1: 1, B1: 2, A2: 3, B2: 4, A4: plain('A2')}}));
  await pane.run(async (context) => {
    const table = context.workbook.worksheets.getItem('Data').tables.add('A1:B2', false);
    const range = table.getRange();
    range.load('address');
    await context.sync();
    expect(range.address).toBe('Data!A1:B3');
  });
  expect(await formulas(pane, 'A1:B5')).toEqual([
    ['Column1', 'Column2'],
    [1, 2],
    [3, 4],
    ['', ''],
    ['=A3', ''],
  ]);
});

test('names that are taken and tables that overlap are refused', async () => {
  const {run} = await openPane(wheels);
  const refused = (batch: (context: Excel.RequestContext) => void, code: string): Promise<void> =>
    expect(
      run(async (context) => {
        batch(context);
        await context.sync();
      }),
    ).rejects.toMatchObject({code});
  await refused((context) => context.workbook.tables.add('Data!C3:D9', true), 'InvalidOperation');
  await refused((context) => {
    context.workbook.tables.add('Data!G1:H3', true).name = 'WHEELS';
  }, 'ItemAlreadyExists');
  await refused((context) => {
    context.workbook.tables.getItem('Wheels').name = 'two words';
  }, 'InvalidArgument');
  await refused((context) => context.workbook.tables.getItem('Nope').load('name'), 'ItemNotFound');
});

test('formulas follow when a table or a column is renamed', async () => {
  const pane = await openPane(wheels);
  await pane.run(async (context) => {
    const table = context.workbook.tables.getItem('Wheels');
    table.name = 'Ledger';
    table.columns.getItem('Runout').name = 'Radial';
    context.workbook.worksheets.getItem('Data').getRange('C1').values = [['Twice']];
    await context.sync();
  });
  expect(await formulas(pane, 'A1:E2')).toEqual([
    ['Job', 'Radial', 'Twice', '', '=SUM(Ledger[Twice])'],
    [7, 1.5, '=Ledger[[#This Row],[Radial]]*2', '', ''],
  ]);
  expect(await values(pane, 'E1')).toEqual([[7]]);
});

test('a new row brings the formulas of its columns, and moves what stands below', async () => {
  const pane = await openPane(wheels);
  await pane.run(async (context) => {
    // The types do not know that null leaves a cell alone.
    const blank = null as unknown as string;
    const {rows} = context.workbook.tables.getItem('Wheels');
    rows.add(undefined, [[9, 4, blank]]);
    rows.add(0, [[6, 0.5, blank]]);
    await context.sync();
  });
  expect(await formulas(pane, 'A1:C7')).toEqual([
    ['Job', 'Runout', 'Double'],
    [6, 0.5, '=Wheels[[#This Row],[Runout]]*2'],
    [7, 1.5, '=Wheels[[#This Row],[Runout]]*2'],
    [8, 2, '=Wheels[[#This Row],[Runout]]*2'],
    [9, 4, '=Wheels[[#This Row],[Runout]]*2'],
    ['below', '', ''],
    ['', '', ''],
  ]);
  expect(await values(pane, 'E1')).toEqual([[16]]);
});

test('new columns at the end and between others, with formulas that calculate', async () => {
  const pane = await openPane(wheels);
  await pane.run(async (context) => {
    const {columns} = context.workbook.tables.getItem('Wheels');
    columns.add(undefined, [['Third'], ['=[@Runout]/3'], ['=[@Runout]/3']]);
    columns.add(1, [['Who'], ['Ann'], ['Bo']]);
    columns.add(undefined, undefined, 'Note');
    await context.sync();
  });
  expect(await values(pane, 'A1:F3')).toEqual([
    ['Job', 'Who', 'Runout', 'Double', 'Third', 'Note'],
    [7, 'Ann', 1.5, 3, 0.5, ''],
    [8, 'Bo', 2, 4, 2 / 3, ''],
  ]);
  expect(pane.book.tables[0].columns.map(({name}) => name)).toEqual([
    'Job',
    'Who',
    'Runout',
    'Double',
    'Third',
    'Note',
  ]);
  // What stood right of the table has moved aside, and still finds it.
  expect(await formulas(pane, 'G1')).toEqual([['=SUM(Wheels[Double])']]);
});

test('a column goes with its cells', async () => {
  const pane = await openPane(wheels);
  await pane.run(async (context) => {
    context.workbook.tables.getItem('Wheels').columns.getItem('Job').delete();
    await context.sync();
  });
  expect(await values(pane, 'A1:C3')).toEqual([
    ['Runout', 'Double', ''],
    [1.5, 3, ''],
    [2, 4, ''],
  ]);
});

test('a formula in one cell of a blank column fills it', async () => {
  const pane = await openPane(wheels);
  await pane.run(async (context) => {
    context.workbook.tables.getItem('Wheels').columns.add(undefined, undefined, 'Half');
    context.workbook.worksheets.getItem('Data').getRange('D3').formulas = [['=B3/2']];
    await context.sync();
  });
  expect(await formulas(pane, 'D2:D3')).toEqual([['=B2/2'], ['=B3/2']]);
});

test('resizing, totals, headings, and being a range again', async () => {
  const pane = await openPane(wheels);
  await pane.run(async (context) => {
    const table = context.workbook.tables.getItem('Wheels');
    table.resize('A1:D4');
    const range = table.getRange();
    range.load('address');
    table.showTotals = true;
    const totals = table.getTotalRowRange();
    totals.load('address,values');
    await context.sync();
    expect(range.address).toBe('Data!A1:D4');
    expect([totals.address, totals.values]).toEqual(['Data!A5:D5', [['Total', '', '', '']]]);
    table.showTotals = false;
    table.convertToRange();
    const left = context.workbook.tables.getItemOrNullObject('Wheels');
    left.load('name');
    await context.sync();
    expect(left.isNullObject).toBe(true);
  });
  expect(await formulas(pane, 'C4:D4')).toEqual([['=Wheels[[#This Row],[Runout]]*2', '']]);
});

test('a deleted table takes its cells along', async () => {
  const pane = await openPane(wheels);
  await pane.run(async (context) => {
    context.workbook.tables.getItem('Wheels').delete();
    await context.sync();
  });
  expect(await values(pane, 'A1:E3')).toEqual([
    ['', '', '', '', '#NAME?'],
    ['', '', '', '', ''],
    ['', '', '', '', ''],
  ]);
});

test('what a person types below a table becomes its next row', async () => {
  const pane = await openPane(wheels);
  enter(pane.book, 's0', [{...parseCell('B4')!, value: 5}]);
  await pane.book.settle();
  expect(pane.book.tables[0].area.bottom).toBe(3);
  expect(await formulas(pane, 'A4:C4')).toEqual([['', 5, '=Wheels[[#This Row],[Runout]]*2']]);
  expect(await values(pane, 'C4:E4')).toEqual([[10, '', '']]);
  // Not when something stands in the way.
  enter(pane.book, 's0', [{...parseCell('B5')!, value: 5}]);
  expect(pane.book.tables[0].area.bottom).toBe(3);
});

test('rows are deleted, the last one only cleared', async () => {
  const pane = await openPane(wheels);
  await pane.run(async (context) => {
    context.workbook.tables.getItem('Wheels').rows.getItemAt(0).delete();
    await context.sync();
  });
  expect(await values(pane, 'A1:C2')).toEqual([
    ['Job', 'Runout', 'Double'],
    [8, 2, 4],
  ]);
  await pane.run(async (context) => {
    context.workbook.tables.getItem('Wheels').rows.getItemAt(0).delete();
    await context.sync();
  });
  expect(pane.book.tables[0].area).toEqual({top: 0, left: 0, bottom: 1, right: 2});
  expect(await values(pane, 'A2:C2')).toEqual([['', '', '']]);
});
