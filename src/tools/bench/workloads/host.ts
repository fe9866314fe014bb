/** Filled assessments in the headless workbook host, against the cheapest native formula in their place. */
import {openBook, type Workbook} from '../../../host/book/workbook';
import type {Book, CellContent} from '../../../host/book/content';
import {nodeEngine} from '../../../host/node/engine';
import {readingRows} from '../data';
import {comparison, LEAST_ROUNDS, waited} from '../measure';
import {judgedAtMost, type Run} from '../workload';

const READINGS = 48;

export const workbookHost: Run = async ({quick}) => {
  const rows = quick ? 1_000 : 10_000;
  const ours = sheetOf(rows, 'WHEEL.ASSESSREADINGS(A1:P1,Q1:AF1,AG1:AV1,$AX$1:$AY$1,,,,"finding")');
  const native = sheetOf(rows, 'A1+B1*C1');
  const times = {ours: [] as number[][], native: [] as number[][]};
  for (let round = 0; round <= LEAST_ROUNDS; round++) {
    const [a, b] = [await measured(ours), await measured(native)];
    if (round === 0) continue;
    times.ours.push(a);
    times.native.push(b);
  }
  return ['first', 'forced', 'one edit'].map((what, i) =>
    judgedAtMost(
      1.3,
      {
        workload: `${rows} filled ASSESSREADINGS in the workbook host, ${what}`,
        against: 'native =A1+B1*C1 in their cells',
      },
      comparison(
        times.ours.map((took) => took[i]),
        times.native.map((took) => took[i]),
      ),
    ),
  );
};

async function measured(book: Book): Promise<number[]> {
  let workbook!: Workbook;
  const first = await waited(async () => (workbook = await openBook(book, nodeEngine())));
  const forced = await waited(() => workbook.recalculate());
  workbook.set('S', 'A7', 0.123);
  const edit = await waited(() => workbook.update());
  workbook.dispose();
  return [first, forced, edit];
}

function sheetOf(rows: number, formula: string): Book {
  const values = readingRows(rows, READINGS);
  const cells: CellContent[] = [
    {row: 0, column: 49, value: 0.5},
    {row: 0, column: 50, value: 0.4},
  ];
  for (let row = 0; row < rows; row++) {
    for (let i = 0; i < READINGS; i++) cells.push({row, column: i, value: values[row * READINGS + i]});
    // Filled down: one text, shared, as a saved workbook holds it.
    cells.push({row, column: 52, value: null, formula: {text: shiftRow(formula, row), kind: 'dynamic', group: 1}});
  }
  return {
    sheets: [{name: 'S', cells, arrayValues: [], hiddenRows: []}],
    names: [],
    tables: [],
    date1904: false,
  };
}

const shiftRow = (formula: string, row: number): string =>
  formula.replace(/\b([A-Z]{1,2})1\b(?!\$)/g, (_, column: string) => `${column}${row + 1}`);
