/** Opening workbooks in Node. */
import type {Engine} from '../engine/start';
import {openBook, type Workbook} from '../book/workbook';
import type {Book} from '../book/content';
import {readWorkbook} from '../files/read';
import {answeringAtOnce} from '../engine/functionsBundle';
import {nodeEngine} from './engine';

/** A workbook without content, for formulas that need none. */
const EMPTY: Book = {
  sheets: [{name: 'Sheet1', cells: [], arrayValues: [], hiddenRows: []}],
  names: [],
  tables: [],
  date1904: false,
};

/**
 * Opens a workbook and calculates it.
 * @throws FileProblem when the bytes are no .xlsx workbook, in words that go on behind the file's name
 */
export async function openWorkbook(bytes: Uint8Array, engine: Engine = nodeEngine()): Promise<Workbook> {
  const book = await readWorkbook(bytes);
  await answeringAtOnce(engine.functions);
  return openBook(book, engine);
}

export async function emptyWorkbook(engine: Engine = nodeEngine()): Promise<Workbook> {
  await answeringAtOnce(engine.functions);
  return openBook(EMPTY, engine);
}
