/**
 * The formulas of every layout, computed by a spreadsheet engine, against the mathematics on the true readings.
 *
 * @jest-environment ./tests/host/support/environment.cjs
 */
import {assessReadings} from '../../../src/maths/assessReadings';
import {clock} from '../../../src/maths/clock';
import {readingsOf} from '../../../src/maths/readings';
import {Refusal} from '../../../src/maths/refusal';
import {makePlan, missing, previewRows, type Choice, type Plan} from '../../../src/workbook/columns/plan';
import {RECIPES} from '../../../src/workbook/columns/recipes';
import {Records} from '../../../src/workbook/columns/records';
import {likelyLimits, settingsTablesOf, type Settings} from '../../../src/workbook/columns/settings';
import {sourcesOf} from '../../../src/workbook/columns/source';
import {guessWorkbook} from '../../../src/workbook/guess/workbook';
import {compute, shown} from './computed';
import {LAYOUTS, sheet, trueWheels, UNSEEN, upTo, type Laid, type TrueWheel} from './layouts';

jest.setTimeout(60000);

const TODAY = 46000;
const everything: Choice = {
  recipes: RECIPES.map(({id}) => id),
  reuse: true,
  from: undefined,
  spill: false,
  today: TODAY,
};

export function planned({sheets, active}: Laid, choice: Partial<Choice> = {}): {plan: Plan; settings: Settings} {
  const guesses = guessWorkbook(sheets.flatMap(sourcesOf));
  const {mapping} = guesses.find((guess) => guess.mapping.records.sheet === active) ?? guesses[0];
  const tables = settingsTablesOf(sheets);
  const settings: Settings = {tables, limitsFrom: likelyLimits(mapping, tables)};
  return {plan: makePlan(mapping, settings, {...everything, ...choice}), settings};
}

/** What the formulas have to show, from the true readings alone. */
function truth(wheel: TrueWheel): Record<string, unknown> {
  const [assembly, rim] = wheel.limits;
  const orders = Math.min(4, Math.floor((wheel.assembly.length - 2) / 2));
  const total = 5;
  const a = assessReadings(
    {assembly: readingsOf(wheel.assembly), rimInner: readingsOf(wheel.inner), rimOuter: readingsOf(wheel.outer)},
    {assembly, rim, total},
    orders,
  );
  return {
    finding: a.finding,
    assembly: a.assembly,
    plusminus: a.plusminus,
    rim: a.rim,
    tire: a.tire,
    turn: a.turn,
    after: a.after,
    plusafter: a.plusafter,
    clock: a.finding === 'match mount' ? clock(a.turn, true) : '',
  };
}

const close = (found: unknown, wanted: unknown): void => {
  if (typeof wanted === 'number') expect(found).toBeCloseTo(wanted, 9);
  else if (wanted === '') expect([null, '']).toContain(found);
  else expect(found).toBe(wanted);
};

describe.each(Object.entries({...LAYOUTS, ...UNSEEN}))('%s', (_, lay) => {
  const laid = lay();
  const {plan} = planned(laid);
  const records = new Records(plan.mapping);

  test('every wheel shows the figures of its true readings, and what the preview said', async () => {
    const workbook = await compute(laid.sheets, plan);
    const findings = new Set<unknown>();
    for (const record of records.rows) {
      const readings = records.readings('Assembly readings', record).values.join();
      const wheel = laid.wheels.find(({assembly}) => assembly.join() === readings)!;
      const wanted = truth(wheel);
      for (const column of plan.columns) {
        const found = shown(workbook, plan, column, record);
        if (column.id in wanted) close(found, wanted[column.id]);
        // Ages without a date are those of the day on which the workbook is computed.
        if (column.id === 'tin age' && !plan.mapping.columns.has('Date')) continue;
        const figure = plan.figure(column, record);
        if (figure instanceof Refusal) expect(String(found)).toMatch(/^#/);
        else close(found, figure);
      }
      findings.add(
        shown(
          workbook,
          plan,
          plan.columns.find(({id}) => id === 'finding')!,
          record,
        ),
      );
    }
    expect(findings.size).toBeGreaterThan(1);
    workbook.dispose();
  });

  test('the formulas read as a clerk would want them', () => {
    const [first] = previewRows(plan);
    expect(
      Object.fromEntries(plan.columns.map((column) => [column.heading, plan.formula(column, first)])),
    ).toMatchSnapshot();
    expect(plan.warnings).toMatchSnapshot();
  });
});

/** The clerk's 500 wheels, some not measured yet, some with a gap. */
function manyWheels(): {laid: Laid; wheels: readonly TrueWheel[]; empty: ReadonlySet<number>} {
  const wheels = trueWheels(500, 16, 'mm', 99);
  const empty = new Set([7, 230]);
  const head = [
    'Job',
    'Corner',
    ...(['Assembly', 'Inner', 'Outer'] as const).flatMap((side) => upTo(16).map((i) => `${side} ${i}`)),
  ];
  const rows = wheels.map((w, i) => [
    w.job,
    w.position,
    ...(empty.has(i) ? new Array<string>(48).fill('') : [...w.assembly, ...w.inner, ...w.outer]),
    ...w.limits,
  ]);
  const laid = sheet('Clerk', [['Runout, all of March (mm)'], [], [...head, 'Limit', 'Limit of the rim'], ...rows]);
  return {laid: {sheets: [laid], active: 'Clerk', wheels}, wheels, empty};
}

describe('500 wheels', () => {
  const {laid, wheels, empty} = manyWheels();
  test.each([false, true])('in one formula a column: %s', async (spill) => {
    const {plan} = planned(laid, {recipes: ['finding', 'match', 'clock', 'runout'], spill});
    expect(plan.columns.filter((column) => column.spills).length).toBe(spill ? 5 : 0);
    const workbook = await compute(laid.sheets, plan);
    const findings = new Set<unknown>();
    wheels.forEach((wheel, record) => {
      const wanted = truth({...wheel});
      for (const column of plan.columns) {
        const found = shown(workbook, plan, column, record);
        if (empty.has(record)) close(found, '');
        else if (column.id in wanted) close(found, wanted[column.id]);
        if (column.id === 'finding') findings.add(found);
      }
    });
    expect(findings.size).toBeGreaterThan(4);
    workbook.dispose();
  });
});

test('no formula is longer than a cell takes', () => {
  for (const lay of Object.values({...LAYOUTS, ...UNSEEN})) {
    const {plan} = planned(lay(), {recipes: ['cost']});
    for (const column of planned(lay()).plan.columns.concat(plan.columns))
      expect(plan.formula(column, plan.rows[0]).length).toBeLessThan(8192);
  }
});

test('what a layout lacks is said for each addition', () => {
  const laid = LAYOUTS['a long list of all sides in a table, in any order']();
  const {plan, settings} = planned(laid);
  expect(Object.fromEntries(missing(plan.mapping, settings))).toMatchSnapshot();
});
