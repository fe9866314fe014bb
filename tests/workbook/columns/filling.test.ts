/** Filling a sheet that can fail, be protected, change or vanish at any moment. */
import type {CellValue} from '../../../src/workbook/ledger';
import {cellAddress} from '../../../src/workbook/addresses';
import {fill, type Filled, type Watching} from '../../../src/workbook/columns/fill';
import {takeBackFilled} from '../../../src/workbook/columns/failure';
import {makePlan, type Choice, type Plan} from '../../../src/workbook/columns/plan';
import type {SheetCells} from '../../../src/workbook/columns/source';
import {sourcesOf} from '../../../src/workbook/columns/source';
import type {Block, Formulas, TargetSheet} from '../../../src/workbook/columns/target';
import {guessWorkbook} from '../../../src/workbook/guess/workbook';
import {WorkbookProblem} from '../../../src/workbook/problems';
import {sheet, tableSheet, trueWheels, upTo} from './layouts';

/** A sheet in memory that takes changes when they are sent. */
class MemorySheet implements TargetSheet {
  readonly cells = new Map<string, string>();
  readonly formats = new Map<string, string>();
  sends = 0;
  isProtected = false;
  /** Called before each sending: may change the sheet, or throw as Excel would. */
  beforeSend: (count: number) => void = () => {};
  /** Changes of a failing request that are made all the same. */
  private queue: (() => void)[] = [];
  private gone = false;

  constructor(
    readonly made: SheetCells,
    readonly headerRow: number,
    private width: number,
  ) {
    made.cells.forEach((row, i) =>
      row.forEach((cell: CellValue, k) => this.put(made.row + i, made.column + k, String(cell))),
    );
  }

  put(row: number, column: number, content: string): void {
    if (content === '') this.cells.delete(cellAddress(row, column));
    else this.cells.set(cellAddress(row, column), content);
  }

  at = (row: number, column: number): string => this.cells.get(cellAddress(row, column)) ?? '';

  vanish(): void {
    this.gone = true;
    this.cells.clear();
  }

  private check(): void {
    if (this.gone) throw new WorkbookProblem('What this refers to is no longer in the workbook.');
  }

  state = async () => {
    this.check();
    const [table] = this.made.tables;
    return {
      isProtected: this.isProtected,
      headings: upTo(this.width).map((i) => this.at(this.headerRow, this.made.column + i - 1)),
      records: table === undefined ? undefined : table.rows - 1,
      columns: table === undefined ? undefined : this.width,
    };
  };

  read = async ({row, column, rows, columns}: Block): Promise<Formulas> => {
    this.check();
    return upTo(rows).map((i) => upTo(columns).map((k) => this.at(row + i - 1, column + k - 1)));
  };

  resizeTable = (columns: number): void => {
    this.queue.push(() => {
      // A heading of a table is never empty.
      for (; this.width < columns; this.width++)
        if (this.at(this.headerRow, this.width) === '') this.put(this.headerRow, this.width, `Column${this.width}`);
      this.width = columns;
    });
  };

  write = (block: Block, formulas: Formulas): void => {
    this.queue.push(() =>
      formulas.forEach((row, i) => row.forEach((cell, k) => this.put(block.row + i, block.column + k, cell))),
    );
  };

  clear = (block: Block): void => this.write(block, new Array(block.rows).fill(new Array(block.columns).fill('')));

  format = ({row, column}: Block, numberFormat: string): void => {
    this.queue.push(() => this.formats.set(cellAddress(row, column), numberFormat));
  };

  send = async (): Promise<void> => {
    const queue = this.queue.splice(0);
    this.sends++;
    this.check();
    this.beforeSend(this.sends);
    this.check();
    queue.forEach((change) => change());
  };
}

const WIDTH = 2 + 48 + 2;

function rows(count: number): CellValue[][] {
  const head = ['Job', 'Corner', ...['A', 'I', 'O'].flatMap((side) => upTo(16).map((i) => `${side}${i}`))];
  return [
    [...head, 'Limit', 'Rim limit'],
    ...trueWheels(count, 16).map((w) => [w.job, w.position, ...w.assembly, ...w.inner, ...w.outer, ...w.limits]),
  ];
}

const choice: Choice = {recipes: ['finding', 'match'], reuse: true, from: undefined, spill: false, today: 46000};

function setUp(count: number, asTable = false, change: Partial<Choice> = {}): {plan: Plan; target: MemorySheet} {
  const cells = rows(count);
  const made = asTable ? tableSheet('Bench', cells, 'Wheels_A') : sheet('Bench', cells);
  const [{mapping}] = guessWorkbook(sourcesOf(made));
  const plan = makePlan(mapping, {tables: new Map(), limitsFrom: {kind: 'columns'}}, {...choice, ...change});
  return {plan, target: new MemorySheet(made, 0, WIDTH)};
}

const watching = (change: Partial<Watching> = {}): Watching => ({
  conflict: 'ask',
  agreed: [],
  onProgress: () => {},
  isCancelled: () => false,
  cellsAtOnce: 1000,
  ...change,
});

type Ended = Exclude<Filled, {kind: 'asks'}>;
const ended = (filled: Filled): Ended => {
  expect(filled.kind).not.toBe('asks');
  return filled as Ended;
};

const before = (target: MemorySheet): Map<string, string> => new Map(target.cells);

describe.each([false, true])('as a table: %s', (asTable) => {
  test('every cell gets its formula, in one request when there are few', async () => {
    const {plan, target} = setUp(12, asTable);
    const was = before(target);
    const done = ended(await fill(plan, target, watching()));
    expect(done).toMatchObject({kind: 'done', records: 12, of: 12, cells: 60, already: 0, kept: 0});
    expect(target.sends).toBe(1);
    for (const column of plan.columns) {
      expect(target.at(0, column.column)).toBe(column.heading);
      for (const record of plan.rows) expect(target.at(1 + record, column.column)).toBe(plan.formula(column, record));
    }
    for (const [address, content] of was) expect(target.cells.get(address)).toBe(content);
    expect(target.cells.size).toBe(was.size + 65);
    await takeBackFilled(target, done.undo);
    expect(target.cells).toEqual(was);
  });

  test('cancelled: says exactly what was written, and goes on from there later', async () => {
    const {plan, target} = setUp(400, asTable);
    const was = before(target);
    const seen: number[] = [];
    const done = ended(
      await fill(
        plan,
        target,
        watching({cellsAtOnce: 500, onProgress: (n) => seen.push(n), isCancelled: () => seen.length === 2}),
      ),
    );
    expect(done).toMatchObject({kind: 'cancelled', records: 200, of: 400, cells: 1000});
    expect(seen).toEqual([100, 200]);
    expect(done.written).toEqual(['BA1:BE201']);
    expect(target.at(200, 52)).not.toBe('');
    expect(target.at(201, 52)).toBe('');
    const was2 = before(target);
    // Read again, the columns are there: only what is missing is filled.
    const again = makePlan(
      {
        ...plan.mapping,
        records: {
          ...plan.mapping.records,
          headings: [...plan.mapping.records.headings, ...plan.columns.map(({heading}) => heading)],
        },
      },
      {tables: new Map(), limitsFrom: {kind: 'columns'}},
      choice,
    );
    expect(again.columns.every(({exists}) => exists)).toBe(true);
    const rest = ended(
      await fill(
        again,
        new Proxy(target, {
          get: (t, k) =>
            k === 'state'
              ? async () => ({...(await t.state()), headings: again.mapping.records.headings})
              : Reflect.get(t, k),
        }),
        watching(),
      ),
    );
    expect(rest).toMatchObject({kind: 'done', cells: 1000, already: 1000});
    expect(target.cells.size).toBe(was2.size + 1000);
    await takeBackFilled(target, rest.undo);
    expect(target.cells).toEqual(was2);
    await takeBackFilled(target, done.undo);
    expect(target.cells).toEqual(was);
  });

  test('the sheet vanishes while filling: says so, and claims nothing that is not there', async () => {
    const {plan, target} = setUp(400, asTable);
    target.beforeSend = (count) => count === 3 && target.vanish();
    const done = ended(await fill(plan, target, watching({cellsAtOnce: 500})));
    expect(done).toMatchObject({
      kind: 'failed',
      records: 200,
      problem: expect.stringContaining('no longer in the workbook'),
    });
  });

  test('a request that fails half-way: what of it is in the sheet is told', async () => {
    const {plan, target} = setUp(400, asTable);
    target.beforeSend = (count) => {
      if (count !== 2) return;
      // Excel may have made some changes of a request before it fails.
      target.put(1 + 100, 52, plan.formula(plan.columns[0], 100));
      throw new WorkbookProblem('Excel is busy. Try again in a moment.');
    };
    const done = ended(await fill(plan, target, watching({cellsAtOnce: 500})));
    expect(done).toMatchObject({kind: 'failed', records: 100, problem: 'Excel is busy. Try again in a moment.'});
    expect(done.written).toEqual(['BA1:BE201']);
    await takeBackFilled(target, done.undo);
    expect(target.at(101, 52)).toBe('');
    target.beforeSend = () => {};
    expect(ended(await fill(plan, target, watching({cellsAtOnce: 500})))).toMatchObject({kind: 'done', records: 400});
  });

  test('a protected sheet is left alone', async () => {
    const {plan, target} = setUp(3, asTable);
    const was = before(target);
    target.isProtected = true;
    await expect(fill(plan, target, watching())).rejects.toThrow(/Bench is protected.*Nothing was written/);
    expect(target.cells).toEqual(was);
    target.isProtected = false;
    expect(await fill(plan, target, watching())).toMatchObject({kind: 'done'});
  });

  test('a renamed heading, a missing column', async () => {
    const {plan, target} = setUp(3, asTable);
    target.put(0, 5, 'Mine');
    await expect(fill(plan, target, watching())).rejects.toThrow(
      /has changed: “A4” is no longer its column 6.*nothing was written/,
    );
    target.put(0, 5, 'A4');
    target.put(0, 51, '');
    await expect(fill(plan, target, watching())).rejects.toThrow(/“Rim limit” is no longer its column 52/);
    expect(target.sends).toBe(0);
  });
});

describe.each([false, true])('cells that hold something, in a table: %s', (asTable) => {
  const occupy = (target: MemorySheet): Map<string, string> => {
    target.put(2, 53, 'mine');
    target.put(0, 54, 'Remark');
    return before(target);
  };
  const cells = [
    {address: 'BC1', content: 'Remark'},
    {address: 'BB3', content: 'mine'},
  ];

  test('are shown, and nothing is written', async () => {
    const {plan, target} = setUp(4, asTable);
    const was = occupy(target);
    expect(await fill(plan, target, watching())).toEqual({kind: 'asks', inTheWay: cells});
    expect(target.cells).toEqual(was);
    // Agreed to what was shown, not to what has come since.
    target.put(3, 52, 'new');
    const asked = await fill(plan, target, watching({conflict: 'replace', agreed: cells}));
    expect(asked).toMatchObject({kind: 'asks'});
    expect((asked as unknown as {inTheWay: unknown[]}).inTheWay).toContainEqual({address: 'BA4', content: 'new'});
  });

  test('are kept', async () => {
    const {plan, target} = setUp(4, asTable);
    const was = occupy(target);
    const done = ended(await fill(plan, target, watching({conflict: 'keep'})));
    expect(done).toMatchObject({kind: 'done', kept: 2, cells: 19});
    expect([target.at(2, 53), target.at(0, 54)]).toEqual(['mine', 'Remark']);
    await takeBackFilled(target, done.undo);
    expect(target.cells).toEqual(was);
  });

  test('are replaced once agreed, and come back', async () => {
    const {plan, target} = setUp(4, asTable);
    const was = occupy(target);
    const done = ended(await fill(plan, target, watching({conflict: 'replace', agreed: cells})));
    expect(done).toMatchObject({kind: 'done', cells: 20});
    expect(target.at(2, 53)).toBe(plan.formula(plan.columns[1], 1));
    await takeBackFilled(target, done.undo);
    expect(target.cells).toEqual(was);
  });
});

test('cells below a formula that would spill', async () => {
  const inTheWay = [
    {address: 'BC1', content: 'Remark'},
    {address: 'BB3', content: 'mine'},
  ];
  const {plan, target} = setUp(4, false, {spill: true});
  expect(plan.columns.every(({spills}) => spills)).toBe(true);
  target.put(2, 53, 'mine');
  target.put(0, 54, 'Remark');
  const was = before(target);
  expect(await fill(plan, target, watching())).toEqual({kind: 'asks', inTheWay});
  const done = ended(await fill(plan, target, watching({conflict: 'replace', agreed: inTheWay})));
  expect(target.at(1, 53)).toContain('EACHROW');
  expect(target.at(2, 53)).toBe('');
  await takeBackFilled(target, done.undo);
  expect(target.cells).toEqual(was);
});

test('columns beyond the edge of the sheet', async () => {
  const {plan, target} = setUp(3, false, {from: 16382});
  await expect(fill(plan, target, watching())).rejects.toThrow(/no room for 5 more columns/);
});

test('10,000 wheels go in parts', async () => {
  const {plan, target} = setUp(10000);
  let last = 0;
  const done = ended(await fill(plan, target, watching({cellsAtOnce: 5000, onProgress: (n) => (last = n)})));
  expect(done).toMatchObject({kind: 'done', records: 10000, cells: 50000});
  expect(last).toBe(10000);
  expect(target.sends).toBe(10);
});
