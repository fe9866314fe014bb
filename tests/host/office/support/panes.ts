/** Workbooks with a pane connected to them by the real office.js. */
import {Calculation} from '../../../../src/host/book/calculation';
import type {Book} from '../../../../src/host/book/content';
import {extentOf} from '../../../../src/host/book/extent';
import type {Looks} from '../../../../src/host/files/looks';
import {Connection} from '../../../../src/host/office/api/connection';
import {HostBook} from '../../../../src/host/office/hostBook';
import {nodeEngine} from '../../support/books';
import {loadOfficeJs, type OfficeJs} from './officeJs';

export interface Pane {
  readonly book: HostBook;
  readonly office: OfficeJs;
  readonly connection: Connection;
  readonly run: <T>(batch: (context: Excel.RequestContext) => Promise<T>) => Promise<T>;
}

const opened: Calculation[] = [];

export async function openPane(content: Book, looks?: Looks): Promise<Pane> {
  const sheets = content.sheets.map((sheet, i) => ({...sheet, id: `s${i}`}));
  const calculation = new Calculation(nodeEngine(), sheets, content, extentOf(content));
  opened.push(calculation);
  await calculation.calculate();
  const book = new HostBook(calculation, content, looks);
  const office = loadOfficeJs();
  const connection = new Connection(
    book,
    (type, target, message) => office.tell(type, target, message),
    () => office.selectionChanged(),
  );
  office.connect(connection);
  return {book, office, connection, run: (batch) => office.Excel.run(batch)};
}

export const closePanes = (): void => opened.splice(0).forEach((calculation) => calculation.dispose());

/** Runs the events that were left for later. */
export const nextTurn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 5));
