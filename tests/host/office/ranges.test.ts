/** @jest-environment ./tests/host/support/environment.cjs */
import type {CellLook, Looks} from '../../../src/host/files/looks';
import {book, dynamic, legacy, plain} from '../support/books';
import {closePanes, openPane, type Pane} from './support/panes';

afterEach(closePanes);

/** Reads properties of a range of the sheet Data. */
async function reading(pane: Pane, address: string, properties: string): Promise<Excel.Range> {
  return pane.run(async (context) => {
    const range = context.workbook.worksheets.getItem('Data').getRange(address);
    range.load(properties);
    await context.sync();
    return range;
  });
}

const write = (pane: Pane, address: string, values: unknown): Promise<void> =>
  pane.run(async (context) => {
    context.workbook.worksheets.getItem('Data').getRange(address).values = values as unknown[][];
    await context.sync();
  });

describe('reading', () => {
  test('values, formulas, texts and types of a range', async () => {
    const pane = await openPane(
      book({
        Data: {A1: 'Tire', B1: 2.5, A2: true, B2: dynamic('B1*2'), A3: dynamic('NA()'), C1: dynamic('SEQUENCE(1,2)')},
      }),
    );
    const range = await reading(
      pane,
      'A1:D3',
      'values,formulas,text,valueTypes,address,rowCount,columnCount,cellCount',
    );
    expect(range.address).toBe('Data!A1:D3');
    expect([range.rowCount, range.columnCount, range.cellCount]).toEqual([3, 4, 12]);
    expect(range.values).toEqual([
      ['Tire', 2.5, 1, 2],
      [true, 5, '', ''],
      ['#N/A', '', '', ''],
    ]);
    expect(range.formulas).toEqual([
      ['Tire', 2.5, '=SEQUENCE(1,2)', 2],
      [true, '=B1*2', '', ''],
      ['=NA()', '', '', ''],
    ]);
    expect(range.text[1]).toEqual(['TRUE', '5', '', '']);
    expect(range.valueTypes).toEqual([
      ['String', 'Double', 'Double', 'Double'],
      ['Boolean', 'Double', 'Empty', 'Empty'],
      ['Error', 'Empty', 'Empty', 'Empty'],
    ]);
  });

  test('addresses of blocks, whole rows and columns, and sheets whose names need quotation marks', async () => {
    const {run} = await openPane(book({Data: {}, 'Bob’s 2nd': {A1: 1}, "O'Hara": {A1: 1}}));
    const found = await run(async (context) => {
      const sheets = ['Data', 'Bob’s 2nd', "O'Hara"].map((name) => context.workbook.worksheets.getItem(name));
      const ranges = [
        sheets[0].getRange('B2'),
        sheets[0].getRange('$B$2:C3'),
        sheets[0].getRange('B:C'),
        sheets[0].getRange('2:3'),
        sheets[0].getRange(),
        sheets[0].getRange('C3:A1'),
        sheets[1].getRange('A1'),
        sheets[2].getRange("'O''Hara'!A1"),
        sheets[0].getRangeByIndexes(1, 2, 3, 4),
        sheets[0].getCell(4, 5),
        sheets[0].getRange('B2:C3').getOffsetRange(1, -1),
        sheets[0].getRange('B2:C3').getResizedRange(2, -1),
        sheets[0].getRange('B2:C3').getEntireRow(),
        sheets[0].getRange('B2:D4').getIntersection('C3:E9'),
        sheets[0].getRange('B2:C3').getBoundingRect('D9'),
        sheets[0].getRange('B2:C3').getRow(1),
        sheets[0].getRange('B2:C3').getColumn(0),
        sheets[0].getRange('B2:C3').getLastCell(),
      ];
      for (const range of ranges) range.load('address');
      await context.sync();
      return ranges.map(({address}) => address);
    });
    expect(found).toEqual([
      'Data!B2',
      'Data!B2:C3',
      'Data!B:C',
      'Data!2:3',
      'Data!1:1048576',
      'Data!A1:C3',
      "'Bob’s 2nd'!A1",
      "'O''Hara'!A1",
      'Data!C2:F4',
      'Data!F5',
      'Data!A3:B4',
      'Data!B2:B5',
      'Data!2:3',
      'Data!C3:D4',
      'Data!B2:D9',
      'Data!B3:C3',
      'Data!B2:B3',
      'Data!C3',
    ]);
  });

  test('a range beyond the sheet and an address that is none are refused', async () => {
    const {run} = await openPane(book({Data: {}}));
    const tries: ((sheet: Excel.Worksheet) => Excel.Range)[] = [
      (sheet) => sheet.getRange('A1').getOffsetRange(-1, 0),
      (sheet) => sheet.getRange('nonsense!'),
      (sheet) => sheet.getRange('XFE1'),
      (sheet) => sheet.getRangeByIndexes(0, 0, 0, 1),
      (sheet) => sheet.getRange('Other!A1'),
    ];
    for (const attempt of tries) {
      await expect(
        run(async (context) => {
          attempt(context.workbook.worksheets.getItem('Data')).load('address');
          await context.sync();
        }),
      ).rejects.toMatchObject({code: 'InvalidArgument'});
    }
  });

  test('whole columns have no values; what is used of them has', async () => {
    const pane = await openPane(book({Data: {B2: 1, B4: 'x'}}));
    const [values, used] = await pane.run(async (context) => {
      const column = context.workbook.worksheets.getItem('Data').getRange('B:B');
      const inUse = column.getUsedRange(true);
      column.load('values');
      inUse.load('address,values');
      await context.sync();
      return [column.values, [inUse.address, inUse.values]];
    });
    expect(values).toBeNull();
    expect(used).toEqual(['Data!B2:B4', [[1], [''], ['x']]]);
  });

  test('the used range of a blank sheet is its first cell, or nothing', async () => {
    const {run} = await openPane(book({Data: {}, Other: {A1: 1}}));
    await run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('Data');
      const [used, none] = [sheet.getUsedRange(), sheet.getUsedRangeOrNullObject()];
      used.load('address');
      none.load('address');
      const inside = none.getCell(0, 0);
      inside.load('values');
      await context.sync();
      expect([used.address, none.isNullObject, inside.isNullObject]).toEqual(['Data!A1', true, true]);
    });
  });

  test('formulas in R1C1 words, and back', async () => {
    const pane = await openPane(book({Data: {A1: 3, B2: plain('A1*$A$1')}}));
    expect((await reading(pane, 'B2', 'formulasR1C1')).formulasR1C1).toEqual([['=R[-1]C[-1]*R1C1']]);
    await pane.run(async (context) => {
      context.workbook.worksheets.getItem('Data').getRange('D1:D2').formulasR1C1 = [['=RC1*2'], ['=R1C1+1']];
      await context.sync();
    });
    expect((await reading(pane, 'D1:D2', 'formulas')).formulas).toEqual([['=$A1*2'], ['=$A$1+1']]);
  });

  test('too many cells at once are refused', async () => {
    const pane = await openPane(book({Data: {}}));
    await expect(reading(pane, 'A1:Z999999', 'values')).rejects.toMatchObject({
      code: 'ResponsePayloadSizeLimitExceeded',
    });
  });
});

describe('writing', () => {
  test('texts become what Excel makes of them', async () => {
    const pane = await openPane(book({Data: {}}));
    await write(pane, 'A1:A12', [
      ['12.5'],
      ["'12.5"],
      ['5%'],
      ['1,234'],
      ['2024-01-05'],
      ['TRUE'],
      ['=A1*2'],
      ['12°'],
      ['#N/A'],
      [' 7'],
      ['='],
      [-0],
    ]);
    const range = await reading(pane, 'A1:A12', 'values,formulas,numberFormat');
    expect(range.values.flat()).toEqual([12.5, '12.5', 0.05, 1234, 45296, true, 25, '12°', '#N/A', 7, '=', 0]);
    expect(range.formulas[6]).toEqual(['=A1*2']);
    expect(range.numberFormat.flat().slice(0, 5)).toEqual(['General', 'General', '0%', '#,##0', 'yyyy-mm-dd']);
  });

  test('a cell with the format of texts keeps what is written into it', async () => {
    const pane = await openPane(book({Data: {}}));
    await pane.run(async (context) => {
      const range = context.workbook.worksheets.getItem('Data').getRange('A1:A3');
      range.numberFormat = [['@'], ['@'], ['General']];
      range.values = [['007'], ['=1+1'], ['007']];
      await context.sync();
    });
    const range = await reading(pane, 'A1:A3', 'values,valueTypes,text');
    expect(range.values.flat()).toEqual(['007', '=1+1', 7]);
    expect(range.text.flat()).toEqual(['007', '=1+1', '7']);
  });

  test('null leaves a cell alone, an empty text clears it, one value fills all', async () => {
    const pane = await openPane(book({Data: {A1: 1, B1: 2, C1: 3}}));
    await write(pane, 'A1:C1', [[null, '', 'new']]);
    expect((await reading(pane, 'A1:C1', 'values')).values).toEqual([[1, '', 'new']]);
    await write(pane, 'A1:B2', 9);
    expect((await reading(pane, 'A1:B2', 'values')).values).toEqual([
      [9, 9],
      [9, 9],
    ]);
  });

  test.each([
    ['too few rows', [[1, 2]]],
    ['too many columns', [[1, 2, 3], [1, 2, 3]]], // prettier-ignore
    ['ragged rows', [[1, 2], [1]]],
    ['a flat list', [1, 2]],
  ])('%s are refused', async (_, values) => {
    const pane = await openPane(book({Data: {A1: 'kept'}}));
    await expect(write(pane, 'A1:B2', values)).rejects.toMatchObject({code: 'InvalidArgument'});
    expect((await reading(pane, 'A1', 'values')).values).toEqual([['kept']]);
  });

  test('a formula that cannot be read is refused, and nothing is written', async () => {
    const pane = await openPane(book({Data: {A1: 'kept', B1: 'kept'}}));
    await expect(write(pane, 'A1:B1', [[1, '=SUM(']])).rejects.toMatchObject({code: 'InvalidArgument'});
    expect((await reading(pane, 'A1:B1', 'values')).values).toEqual([['kept', 'kept']]);
  });

  test('a formula spills; writing into its cells takes its room', async () => {
    const pane = await openPane(book({Data: {}}));
    const {run} = pane;
    await run(async (context) => {
      const cell = context.workbook.worksheets.getItem('Data').getRange('B2');
      cell.formulas = [['=SEQUENCE(2,3)']];
      const spill = cell.getSpillingToRangeOrNullObject();
      const parent = context.workbook.worksheets.getItem('Data').getRange('D3').getSpillParentOrNullObject();
      spill.load('address,values');
      parent.load('address');
      cell.load('hasSpill,values');
      await context.sync();
      expect([spill.address, parent.address, cell.hasSpill]).toEqual(['Data!B2:D3', 'Data!B2', true]);
      expect(spill.values).toEqual([
        [1, 2, 3],
        [4, 5, 6],
      ]);
    });
    await write(pane, 'C3', [['mine']]);
    expect((await reading(pane, 'B2:D3', 'values')).values).toEqual([
      ['#SPILL!', '', ''],
      ['', 'mine', ''],
    ]);
    await write(pane, 'C3', [['']]);
    expect((await reading(pane, 'B2:D3', 'values')).values[1]).toEqual([4, 5, 6]);
  });

  test('part of an array formula of fixed size cannot be changed', async () => {
    const pane = await openPane(book({Data: {A1: legacy('SEQUENCE(1,2)', 'A1:B1')}}));
    await expect(write(pane, 'B1', [[1]])).rejects.toMatchObject({code: 'AccessDenied'});
    await write(pane, 'A1:B1', [[1, 2]]);
    expect((await reading(pane, 'A1:B1', 'formulas')).formulas).toEqual([[1, 2]]);
  });

  test('our functions calculate, and what depends on them', async () => {
    const pane = await openPane(book({Data: {A1: 3, A2: 120, B1: plain('A1+1')}}));
    await write(pane, 'C1:C2', [['=WHEEL.CLOCK(A2)'], ['=LEN(C1)']]);
    const {values} = await reading(pane, 'C1:C2', 'values');
    // A third of the turn is four hours of the dial.
    expect(values[0][0]).toContain('4');
    expect(values[1][0]).toBe(String(values[0][0]).length);
    await write(pane, 'A1', [[10]]);
    expect((await reading(pane, 'B1', 'values')).values).toEqual([[11]]);
  });
});

describe('formats', () => {
  test('are set for all cells and read where they agree', async () => {
    const pane = await openPane(book({Data: {A1: 1.25, B1: 2}}));
    await pane.run(async (context) => {
      const {format} = context.workbook.worksheets.getItem('Data').getRange('A1:B2');
      format.fill.color = '#fff2cc';
      format.font.bold = true;
      format.font.color = 'red';
      format.horizontalAlignment = 'Center';
      format.wrapText = true;
      format.columnWidth = 60;
      context.workbook.worksheets.getItem('Data').getRange('B1').format.font.bold = false;
      await context.sync();
      format.load(
        'horizontalAlignment,verticalAlignment,wrapText,columnWidth,rowHeight,fill/color,font/bold,font/color',
      );
      await context.sync();
      expect(format.toJSON()).toMatchObject({
        horizontalAlignment: 'Center',
        verticalAlignment: 'Bottom',
        wrapText: true,
        columnWidth: 60,
        rowHeight: 15,
        fill: {color: '#FFF2CC'},
        font: {color: '#FF0000'},
      });
      expect(format.font.bold).toBeNull();
    });
    expect(pane.book.look('s0', 0, 1)).toEqual({
      fill: '#FFF2CC',
      color: '#FF0000',
      horizontal: 'center',
      wrap: true,
    });
  });

  test('borders lie on the cells along the edge', async () => {
    const pane = await openPane(book({Data: {}}));
    await pane.run(async (context) => {
      const {borders} = context.workbook.worksheets.getItem('Data').getRange('B2:C3').format;
      const edge = borders.getItem('EdgeBottom');
      edge.style = 'Continuous';
      edge.weight = 'Thick';
      edge.color = '#0072B2';
      borders.getItem('InsideVertical').style = 'Dash';
      await context.sync();
      edge.load('style,weight,color');
      await context.sync();
      expect([edge.style, edge.weight, edge.color]).toEqual(['Continuous', 'Thick', '#0072B2']);
    });
    const looks = (row: number, column: number): CellLook => pane.book.look('s0', row, column);
    expect(looks(2, 2).borders).toEqual({bottom: {style: 'thick', color: '#0072B2'}});
    expect(looks(1, 1).borders).toEqual({right: {style: 'dashed', color: '#000000'}});
    expect(looks(1, 2).borders).toBeUndefined();
  });

  test('of a file are there: number formats, widths, whole columns', async () => {
    const looks: Looks = {
      looks: [{numberFormat: '0.00'}, {bold: true}],
      sheets: [
        {
          name: 'Data',
          hidden: false,
          gridLines: true,
          frozenRows: 2,
          frozenColumns: 0,
          columns: [{from: 1, to: 1, size: 100, look: 1}],
          rows: [],
          columnWidth: 64,
          rowHeight: 20,
          merges: [],
          conditional: [],
          cells: new Map([[0, 0]]),
        },
      ],
      tables: new Map(),
    };
    const pane = await openPane(book({Data: {A1: 1 / 3, B7: 'x'}}), looks);
    const [a, b] = [
      await reading(pane, 'A1', 'text,numberFormat'),
      await reading(pane, 'B7', 'format/font/bold,format/columnWidth'),
    ];
    expect([a.text, a.numberFormat]).toEqual([[['0.33']], [['0.00']]]);
    expect([b.format.font.bold, b.format.columnWidth]).toEqual([true, 75]);
    await pane.run(async (context) => {
      const {freezePanes} = context.workbook.worksheets.getItem('Data');
      const at = freezePanes.getLocationOrNullObject();
      at.load('address');
      await context.sync();
      expect(at.address).toBe('Data!1:2');
    });
  });

  test('columns fit the longest text', async () => {
    const pane = await openPane(book({Data: {A1: 'x', A2: 'a rather long text in a cell'}}));
    const width = await pane.run(async (context) => {
      const range = context.workbook.worksheets.getItem('Data').getUsedRange();
      range.format.autofitColumns();
      range.format.load('columnWidth');
      await context.sync();
      return range.format.columnWidth;
    });
    expect(width).toBeGreaterThan(100);
  });
});

describe('clearing, merging, copying', () => {
  test('contents, formats or both', async () => {
    const pane = await openPane(book({Data: {A1: 1, A2: 2, A3: 3}}));
    await pane.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('Data');
      sheet.getRange('A1:A3').format.fill.color = '#ffffaa';
      sheet.getRange('A1').clear('Contents');
      sheet.getRange('A2').clear('Formats');
      sheet.getRange('A3').clear();
      await context.sync();
    });
    expect((await reading(pane, 'A1:A3', 'values')).values).toEqual([[''], [2], ['']]);
    expect([0, 1, 2].map((row) => pane.book.look('s0', row, 0).fill)).toEqual(['#FFFFAA', undefined, undefined]);
  });

  test('merged cells keep the first content alone', async () => {
    const pane = await openPane(book({Data: {A1: 'title', B1: 'lost', A2: 'kept'}}));
    await pane.run(async (context) => {
      context.workbook.worksheets.getItem('Data').getRange('A1:C1').merge();
      await context.sync();
    });
    expect((await reading(pane, 'A1:B2', 'values')).values).toEqual([
      ['title', ''],
      ['kept', ''],
    ]);
    expect(pane.book.state('s0').merges).toEqual([{top: 0, left: 0, bottom: 0, right: 2}]);
  });

  test('copied formulas follow, values alone do not', async () => {
    const pane = await openPane(book({Data: {A1: 2, A2: 3, B1: plain('A1*10')}}));
    await pane.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem('Data');
      sheet.getRange('B2').copyFrom('B1');
      sheet.getRange('C1:C2').copyFrom('B1', 'Values');
      sheet.getRange('E1').copyFrom('A1:A2', 'All', false, true);
      await context.sync();
    });
    expect((await reading(pane, 'B1:F2', 'formulas')).formulas).toEqual([
      ['=A1*10', 20, '', 2, 3],
      ['=A2*10', 20, '', '', ''],
    ]);
  });

  test('the region around a cell ends at blank rows and columns', async () => {
    const pane = await openPane(book({Data: {B2: 1, C2: 1, C3: 1, D4: 1, F2: 1, B6: 1}}));
    const address = await pane.run(async (context) => {
      const region = context.workbook.worksheets.getItem('Data').getRange('C3').getSurroundingRegion();
      region.load('address');
      await context.sync();
      return region.address;
    });
    expect(address).toBe('Data!B2:D4');
  });
});
