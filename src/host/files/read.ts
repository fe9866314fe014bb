/** Reading an .xlsx file. */
import {convertBinary} from '@borgar/xlsx-convert';
import {translateFormulaToA1} from '@borgar/fx';
import {cellKey, parseArea, parseCell, type Area} from '../book/addresses';
import {cellError, type CellValue} from '../book/cells';
import type {Book, CellContent, CellFormula, DefinedName, SheetContent, Table} from '../book/content';
import {dynamicMarks} from './dynamicMark';
import {checkKindOfFile} from './kind';
import {
  addPart,
  isPackage,
  keepRelationships,
  relationships,
  setTextPart,
  textPart,
  workbookParts,
  type WorkbookParts,
} from './parts';
import type {Looks} from './looks';
import {FileProblem} from './problems';
import {looksOf, type ConvertedLooks} from './readLooks';
import {cellsOf, withAddresses, withoutHugeMerges} from './sheetXml';
import {attribute, refuseEntities, tags, textContent} from './xml';
import {packZip, unpackZip, type Parts} from './zip';

/** What the library makes of a workbook, as far as it is used here. */
interface Converted extends ConvertedLooks {
  readonly sheets: readonly (ConvertedSheet & ConvertedLooks['sheets'][number])[];
  /** Formulas in R1C1 words, by number. */
  readonly formulas?: readonly string[];
  readonly tables?: readonly ConvertedTable[];
  readonly calculationProperties?: {readonly epoch?: number};
}

interface ConvertedSheet {
  readonly name: string;
  readonly cells: Readonly<Record<string, ConvertedCell>>;
  readonly rows?: readonly {readonly start: number; readonly end: number; readonly size?: number}[];
}

interface ConvertedCell {
  readonly v?: string | number | boolean | null;
  readonly t?: string;
  /** The number of the formula, or its text. */
  readonly f?: number | string;
  /** The cells of the array formula to which the cell belongs. */
  readonly F?: string;
}

interface ConvertedTable {
  readonly name: string;
  readonly sheet: string;
  readonly ref: string;
  readonly headerRowCount?: number;
  readonly totalsRowCount?: number;
  readonly columns: readonly {readonly name: string}[];
}

/**
 * The content of an .xlsx workbook.
 * @throws FileProblem when it cannot be read, in words that go on behind the file's name
 */
export async function readWorkbook(bytes: Uint8Array): Promise<Book> {
  return (await readWithLooks(bytes)).book;
}

/**
 * The same, with how its cells look.
 * @throws FileProblem when it cannot be read, in words that go on behind the file's name
 */
export async function readWithLooks(bytes: Uint8Array): Promise<{book: Book; looks: () => Looks}> {
  checkKindOfFile(bytes);
  const parts = unpackZip(bytes);
  // Before anything is read of it; other kinds of file may declare what they like, they are refused for what they are.
  if (isPackage(parts)) for (const [name, content] of parts) if (isXml(name)) refuseEntities(content);
  const book = workbookParts(parts);
  const converted = await convert(parts, book);
  const formulas = converted.formulas ?? [];
  const content: Book = {
    sheets: book.sheets.map(({name, path}) => {
      const sheet = converted.sheets.find((one) => one.name === name);
      if (!sheet) throw new FileProblem(`is damaged: its sheet ${name} cannot be read`);
      return sheetContent(sheet, formulas, marksOf(parts, book, path));
    }),
    names: definedNames(parts, book),
    tables: (converted.tables ?? []).map(table),
    date1904: converted.calculationProperties?.epoch === 1904,
  };
  return {book: content, looks: () => looksOf(converted, parts, book)};
}

const isXml = (name: string): boolean => /\.(?:xml|rels)$/i.test(name);

/** The parts that the library is to read; it stumbles over unusual contents of others. */
const OF_WORKBOOK = ['worksheet', 'chartsheet', 'sharedStrings', 'styles', 'theme', 'externalLink'];
const OF_SHEET = ['table'];

/** A workbook may go without styles; the library asks for some. */
const PLAIN_STYLES = {
  path: 'xl/plainStyles.xml',
  text:
    '<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><fonts><font/></fonts>' +
    '<fills><fill/></fills><borders><border/></borders><cellXfs><xf/></cellXfs></styleSheet>',
  contentType: 'application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml',
  relationshipType: 'http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles',
};

/** The library gets what has been unpacked within bounds, and of that what is needed here. */
async function convert(parts: Parts, book: WorkbookParts): Promise<Converted> {
  const light: Parts = new Map([...parts].filter(([name]) => isXml(name)));
  keepRelationships(light, book.path, OF_WORKBOOK);
  if (!relationships(light, book.path).some(({type}) => type === 'styles')) addPart(light, book, PLAIN_STYLES);
  for (const {name, path} of book.sheets) {
    refuseHugeArrays(name, textPart(parts, path));
    setTextPart(light, path, withoutHugeMerges(withAddresses(textPart(parts, path))));
    keepRelationships(light, path, OF_SHEET);
  }
  // It mixes up cells that share a formula with a reference to another workbook, unless each is written out.
  const cellFormulas = /<(?:[\w.-]+:)?externalReference\b/.test(textPart(parts, book.path));
  try {
    const packed = packZip(light, 0);
    const buffer = packed.buffer.slice(packed.byteOffset, packed.byteOffset + packed.byteLength) as ArrayBuffer;
    return (await convertBinary(buffer, 'workbook.xlsx', {skipMerged: false, cellFormulas})) as unknown as Converted;
  } catch (error) {
    throw new FileProblem(`is damaged: it cannot be read (${error instanceof Error ? error.message : String(error)})`);
  }
}

/** What the library does not tell about cells, by their keys. */
interface Marks {
  /** Their array formulas spill. */
  readonly dynamic: ReadonlySet<number>;
  /** They hold a text that somebody typed; texts that formulas give are stored in another way. */
  readonly typed: ReadonlySet<number>;
}

function marksOf(parts: Parts, book: WorkbookParts, path: string): Marks {
  const dynamic = new Set<number>();
  const typed = new Set<number>();
  const xml = textPart(parts, path);
  if (book.metadata === undefined || !/\bcm\s*=/.test(xml)) return {dynamic, typed};
  const isDynamic = dynamicMarks(parts, book);
  for (const {row, column, tag} of cellsOf(xml)) {
    if (isDynamic(attribute(tag.attributes, 'cm'))) dynamic.add(cellKey(row, column));
    if (/^(?:s|inlineStr)$/.test(attribute(tag.attributes, 't') ?? '')) typed.add(cellKey(row, column));
  }
  return {dynamic, typed};
}

function sheetContent(
  {name, cells: converted, rows = []}: ConvertedSheet,
  formulas: readonly string[],
  {dynamic, typed}: Marks,
): SheetContent {
  const cells: CellContent[] = [];
  const arrayValues: CellContent[] = [];
  for (const [address, cell] of Object.entries(converted)) {
    const at = parseCell(address);
    if (!at) throw new FileProblem(`is damaged: ${address} is not the address of a cell`);
    const value = valueOf(cell);
    const area = cell.F === undefined ? undefined : parseArea(cell.F);
    if (cell.f !== undefined) {
      const own = area && area.top === at.row && area.left === at.column ? area : undefined;
      const kind = dynamic.has(cellKey(at.row, at.column)) ? 'dynamic' : own ? 'legacy' : 'plain';
      const formula: CellFormula =
        typeof cell.f === 'number'
          ? new GroupedFormula(formulas[cell.f], address, cell.f, kind, own)
          : {text: cell.f, kind, area: own};
      cells.push({...at, value, formula});
    } else if (value !== null) {
      // What belongs to an array comes with the formula that fills it. A text that was typed there is in its way.
      const isTyped = typed.has(cellKey(at.row, at.column)) && area && dynamic.has(cellKey(area.top, area.left));
      (area && !isTyped ? arrayValues : cells).push({...at, value});
    }
  }
  return {
    name,
    cells,
    arrayValues,
    hiddenRows: rows.filter(({size}) => size === 0).map(({start, end}) => ({from: start - 1, to: end - 1})),
  };
}

/** An array formula of more cells than this would fill the memory with copies of its result. */
const LARGEST_ARRAY = 500_000;

/** @throws FileProblem before anything goes through all the cells of an array that no workbook has */
function refuseHugeArrays(sheet: string, xml: string): void {
  for (const [, attributes] of xml.matchAll(/<(?:[\w.-]+:)?f(\s[^>]*)>/g)) {
    const ref = attribute(attributes, 't') === 'array' ? attribute(attributes, 'ref') : undefined;
    const area = ref === undefined ? undefined : parseArea(ref);
    if (area && (area.bottom - area.top + 1) * (area.right - area.left + 1) > LARGEST_ARRAY) {
      throw new FileProblem(`is refused: an array formula on its sheet ${sheet} fills ${ref}`);
    }
  }
}

function valueOf({v, t}: ConvertedCell): CellValue {
  if (v === undefined || v === null) return null;
  return t === 'e' ? cellError(String(v)) : v;
}

/** A formula that is only written out for the cells whose text is asked for. */
class GroupedFormula implements CellFormula {
  constructor(
    private readonly relative: string,
    private readonly address: string,
    readonly group: number,
    readonly kind: CellFormula['kind'],
    readonly area: Area | undefined,
  ) {}

  get text(): string {
    return translateFormulaToA1(this.relative, this.address);
  }
}

/** Hidden names count too: formulas use them. */
function definedNames(parts: Parts, book: WorkbookParts): DefinedName[] {
  const xml = textPart(parts, book.path);
  const names: DefinedName[] = [];
  const sheetNames = allSheetNames(xml);
  let opened: {attributes: string; end: number} | undefined;
  for (const tag of tags(xml)) {
    if (tag.local !== 'definedName') continue;
    if (tag.kind === 'open') opened = tag;
    if (tag.kind !== 'close' || !opened) continue;
    const scope = attribute(opened.attributes, 'localSheetId');
    const sheet = scope === undefined ? undefined : sheetNames[Number(scope)];
    names.push({
      name: attribute(opened.attributes, 'name') ?? '',
      formula: textContent(xml.slice(opened.end, tag.start)),
      ...(sheet === undefined ? {} : {sheet}),
    });
  }
  return names;
}

/** Chart sheets count in the numbers of sheets. */
function allSheetNames(xml: string): string[] {
  const found: string[] = [];
  for (const {local, kind, attributes} of tags(xml)) {
    if (local === 'sheet' && kind !== 'close') found.push(attribute(attributes, 'name') ?? '');
  }
  return found;
}

function table({name, sheet, ref, headerRowCount, totalsRowCount, columns}: ConvertedTable): Table {
  const area = parseArea(ref);
  if (!area) throw new FileProblem(`is damaged: the table ${name} has no cells`);
  return {
    name,
    sheet,
    area,
    header: (headerRowCount ?? 1) > 0,
    totals: (totalsRowCount ?? 0) > 0,
    columns: columns.map((column) => column.name),
  };
}
