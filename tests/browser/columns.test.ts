/** The clerk: from a sheet unlike the ledger to 500 filled assessments, by clicking alone. */
import {assessReadings} from '../../src/maths/assessReadings';
import {readingsOf} from '../../src/maths/readings';
import {cellAddress} from '../../src/workbook/addresses';
import {trueWheels, upTo, type TrueWheel} from '../workbook/columns/layouts';
import {TestHost, type HostPage} from './support/host';

jest.setTimeout(240_000);

let host: TestHost;
beforeAll(async () => {
  host = await TestHost.start();
});
afterEach(() => host.closePages());
afterAll(() => host.stop());

type Cells = (string | number)[][];

/** Puts the clerk's sheet into the workbook before the clerk comes: title, two rows of headings, inches, totals below. */
async function lay(page: HostPage, cells: Cells): Promise<void> {
  await page.pane.evaluate(async (rows) => {
    const width = Math.max(...rows.map((row) => row.length));
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getActiveWorksheet();
      sheet.name = 'March';
      sheet.getRangeByIndexes(2, 1, rows.length, width).values = rows.map((row) =>
        row.concat(new Array<string>(width - row.length).fill('')),
      );
      sheet.getRangeByIndexes(6, 1, 1, 1).select();
      await context.sync();
    });
  }, cells);
  await page.idle();
}

function clerksSheet(wheels: readonly TrueWheel[]): Cells {
  const gap = new Array<string>(11).fill('');
  const groups = ['', '', 'Tire on rim (in)', ...gap, 'Inner seat (in)', ...gap, 'Outer seat (in)', ...gap, 'Limits'];
  const head = ['RO', 'Corner', ...upTo(12), ...upTo(12), ...upTo(12), 'assembly', 'rim'];
  return [
    ['Runout, March'],
    groups,
    head,
    ...wheels.map((w) => [w.job, w.position, ...w.assembly, ...w.inner, ...w.outer, ...w.limits]),
    [],
    ['Count', wheels.length],
  ];
}

/** First record and first free column of the sheet laid above. */
const [FIRST, LEFT] = [5, 1 + 2 + 36 + 2];
const at = (record: number, column: number): string => `March!${cellAddress(FIRST + record, LEFT + column)}`;

const truth = (wheel: TrueWheel) =>
  assessReadings(
    {assembly: readingsOf(wheel.assembly), rimInner: readingsOf(wheel.inner), rimOuter: readingsOf(wheel.outer)},
    {assembly: wheel.limits[0], rim: wheel.limits[1], total: undefined},
    4,
  );

test('the clerk fills 500 assessments', async () => {
  const page = await host.open({book: 'empty', pane: 320});
  const wheels = trueWheels(500, 12, 'in', 77);
  await lay(page, clerksSheet(wheels));
  await page.showView('Columns');
  const {pane} = page;
  await pane.getByText('sheet March, 500 rows').waitFor({state: 'attached', timeout: 60_000});
  await pane.getByRole('heading', {name: 'Preview'}).waitFor({timeout: 60_000});
  expect(await pane.getByRole('radio', {name: 'inches'}).isChecked()).toBe(true);
  expect(await page.overflow()).toBe(0);
  expect(await page.accessibility()).toEqual([]);
  await pane.getByRole('button', {name: /^Fill \d+ columns for 500 records$/}).click();
  await pane.getByText(/^Filled: 500 records/).waitFor({timeout: 180_000});
  await page.idle();

  const headings = await Promise.all(upTo(11).map((i) => page.value(`March!${cellAddress(FIRST - 1, LEFT + i - 1)}`)));
  expect(headings).toEqual([
    'Check assembly',
    'Check inner seat',
    'Check outer seat',
    'Assembly',
    '±',
    'Finding',
    'Reason',
    'Turn',
    'After',
    '± after',
    'Chalk to',
  ]);
  for (const record of [0, 1, 2, 3, 17, 250, 498, 499]) {
    const wanted = truth(wheels[record]);
    expect(await page.value(at(record, 5))).toBe(wanted.finding);
    expect(await page.value(at(record, 3))).toBeCloseTo(wanted.assembly, 9);
    expect(await page.value(at(record, 8))).toBeCloseTo(wanted.after, 9);
  }
  expect(await page.value('March!B3')).toBe('Runout, March');
  expect((await page.value(at(501, 5))) ?? '').toBe('');
  expect(await page.accessibility()).toEqual([]);
  // The mapping is on a sheet that everybody sees.
  expect(await page.value('Ledger map!A1')).toBe('Ledger map');
  await pane.getByRole('button', {name: 'Take it back'}).click();
  await pane.getByText(/^Taken back/).waitFor({timeout: 120_000});
  await page.idle();
  expect((await page.value(at(3, 5))) ?? '').toBe('');
  await page.expectClean();
});

test('cells in the way are shown, and the clerk puts the columns elsewhere', async () => {
  const page = await host.open({book: 'empty', width: 1500});
  const wheels = trueWheels(12, 12, 'in', 78);
  const cells = clerksSheet(wheels);
  cells[5] = [...cells[5], '', 'call the owner'];
  await lay(page, cells);
  await page.showView('Columns');
  const {pane} = page;
  await pane.getByRole('button', {name: /^Fill \d+ columns/}).click();
  await pane.getByText('call the owner').waitFor();
  expect((await page.value(at(0, 0))) ?? '').toBe('');
  await pane.getByRole('button', {name: 'Put new columns further right'}).click();
  await pane.getByRole('button', {name: /^Fill \d+ columns/}).click();
  await pane.getByText(/^Filled: 12 records/).waitFor({timeout: 60_000});
  expect(await page.value(at(2, 1))).toBe('call the owner');
  expect(await page.value(at(0, 2 + 5))).toBe(truth(wheels[0]).finding);
  await page.expectClean();
});

test('one step of undo takes a filling back', async () => {
  const page = await host.open({book: 'empty', pane: 320});
  await lay(page, clerksSheet(trueWheels(12, 12, 'in', 79)));
  await page.showView('Columns');
  await page.pane.getByRole('button', {name: /^Fill \d+ columns/}).click();
  await page.pane.getByText(/^Filled: 12 records/).waitFor({timeout: 60_000});
  await page.idle();
  expect(await page.value(at(-1, 5))).toBe('Finding');
  await page.select('March!B7');
  await page.page.keyboard.press('Control+z');
  await page.idle();
  for (const [record, column] of [
    [-2, 0],
    [-1, 0],
    [-1, 5],
    [0, 5],
    [11, 10],
  ])
    expect((await page.value(at(record, column))) ?? '').toBe('');
  expect(await page.value('March!B6')).toBe(5000);
  await page.expectClean();
});

test('a workbook without readings is offered a ledger', async () => {
  const page = await host.open({book: 'empty', pane: 320, theme: 'dark'});
  await page.showView('Columns');
  await page.pane.getByRole('radio', {name: 'Inches and ounces'}).click();
  await page.pane.getByRole('button', {name: 'Start a ledger'}).click();
  await page.pane.getByText('table Wheels, 4 rows').waitFor({state: 'attached', timeout: 60_000});
  expect(await page.accessibility()).toEqual([]);
  expect(await page.overflow()).toBe(0);
  await page.expectClean();
});
