/** @jest-environment ./tests/host/support/environment.cjs */
import {readFileSync} from 'node:fs';
import path from 'node:path';
import ExcelJS from 'exceljs';
import {parseArea, parseCell} from '../../src/host/book/addresses';
import {Calculation} from '../../src/host/book/calculation';
import {extentOf} from '../../src/host/book/extent';
import {bookToSave, originalOf, type Original} from '../../src/host/browser/saving';
import {readWithLooks, readWorkbook} from '../../src/host/files/read';
import {saveBook} from '../../src/host/files/saveBook';
import {unpackZip} from '../../src/host/files/zip';
import {HostBook} from '../../src/host/office/hostBook';
import {renameSheet} from '../../src/host/office/structure';
import {enter} from '../../src/host/office/writing';
import {richWorkbook, SHEET} from '../files/richWorkbook';
import {nodeEngine} from './support/books';

// Six workbooks are calculated as a whole.
jest.setTimeout(60_000);

const demo = (): Uint8Array => readFileSync(path.resolve(__dirname, '../../assets/demo.xlsx'));

const opened: Calculation[] = [];
afterEach(() => opened.splice(0).forEach((calculation) => calculation.dispose()));

async function open(bytes: Uint8Array): Promise<{book: HostBook; original: Original; save: () => Promise<Saved>}> {
  const {book: content, looks: readLooks} = await readWithLooks(bytes);
  const looks = readLooks();
  const sheets = content.sheets.map((sheet, i) => ({...sheet, id: `s${i}`}));
  const ids = new Map(sheets.map(({name, id}) => [name, id]));
  const calculation = new Calculation(nodeEngine(), sheets, content, extentOf(content));
  opened.push(calculation);
  await calculation.calculate();
  const book = new HostBook(calculation, content, looks);
  const original = originalOf(book, content, looks, ids);
  const save = async (): Promise<Saved> => {
    await book.settle();
    const {book: toSave, lost} = bookToSave(book, original);
    return {bytes: saveBook(bytes, toSave), lost};
  };
  return {book, original, save};
}

interface Saved {
  readonly bytes: Uint8Array;
  readonly lost: readonly string[];
}

const idOf = (book: HostBook, name: string): string => book.sheets.find((sheet) => sheet.name === name)!.id;

function put(book: HostBook, address: string, content: number | string | null): void {
  const [sheet, cell] = address.split('!');
  const at = parseCell(cell)!;
  const isFormula = typeof content === 'string' && content.startsWith('=');
  const written = isFormula
    ? {...at, value: null, formula: {text: content.slice(1), kind: 'dynamic' as const}}
    : {...at, value: content};
  enter(book, idOf(book, sheet), [written]);
}

async function plainWorkbook(): Promise<Uint8Array> {
  const workbook = new ExcelJS.Workbook();
  workbook.addWorksheet('Sheet1').getCell('A1').value = 'mine';
  return new Uint8Array((await workbook.xlsx.writeBuffer()) as ArrayBuffer);
}

/** Parts that differ, or are there in one file alone. */
function differing(before: Uint8Array, after: Uint8Array): string[] {
  const [a, b] = [unpackZip(before), unpackZip(after)];
  const names = new Set([...a.keys(), ...b.keys()]);
  return [...names]
    .filter((name) => !a.has(name) || !b.has(name) || !Buffer.from(a.get(name)!).equals(Buffer.from(b.get(name)!)))
    .sort();
}

const read = async (bytes: Uint8Array): Promise<ExcelJS.Workbook> => {
  const workbook = new ExcelJS.Workbook();
  await workbook.xlsx.load(bytes as unknown as ArrayBuffer);
  return workbook;
};

test('a workbook in which nothing was changed is saved as it was, part by part', async () => {
  for (const bytes of [demo(), richWorkbook()]) {
    const {save} = await open(bytes);
    const saved = await save();
    expect(differing(bytes, saved.bytes).filter((name) => !name.startsWith('xl/worksheets/'))).toEqual([]);
    expect(saved.lost).toEqual([]);
  }
  const {save} = await open(demo());
  expect(differing(demo(), (await save()).bytes)).toEqual([]);
});

test('a changed cell and what depends on it: the sheet concerned alone', async () => {
  const {book, save} = await open(demo());
  put(book, 'Wheels!I4', 9);
  const {bytes} = await save();
  const changed = differing(demo(), bytes);
  expect(changed).toContain('xl/worksheets/sheet2.xml');
  // Findings, remounts and signed records (8, 9, 11) read the wheels (2).
  expect(changed.filter((name) => !/^xl\/worksheets\/sheet([289]|11)\.xml$/.test(name))).toEqual([]);
  const [before, after] = await Promise.all([readWorkbook(demo()), readWorkbook(bytes)]);
  const cells = (content: typeof before) =>
    new Map(content.sheets[1].cells.map((cell) => [`${cell.row},${cell.column}`, cell]));
  const [old, now] = [cells(before), cells(after)];
  expect(now.get('3,8')?.value).toBe(9);
  const others = [...now].filter(([at, cell]) => cell.value !== old.get(at)?.value && !at.startsWith('3,'));
  expect(others).toEqual([]);
  // Its formulas stay, with other results.
  expect([...now.values()].filter(({formula}) => formula).length).toBe(
    [...old.values()].filter(({formula}) => formula).length,
  );
});

test.each(['rich', 'plain'])('new sheets with all that is on them come along: a %s workbook', async (kind) => {
  const before = kind === 'rich' ? richWorkbook() : await plainWorkbook();
  const {book, save} = await open(before);
  const formerSheets = book.sheets.map(({name}) => name);
  const id = book.addSheet('New & own', book.sheets.length);
  const cells = (address: string) => parseArea(address)!;
  ['Side', 'Reading', 'Double'].forEach((heading, i) => put(book, `New & own!${'ABC'[i]}3`, heading));
  put(book, 'New & own!A4', 'left');
  put(book, 'New & own!B4', 1.5);
  book.setTables([
    ...book.tables,
    {
      id: '{x}',
      name: 'Own',
      sheetId: id,
      area: cells('A3:C4'),
      header: true,
      totals: false,
      columns: ['Side', 'Reading', 'Double'].map((name, i) => ({id: i + 1, name})),
      style: 'TableStyleLight1',
      bandedRows: true,
      bandedColumns: false,
      filterButton: true,
      origin: undefined,
    },
  ]);
  put(book, 'New & own!C4', '=[@Reading]*2');
  put(book, 'New & own!E4', '=WHEEL.AVERAGE(B4,0)');
  put(book, 'New & own!E6', '=SEQUENCE(2)');
  book.setLook(id, cells('A3:C3'), {bold: true, fill: '#E8EEF4', color: '#112233', size: 14});
  book.setLook(id, cells('B4'), {
    numberFormat: '0.000',
    horizontal: 'center',
    borders: {top: {style: 'thin', color: '#0072B2'}},
  });
  book.setSheet(id, {columns: [{from: 1, to: 2, size: 140, look: undefined}]}, 'sizes');
  book.setSheet(id, {frozenRows: 3, gridLines: false, tabColor: '#0072B2'}, 'sheet');
  book.setSheet(id, {merges: [cells('A1:C1')]}, 'merges');
  book.setSheet(
    id,
    {
      page: {
        ...book.state(id).page,
        orientation: 'Landscape',
        paperSize: 'A4',
        zoom: {horizontalFitToPages: 1, verticalFitToPages: 1},
        headersFooters: {
          'defaultForAllPages.leftHeader': 'R&&D <1>',
          'defaultForAllPages.centerFooter': 'Page &P of &N',
        },
        printArea: [cells('A1:C9')],
        isSet: true,
      },
    },
    'page',
  );
  book.setNames([
    ...book.names,
    {name: 'own_limit', sheetId: undefined, formula: "'New & own'!$B$4", comment: '', visible: true, isNew: true},
  ]);
  const {bytes, lost} = await save();
  expect(lost).toEqual([]);

  const again = await readWorkbook(bytes);
  const sheet = again.sheets.find(({name}) => name === 'New & own')!;
  expect(again.sheets.map(({name}) => name)).toEqual([...formerSheets, 'New & own']);
  expect(again.tables.find(({name}) => name === 'Own')).toMatchObject({
    sheet: 'New & own',
    columns: ['Side', 'Reading', 'Double'],
    area: cells('A3:C4'),
  });
  expect(again.names).toContainEqual({name: 'own_limit', formula: "'New & own'!$B$4"});
  const at = (address: string) => {
    const {row, column} = parseCell(address)!;
    return sheet.cells.find((cell) => cell.row === row && cell.column === column);
  };
  expect([at('C4')?.value, at('C4')?.formula?.text]).toEqual([3, 'Own[@Reading]*2']);
  expect(at('E4')?.formula?.text).toMatch(/^_xldudf_WHEEL_AVERAGE\(/);
  expect(at('E6')?.formula).toMatchObject({kind: 'dynamic', area: cells('E6:E7')});
  expect(sheet.arrayValues).toContainEqual(expect.objectContaining({row: 6, column: 4, value: 2}));

  // Charts, comments and everything else that the host does not know of are as before.
  const touched = differing(before, bytes).filter((name) => unpackZip(before).has(name));
  expect(touched.filter((name) => /chart|drawing|comment|vml|media/i.test(name))).toEqual([]);

  // Another reader of the format sees the same; it cannot read the other workbook, not even as it was.
  if (kind === 'rich') return;
  const other = (await read(bytes)).getWorksheet('New & own')!;
  expect(other.getCell('A3').font).toMatchObject({bold: true, size: 14, color: {argb: 'FF112233'}});
  expect(other.getCell('A3').fill).toMatchObject({fgColor: {argb: 'FFE8EEF4'}});
  expect(other.getCell('B4').numFmt).toBe('0.000');
  expect(other.getCell('B4').border.top).toMatchObject({style: 'thin'});
  expect(other.getColumn(2).width).toBe(20);
  expect(other.views[0]).toMatchObject({state: 'frozen', ySplit: 3, showGridLines: false});
  expect(other.getCell('C1').master.address).toBe('A1');
  expect(other.pageSetup).toMatchObject({orientation: 'landscape', paperSize: 9, fitToPage: true, printArea: 'A1:C9'});
  expect(other.headerFooter).toMatchObject({oddHeader: '&LR&&D <1>', oddFooter: '&CPage &P of &N'});
});

test('sheets renamed, moved and taken away, and a table that has grown', async () => {
  const {book, save} = await open(demo());
  renameSheet(book, idOf(book, 'Limits'), 'Shop limits');
  book.moveSheet(idOf(book, 'Planes'), 0);
  book.removeSheet(idOf(book, 'Remounts'));
  const wheels = book.tables.find(({name}) => name === 'Wheels')!;
  put(book, `Wheels!A${wheels.area.bottom + 2}`, 'J-999');
  const {bytes} = await save();
  const again = await readWorkbook(bytes);
  expect(again.sheets.map(({name}) => name)).toEqual(book.sheets.map(({name}) => name));
  expect(again.tables.find(({name}) => name === 'Wheels')?.area.bottom).toBe(wheels.area.bottom + 1);
  const {book: reopened} = await open(bytes);
  for (const {id, name, values} of book.sheets) {
    const other = reopened.sheet(idOf(reopened, name));
    expect([name, other.values.size]).toEqual([name, values.size]);
    expect(id).toBeDefined();
  }
});

test('what cannot be saved is told in words', async () => {
  const {book, save} = await open(richWorkbook());
  const id = idOf(book, SHEET);
  book.setSheet(id, {rows: [{from: 0, to: 999999, size: 40, look: undefined}]}, 'sizes');
  book.setSheet(id, {protection: {password: undefined, options: {}}}, 'sheet');
  expect((await save()).lost).toEqual([
    `heights of rows of the sheet ${SHEET}`,
    `the protection of the sheet ${SHEET}`,
  ]);
});
