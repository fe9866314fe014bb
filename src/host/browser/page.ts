/** The script of the workbook host's page. */
import {Calculation} from '../book/calculation';
import {extentOf} from '../book/extent';
import {readWithLooks} from '../files/read';
import {builtFunctions} from './functions';
import {gridLook} from './gridLook';
import {gridEngine} from './univer';

async function start(): Promise<void> {
  const functions = await builtFunctions();
  const engine = gridEngine(document.getElementById('grid')!, functions);
  const bytes = new Uint8Array(await (await fetch('/demo.xlsx')).arrayBuffer());
  const {book, looks} = await readWithLooks(bytes);
  const sheets = book.sheets.map((sheet, i) => ({...sheet, id: `s${i}`}));
  const ids = new Map(sheets.map(({name, id}) => [name, id]));
  const t0 = performance.now();
  const calculation = new Calculation(engine, sheets, book, extentOf(book), gridLook(looks(), ids));
  const t1 = performance.now();
  await calculation.calculate();
  console.info('loaded', t1 - t0, performance.now() - t1);
  Object.assign(globalThis, {calculation});
}

void start();
