/**
 * @jest-environment ./tests/host/support/environment.cjs
 *
 * The rules of the check over small workbooks laid out in the way of other shops.
 */
import {check, type Finding} from '../../src/audit/check';
import {cellAddress, cellKey} from '../../src/host/book/addresses';
import type {Book, CellContent} from '../../src/host/book/content';
import {book, dynamic, open, plain} from './support/books';

/** The workbook as Excel would have saved it: every formula with its value. */
async function saved(content: Book): Promise<Book> {
  const workbook = await open(content);
  const formulas = [...workbook.formulas()];
  const sheets = content.sheets.map((sheet) => {
    const own = new Set(sheet.cells.map(({row, column}) => cellKey(row, column)));
    const arrayValues: CellContent[] = [];
    const cells = sheet.cells.map((cell): CellContent => {
      if (!cell.formula) return cell;
      const {area} = formulas.find((f) => f.sheet === sheet.name && f.row === cell.row && f.column === cell.column)!;
      for (let row = area.top; row <= area.bottom; row++)
        for (let column = area.left; column <= area.right; column++)
          if (!own.has(cellKey(row, column)))
            arrayValues.push({row, column, value: workbook.at(sheet.name, row, column)});
      const several = area.top !== area.bottom || area.left !== area.right;
      return {
        ...cell,
        value: workbook.at(sheet.name, cell.row, cell.column),
        formula: {...cell.formula, ...(several ? {area} : {})},
      };
    });
    return {...sheet, cells, arrayValues};
  });
  workbook.dispose();
  return {...content, sheets};
}

type Cells = Parameters<typeof book>[0][string];

const found = async (cells: Cells, rest: Parameters<typeof book>[1] = {}): Promise<Finding[]> => [
  ...check(await saved(book({Sheet1: cells}, rest))).findings,
];

const short = (findings: readonly Finding[]): string[] => findings.map(({cell, kind}) => `${cell} ${kind}`);

/** Runout of rims and tires, a pair a row from row 2, with a formula in column E. */
const pairs = (formula: (row: number) => string, rows = 6): Record<string, Cells[string]> =>
  Object.fromEntries(
    Array.from({length: rows}, (_, i) => i + 2).flatMap((row) => [
      [`A${row}`, 0.3 + 0.1 * row],
      [`B${row}`, 20 * row],
      [`C${row}`, 0.9 - 0.05 * row],
      [`D${row}`, 300 - 30 * row],
      [`E${row}`, dynamic(formula(row))],
    ]),
  );

const turn = (row: number): string => `WHEEL.MATCH(A${row}:B${row},C${row}:D${row},"turn")`;

const HEADINGS = {A1: 'Rim mm', B1: 'at °', C1: 'Tire mm', D1: 'at °', E1: 'Turn'};

describe('a clean workbook of another layout', () => {
  test('plain ranges down and across, EACHROW, readings missing, totals, notes, chains, settings: nothing', async () => {
    const readings = (row: number): Record<string, Cells[string]> =>
      Object.fromEntries(
        Array.from({length: 8}, (_, i) => [cellAddress(row, i), (row + i) % 7 === 3 ? null : Math.round(100 * Math.sin(i + row / 9)) / 100]),
      ); // prettier-ignore
    const findings = await found(
      {
        ...HEADINGS,
        F1: 'Clock',
        ...pairs(turn),
        ...Object.fromEntries([2, 3, 4, 5, 6, 7].map((row) => [`F${row}`, plain(`WHEEL.CLOCK(E${row})`)])),
        // Below the records: a sum, a count, a remark.
        A8: plain('AVERAGE(A2:A7)'),
        E8: plain('AVERAGE(E2:E7)'),
        F8: 'mean',
        // A second block with headings right below, of the same formulas.
        A10: 'Rim',
        B10: 'at',
        C10: 'Tire',
        D10: 'at',
        E10: 'Turn',
        ...Object.fromEntries(
          [11, 12, 13].flatMap((row) => [
            [`A${row}`, row / 20],
            [`B${row}`, row],
            [`C${row}`, row / 30],
            [`D${row}`, 2 * row],
            [`E${row}`, dynamic(turn(row))],
          ]),
        ),
        // Readings with gaps, one call for all of them, and one for each.
        ...[20, 21, 22, 23, 24].reduce((all, row) => ({...all, ...readings(row)}), {}),
        J21: dynamic('WHEEL.EACHROW("HARMONIC",IF(A21:H25="","",A21:H25),1)'),
        ...Object.fromEntries(
          [21, 22, 23, 24, 25].map((row) => [
            `N${row}`,
            dynamic(`WHEEL.TIR(IF(A${row}:H${row}="","",A${row}:H${row}))`),
          ]),
        ),
        // A chain of fingerprints, the first without one before it, none kept yet.
        P21: dynamic('WHEEL.FINGERPRINT(A21:H21)'),
        ...Object.fromEntries(
          [22, 23, 24, 25].map((row) => [`P${row}`, dynamic(`WHEEL.FINGERPRINT(A${row}:H${row},P${row - 1})`)]),
        ),
        // Across: a figure for each column, its part taken from the heading.
        A30: 'turn',
        B30: 'before',
        C30: 'after',
        A31: dynamic('WHEEL.MATCH($A$2:$B$2,$C$2:$D$2,A30)'),
        B31: dynamic('WHEEL.MATCH($A$2:$B$2,$C$2:$D$2,B30)'),
        C31: dynamic('WHEEL.MATCH($A$2:$B$2,$C$2:$D$2,C30)'),
        D31: 'a remark',
        // A column by itself, with a sheet's own formulas beside it that nobody of ours reads.
        S2: plain('TODAY()'),
        S3: plain('S2+1'),
        S4: 'none',
        // An empty record that its formula leaves empty.
        U2: dynamic('IF(COUNT(V2:W2)=0,"",WHEEL.MATCH(V2:W2,$A$2:$B$2,"turn"))'),
        U3: dynamic('IF(V3="","",WHEEL.STOCK(V3,5))'),
      },
      {names: [{name: 'Rim', formula: 'Sheet1!$A$2'}]},
    );
    expect(findings).toEqual([]);
  }, 30000);
});

describe('typed over and differing', () => {
  test('within a column of plain cells', async () => {
    const findings = await found({...HEADINGS, ...pairs(turn), E4: 120});
    expect(short(findings)).toEqual(['E4 typed over']);
    expect(findings[0].shown).toBe('120, typed');
    // What the column's formula gives: the tire's high point is put opposite to the rim's.
    expect(findings[0].computed).toBe(String((((180 + 80 - 180) % 360) + 360) % 360));
  });

  test('at its end only where another column says that the row is a record', async () => {
    expect(short(await found({...HEADINGS, ...pairs(turn), E7: 120}))).toEqual([]);
    const clock = Object.fromEntries([2, 3, 4, 5, 6, 7].map((row) => [`F${row}`, plain(`WHEEL.CLOCK(E${row})`)]));
    expect(short(await found({...HEADINGS, ...pairs(turn), ...clock, E7: 120}))).toEqual(['E7 typed over']);
  });

  test('a reference that slipped', async () => {
    const findings = await found({...HEADINGS, ...pairs((row) => turn(row === 5 ? 4 : row))});
    expect(short(findings)).toEqual(['E5 differs from its neighbors']);
    expect(findings[0].computed).toContain('=WHEEL.MATCH(A5:B5,C5:D5,"turn")');
  });

  test('in a row that is filled across', async () => {
    const across = Object.fromEntries(['B', 'C', 'D', 'E', 'F'].flatMap((c, i) => [[`${c}1`, i], [`${c}2`, plain(`WHEEL.CLOCK(${c}1)`)]])); // prettier-ignore
    expect(short(await found(across))).toEqual([]);
    expect(short(await found({...across, D2: '3:00'}))).toEqual(['D2 typed over']);
  });

  test('three formulas that share nothing have no neighbors', async () => {
    expect(
      short(
        await found({A1: plain('WHEEL.CLOCK(10)'), A2: plain('WHEEL.STOCK(7,5)'), A3: plain('WHEEL.CLOCK(20)'), A4: 5}),
      ),
    ).toEqual([]);
  });
});

describe('blanks', () => {
  const row = {A1: 0.1, B1: 0.4, C1: null, D1: -0.2, E1: -0.3, F1: 0.2};

  test('a range with a blank as it is; not one whose blanks are looked at first', async () => {
    const findings = await found({...row, H1: dynamic('WHEEL.HARMONIC(A1:F1,1,,"amount")')});
    expect(short(findings)).toEqual(['H1 blank read as zero']);
    expect(findings[0].toDo).toContain('IF(A1:F1="","",A1:F1)');
    expect(short(await found({...row, H1: dynamic('WHEEL.HARMONIC(IF(A1:F1="","",A1:F1),1,,"amount")')}))).toEqual([]);
    expect(
      short(await found({...row, H1: dynamic('WHEEL.HARMONIC(IF(ISNUMBER(A1:F1),A1:F1,""),1,,"amount")')})),
    ).toEqual([]);
  });

  test('a condition over other cells does not help', async () => {
    const cells = {...row, H1: dynamic('WHEEL.HARMONIC(IF(A1="","",A1:F1),1,,"amount")')};
    expect(short(await found(cells))).toEqual(['H1 blank read as zero']);
  });

  test('arithmetic makes a 0 of a blank too', async () => {
    expect(short(await found({...row, H1: dynamic('WHEEL.TIR(A1:F1*25.4)')}))).toEqual(['H1 blank read as zero']);
  });

  test('a single blank cell in place of a number that may be left out', async () => {
    const findings = await found({A1: 12, B1: 5, D1: dynamic('WHEEL.STOCK(A1,B1,C1)')});
    expect(short(findings)).toEqual(['D1 blank read as zero']);
    expect(findings[0].toDo).toContain('leave the argument out');
  });

  test('an empty text of another formula is no blank, and a formula that was not reached reads nothing', async () => {
    expect(short(await found({A1: plain('""'), B1: 3, C1: 4, D1: dynamic('WHEEL.TIR(A1:C1)')}))).toEqual([]);
    expect(short(await found({D1: dynamic('IF(A1="","",WHEEL.TIR(A1:C1))')}))).toEqual([]);
  });
});

describe('units and limits', () => {
  test('two units named over the cells of one formula', async () => {
    const findings = await found({...HEADINGS, C1: 'Tire (in)', ...pairs(turn)});
    expect(short(findings)).toEqual(['E2 mixed units or limits']);
    expect(findings[0].more).toBe(5);
    expect(findings[0].shown).toContain('"Rim mm" and "Tire (in)"');
  });

  test('the word "in" that is no unit', async () => {
    expect(short(await found({...HEADINGS, C1: 'Tire in store', ...pairs(turn)}))).toEqual([]);
    expect(short(await found({...HEADINGS, C1: 'In g', ...pairs(turn)}))).toEqual([]);
  });

  const table = {
    name: 'T',
    sheet: 'Sheet1',
    area: {top: 0, left: 0, bottom: 5, right: 6},
    header: true,
    totals: false,
    columns: ['Class', 'Rim', 'r', 'Tire', 't', 'Limit', 'Window'],
  };
  const judged = (limits: readonly number[]): Cells => ({
    ...Object.fromEntries(table.columns.map((name, i) => [cellAddress(0, i), name])),
    ...Object.fromEntries(
      limits.flatMap((limit, i) => [
        [`A${i + 2}`, 'passenger'],
        [`B${i + 2}`, 0.7],
        [`C${i + 2}`, 40],
        [`D${i + 2}`, 0.6],
        [`E${i + 2}`, 100 + i],
        [`F${i + 2}`, limit],
        [`G${i + 2}`, dynamic(`WHEEL.TURNWINDOW(B${i + 2}:C${i + 2},D${i + 2}:E${i + 2},F${i + 2},,"from")`)],
      ]),
    ),
  });

  test('records of one class by different limits', async () => {
    expect(short(await found(judged([0.5, 0.5, 0.5, 0.5, 0.5]), {tables: [table]}))).toEqual([]);
    expect(short(await found(judged([0.5, 0.5, 0.6, 0.5, 0.5]), {tables: [table]}))).toEqual([
      'F4 mixed units or limits',
    ]);
  });
});

describe('fingerprints', () => {
  const record = {A1: 'J-1', B1: 0.5, C1: 3};

  test('kept in place of the formula: fits, or not', async () => {
    const rows = (kept: string): Cells => ({
      ...Object.fromEntries([1, 2, 3, 4, 5].flatMap((row) => [[`A${row}`, `J-${row}`], [`B${row}`, 0.1 * row], [`C${row}`, dynamic(`WHEEL.FINGERPRINT(A${row}:B${row})`)]])),
      C3: kept,
    }); // prettier-ignore
    const workbook = await open(book({Sheet1: {A1: 'J-3', B1: 0.3, C1: dynamic('WHEEL.FINGERPRINT(A1:B1)')}}));
    const fits = String(workbook.value('Sheet1', 'C1'));
    workbook.dispose();
    expect(short(await found(rows(fits)))).toEqual([]);
    expect(short(await found(rows('0123456789abcdef')))).toEqual(['C3 broken fingerprint']);
  });

  test('named as signed in the formula itself', async () => {
    const findings = await found({...record, D1: '0123456789abcdef', E1: dynamic('WHEEL.FINGERPRINT(A1:C1,,D1)')});
    expect(short(findings)).toEqual(['D1 broken fingerprint']);
    expect(findings[0].computed).toMatch(/^[0-9a-f]{16} for the record of today$/);
  });
});

describe('errors and lost functions', () => {
  test('the message of the function; what only passes it on is not told again', async () => {
    const findings = await found({
      A1: 'x',
      B1: 40,
      C1: dynamic('WHEEL.MATCH(A1:B1,{0.6,100},"turn")'),
      D1: plain('WHEEL.CLOCK(C1)'),
    });
    expect(short(findings)).toEqual(['C1 error']);
    expect(findings[0].computed).toContain('rim (row 1, column 1)');
  });

  test('a function that does not exist, and a name that does not', async () => {
    expect(short(await found({A1: plain('WHEEL.MACH(1,2)')}))).toEqual(['A1 lost function']);
    expect(short(await found({A1: plain('WHEEL.CLOCK(Nowhere)')}))).toEqual(['A1 error']);
  });

  test('as Excel shows it without the add-in', () => {
    const content = book({Sheet1: {A1: plain('_xldudf_WHEEL_CLOCK(90)')}});
    const cells = content.sheets[0].cells.map((cell) => ({...cell, value: '3:00'}));
    const seen = {...content, sheets: [{...content.sheets[0], cells}]};
    expect(short(check(seen, {asSeen: true}).findings)).toEqual(['A1 lost function']);
    // In a file it is how the function is stored.
    expect(short(check(seen).findings)).toEqual([]);
  });

  test('never calculated, and still at work', () => {
    const one = (value: CellContent['value']): Book => ({
      ...book({}),
      sheets: [
        {name: 'Sheet1', arrayValues: [], hiddenRows: [], cells: [{row: 0, column: 0, value, formula: plain('WHEEL.CLOCK(90)')}]},
      ],
    }); // prettier-ignore
    expect(check(one(null)).findings[0]).toMatchObject({kind: 'stale value', shown: 'nothing (never calculated)'});
    expect(check(one({code: '#BUSY!'})).findings[0]).toMatchObject({kind: 'stale value', computed: '"3:00"'});
    expect(check(one('3:00')).findings).toEqual([]);
  });
});

test('what cannot be worked out is said, not guessed', async () => {
  const content = book({Sheet1: {A1: 30, B1: plain('WHEEL.CLOCK(OFFSET(A1,0,0))')}});
  const {unknown, findings} = check(content);
  expect(findings).toEqual([]);
  expect(unknown).toEqual([{place: {sheet: 'Sheet1', row: 0, column: 1}, reason: 'OFFSET is not worked out here'}]);
});
