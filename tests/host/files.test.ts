import CFB from 'cfb';
import {strToU8, unzipSync, zipSync} from 'fflate';
import {FileProblem} from '../../src/host/files/problems';
import {readWorkbook} from '../../src/host/files/read';
import {packZip, unpackZip} from '../../src/host/files/zip';
import {RICH_PARTS, richWorkbook, SETS, SHEET, SHEET_PART, SUMMARY, SUMMARY_PART} from '../files/richWorkbook';

/** A compound file with streams, as old and as encrypted workbooks are. */
function compound(streams: Readonly<Record<string, string>>): Uint8Array {
  const file = CFB.utils.cfb_new();
  for (const [name, content] of Object.entries(streams)) CFB.utils.cfb_add(file, name, Buffer.from(content));
  return new Uint8Array(CFB.write(file, {type: 'buffer'}) as Buffer);
}

const problem = async (bytes: Uint8Array): Promise<string> => {
  const hash = Buffer.from(bytes).toString('base64');
  try {
    await readWorkbook(bytes);
  } catch (error) {
    expect(error).toBeInstanceOf(FileProblem);
    expect(Buffer.from(bytes).toString('base64')).toBe(hash);
    return (error as FileProblem).message;
  }
  throw new Error('it was read');
};

describe('what cannot be read says why, in one sentence', () => {
  const rich = richWorkbook();

  test.each<[string, Uint8Array, RegExp]>([
    ['empty', new Uint8Array(), /^is empty$/],
    ['a table as text', strToU8('Set,Rim,Angle\n1,0.8,40\n'), /^is no Excel workbook \(\.xlsx\)$/],
    [
      'encrypted',
      compound({EncryptionInfo: 'x', EncryptedPackage: 'secret'.repeat(999)}),
      /^is protected by a password/,
    ],
    ['.xls', compound({Workbook: 'BIFF'.repeat(999)}), /^is a workbook of the old kind \(\.xls\)/],
    ['another compound file', compound({WordDocument: 'text'}), /^is no Excel workbook/],
    ['cut off', rich.slice(0, rich.length - 500), /^is damaged: it cannot be unpacked/],
    ['cut off early', rich.slice(0, 40), /^is damaged/],
    ['a zip of something else', zipSync({'photo.txt': strToU8('x')}), /^is a zip archive, but no Excel workbook/],
    [
      'an OpenDocument file',
      zipSync({mimetype: strToU8('x'), 'content.xml': strToU8('<x/>')}),
      /^is an OpenDocument file/,
    ],
  ])('%s', async (_, bytes, words) => expect(await problem(bytes)).toMatch(words));

  const types = RICH_PARTS['[Content_Types].xml'] as string;
  const asType = (type: string): Uint8Array =>
    richWorkbook({
      '[Content_Types].xml': types.replace(
        'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml',
        type,
      ),
    });

  test.each([
    [
      '.docx',
      'application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml',
      /^is a Word document/,
    ],
    ['.xlsm', 'application/vnd.ms-excel.sheet.macroEnabled.main+xml', /^is a workbook with macros/],
    ['.xlsb', 'application/vnd.ms-excel.sheet.binary.main', /^is a binary workbook/],
    ['.xltx', 'application/vnd.openxmlformats-officedocument.spreadsheetml.template.main+xml', /^is a template/],
    ['unknown', 'application/octet-stream', /^is no Excel workbook/],
  ])('%s', async (_, type, words) => expect(await problem(asType(type))).toMatch(words));

  test.each<[string, Record<string, string | undefined>, RegExp]>([
    ['no workbook part', {'xl/workbook.xml': undefined}, /^is damaged: its part xl\/workbook\.xml is missing/],
    ['no relationships', {'_rels/.rels': undefined}, /^is no Excel workbook/],
    [
      'a sheet is missing',
      {[SHEET_PART]: undefined},
      /^is damaged: its part xl\/worksheets\/sheet1\.xml is missing|^is damaged/,
    ],
    ['no shared strings', {'xl/sharedStrings.xml': undefined}, /^is damaged: it cannot be read/],
    ['a sheet is cut off', {[SHEET_PART]: (RICH_PARTS[SHEET_PART] as string).slice(0, 3000)}, /^is damaged/],
    [
      'not well-formed',
      {[SUMMARY_PART]: '<worksheet><sheetData><row r="1"><c r=A1/></row></sheetData></worksheet>'},
      /^is damaged/,
    ],
    [
      'a document type',
      {'xl/styles.xml': '<!DOCTYPE x [<!ENTITY a "aaaa">]><x>&a;</x>'},
      /^is refused: .*document type/,
    ],
    [
      'an address that is none',
      {
        [SUMMARY_PART]:
          '<worksheet xmlns="x"><sheetData><row r="1"><c r="ZZZZ1"><v>1</v></c></row></sheetData></worksheet>',
      },
      /ZZZZ1 is not the address of a cell/,
    ],
  ])('%s', async (_, changes, words) => expect(await problem(richWorkbook(changes))).toMatch(words));
});

describe('bounds', () => {
  test('a part that grows beyond reason is refused before it is unpacked', async () => {
    const bomb = zipSync({...unzipSync(richWorkbook()), 'xl/media/image2.png': new Uint8Array(100 * 1024 * 1024)});
    expect(bomb.length).toBeLessThan(200_000);
    expect(await problem(bomb)).toMatch(/^is refused: its part xl\/media\/image2\.png is packed beyond reason/);
  });

  test('a size that is declared too large, and one that is declared too small', async () => {
    const bytes = richWorkbook();
    const part = strToU8(SHEET_PART);
    // The size in the central directory stands 22 bytes before the name.
    const at = Buffer.from(bytes).lastIndexOf(Buffer.from(part)) - 22;
    const view = new DataView(bytes.buffer, bytes.byteOffset);
    expect(view.getUint32(at, true)).toBe(strToU8(RICH_PARTS[SHEET_PART] as string).length);
    view.setUint32(at, 600 * 1024 * 1024, true);
    expect(await problem(bytes)).toMatch(/^is too large/);
    view.setUint32(at, 100, true);
    expect(await problem(bytes)).toMatch(/^is damaged/);
  });

  test('names that lead out of the file, and two parts of one name', async () => {
    for (const name of ['../evil.xml', '/etc/evil.xml', 'xl/..\\..\\evil.xml', 'C:\\evil.xml']) {
      expect(await problem(zipSync({...unzipSync(richWorkbook()), [name]: strToU8('x')}))).toMatch(/outside/);
    }
    // The name of another part, of the same length, is written over.
    const twice = Buffer.from(richWorkbook({'xl/worksheets/sheet2.xml': 'x'}));
    for (let at = twice.indexOf('sheet2'); at >= 0; at = twice.indexOf('sheet2')) twice.write('sheet1', at);
    expect(await problem(new Uint8Array(twice))).toMatch(/two parts/);
  });

  test('parts keep their order and their bytes', () => {
    const parts = unpackZip(richWorkbook());
    expect([...parts.keys()]).toEqual(Object.keys(RICH_PARTS));
    const again = unpackZip(packZip(parts));
    expect([...again.keys()]).toEqual([...parts.keys()]);
    for (const [name, content] of parts) expect(Buffer.from(again.get(name)!).equals(Buffer.from(content))).toBe(true);
    expect(Buffer.from(packZip(parts)).equals(Buffer.from(packZip(again)))).toBe(true);
  });
});

describe('reading', () => {
  test('cells, texts, dates, errors, names, tables', async () => {
    const {sheets, names, tables, date1904} = await readWorkbook(richWorkbook());
    expect(sheets.map(({name}) => name)).toEqual([SHEET, SUMMARY]);
    const valueAt = (row: number, column: number) =>
      sheets[0].cells.find((cell) => cell.row === row && cell.column === column)?.value;
    expect([0, 1, 2, 3, 4].map((column) => valueAt(1, column))).toEqual([
      ' dated ',
      45413,
      true,
      {code: '#N/A'},
      '  spaces & signs <é>  ',
    ]);
    expect(valueAt(0, 0)).toBe('Wheel sets ');
    expect(SETS.map((_, i) => valueAt(4 + i, 1))).toEqual([0.8, 0.5, 1.25, 'n/a', 0.7]);
    expect(names).toContainEqual({name: 'Limit', formula: `'${SHEET}'!$B$19`});
    expect(names).toContainEqual({name: '_xlnm.Print_Area', formula: `'${SHEET}'!$A$1:$M$20`, sheet: SHEET});
    expect(tables).toEqual([expect.objectContaining({name: 'Sets', sheet: SHEET, header: true, totals: false})]);
    expect(date1904).toBe(false);
  });

  test('how formulas are stored', async () => {
    const [{cells, arrayValues}, summary] = (await readWorkbook(richWorkbook())).sheets;
    const formulaAt = (row: number, column: number) =>
      cells.find((cell) => cell.row === row && cell.column === column)?.formula;
    expect(formulaAt(4, 5)).toMatchObject({kind: 'dynamic', area: {top: 4, left: 5, bottom: 4, right: 5}});
    expect(formulaAt(4, 9)).toMatchObject({kind: 'dynamic', text: '_xldudf_WHEEL_MATCH(B5:C5,D5:E5)'});
    expect(formulaAt(11, 1)).toMatchObject({kind: 'legacy', text: 'TRANSPOSE(B5:B7)'});
    expect(formulaAt(12, 1)).toMatchObject({kind: 'plain'});
    // A shared formula: one group, each with its own text.
    expect([4, 5, 8].map((row) => formulaAt(row, 6)?.text)).toEqual(['F5/360', 'F6/360', 'F9/360']);
    expect(new Set([4, 5, 8].map((row) => formulaAt(row, 6)?.group)).size).toBe(1);
    // What an array showed is not a content of its own, but a text typed into it is.
    expect(arrayValues.map(({row, column}) => [row, column])).toContainEqual([6, 13]);
    expect(cells.find(({row, column}) => row === 8 && column === 11)?.value).toBe('do not move');
    // Without addresses, cells follow one another.
    expect(summary.cells.map(({row, column}) => [row, column])).toEqual([
      [0, 0],
      [0, 1],
      [3, 0],
    ]);
  });

  test('references to other workbooks, also in a formula that cells share', async () => {
    const relationships = RICH_PARTS['xl/_rels/workbook.xml.rels'] as string;
    const type = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
    const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
    const bytes = richWorkbook({
      'xl/workbook.xml': (RICH_PARTS['xl/workbook.xml'] as string).replace(
        '<definedNames>',
        '<externalReferences><externalReference r:id="rId20"/></externalReferences><definedNames>',
      ),
      'xl/_rels/workbook.xml.rels': relationships.replace(
        '</Relationships>',
        `<Relationship Id="rId20" Type="${type}/externalLink" Target="externalLinks/externalLink1.xml"/></Relationships>`,
      ),
      'xl/externalLinks/externalLink1.xml': `<externalLink xmlns="${main}"><externalBook xmlns:r="${type}" r:id="rId1"><sheetNames><sheetName val="${SHEET}"/></sheetNames></externalBook></externalLink>`,
      'xl/externalLinks/_rels/externalLink1.xml.rels': `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="${type}/externalLinkPath" Target="Other.xlsx" TargetMode="External"/></Relationships>`,
      [SUMMARY_PART]: `<worksheet xmlns="${main}"><sheetData><row r="1"><c r="A1"><f t="shared" ref="A1:A2" si="0">'[1]${SHEET}'!B1+1</f><v>5</v></c></row><row r="2"><c r="A2"><f t="shared" si="0"/><v>6</v></c></row></sheetData></worksheet>`,
    });
    const {cells} = (await readWorkbook(bytes)).sheets[1];
    // The sheet of that name in this workbook is not meant.
    expect(cells.map(({formula}) => formula?.text)).toEqual([
      `'[Other.xlsx]${SHEET}'!B1+1`,
      `'[Other.xlsx]${SHEET}'!B2+1`,
    ]);
  });

  test('dates that count from 1904', async () => {
    const workbook = (RICH_PARTS['xl/workbook.xml'] as string).replace('<workbookPr ', '<workbookPr date1904="1" ');
    const book = await readWorkbook(richWorkbook({'xl/workbook.xml': workbook}));
    expect(book.date1904).toBe(true);
    expect(book.sheets[0].cells.find(({row, column}) => row === 1 && column === 1)?.value).toBe(45413);
  });
});
