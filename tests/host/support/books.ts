/** Workbooks for tests, with the engine loaded by Node itself; see environment.cjs. */
import type {Book, CellContent, CellFormula} from '../../../src/host/book/content';
import {parseArea, parseCell} from '../../../src/host/book/addresses';
import type {CellValue} from '../../../src/host/book/cells';
import {openBook, type Workbook} from '../../../src/host/book/workbook';
import {nodeEngine} from '../../../src/host/node/engine';

jest.mock('../../../src/host/node/univer.cjs', () => (globalThis as unknown as {univerOfNode: unknown}).univerOfNode);

export {emptyWorkbook, openWorkbook} from '../../../src/host/node/books';
export {bundledFunctions} from '../../../src/host/node/bundle';
export {nodeEngine} from '../../../src/host/node/engine';

/** A formula as an ordinary one, as one that spills, or as an array formula of fixed size. */
export const plain = (text: string): CellFormula => ({text, kind: 'plain'});
export const dynamic = (text: string, area?: string): CellFormula => ({
  text,
  kind: 'dynamic',
  area: area === undefined ? undefined : parseArea(area),
});
export const legacy = (text: string, area: string): CellFormula => ({text, kind: 'legacy', area: parseArea(area)});

type Content = CellValue | CellFormula;

const isFormula = (content: Content): content is CellFormula =>
  typeof content === 'object' && content !== null && 'kind' in content;

/** A workbook of sheets with cells by address. */
export const book = (
  sheets: Readonly<Record<string, Readonly<Record<string, Content>>>>,
  rest: Partial<Omit<Book, 'sheets'>> = {},
): Book => ({
  sheets: Object.entries(sheets).map(([name, cells]) => ({
    name,
    cells: Object.entries(cells).map(([address, content]): CellContent => ({
      ...parseCell(address)!,
      ...(isFormula(content) ? {value: null, formula: content} : {value: content}),
    })),
    arrayValues: [],
    hiddenRows: [],
  })),
  names: [],
  tables: [],
  date1904: false,
  ...rest,
});

export const open = (content: Book): Promise<Workbook> => openBook(content, nodeEngine());
