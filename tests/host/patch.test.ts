import fc from 'fast-check';
import {strFromU8} from 'fflate';
import ExcelJS from 'exceljs';
import type {CellValue} from '../../src/host/book/cells';
import {changedCell} from '../../src/host/files/cellXml';
import {markDynamicArrays} from '../../src/host/files/dynamicArrays';
import {patchWorkbook, type CellEdit} from '../../src/host/files/patch';
import {readWorkbook} from '../../src/host/files/read';
import {cellsOf, changedSheet, withAddresses} from '../../src/host/files/sheetXml';
import {unpackZip} from '../../src/host/files/zip';
import {RICH_PARTS, richWorkbook, SHEET, SHEET_PART, SUMMARY, SUMMARY_PART} from '../files/richWorkbook';

const sheetOf = (bytes: Uint8Array, part: string): string => strFromU8(unpackZip(bytes).get(part)!);
const original = RICH_PARTS[SHEET_PART] as string;

const partsBesides = (bytes: Uint8Array, changed: readonly string[]): void => {
  const parts = unpackZip(bytes);
  const before = unpackZip(richWorkbook());
  for (const [name, content] of before) {
    if (!changed.includes(name))
      expect([name, Buffer.from(parts.get(name)!).equals(Buffer.from(content))]).toEqual([name, true]);
  }
};

const edit = (cell: Partial<CellEdit>): CellEdit => ({sheet: SHEET, row: 0, column: 0, value: null, ...cell});

const change = (value: CellValue) => ({value, calculated: true});

describe('one cell', () => {
  test('everything but the value stays', () => {
    const cell =
      '<c r="B3"  s=\'4\' cm="1" t="str" vm="2"><f t="array" ref="B3:C3">A1&amp;"x"</f><v>old</v><extLst><x:y/></extLst></c>';
    expect(changedCell(cell, change(1.5))).toBe(
      '<c r="B3"  s=\'4\' cm="1"><f t="array" ref="B3:C3">A1&amp;"x"</f><v>1.5</v><extLst><x:y/></extLst></c>',
    );
    expect(changedCell(cell, {...change(true), ref: 'B3:D3'})).toContain('<f t="array" ref="B3:D3">');
    expect(changedCell('<x:c r="B3"><x:f>1</x:f></x:c>', change('<&>'))).toBe(
      '<x:c r="B3" t="str"><x:f>1</x:f><x:v>&lt;&amp;&gt;</x:v></x:c>',
    );
    expect(changedCell('<c r="B3" t="inlineStr"><is><t>a</t></is></c>', change(null))).toBe('<c r="B3"/>');
    expect(changedCell('<c r="B3"/>', {value: ' a', calculated: false})).toBe(
      '<c r="B3" t="inlineStr"><is><t xml:space="preserve"> a</t></is></c>',
    );
    expect(changedCell('<c r="B3"/>', change({code: '#SPILL!'}))).toBe('<c r="B3" t="e"><v>#VALUE!</v></c>');
  });
});

describe('a sheet', () => {
  const sheet = (data: string, before = ''): string =>
    `<worksheet>${before}<sheetData>${data}</sheetData><after/></worksheet>`;
  const changes = (cells: Readonly<Record<string, CellValue>>) => {
    const map = new Map<number, Map<number, ReturnType<typeof change>>>();
    for (const [at, value] of Object.entries(cells)) {
      const [row, column] = at.split(',').map(Number);
      if (!map.has(row)) map.set(row, new Map());
      map.get(row)!.set(column, change(value));
    }
    return map;
  };

  test('cells and rows that are not there are put where they belong', () => {
    const data = '<row r="2"><c r="B2"><v>1</v></c></row><!-- c --><row r="4"/>';
    expect(changedSheet(sheet(data), changes({'0,0': 1, '1,0': 2, '1,2': 3, '2,1': 4, '3,0': 5, '9,9': 6}))).toBe(
      sheet(
        '<row r="1"><c r="A1"><v>1</v></c></row><row r="2"><c r="A2"><v>2</v></c><c r="B2"><v>1</v></c><c r="C2"><v>3</v></c></row>' +
          '<!-- c --><row r="3"><c r="B3"><v>4</v></c></row><row r="4"><c r="A4"><v>5</v></c></row><row r="10"><c r="J10"><v>6</v></c></row>',
      ),
    );
  });

  test('a sheet without cells, and blanks that need none', () => {
    expect(changedSheet('<worksheet><sheetData/></worksheet>', changes({'1,1': 'a'}))).toBe(
      '<worksheet><sheetData><row r="2"><c r="B2" t="str"><v>a</v></c></row></sheetData></worksheet>',
    );
    expect(changedSheet(sheet('<row r="1"/>'), changes({'0,0': null, '5,5': null}))).toBe(sheet('<row r="1"/>'));
  });

  test('new cells take the style of their row or column; hints about the extent grow with them', () => {
    const before = '<dimension ref="B2"/><cols><col min="3" max="4" style="7"/></cols>';
    const data = '<row r="2" spans="2:2" ht="20"><c r="B2"/></row><row r="3" s="5" customFormat="1"/>';
    expect(changedSheet(sheet(data, before), changes({'1,3': 1, '2,0': 2}))).toBe(
      sheet(
        '<row r="2" spans="2:4" ht="20"><c r="B2"/><c r="D2" s="7"><v>1</v></c></row><row r="3" s="5" customFormat="1"><c r="A3" s="5"><v>2</v></c></row>',
        before.replace('B2', 'A2:D3'),
      ),
    );
  });

  test('addresses for cells that have none', () => {
    expect(
      withAddresses('<s><sheetData><row><c/><c><v>1</v></c></row><row r="5"><c r="C5"/><c/></row></sheetData></s>'),
    ).toBe(
      '<s><sheetData><row r="1"><c r="A1"/><c r="B1"><v>1</v></c></row><row r="5"><c r="C5"/><c r="D5"/></row></sheetData></s>',
    );
  });
});

describe('a workbook', () => {
  test('numbers are read back bit for bit, texts character for character', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.double({noNaN: true, noDefaultInfinity: true}), {minLength: 1, maxLength: 5}),
        fc.array(
          fc.oneof(
            fc.string({unit: 'binary', maxLength: 12}),
            fc.constantFrom('_x000D_', 'a\r\nb', '\t', ' x ', '', '5%', '_x005F_x', '\u0001', '<&">', ']]>'),
          ),
          {minLength: 1, maxLength: 5},
        ),
        async (numbers, texts) => {
          const edits = [
            ...numbers.map((value, i) => edit({row: 100 + i, column: 1, value, calculated: true})),
            ...texts.map((value, i) => edit({row: 100 + i, column: 2, value, calculated: true})),
            ...texts.map((value, i) => edit({row: 100 + i, column: 3, value})),
          ];
          const {cells} = (await readWorkbook(patchWorkbook(richWorkbook(), edits))).sheets[0];
          const at = (row: number, column: number) =>
            cells.find((cell) => cell.row === row && cell.column === column)?.value;
          numbers.forEach((value, i) => expect(Object.is(at(100 + i, 1), value === 0 ? 0 : value)).toBe(true));
          texts.forEach((value, i) => expect([at(100 + i, 2), at(100 + i, 3)]).toEqual([value, value]));
        },
      ),
      {numRuns: 40},
    );
  });

  test('only the sheet concerned changes', () => {
    const bytes = patchWorkbook(richWorkbook(), [edit({sheet: SUMMARY, value: 5, calculated: true})]);
    partsBesides(bytes, [SUMMARY_PART]);
    expect(sheetOf(bytes, SUMMARY_PART)).toBe(
      (RICH_PARTS[SUMMARY_PART] as string).replace('<x:v>1</x:v>', '<x:v>5</x:v>'),
    );
  });

  test('a new formula, and one taken away: the order of calculation goes, Excel makes a new one', async () => {
    const bytes = patchWorkbook(richWorkbook(), [
      edit({row: 15, column: 1, value: 7, formula: {text: 'SUM(1,"<2>")', dynamic: false}}),
      edit({row: 12, column: 1, value: 'now a text', formula: null}),
    ]);
    const parts = unpackZip(bytes);
    expect(parts.has('xl/calcChain.xml')).toBe(false);
    expect(strFromU8(parts.get('[Content_Types].xml')!)).not.toContain('calcChain');
    expect(strFromU8(parts.get('xl/_rels/workbook.xml.rels')!)).not.toContain('calcChain');
    partsBesides(bytes, [SHEET_PART, 'xl/calcChain.xml', '[Content_Types].xml', 'xl/_rels/workbook.xml.rels']);
    const xml = sheetOf(bytes, SHEET_PART);
    expect(xml).toContain('<c r="B16"><f>SUM(1,&quot;&lt;2&gt;&quot;)</f><v>7</v></c>');
    expect(xml).toContain('<c r="B13" t="inlineStr"><is><t>now a text</t></is></c>');
  });

  test('the first of the cells that share a formula gets another one: the others keep theirs', async () => {
    const bytes = patchWorkbook(richWorkbook(), [
      edit({row: 4, column: 6, value: 1, formula: {text: '1', dynamic: false}}),
      edit({row: 5, column: 6, value: 2, formula: null}),
    ]);
    const {cells} = (await readWorkbook(bytes)).sheets[0];
    const formulas = [4, 5, 6, 7, 8].map(
      (row) => cells.find((cell) => cell.row === row && cell.column === 6)?.formula?.text,
    );
    expect(formulas).toEqual(['1', undefined, 'F7/360', 'F8/360', 'F9/360']);
    expect(sheetOf(bytes, SHEET_PART)).not.toContain('si="0"');
  });

  test('a part of an array of fixed size cannot be changed', () => {
    for (const column of [1, 2, 3]) {
      expect(() => patchWorkbook(richWorkbook(), [edit({row: 11, column, value: 1})])).toThrow(
        'has an array formula in Wheel sets!B12:D12, a part of which cannot be changed',
      );
    }
  });

  test('a sheet that is not there', () => {
    expect(() => patchWorkbook(richWorkbook(), [edit({sheet: 'Nope'})])).toThrow('the workbook has no sheet Nope');
  });

  test('nothing to change: the cells are found again as they were', () => {
    expect([...cellsOf(original)].map(({row, column}) => [row, column]).slice(0, 3)).toEqual([
      [0, 0],
      [1, 0],
      [1, 1],
    ]);
    expect(sheetOf(patchWorkbook(richWorkbook(), []), SHEET_PART)).toBe(original);
  });
});

describe('marking formulas as ones that spill', () => {
  async function made(): Promise<Uint8Array> {
    const workbook = new ExcelJS.Workbook();
    const sheet = workbook.addWorksheet('Sets');
    sheet.getCell('A1').value = 0.8;
    sheet.getCell('B1').value = 40;
    sheet.getCell('C1').value = {formula: '_xldudf_WHEEL_MATCH(A1:B1,{0.6,100})', result: 120};
    sheet.getCell('C1').font = {bold: true};
    sheet.getCell('C2').value = {formula: 'A1*2', result: 1.6};
    sheet.fillFormula('H1:H3', 'A1*2', [1.6, 0, 0]);
    workbook.addWorksheet('Other').getCell('B2').value = {formula: 'IF(Sets!A1:B1="","",Sets!A1:B1)', result: 'x & y'};
    return new Uint8Array(await workbook.xlsx.writeBuffer());
  }

  test('the formula, its cells, the mark and the metadata of the workbook', async () => {
    const before = await made();
    const bytes = markDynamicArrays(before, [
      {sheet: 'Sets', cell: 'C1', ref: 'C1:F1'},
      {sheet: 'Sets', cell: 'H2'},
      {sheet: 'Other', cell: 'B2', ref: 'B2:C2'},
    ]);
    const parts = unpackZip(bytes);
    const first = strFromU8(parts.get('xl/worksheets/sheet1.xml')!);
    expect(first).toMatch(
      /<c r="C1" s="1" cm="1"><f t="array" ref="C1:F1">_xldudf_WHEEL_MATCH\(A1:B1,\{0\.6,100\}\)<\/f><v>120<\/v><\/c>/,
    );
    expect(first).toMatch(/<c r="H2" cm="1"><f t="array" ref="H2">A2\*2<\/f><v>0<\/v><\/c>/);
    expect(strFromU8(parts.get('xl/worksheets/sheet2.xml')!)).toMatch(
      /<c r="B2" t="str" cm="1"><f t="array" ref="B2:C2">.*<v>x &amp; y<\/v>/,
    );
    const metadata = strFromU8(parts.get('xl/metadata.xml')!);
    expect(metadata).toContain('<cellMetadata count="1"><bk><rc t="1" v="0"/></bk></cellMetadata>');
    expect(strFromU8(parts.get('[Content_Types].xml')!)).toMatch(
      /<Override PartName="\/xl\/metadata\.xml" ContentType="[^"]*sheetMetadata\+xml"\/><\/Types>$/,
    );
    expect(strFromU8(parts.get('xl/_rels/workbook.xml.rels')!)).toMatch(
      /relationships\/sheetMetadata" Target="metadata\.xml"\/>/,
    );

    const [sets, other] = (await readWorkbook(bytes)).sheets;
    const kinds = [...sets.cells, ...other.cells].flatMap(({row, column, formula}) =>
      formula ? [[row, column, formula.kind]] : [],
    );
    expect(kinds).toEqual([
      [0, 2, 'dynamic'],
      [0, 7, 'plain'],
      [1, 2, 'plain'],
      [1, 7, 'dynamic'],
      [2, 7, 'plain'],
      [1, 1, 'dynamic'],
    ]);

    // Everything else is as it was, and a second time adds nothing.
    const old = unpackZip(before);
    for (const name of ['xl/styles.xml', 'xl/workbook.xml', 'docProps/app.xml'])
      expect(parts.get(name)).toEqual(old.get(name));
    const again = unpackZip(markDynamicArrays(bytes, [{sheet: 'Sets', cell: 'C2'}]));
    expect(strFromU8(again.get('xl/metadata.xml')!)).toBe(metadata);
    expect(strFromU8(again.get('xl/worksheets/sheet1.xml')!)).toContain('<c r="C2" cm="1"><f t="array" ref="C2">');

    // Another program still reads it.
    const reread = new ExcelJS.Workbook();
    await reread.xlsx.load(Buffer.from(bytes) as never);
    expect(reread.getWorksheet('Sets')!.getCell('A1').value).toBe(0.8);
  });

  test('a workbook whose metadata know other things', async () => {
    const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
    const metadata =
      `<metadata xmlns="${main}"><metadataTypes count="1"><metadataType name="XLRICHVALUE"/></metadataTypes>` +
      '<futureMetadata name="XLRICHVALUE" count="1"><bk/></futureMetadata><cellMetadata count="1"><bk><rc t="1" v="0"/></bk></cellMetadata></metadata>';
    const bytes = markDynamicArrays(richWorkbook({'xl/metadata.xml': metadata}), [{sheet: SHEET, cell: 'B13'}]);
    const xml = strFromU8(unpackZip(bytes).get('xl/metadata.xml')!);
    expect(xml).toContain('<metadataTypes count="2"><metadataType name="XLRICHVALUE"/><metadataType name="XLDAPR"');
    expect(xml).toContain(
      '<futureMetadata name="XLRICHVALUE" count="1"><bk/></futureMetadata><futureMetadata name="XLDAPR" count="1">',
    );
    expect(xml).toContain(
      '<cellMetadata count="2"><bk><rc t="1" v="0"/></bk><bk><rc t="2" v="0"/></bk></cellMetadata></metadata>',
    );
    expect(sheetOf(bytes, SHEET_PART)).toContain('<c r="B13" cm="2">');
    const {cells} = (await readWorkbook(bytes)).sheets[0];
    expect(cells.find(({row, column}) => row === 12 && column === 1)?.formula?.kind).toBe('dynamic');
    // Marks of another type do not make an array spill.
    expect(cells.find(({row, column}) => row === 4 && column === 5)?.formula?.kind).toBe('legacy');
  });

  test('a cell without a formula, a sheet that is not there', async () => {
    const bytes = await made();
    expect(() => markDynamicArrays(bytes, [{sheet: 'Sets', cell: 'A1'}])).toThrow(
      'Sets!A1 has no formula to be marked',
    );
    expect(() => markDynamicArrays(bytes, [{sheet: 'Nope', cell: 'A1'}])).toThrow('no sheet Nope');
    expect(() => markDynamicArrays(bytes, [{sheet: 'Sets', cell: 'C1', ref: 'C1:Z'}])).toThrow(
      'C1:Z is not the address',
    );
  });
});
