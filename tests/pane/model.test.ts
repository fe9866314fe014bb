import type {LedgerRecord} from '../../src/workbook/ledger';
import {startedMap} from '../../src/workbook/ledgerSettings';
import type {Role} from '../../src/workbook/ledgerMap';
import {afterTurn, outline, turnedOutlines, wheelModel} from '../../src/pane/wheel/model';
import {instruction} from '../../src/pane/wheel/words';

const RAD = Math.PI / 180;
const turn = (amount: number, angle: number, n = 16) =>
  Array.from({length: n}, (_, i) => (amount / 2) * Math.cos(((360 * i) / n - angle) * RAD) + 0.003 * (-1) ** i);
const sum = (...lists: number[][]) => lists[0].map((_, i) => lists.reduce((s, list) => s + list[i], 0));

function record(cells: Partial<Record<Role, (string | number)[]>>): LedgerRecord {
  const map = startedMap('metric');
  return {
    ledger: {map, headings: [], body: {sheet: 'Wheels', row: 3, column: 0, rows: 4, columns: 60}},
    index: 2,
    cells: (role) => cells[role] ?? [],
    place: () => undefined,
  };
}

const rim = turn(0.8, 40);
const wheel = {
  Job: ['J-7'],
  Position: ['LF'],
  Vehicle: ['Van 3'],
  'Tire size': ['205/55R16'],
  'Assembly readings': sum(rim, turn(0.6, 100)),
  'Inner bead seat': rim,
  'Outer bead seat': rim,
  Limits: [0.5, 0.9, 2],
} satisfies Partial<Record<Role, (string | number)[]>>;

test('a record becomes a finding with its figures', () => {
  const model = wheelModel(record(wheel));
  expect(model.title).toBe('J-7 · LF');
  expect(model.details).toEqual(['Van 3', '205/55R16']);
  expect(model.rimDiameterMm).toBe(406);
  expect(model.limits).toEqual({assembly: 0.5, rim: 0.9, total: 2});
  expect(model.checks).toEqual([]);
  const {assessed, harmonics, rimPoints, assemblyPoints} = model.parts!;
  expect(assessed!.finding).toBe('match mount');
  expect(assessed!.turn).toBeCloseTo(120, 6);
  expect(harmonics).toHaveLength(4);
  expect(rimPoints).toHaveLength(16);
  expect(assemblyPoints.reduce((s, {value}) => s + value, 0)).toBeCloseTo(0, 12);
});

test('turning the tire: as measured, at the best turn, and the curves with it', () => {
  const parts = wheelModel(record(wheel)).parts!;
  expect(afterTurn(parts, 0).first).toBeCloseTo(1.2165525, 6);
  expect(afterTurn(parts, 120).first).toBeCloseTo(0.2, 6);
  expect(afterTurn(parts, 0).whole).toBeCloseTo(parts.curve.before, 12);
  const curves = turnedOutlines(parts, 120);
  const highest = (list: readonly {degrees: number; value: number}[]) =>
    list.reduce((a, b) => (b.value > a.value ? b : a)).degrees;
  expect(Math.abs(highest(curves.tire) - 220)).toBeLessThanOrEqual(3);
  expect(Math.abs(highest(curves.rim) - 40)).toBeLessThanOrEqual(3);
  curves.assembly.forEach(({value}, i) => expect(value).toBeCloseTo(curves.rim[i].value + curves.tire[i].value, 10));
  expect(outline(parts.assembly)[0].degrees).toBe(0);
  expect(outline(parts.assembly).at(-1)!.degrees).toBe(360);
});

describe('what is not there', () => {
  test('no readings yet', () => {
    const model = wheelModel(
      record({...wheel, 'Assembly readings': new Array(16).fill(''), 'Inner bead seat': [], 'Outer bead seat': []}),
    );
    expect(model.parts).toBeUndefined();
    expect(model.missing).toBe('This record has no readings yet.');
  });

  test('too few readings: the function’s own words', () => {
    const few = [...wheel['Assembly readings']].map((v, i) => (i < 5 ? v : ''));
    const model = wheelModel(record({...wheel, 'Assembly readings': few}));
    expect(model.missing).toBe('Assembly: 5 readings are present, order 4 needs at least 9.');
    expect(model.checks[0]).toEqual({
      of: 'assembly',
      words: 'too few readings: 5 present, order 4 needs at least 9; 11 readings missing',
    });
  });

  test('a word among readings', () => {
    const words = [...wheel['Assembly readings']] as (string | number)[];
    words[3] = 'bent';
    expect(wheelModel(record({...wheel, 'Assembly readings': words})).missing).toBe(
      'Reading 4 of the assembly is no number: “bent”.',
    );
  });

  test('no limits: figures without a finding', () => {
    const model = wheelModel(record({...wheel, Limits: []}));
    expect(model.limits).toBeUndefined();
    expect(model.parts!.assessed).toBeUndefined();
    expect(model.parts!.harmonics[0].amount).toBeCloseTo(1.2165525, 6);
  });

  test('a record without a name is called by its row', () => {
    expect(wheelModel(record({...wheel, Job: [''], Position: []})).title).toBe('Record 3');
  });

  test('a limit that is 0, as which Excel may hand over a blank cell, is none', () => {
    expect(wheelModel(record({...wheel, Limits: [0.5, 0, 0]})).limits).toEqual({
      assembly: 0.5,
      rim: 0.5,
      total: undefined,
    });
  });
});

describe('the instruction', () => {
  test('names the way, the clock and the length along the rim', () => {
    const steps = instruction(120, true, 406);
    expect(steps).toHaveLength(4);
    // π · 406 · 120/360 = 425 mm
    expect(steps[2]).toBe(
      'Turn it 120° clockwise, seen from outboard: with the valve at 12, the chalk goes to 4:00 o’clock. That is 425 mm along the edge of the rim.',
    );
    expect(instruction(240, true, undefined)[2]).toBe(
      'Turn it 120° counter-clockwise, seen from outboard: with the valve at 12, the chalk goes to 8:00 o’clock.',
    );
  });

  test('for shops that number the other way', () => {
    expect(instruction(90, false, undefined)[2]).toBe(
      'Turn it 90° counter-clockwise, seen from outboard: with the valve at 12, the chalk goes to 9:00 o’clock.',
    );
  });

  test('no turn, no work', () => expect(instruction(0, true, 406)).toEqual(['Leave the tire where it is on the rim.']));
});
