/**
 * Somebody at the workbook, or another pane, acts just before any request of what the pane does: the sheet is protected,
 * renamed or deleted, a cell is edited, a name is taken, columns are put where others were to go. Afterwards what is not
 * as that act alone leaves it is told; and once the act is undone the next attempt succeeds.
 *
 * @jest-environment ./tests/host/support/environment.cjs
 */
import type {Book} from '../../../src/host/book/content';
import {renameSheet} from '../../../src/host/office/structure';
import {insertFormula} from '../../../src/workbook/insert';
import {book} from '../support/books';
import {differing, held, type Held} from './support/faults';
import {at, isTold, mine, open, OPERATIONS, retry, undisturbed} from './support/operations';
import {closePanes, type Pane} from './support/panes';

jest.setTimeout(240000);
afterEach(closePanes);

/** What somebody does to the sheet that is written to. */
interface Act {
  readonly name: string;
  readonly act: (pane: Pane, sheet: string) => void;
  /** Undone before the next attempt; undefined where that cannot be. */
  readonly undo: ((pane: Pane, sheet: string) => void) | undefined;
  /** What the pane says of it. */
  readonly words: RegExp;
  /** The sheet's name afterwards. */
  readonly renamed?: string;
}

const idOf = ({book}: Pane, name: string): string => book.sheets.find((sheet) => sheet.name === name)!.id;
const protect = (isProtected: boolean) => (pane: Pane, sheet: string) =>
  pane.book.setSheet(
    idOf(pane, sheet),
    {protection: isProtected ? {password: undefined, options: {}} : undefined},
    'sheet',
  );

const ACTS: readonly Act[] = [
  {name: 'the sheet is protected', act: protect(true), undo: protect(false), words: /protected/},
  {
    name: 'a cell is edited',
    act: ({book}) => (book.isEditing = true),
    undo: ({book}) => (book.isEditing = false),
    words: /A cell is being edited\. Press Enter or Esc in the sheet and try again/,
  },
  {
    name: 'the sheet is renamed',
    act: (pane, sheet) => renameSheet(pane.book, idOf(pane, sheet), 'March'),
    undo: (pane, sheet) => renameSheet(pane.book, idOf(pane, 'March'), sheet),
    words: /no longer|renamed/,
    renamed: 'March',
  },
  {
    name: 'the sheet is deleted',
    act: (pane, sheet) => pane.book.step(() => pane.book.removeSheet(idOf(pane, sheet))),
    undo: undefined,
    words: /no longer|deleted/,
  },
];

/** Another sheet, so that the one that is written to can be deleted. */
const beside = (content: Book): Book => ({
  ...content,
  sheets: [...content.sheets, ...book({Elsewhere: {A1: 1}}).sheets],
});

/** Addresses told of a sheet, under the name that it has afterwards. */
const under = (name: string | undefined, sheet: string, areas: readonly string[]): string[] =>
  areas.map((area) => (name !== undefined && area.startsWith(`${sheet}!`) ? name + area.slice(sheet.length) : area));

/** A state as another name of a sheet has it. */
const named = ({cells, tables}: Held, was: string, name: string | undefined): Held =>
  name === undefined
    ? {cells, tables}
    : {
        cells: new Map(
          [...cells].map(([at, content]) => [
            at === was ? name : at.startsWith(`${was}!`) ? name + at.slice(was.length) : at,
            at.startsWith('Ledger map') ? content : content.replaceAll(`${was}!`, `${name}!`),
          ]),
        ),
        tables: tables.map((table) => table.replace(` ${was} `, ` ${name} `)),
      };

const onSheets = OPERATIONS.filter(({sheet}) => sheet !== undefined);

describe.each(ACTS)('$name', ({act, undo, words, renamed}) => {
  test.each(onSheets)('$name', async ({content, prepare, sheet}) => {
    const {wanted, requests} = await undisturbed(beside(content()), prepare);
    let refused = 0;
    for (let strike = 0; strike < requests.length; strike++) {
      const {pane, faulty} = await open(beside(content()));
      const attempt = await prepare();
      await pane.book.settle();
      const untouched = held(pane.book);
      faulty.begin();
      faulty.before = (request) => {
        if (request === strike) act(pane, sheet!);
      };
      const {problem, areas, takeBack} = await attempt();
      faulty.before = () => {};
      await pane.book.settle();
      const after = held(pane.book);
      const where = JSON.stringify({strike, problem, areas});
      const isGone = !after.cells.has(renamed ?? sheet!);
      const inSheet = (at: string): boolean => at === sheet || at.startsWith(`${sheet}!`);
      if (problem === undefined) {
        const differs = differing(named(wanted, sheet!, renamed), after);
        expect({where, differs: differs.filter((at) => !(isGone && inSheet(at)))}).toEqual({where, differs: []});
      } else {
        refused++;
        expect(problem).toMatch(words);
        const silent = differing(named(untouched, sheet!, renamed), after).filter(
          (at) => !(isGone && inSheet(at)) && !isTold(at, under(renamed, sheet!, areas)),
        );
        expect({where, silent}).toEqual({where, silent: []});
      }
      if (problem !== undefined && undo !== undefined) {
        undo(pane, sheet!);
        await takeBack?.();
        await retry(pane, prepare, wanted, where);
      }
      closePanes();
    }
    expect(refused).toBeGreaterThan(0);
  });
});

test('a formula for a sheet that is deleted meanwhile: there is no cell that could hold it', async () => {
  const {pane, faulty} = await open(beside(mine()));
  faulty.begin();
  faulty.before = (request) => {
    if (request === 1) pane.book.step(() => pane.book.removeSheet(idOf(pane, 'Sheet1')));
  };
  await expect(insertFormula(at(2), '=A1*2')).rejects.toThrow(
    /no longer in the workbook\. .*There is no cell C1 any more\.$/,
  );
});

describe('somebody adds a sheet of the name that is wanted', () => {
  /** By operation: the name, and what the pane says. */
  const names: readonly [string, string, RegExp][] = [
    ['a ledger started', 'Wheels', /Wheels|taken already/],
    ['settings added', 'Limits', /Limits|taken already/],
    ['a record sheet added', 'Record 7', /^The name is taken already\. Nothing was added/],
    ['columns filled: a table with classes, settings beside', 'Ledger map', /Ledger map|taken already/],
  ];

  const cellsOf = (state: Held, name: string): string[] =>
    [...state.cells].filter(([at]) => at.startsWith(`${name}!`)).map(String);

  test.each(names)('%s: %s', async (operation, name, words) => {
    const {content, prepare} = OPERATIONS.find((one) => one.name === operation)!;
    const {wanted, requests} = await undisturbed(content(), prepare);
    let met = 0;
    for (let strike = 0; strike < requests.length; strike++) {
      const {pane, faulty} = await open(content());
      const attempt = await prepare();
      await pane.book.settle();
      const untouched = held(pane.book);
      const isTaken = (): boolean => pane.book.sheets.some((sheet) => sheet.name === name);
      let theirs: string | undefined;
      faulty.begin();
      faulty.before = (request) => {
        if (request !== strike || isTaken()) return;
        const contents = [{row: 0, column: 0, value: 'theirs'}];
        theirs = pane.book.step(() => pane.book.addSheet(name, pane.book.sheets.length, contents));
      };
      const {problem, areas, takeBack} = await attempt();
      faulty.before = () => {};
      await pane.book.settle();
      if (theirs === undefined) {
        closePanes();
        continue;
      }
      const after = held(pane.book);
      const where = JSON.stringify({strike, problem, areas});
      expect({where, theirs: cellsOf(after, name)}).toEqual({where, theirs: [`${name}!A1,theirs {}`]});
      const theirSheet = (at: string): boolean => at === name || at.startsWith(`${name}!`);
      if (problem !== undefined) {
        met++;
        expect(problem).toMatch(words);
        const silent = differing(untouched, after).filter((at) => !theirSheet(at) && !isTold(at, areas));
        expect({where, silent}).toEqual({where, silent: []});
        pane.book.step(() => pane.book.removeSheet(theirs!));
        await takeBack?.();
        await retry(pane, prepare, wanted, where);
      }
      closePanes();
    }
    expect(met).toBeGreaterThan(0);
  });
});

describe('tables in the way', () => {
  const operation = OPERATIONS.find(({name}) => name === 'columns filled: a table with classes, settings beside')!;

  async function filled(disturb: (pane: Pane) => Promise<void>, undo: (pane: Pane) => Promise<void>) {
    const {wanted} = await undisturbed(operation.content(), operation.prepare);
    const {pane} = await open(operation.content());
    await disturb(pane);
    const attempt = await operation.prepare();
    await pane.book.settle();
    const before = held(pane.book);
    const {problem, areas} = await attempt();
    await pane.book.settle();
    const after = held(pane.book);
    const silent = differing(before, after).filter((cell) => !isTold(cell, areas));
    await undo(pane);
    const again = await (await operation.prepare())();
    await pane.book.settle();
    return {problem, silent, before, after, again: again.problem, left: differing(wanted, held(pane.book))};
  }

  test('the table of the map is too narrow: it stays as it is, and the columns are filled', async () => {
    const disturb = ({run}: Pane) =>
      run(async ({workbook}) => {
        const sheet = workbook.worksheets.add('Ledger map');
        sheet.getRange('A3:B4').values = [
          ['What', 'mine'],
          ['theirs', 7],
        ];
        sheet.tables.add('A3:B4', true).name = 'LedgerMap';
      });
    const undo = ({run}: Pane) => run(async ({workbook}) => workbook.worksheets.getItem('Ledger map').delete());
    const {problem, silent, before, after, again, left} = await filled(disturb, undo);
    expect(problem).toBe('The table LedgerMap has fewer than 4 columns; the map was not kept.');
    expect(silent).toEqual([]);
    const map = ({cells}: Held) => [...cells].filter(([cell]) => cell.startsWith('Ledger map'));
    expect(map(after)).toEqual(map(before));
    expect([again, left]).toEqual([undefined, []]);
  });

  test('another table stands where columns would go: nothing is written', async () => {
    const disturb = ({run}: Pane) =>
      run(async ({workbook}) => {
        const sheet = workbook.worksheets.getItem('Bench');
        const beside = sheet.tables.getItem('Measured').getRange().getLastColumn().getOffsetRange(0, 2);
        const range = beside.getCell(2, 0).getResizedRange(1, 0);
        range.values = [['Other'], [1]];
        sheet.tables.add(range, true).name = 'Other';
      });
    const undo = ({run}: Pane) => run(async ({workbook}) => workbook.tables.getItem('Other').delete());
    const {problem, silent, before, after, again, left} = await filled(disturb, undo);
    expect(problem).toBeDefined();
    expect(silent).toEqual([]);
    expect(differing(before, after)).toEqual([]);
    expect(again).toBeUndefined();
    expect(left).toEqual([]);
  });
});
