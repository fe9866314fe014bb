/**
 * The third engine: workings of every function, written as native formulas with wrong results into workbooks that
 * LibreOffice calculates anew. Then one input of each is changed and the same formulas must follow, or say themselves that
 * what a search found is out of date.
 */
import path from 'node:path';
import {CATALOGUE} from '../../src/functions/catalogue';
import {books, judgeBooks, type Books, type Spreadsheet} from '../../src/tools/agreement/judge';
import {inFolder, recalculated, spreadsheetThere, type Calculated} from '../../src/tools/agreement/spreadsheet';
import {loadWorkings} from '../../src/working/workingOf';

const CALLS = 5;
const functions = CATALOGUE.filter(({name}) => name !== 'WORKING');

// Where there is no LibreOffice this can say nothing.
const suite = spreadsheetThere() ? describe : describe.skip;

suite('a spreadsheet of its own', () => {
  let made: Books;
  let judged: Map<string, Spreadsheet>;

  beforeAll(async () => {
    await loadWorkings();
    made = books(functions, CALLS);
    judged = await inFolder(async (folder) => {
      const files = ['written.xlsx', 'changed.xlsx'].map((name) => path.join(folder, name));
      await made.written.save(files[0]);
      await made.changed.save(files[1]);
      return judgeBooks(made, await recalculated(files, folder));
    });
  }, 600000);

  test('every working finds room', () => {
    expect(made.written.refused).toEqual([]);
    expect(made.written.cases).toHaveLength(CALLS * functions.length);
  });

  test.each(functions.map(({name}) => [name]))('%s', (name) => {
    const {figures, largest, problems, changed, outdated} = judged.get(name)!;
    expect(problems).toEqual([]);
    expect(largest).toBeLessThan(1e-9);
    expect(figures).toBeGreaterThan(0);
    // Nothing can be changed where a function takes nothing.
    expect(changed).toBe(name === 'EDITION' ? 0 : CALLS);
    if (!SEARCHED.includes(name)) expect(outdated).toBe(0);
  });

  /** Functions whose working holds what a search found, or as many harmonics as the readings called for. */
  const SEARCHED = [
    ...['HARMONIC', 'HARMONICS', 'CURVE', 'LOCAL', 'ROUNDNESS', 'READINGCHECK', 'MATCHCURVE', 'MATCHALL', 'PAIR'],
    ...['SPOKES', 'STOCKPAIR', 'TRIALSWEEP', 'ASSESSREADINGS', 'PLACE', 'GROUPRATE', 'COMPARE', 'RISK', 'SOURCES'],
    ...['EACHROW', 'FINGERPRINT'],
  ];
});

suite('what judges', () => {
  test('finds a formula that gives another figure', async () => {
    await loadWorkings();
    const made = books(
      functions.filter(({name}) => name === 'MATCH'),
      1,
    );
    const wrong =
      (of: Calculated): Calculated =>
      (sheet, row, column) => {
        const value = of(sheet, row, column);
        return typeof value === 'number' ? value * (1 + 1e-8) : value;
      };
    const all = await inFolder(async (folder) => {
      const files = ['written.xlsx', 'changed.xlsx'].map((name) => path.join(folder, name));
      await made.written.save(files[0]);
      await made.changed.save(files[1]);
      const calculated = await recalculated(files, folder);
      expect(judgeBooks(made, calculated).get('MATCH')!.problems).toEqual([]);
      return judgeBooks(made, calculated.map(wrong));
    });
    expect(all.get('MATCH')!.problems.length).toBeGreaterThan(0);
  }, 120000);

  test('without a calculation the stale results stay and are found', async () => {
    await loadWorkings();
    const made = books(
      functions.filter(({name}) => name === 'STOCK'),
      1,
    );
    const stale: Calculated = () => 987654321;
    expect(judgeBooks(made, [stale, stale]).get('STOCK')!.problems.length).toBeGreaterThan(0);
  });
});
