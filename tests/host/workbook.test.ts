/** @jest-environment ./tests/host/support/environment.cjs */
import type {Workbook} from '../../src/host/book/workbook';
import {parseArea} from '../../src/host/book/addresses';
import type {Table} from '../../src/host/book/content';
import {book, dynamic, legacy, open, plain} from './support/books';

const opened: Workbook[] = [];
const opening = async (...content: Parameters<typeof book>): Promise<Workbook> => {
  const workbook = await open(book(...content));
  opened.push(workbook);
  return workbook;
};
afterAll(() => opened.forEach((workbook) => workbook.dispose()));

const row = (workbook: Workbook, cells: string): unknown[] => cells.split(' ').map((cell) => workbook.value('S', cell));

describe('cells', () => {
  test('a formula that spills, one that does not, and what reads them', async () => {
    const workbook = await opening({
      S: {
        A1: 0.8,
        B1: 40,
        A3: dynamic('_xldudf_WHEEL_MATCH(A1:B1,{0.6,100})'),
        // Stored as an ordinary formula it gives one value.
        A4: plain('_xldudf_WHEEL_MATCH(A1:B1,{0.6,100})'),
        A5: plain('SUM(A3:B3)'),
        A6: plain('_xldudf_WHEEL_MATCH(A1:C1,{0.6,100},"turn")'),
      },
    });
    expect(workbook.value('S', 'A3')).toBe(120);
    expect(workbook.value('S', 'B3')).toBe(0.8 - 0.6);
    expect(workbook.spill('S', 'A3')).toBe('A3:D3');
    expect(workbook.formula('S', 'A3')).toBe('=WHEEL.MATCH(A1:B1,{0.6,100})');
    expect(row(workbook, 'A4 B4')).toEqual([120, null]);
    expect(workbook.spill('S', 'A4')).toBeUndefined();
    expect(workbook.value('S', 'A5')).toBeCloseTo(120.2, 12);
    expect(workbook.value('S', 'A6')).toMatchObject({code: '#VALUE!'});
    expect(workbook.message('S', 'A6')).toMatch(/^rim: 2 cells .*found a range of 1 × 3 cells/);
    expect(workbook.message('S', 'A5')).toBeUndefined();
    expect(workbook.formula('S', 'A1')).toBeUndefined();
  });

  test('stored results are not trusted', async () => {
    const content = book({S: {A1: 2}});
    const cells = [...content.sheets[0].cells, {row: 1, column: 0, value: 999, formula: plain('A1*2')}];
    const workbook = await open({...content, sheets: [{...content.sheets[0], cells}]});
    opened.push(workbook);
    expect(workbook.value('S', 'A2')).toBe(4);
    expect([...workbook.formulas()][0].stored).toBe(999);
  });

  test('a spill onto a cell that is not empty is #SPILL! and leaves the cell alone', async () => {
    const workbook = await opening({
      S: {A1: dynamic('SEQUENCE(3)'), A3: 'mine', B1: dynamic('SEQUENCE(1,2)'), C1: plain('1+1'), D1: plain('A1')},
    });
    expect(workbook.value('S', 'A1')).toEqual({code: '#SPILL!'});
    expect(workbook.message('S', 'A1')).toMatch(/not empty/);
    expect(row(workbook, 'A2 A3')).toEqual([null, 'mine']);
    expect(workbook.value('S', 'B1')).toEqual({code: '#SPILL!'});
    expect(workbook.value('S', 'C1')).toBe(2);
    expect(workbook.value('S', 'D1')).toMatchObject({code: '#SPILL!'});
    workbook.set('S', 'A3', null);
    await workbook.recalculate();
    expect(row(workbook, 'A1 A2 A3')).toEqual([1, 2, 3]);
    expect(workbook.value('S', 'D1')).toBe(1);
  });

  test('a spill that would leave the sheet', async () => {
    const workbook = await opening({S: {A1048575: dynamic('{1;2;3}'), XFD1: dynamic('{1,2}')}});
    expect(workbook.value('S', 'A1048575')).toEqual({code: '#SPILL!'});
    expect(workbook.value('S', 'XFD1')).toEqual({code: '#SPILL!'});
  });

  test('array formulas of fixed size stay within it', async () => {
    const workbook = await opening({
      S: {
        A1: 1,
        A2: 2,
        C1: legacy('TRANSPOSE(A1:A2)', 'C1:E1'),
        C3: legacy('A1*10', 'C3:D4'),
        C6: legacy('A1:A2*2', 'C6'),
        C8: legacy('A1:A2*10', 'C8:D9'),
      },
    });
    expect(row(workbook, 'C1 D1 E1')).toEqual([1, 2, {code: '#N/A'}]);
    expect(row(workbook, 'C3 D3 C4 D4')).toEqual([10, 10, 10, 10]);
    expect(row(workbook, 'C6 C7')).toEqual([2, null]);
    expect(row(workbook, 'C8 D8 C9 D9')).toEqual([10, 10, 20, 20]);
  });

  test('an ordinary formula takes the cell of its own row or column where one value is wanted', async () => {
    const workbook = await opening({
      S: {
        A1: 1,
        A2: 2,
        A3: 3,
        C2: plain('A1:A3*10'),
        D2: plain('ABS(A1:A3)+SUM(A1:A3)'),
        E2: plain('A1:A3'),
        F2: plain('SUMPRODUCT(A1:A3*A1:A3)'),
        G2: plain('IF(A1:A3>1,"big","small")'),
        A5: plain('A1:C1+1'),
        C9: plain('A1:A3*10'),
        D9: plain('SUM(A1:A3*10)'),
        E9: dynamic('A1:A3*10'),
      },
    });
    expect(row(workbook, 'C2 D2 E2 F2 G2')).toEqual([20, 8, 2, 14, 'big']);
    expect(row(workbook, 'A5 E9 E10 E11')).toEqual([2, 10, 20, 30]);
    expect(row(workbook, 'C9 D9')).toEqual([
      expect.objectContaining({code: '#VALUE!'}),
      expect.objectContaining({code: '#VALUE!'}),
    ]);
  });

  test('a range with blanks in an ordinary formula: the function gets what Excel gives it, not what was meant', async () => {
    const wrapped = 'WHEEL.RESULTANT(IF(A1:B1="","",A1:B1),"amount")';
    const workbook = await opening({
      S: {B1: 40, C1: dynamic(wrapped), D1: plain(wrapped), D2: dynamic('IF(A1:B1="","",A1:B1)')},
    });
    expect(workbook.message('S', 'C1')).toMatch(/vectors \(row 1, column 1\).*an empty text/);
    // Column D has no cell in A1:B1: the function gets one error.
    expect(workbook.message('S', 'D1')).toMatch(/found a range of 1 × 1 cells/);
    expect(row(workbook, 'D2 E2')).toEqual(['', 40]);
  });

  test('an empty text is a text for what reads it, a blank is 0', async () => {
    const workbook = await opening({
      S: {
        A1: plain('""'),
        B1: plain('A1=""'),
        C1: plain('COUNTA(A1:A2)'),
        D1: plain('A1+1'),
        E1: plain('A2+1'),
        F1: plain('A2'),
      },
    });
    expect(row(workbook, 'B1 C1 D1 E1 F1')).toEqual([true, 1, expect.objectContaining({code: '#VALUE!'}), 1, 0]);
  });

  test('errors and messages within a spill belong to their own cells', async () => {
    const workbook = await opening({
      S: {
        A1: 0.8,
        B1: 40,
        A2: 'x',
        B2: 2,
        D1: dynamic('WHEEL.EACHROW("MATCH",A1:B2,{0.6,100},"turn")'),
        F1: plain('D2'),
      },
    });
    expect(workbook.value('S', 'D1')).toBe(120);
    expect(workbook.value('S', 'D2')).toMatchObject({code: '#VALUE!'});
    expect(workbook.message('S', 'D2')).toMatch(/^rim \(row 1, column 1\)/);
    // What refers to the cell sees the error, as in Excel without its words.
    expect(workbook.value('S', 'F1')).toEqual({code: '#VALUE!'});
    expect(workbook.message('S', 'F1')).toBe('a value of the wrong kind');
  });

  test('formulas that read each other end', async () => {
    const workbook = await opening({S: {A1: plain('B1+1'), B1: plain('A1+1'), C1: plain('1+1')}});
    expect(workbook.value('S', 'C1')).toBe(2);
  });

  test('hidden rows count for functions that look at them', async () => {
    const content = book({S: {A1: 1, A2: 2, A3: 4, B1: plain('SUBTOTAL(109,A1:A3)')}});
    const workbook = await open({...content, sheets: [{...content.sheets[0], hiddenRows: [{from: 1, to: 1}]}]});
    opened.push(workbook);
    expect(workbook.value('S', 'B1')).toBe(5);
  });

  test('and so does a hidden row below all cells that a formula spills into', async () => {
    const content = book({S: {A1: dynamic('SEQUENCE(3)'), B1: plain('SUBTOTAL(109,A1:A3)')}});
    const workbook = await open({...content, sheets: [{...content.sheets[0], hiddenRows: [{from: 2, to: 2}]}]});
    opened.push(workbook);
    expect(workbook.value('S', 'B1')).toBe(3);
  });
});

describe('arrays that depend on arrays', () => {
  test('whatever the order of the cells', async () => {
    const cells = {
      A1: plain('SUM(C1:C9)'),
      B1: plain('B9'),
      C1: dynamic('SEQUENCE(E2)'),
      D1: plain('C3*100'),
      E1: dynamic('SEQUENCE(G2)'),
      F1: plain('SUM(C1#)'),
      G1: dynamic('SEQUENCE(3,1,2)'),
      H1: dynamic('C1#*2'),
    };
    for (const entries of [Object.entries(cells), Object.entries(cells).reverse()]) {
      const workbook = await opening({S: Object.fromEntries(entries)});
      expect(row(workbook, 'G1 G2 G3 E1 E2 E3 E4')).toEqual([2, 3, 4, 1, 2, 3, null]);
      expect(row(workbook, 'C1 C2 C3 D1 A1 F1 H1 H2 H3')).toEqual([1, 2, null, 0, 3, 3, 2, 4, null]);
      workbook.set('S', 'G1', '=SEQUENCE(3,1,4)');
      await workbook.recalculate();
      expect(row(workbook, 'G2 E5 E2 C2 A1 F1')).toEqual([5, 5, 2, 2, 3, 3]);
    }
  });

  test('"#" wants a cell that spills', async () => {
    const workbook = await opening({S: {A1: 1, B1: plain('SUM(A1#)')}});
    expect(workbook.message('S', 'B1')).toMatch(/a cell whose formula spills/);
  });

  test('whole columns reach as far as the results do', async () => {
    const workbook = await opening({
      S: {A1: dynamic('SEQUENCE(500)'), C1: plain('SUM(A:A)'), D1: plain('COUNT(1:400)-1'), C2: plain('ROWS(A:A)')},
    });
    expect(row(workbook, 'C1 C2')).toEqual([125250, 1048576]);
    workbook.set('S', 'A1', '=SEQUENCE(1000)');
    await workbook.recalculate();
    expect(workbook.value('S', 'C1')).toBe(500500);
  });
});

describe('names', () => {
  test('by sheet, relative, hidden ones, formulas, and one that is defined by itself', async () => {
    const workbook = await opening(
      {
        S: {
          A1: 7,
          B1: 3,
          A2: plain('Limit*2'),
          B2: plain('Above+0'),
          C1: plain('Local'),
          C2: plain('Double(A1)'),
          C3: plain('Loop'),
        },
        T: {A1: 9, C1: plain('Local'), C2: plain('limit'), B3: plain('S!Local')},
      },
      {
        names: [
          {name: 'Limit', formula: 'S!$A$1'},
          {name: 'Above', formula: 'S!A1048576'},
          {name: 'Local', formula: '1', sheet: 'S'},
          {name: 'Local', formula: 'T!$A$1', sheet: 'T'},
          {name: 'Double', formula: '_xlfn.LAMBDA(_xlpm.x,_xlpm.x*2)'},
          {name: 'Loop', formula: 'Loop+1'},
        ],
      },
    );
    expect(row(workbook, 'A2 B2 C1 C2')).toEqual([14, 3, 1, 14]);
    expect(workbook.value('T', 'C1')).toBe(9);
    expect(workbook.value('T', 'C2')).toBe(7);
    expect(workbook.value('T', 'B3')).toBe(1);
    expect(workbook.message('S', 'C3')).toBe('the name Loop is defined by itself');
  });
});

const TABLE: Table = {
  name: 'Sets',
  sheet: 'S',
  area: parseArea('A1:D5')!,
  header: true,
  totals: true,
  columns: ['Rim', 'Angle', 'Odd name (mm)', 'Turn'],
};

describe('tables', () => {
  const group = (text: string) => ({text, kind: 'dynamic' as const, group: 7});
  const cells = {
    A1: 'Rim',
    B1: 'Angle',
    C1: 'Odd name (mm)',
    D1: 'Turn',
    A2: 0.8,
    B2: 40,
    A3: 0.5,
    B3: 0,
    C3: 3,
    A4: 'x',
    B4: 10,
    D2: group('WHEEL.MATCH([@Rim]:[@Angle],{0.6,100},"turn")'),
    D3: group('WHEEL.MATCH([@Rim]:[@Angle],{0.6,100},"turn")'),
    D4: group('WHEEL.MATCH(Sets[[#This Row],[Rim]:[Angle]],{0.6,100},"turn")'),
    D5: plain('SUM(Sets[Odd name (mm)])'),
    // The same formula below the table.
    D7: group('WHEEL.MATCH([@Rim]:[@Angle],{0.6,100},"turn")'),
    F1: plain('SUM(Sets[[Rim]:[Angle]])'),
    F2: plain('Sets[@Rim]'),
    F3: plain('COUNTA(Sets[#Headers])+COUNTA(Sets)'),
    F9: plain('Sets[@Rim]'),
    F10: plain('Sets[[#Totals],[Turn]]'),
    F11: plain('SUM(sets[angle])'),
    F12: plain('Sets[Nope]'),
  };
  let workbook: Workbook;
  beforeAll(async () => {
    workbook = await opening({S: cells}, {tables: [TABLE]});
  });

  test('the own row, columns, headers, totals', () => {
    expect(row(workbook, 'D2 D3 D5')).toEqual([120, 80, 3]);
    expect(workbook.message('S', 'D4')).toMatch(/^rim \(row 1, column 1\).*the text "x"/);
    expect(row(workbook, 'F1 F2 F10 F11')).toEqual([51.3, 0.8, 3, 50]);
    // Four headers, six numbers and texts, two turns and the error.
    expect(workbook.value('S', 'F3')).toBe(4 + 7 + 3);
  });

  test('outside of the table the own row is an error with words', () => {
    expect(workbook.message('S', 'D7')).toBe('[@Rim] names no table, and the formula is not in one');
    expect(workbook.message('S', 'F9')).toMatch(/own row, which is not a row of the table Sets/);
    expect(workbook.message('S', 'F12')).toBe('the table Sets has no column Nope for Sets[Nope]');
  });

  test('the written formula stays', () => {
    expect(workbook.formula('S', 'D4')).toBe('=WHEEL.MATCH(Sets[[#This Row],[Rim]:[Angle]],{0.6,100},"turn")');
  });
});

describe('changes', () => {
  test('values, formulas and blanks; what reads them follows', async () => {
    const workbook = await opening({S: {A1: 1, B1: plain('A1*2'), C1: plain('B1&"!"')}});
    workbook.set('S', 'A1', 5);
    workbook.set('S', 'D1', '=SUM(A1:B1)');
    expect(workbook.value('S', 'B1')).toBe(2);
    await workbook.recalculate();
    expect(row(workbook, 'A1 B1 C1 D1')).toEqual([5, 10, '10!', 15]);
    workbook.set('S', 'B1', 'text');
    workbook.set('S', 'A1', null);
    workbook.set('S', 'E1', true);
    await workbook.recalculate();
    expect(row(workbook, 'A1 B1 C1 D1 E1')).toEqual([null, 'text', 'text!', 0, true]);
    expect(workbook.formula('S', 'B1')).toBeUndefined();
    workbook.set('S', 'B1', '=NOSUCH(1)');
    await workbook.recalculate();
    expect(workbook.message('S', 'B1')).toBe('there is no function NOSUCH here');
  });

  test('the first of the cells that share a formula is changed: the others calculate on', async () => {
    const shared = (i: number) => ({...plain(`A${i}*2`), group: 3});
    const workbook = await opening({S: {A1: 1, A2: 2, A3: 3, B1: shared(1), B2: shared(2), B3: shared(3)}});
    expect(row(workbook, 'B1 B2 B3')).toEqual([2, 4, 6]);
    workbook.set('S', 'B1', 'text');
    workbook.set('S', 'A3', 30);
    await workbook.recalculate();
    expect(row(workbook, 'B1 B2 B3')).toEqual(['text', 4, 60]);
    workbook.set('S', 'B2', null);
    await workbook.recalculate();
    expect(row(workbook, 'B1 B2 B3')).toEqual(['text', null, 60]);
    expect(workbook.formula('S', 'B3')).toBe('=A3*2');
  });

  test('a sheet or a cell that is not there', async () => {
    const workbook = await opening({S: {A1: 1}});
    expect(() => workbook.value('T', 'A1')).toThrow('there is no sheet T; the workbook has S');
    expect(() => workbook.set('S', 'A0', 1)).toThrow('A0 is not the address of a cell');
    expect(() => workbook.value('S', 'XFE1')).toThrow('XFE1 is not the address of a cell');
    expect(workbook.value('s', 'a1')).toBe(1);
  });
});

test('10,000 rows of worksheet functions that spill, and a column that reads them, in a few seconds', async () => {
  const cells: Record<string, number | ReturnType<typeof dynamic>> = {};
  for (let i = 1; i <= 10_000; i++) {
    Object.assign(cells, {[`A${i}`]: 0.8, [`B${i}`]: i % 360, [`C${i}`]: 0.6, [`D${i}`]: (i * 7) % 360});
    cells[`F${i}`] = {...dynamic(`WHEEL.MATCH(A${i}:B${i},C${i}:D${i})`), group: 1};
    cells[`K${i}`] = {...plain(`G${i}*2`), group: 2};
  }
  const content = book({S: cells});
  const start = performance.now();
  const workbook = await open(content);
  opened.push(workbook);
  expect(performance.now() - start).toBeLessThan(10_000);
  for (const i of [1, 77, 10_000]) {
    const turn = (180 + (i % 360) - ((i * 7) % 360) + 720) % 360;
    expect(workbook.value('S', `F${i}`)).toBeCloseTo(turn, 9);
    expect(workbook.value('S', `K${i}`)).toBeCloseTo(0.4, 12);
  }
});
