import {areaAddress, cellAddress, columnLetters, contains, sheetPrefix} from '../../src/workbook/addresses';
import {runs} from '../../src/workbook/guess/runs';
import {guessMap} from '../../src/workbook/guess/table';
import {ledgerColumns} from '../../src/workbook/ledgerColumns';
import {mapRows, parseMap} from '../../src/workbook/ledgerMap';
import {settingsTables, startedMap} from '../../src/workbook/ledgerSettings';

describe('addresses', () => {
  test.each([
    [0, 'A'],
    [25, 'Z'],
    [26, 'AA'],
    [701, 'ZZ'],
    [702, 'AAA'],
    [16383, 'XFD'],
  ])('column %i is %s', (n, letters) => expect(columnLetters(n)).toBe(letters));

  test('cells and areas', () => {
    expect(cellAddress(0, 0)).toBe('A1');
    expect(areaAddress({row: 1, column: 1, rows: 2, columns: 3})).toBe('B2:D3');
    expect(areaAddress({row: 1, column: 1, rows: 1, columns: 1})).toBe('B2');
    expect(contains({sheet: 'S', row: 1, column: 1, rows: 2, columns: 3}, {sheet: 'S', row: 2, column: 3})).toBe(true);
    expect(contains({sheet: 'S', row: 1, column: 1, rows: 2, columns: 3}, {sheet: 'S', row: 3, column: 1})).toBe(false);
    expect(contains({sheet: 'S', row: 1, column: 1, rows: 2, columns: 3}, {sheet: 'T', row: 1, column: 1})).toBe(false);
  });

  test.each([
    ['Wheels', 'Wheels!'],
    ['My wheels', "'My wheels'!"],
    ["Bob's", "'Bob''s'!"],
    ['R1C1', "'R1C1'!"],
    ['AB12', "'AB12'!"],
    ['2026', "'2026'!"],
  ])('the sheet %s is written %s', (name, prefix) => expect(sheetPrefix(name)).toBe(prefix));
});

describe('the map', () => {
  test('as rows and back', () => {
    const map = startedMap('us');
    expect(parseMap(mapRows(map))).toEqual(map);
    expect(mapRows(map)).toContainEqual(['Assembly readings', 'Wheels', 'A1:A16', '']);
    expect(mapRows(map)).toContainEqual(['Planes', 'Planes', 'Inboard position:Outboard radius', 'Class']);
    expect(mapRows(map)).toContainEqual(['Unit of weights', '', 'oz', '']);
  });

  test('unknown rows are passed over; without a known one there is no map', () => {
    expect(parseMap([['Color', 'Wheels', 'X', '']])).toBeUndefined();
    expect(
      parseMap([
        ['Job', ' Wheels ', ' Job no ', ''],
        ['Note', '', 'x', ''],
        ['Numbering', '', 'counter-clockwise', ''],
      ]),
    ).toMatchObject({
      table: 'Wheels',
      clockwise: false,
      runoutUnit: 'mm',
    });
  });

  test('every place of a started ledger is a column of it or of its settings', () => {
    for (const units of ['metric', 'us'] as const) {
      const names = new Map([
        ['Wheels', ledgerColumns(units).map(({name}) => name)],
        ...settingsTables(units).map(({name, headings}) => [name, headings] as const),
      ]);
      for (const {table, first, last} of startedMap(units).places.values()) {
        expect(names.get(table)).toContain(first);
        expect(names.get(table)).toContain(last);
      }
    }
  });
});

describe('guessing', () => {
  test('runs of headings that count up', () => {
    expect(runs(['Job', 'R1', 'R2', 'R3', 'R4', 'R5', 'R6', 'x'])).toEqual([
      {words: 'R', first: 1, count: 6, angles: false},
    ]);
    expect(runs(['0°', '45°', '90°', '135°', '180°', '225°', '270°', '315°'])).toEqual([
      {words: '', first: 0, count: 8, angles: true},
    ]);
    expect(runs(['A1', 'A2', 'A3', 'A4', 'A5', 'A6', 'I1', 'I2', 'I3', 'I4', 'I5', 'I6'])).toEqual([
      {words: 'A', first: 0, count: 6, angles: false},
      {words: 'I', first: 6, count: 6, angles: false},
    ]);
    expect(runs(['Innen 0', 'Innen 22,5', 'Innen 45', 'Innen 67,5', 'Innen 90', 'Innen 112,5'])[0]).toMatchObject({
      words: 'Innen',
      count: 6,
    });
    expect(runs(['R1 mm', 'R2 mm', 'R3 mm', 'R4 mm', 'R5 mm', 'R6 mm'])[0]).toMatchObject({words: 'R mm', count: 6});
    expect(runs(['R1', 'R2', 'R3', 'R4', 'R5'])).toEqual([]);
    expect(runs(['R1', 'R2', 'R2', 'R3', 'R4', 'R5'])).toEqual([]);
  });

  test('the columns of a started ledger are recognized without its map', () => {
    const map = guessMap(
      'Wheels',
      ledgerColumns('metric').map(({name}) => name),
      [],
    )!;
    const started = startedMap('metric');
    for (const role of [
      'Job',
      'Position',
      'Tire size',
      'TIN',
      'Assembly readings',
      'Inner bead seat',
      'Outer bead seat',
      'Limits',
    ] as const) {
      expect(map.places.get(role)).toEqual(started.places.get(role));
    }
    expect(map.origin).toBe('guess');
  });

  test('a table without readings is no ledger', () =>
    expect(guessMap('Prices', ['Item', 'Value', 'Unit'], [])).toBeUndefined());
});
