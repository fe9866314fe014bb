/** What the pane does to a workbook, and what it tells when that fails. */
import type {Book} from '../../../../src/host/book/content';
import {parseArea} from '../../../../src/host/book/addresses';
import type {Block} from '../../../../src/workbook/block';
import type {Filled} from '../../../../src/workbook/columns/fill';
import {fillWorkbook, takeBackFilling} from '../../../../src/workbook/columns/fillWorkbook';
import {toLedgerMap} from '../../../../src/workbook/columns/ledgerMapping';
import {makePlan} from '../../../../src/workbook/columns/plan';
import {readWorkbook} from '../../../../src/workbook/columns/readWorkbook';
import {likelyLimits, settingsTablesOf} from '../../../../src/workbook/columns/settings';
import {sourcesOf} from '../../../../src/workbook/columns/source';
import {guessWorkbook} from '../../../../src/workbook/guess/workbook';
import {insertFormula} from '../../../../src/workbook/insert';
import type {SheetPlan} from '../../../../src/workbook/record/plan';
import {writeSheet} from '../../../../src/workbook/record/write';
import {addSettings, startLedger} from '../../../../src/workbook/startLedger';
import {filledCells, writeBlock} from '../../../../src/workbook/writeBlock';
import {filledBook} from '../../../workbook/columns/computed';
import {LAYOUTS} from '../../../workbook/columns/layouts';
import {book} from '../../support/books';
import {differing, faultyPane, held, type Faulty, type Held} from './faults';
import {closePanes, openPane, type Pane} from './panes';

/** What the pane tells of an attempt. */
export interface Told {
  /** Undefined after success. */
  readonly problem: string | undefined;
  /** Areas that it says are written, or may be, as "Sheet!A1:B2"; or a whole sheet. */
  readonly areas: readonly string[];
  /** What the pane offers where it does not know what was written. */
  readonly takeBack?: () => Promise<void>;
}

export interface Operation {
  readonly name: string;
  /** The sheet that is written to, if it is there before. */
  readonly sheet: string | undefined;
  readonly content: () => Book;
  /** Reads what it needs, and gives back what changes the workbook; the faults strike only there. */
  readonly prepare: () => Promise<() => Promise<Told>>;
}

const fine: Told = {problem: undefined, areas: []};

/** Addresses on a sheet, and sheets in quotation marks, that a message names. */
const named = (message: string, sheet: string): string[] => [
  ...[...message.matchAll(/\b[A-Z]{1,3}\d+(?::[A-Z]{1,3}\d+)?\b/g)].map(([address]) => `${sheet}!${address}`),
  ...[...message.matchAll(/“([^”]+)”/g)].map(([, name]) => name),
];

const telling = (sheet: string, act: () => Promise<unknown>) => async (): Promise<Told> => {
  try {
    await act();
    return fine;
  } catch (error) {
    const {message} = error as Error;
    const isAsBefore = /holds what it held before\.$|Nothing was added to the workbook\.$/.test(message);
    return {problem: message, areas: isAsBefore ? [] : named(message, sheet)};
  }
};

export const BLOCK: Block = [
  [{content: 'Weights', bold: true}, {content: ''}],
  [{content: 'sum'}, {content: '=SUM(A1:A4)', format: '0.00'}],
];

export const fillOperation = (layout: string): Operation => ({
  name: `columns filled: ${layout}`,
  sheet: LAYOUTS[layout]().active,
  content: () => filledBook(LAYOUTS[layout]().sheets),
  prepare: async () => {
    const {active} = LAYOUTS[layout]();
    const read = await readWorkbook();
    const tables = settingsTablesOf(read.sheets);
    const {mapping} = guessWorkbook(read.sheets.flatMap(sourcesOf)).find(
      ({mapping: {records}}) => records.sheet === active,
    )!;
    const limitsFrom = likelyLimits(mapping, tables);
    const choice = {recipes: ['finding', 'match'], reuse: true, from: undefined, spill: false, today: 46000};
    const plan = makePlan(mapping, {tables, limitsFrom}, choice);
    const map = toLedgerMap(mapping, limitsFrom, 'Curve');
    return async () => {
      let filled: Filled & {readonly mapProblem?: string};
      try {
        filled = await fillWorkbook(plan, map, {
          conflict: 'ask',
          agreed: [],
          onProgress: () => {},
          isCancelled: () => false,
        });
      } catch (error) {
        return {problem: (error as Error).message, areas: []};
      }
      if (filled.kind === 'asks') return {problem: `asks about ${JSON.stringify(filled.inTheWay)}`, areas: []};
      const {problem, written, uncertain, mapProblem, undo} = filled;
      const told = [...written, ...uncertain].map((area) => `${active}!${area}`);
      return {
        problem: problem ?? mapProblem,
        areas: [...told, ...(mapProblem === undefined ? [] : ['Ledger map'])],
        ...(uncertain.length > 0 && {takeBack: () => takeBackFilling(plan.mapping.records, undo)}),
      };
    };
  },
});

const SHEET: SheetPlan = {
  name: 'Record 7',
  cells: [
    {row: 0, column: 0, content: 'Record'},
    {row: 1, column: 0, content: 2},
    {row: 2, column: 0, content: '=A2*2'},
  ],
  formats: [{at: {row: 1, column: 0, rows: 2, columns: 1}, format: '0.0'}],
  looks: [{at: {row: 0, column: 0, rows: 1, columns: 2}, merge: true, bold: true, size: 14}],
  widths: [12, 8],
  heights: [{row: 0, points: 20}],
  charts: [],
  page: {area: {row: 0, column: 0, rows: 3, columns: 2}, paper: 'a4', header: 'Record', footer: 'Job 7'},
};

export const mine = (): Book => book({Sheet1: {A1: 1, A2: 2, A3: 3, A4: 4, D1: 'mine'}});
export const at = (column: number) => ({sheet: 'Sheet1', row: 0, column, rows: 1, columns: 1});

export const OPERATIONS: readonly Operation[] = [
  {
    name: 'a formula inserted',
    sheet: 'Sheet1',
    content: mine,
    prepare: async () => telling('Sheet1', () => insertFormula(at(2), '=A1:A4*2')),
  },
  {
    name: 'a formula in place of what was there',
    sheet: 'Sheet1',
    content: mine,
    prepare: async () => telling('Sheet1', () => insertFormula(at(3), '=A1+A2')),
  },
  {
    name: 'a block written over an agreed cell',
    sheet: 'Sheet1',
    content: mine,
    prepare: async () => {
      const agreed = await filledCells({...at(3), rows: 2, columns: 2});
      return telling('Sheet1', () => writeBlock(at(3), BLOCK, agreed));
    },
  },
  {
    name: 'a ledger started',
    sheet: undefined,
    content: mine,
    prepare: async () => telling('Sheet1', () => startLedger('metric')),
  },
  {
    name: 'settings added',
    sheet: undefined,
    content: mine,
    prepare: async () => telling('Sheet1', () => addSettings('us')),
  },
  {
    name: 'a record sheet added',
    sheet: undefined,
    content: mine,
    prepare: async () => telling('Sheet1', () => writeSheet(SHEET)),
  },
  fillOperation('wide rows, limits and unbalance beside'),
  fillOperation('a table with classes, settings beside'),
  fillOperation('two rows of headings, inches, title above, totals below'),
];

export async function open(content: Book): Promise<{pane: Pane; faulty: Faulty}> {
  const pane = await openPane(content);
  const Office = {context: {requirements: {isSetSupported: () => false}}};
  Object.assign(globalThis, {Excel: pane.office.Excel, Office});
  return {pane, faulty: faultyPane(pane)};
}

/** Whether a cell or sheet is among those that were told. */
export function isTold(where: string, areas: readonly string[]): boolean {
  const end = where.indexOf('!');
  const sheet = end < 0 ? where : where.slice(0, end);
  return areas.some((area) => {
    if (area === sheet) return true;
    if (end < 0 || !area.startsWith(`${sheet}!`)) return false;
    const [inside, cell] = [parseArea(area.slice(end + 1))!, parseArea(where.slice(end + 1))!];
    return (
      cell.top >= inside.top && cell.bottom <= inside.bottom && cell.left >= inside.left && cell.right <= inside.right
    );
  });
}

/** What an operation makes of a workbook when nothing disturbs it, and the numbers of actions in its requests. */
export async function undisturbed(
  content: Book,
  prepare: Operation['prepare'],
): Promise<{readonly wanted: Held; readonly requests: readonly number[]}> {
  const {pane, faulty} = await open(content);
  const act = await prepare();
  faulty.begin();
  expect((await act()).problem).toBeUndefined();
  await pane.book.settle();
  const wanted = held(pane.book);
  closePanes();
  return {wanted, requests: faulty.requests};
}

/** Another attempt, which now succeeds and gives what is wanted. */
export async function retry({book: model}: Pane, prepare: Operation['prepare'], wanted: Held, where: string) {
  const again = await prepare();
  expect({where, again: (await again()).problem}).toEqual({where, again: undefined});
  await model.settle();
  const now = held(model);
  expect({where, differs: differing(wanted, now)}).toEqual({where, differs: []});
  return now;
}
