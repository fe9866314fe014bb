/** Words of the Trace view, and the sheets that it writes. */
import {find} from '../../src/functions/catalogue';
import type {CallMade} from '../../src/audit/trace';
import {trace, cellsReadBy} from '../../src/audit/trace';
import type {Finding} from '../../src/audit/check';
import {addressed, asText, differenceWords, figure, openWords, unitWords, valuesOf} from '../../src/pane/trace/words';
import {findingsPlan, workingPlan} from '../../src/workbook/audit/plans';
import {shownValue} from '../../src/workbook/audit/read';
import {workingOf, writeWorking} from '../../src/working/workingOf';
import {rawsOf} from '../../src/audit/calls';
import type {Book} from '../../src/audit/trace';

const cells = (values: readonly (readonly (number | string | null)[])[]) =>
  values.flatMap((row, r) => row.flatMap((value, c) => (value === null ? [] : [{row: r, column: c, value}])));

const book = (values: Parameters<typeof cells>[0], rest: Partial<Book> = {}): Book => ({
  sheets: [{name: 'Wheel data', cells: cells(values), arrayValues: [], hiddenRows: []}],
  tables: [],
  names: [],
  date1904: false,
  ...rest,
});

const at = {sheet: 'Wheel data', row: 0, column: 9};
const dynamic = (text: string) => ({text, kind: 'dynamic'}) as const;

test('a call with its arguments, where they come from, and what they hold', () => {
  const {calls, isWhole} = trace(
    dynamic('WHEEL.MATCH(A1:B1,IF(C1:D1="","",C1:D1),"turn")'),
    at,
    book([[0.8, 40, 0.6, 100]]),
  );
  expect(isWhole).toBe(true);
  expect(calls).toHaveLength(1);
  const [{declaration, args, answer}] = calls;
  expect(declaration).toBe(find('MATCH'));
  expect(answer).toEqual([[120]]);
  expect(args.map(({name, raw}) => [name, raw])).toEqual([
    ['rim', [[0.8, 40]]],
    ['tire', [[0.6, 100]]],
    ['part', 'turn'],
  ]);
  // The range within IF is where the values come from, cell by cell.
  expect(args[1].from).toMatchObject({sheet: 'Wheel data', top: 0, left: 2, bottom: 0, right: 3});
  expect(args[2].from).toBeUndefined();
});

test('calls within calls, the outermost first; the branch that is not taken is not called', () => {
  const text = 'IF(A1>9,WHEEL.STOCK(A1,5),WHEEL.BEADSEATS(WHEEL.HARMONIC(A1:D1),WHEEL.HARMONIC(A2:D2),"amount"))';
  const {calls, isWhole} = trace(dynamic(text), at, book([[1, 2, 3, 1], [2, 1, 1, 2]])); // prettier-ignore
  expect(calls.map(({declaration}) => declaration.name)).toEqual(['BEADSEATS', 'HARMONIC', 'HARMONIC']);
  expect(isWhole).toBe(false);
});

test('cells that a formula reads: ranges, tables, names', () => {
  const table = {name: 'T', sheet: 'Wheel data', area: {top: 0, left: 0, bottom: 3, right: 1}, header: true, totals: false, columns: ['a', 'b']}; // prettier-ignore
  const content = book([], {tables: [table], names: [{name: 'Limit', formula: "'Wheel data'!$H$1"}]});
  const reads = cellsReadBy(dynamic('SUM(T[b],C2:C3,Limit)'), at, content);
  expect(reads.map(({top, left, bottom, right}) => [top, left, bottom, right])).toEqual([
    [1, 1, 3, 1],
    [1, 2, 2, 2],
    [0, 7, 0, 7],
  ]);
});

test('what cannot be followed is said', () => {
  expect(trace(dynamic('WHEEL.CLOCK(OFFSET(A1,0,0))'), at, book([[10]])).unknown).toBe('OFFSET is not worked out here');
});

test('figures, units and addresses in words', () => {
  expect([figure(null), figure(NaN), figure(0.1 + 0.2), figure(true), figure('')]).toEqual([
    'left out',
    '#N/A',
    '0.3',
    'TRUE',
    'empty',
  ]);
  expect(valuesOf([[1, 2, 3, 4, 5, 6, 7, 8, 9, 10]])).toBe('1, 2, 3, 4, 5, 6, 7, 8, … (10 cells)');
  expect(unitWords('as rim')).toBe('(unit of rim)');
  expect(addressed("'It''s here'!$AB$12")).toEqual({sheet: "It's here", row: 11, column: 27, rows: 1, columns: 1});
  expect(addressed('nonsense')).toBeUndefined();
});

test('a difference that is rounding is not called one; another is told', () => {
  expect(differenceWords([0, 0], [1, 2])).toBe('0');
  expect(differenceWords([-3e-17, 0], [0.2])).toBe('0 but for rounding (at most 3e-17)');
  expect(differenceWords([0.001, 0], [0.2])).toBe('0.001, 0');
  expect(differenceWords(['#VALUE!'], [0.2])).toBe('#VALUE!');
});

test('what a working does not prove is said', async () => {
  const sweep = await workingOf('TRIALSWEEP', [10, [[7, 12, 18]], [[0, 120, 240]], 30]);
  expect(openWords(sweep)).toEqual([]);
  const steps = sweep.steps.map((step) => (step.symbol === 'least' ? {...step, value: 0} : step));
  const {step} = steps.find(({symbol}) => symbol === 'least')!;
  expect(openWords({steps})).toEqual([
    `Left open: least in step ${step} is 0, not 1 (1 while nothing tried nearby or all around leaves less). The figure is what the function’s search found; this working does not prove it.`,
  ]);
});

describe('sheets and text', () => {
  const of = async (call: CallMade) =>
    workingOf(call.declaration.name, rawsOf(call.declaration, call.args), (name) =>
      name === 'rim' ? {sheet: 'Wheel data', row: 0, column: 0, rows: 1, columns: 2} : undefined,
    );
  const traced = trace(dynamic('WHEEL.MATCH(A1:B1,C1:D1,"turn")'), at, book([[0.8, 40, 0.6, 100]]));

  test('the working as text to paste', async () => {
    const text = asText(traced.calls[0], await of(traced.calls[0]), {...at, rows: 1, columns: 1});
    expect(text.split('\n')[0]).toBe("WHEEL.MATCH in 'Wheel data'!J1");
    expect(text).toContain("  rim: 0.8, 40  ['Wheel data'!A1:B1]");
    expect(text).toMatch(/\n1\. /);
    expect(text).toContain('120');
  });

  test('the working as a sheet: formulas, the input from its cell', async () => {
    const laid = writeWorking(await of(traced.calls[0]), {title: '=x', note: '=WHEEL.MATCH(A1:B1)', firstRow: 0});
    if ('refused' in laid) throw new Error(laid.refused);
    const plan = workingPlan(laid);
    // A text that looks like a formula stays a text.
    expect(plan.cells.find(({row, column}) => row === 0 && column === 0)!.content).toBe("'=x");
    expect(plan.cells.some(({content}) => content === "='Wheel data'!$A$1")).toBe(true);
    expect(plan.cells.filter(({content}) => String(content).startsWith('=')).length).toBeGreaterThan(5);
  });

  test('the list of findings as a sheet of texts', () => {
    const finding: Finding = {
      kind: 'differs from its neighbors',
      sheet: 'Wheels',
      cell: 'B3',
      row: 2,
      column: 1,
      shown: '=x',
      computed: '-1',
      toDo: 'Fill.',
      more: 2,
    };
    const plan = findingsPlan([finding], '2026-03-02 10:00');
    const row = plan.cells.filter(({row: r}) => r === 4).map(({content}) => content);
    expect(row).toEqual(['Wheels', 'B3 and 2 more', 'differs from its neighbors', '=x', '-1', 'Fill.']);
    expect(plan.formats).toEqual([{at: {row: 4, column: 0, rows: 1, columns: 6}, format: '@'}]);
  });
});

test('what Excel hands over for blanks, empty texts, errors', () => {
  expect([shownValue('', false), shownValue('', true), shownValue('#N/A', true), shownValue('#N/A', false)]).toEqual([
    null,
    '',
    {code: '#N/A'},
    '#N/A',
  ]);
  for (const code of ['#VALUE!', '#DIV/0!', '#NAME?', '#SPILL!', '#REF!', '#NUM!', '#NULL!', '#BUSY!', '#CALC!', '#GETTING_DATA'])
    expect(shownValue(code, true)).toEqual({code}); // prettier-ignore
});
