/**
 * @jest-environment ./tests/host/support/environment.cjs
 *
 * Record sheets: planned from the demo, computed by the headless host, printed by LibreOffice where it is installed.
 */
import type {Workbook} from '../../src/host/book/workbook';
import {placeRows, planVehicle, WORKS, type Plan, type Work} from '../../src/pane/vehicle/planModel';
import {recordInput} from '../../src/pane/vehicle/recordInput';
import {vehicleModel, type Vehicle} from '../../src/pane/vehicle/vehicleModel';
import {cellAddress} from '../../src/workbook/addresses';
import {plainText} from '../../src/workbook/escape';
import type {LedgerRecord} from '../../src/workbook/ledger';
import {extent, freeName, matrix, sheetName, type SheetPlan} from '../../src/workbook/record/plan';
import {recordSheet} from '../../src/workbook/record/sheet';
import {parseSensitivities, type Sensitivity} from '../../src/workbook/sensitivities';
import {openWorkbook} from '../host/support/books';
import {demoBytes, demoPositions, demoRecords} from '../support/demoLedger';
import {withRecords} from '../support/recordBook';
import {printed} from '../support/printed';

let workbook: Workbook;
let records: LedgerRecord[];
let table: readonly Sensitivity[];
beforeAll(async () => {
  workbook = await openWorkbook(demoBytes);
  records = demoRecords(workbook);
  const positions = demoPositions(workbook);
  table = parseSensitivities(positions.headings, positions.rows);
}, 60000);
afterAll(() => workbook.dispose());

const vehicleOf = (job: string): Vehicle => vehicleModel(records.filter((record) => record.cells('Job')[0] === job));

function planned(job: string, work: Work, keepSide = false): {vehicle: Vehicle; plan: Plan; sheet: SheetPlan} {
  const vehicle = vehicleOf(job);
  const plan = planVehicle(vehicle, table, {work, keepSide});
  return {vehicle, plan, sheet: recordSheet(recordInput(vehicle, plan, table))!};
}

describe('names of sheets', () => {
  test.each([
    ['Record J-401', 'Record J-401'],
    ['Record 4/5: [a]?', 'Record 4-5- -a--'],
    ["'quoted'", 'quoted'],
    ['x'.repeat(40), 'x'.repeat(31)],
    ['', 'Record'],
  ])('%s becomes %s', (wanted, name) => expect(sheetName(wanted)).toBe(name));

  test('a name that is taken gets a number, never the sheet that has it', () => {
    expect(freeName('Record J-1', ['Wheels'])).toBe('Record J-1');
    expect(freeName('Record J-1', ['record j-1'])).toBe('Record J-1 (2)');
    expect(freeName('Record J-1', ['Record J-1', 'Record J-1 (2)'])).toBe('Record J-1 (3)');
    expect(freeName('x'.repeat(31), ['x'.repeat(31)])).toBe(`${'x'.repeat(27)} (2)`);
  });

  test('a text of the user’s never becomes a formula', () => {
    expect(plainText('=1+1')).toBe("'=1+1");
    expect(plainText('LF')).toBe('LF');
  });
});

describe('the plan', () => {
  test('no cell is planned twice, and everything printed lies within the print area or right of it', () => {
    for (const work of WORKS) {
      const {sheet} = planned('J-407', work);
      const addresses = sheet.cells.map(({row, column}) => cellAddress(row, column));
      expect(new Set(addresses).size).toBe(addresses.length);
      const {area} = sheet.page;
      for (const {row, column} of sheet.cells) {
        if (column < 13) expect(row < area.rows && column < area.columns).toBe(true);
      }
      const merged = sheet.looks.filter(({merge}) => merge).map(({at}) => at);
      for (const {row, column, columns} of merged) {
        const inside = sheet.cells.filter(
          (cell) => cell.row === row && cell.column > column && cell.column < column + columns,
        );
        expect(inside).toEqual([]);
      }
    }
  });

  test('charts stand on free cells of the printed page, none on another', () => {
    for (const job of ['J-401', 'J-407']) {
      const {sheet, vehicle} = planned(job, 'turn where found');
      expect(sheet.charts).toHaveLength(vehicle.wheels.length + 1);
      const covered = new Set<string>();
      for (const {at} of sheet.charts) {
        expect(at.column + at.columns).toBeLessThanOrEqual(sheet.page.area.columns);
        for (let r = 0; r < at.rows; r++) {
          for (let c = 0; c < at.columns; c++) {
            const address = cellAddress(at.row + r, at.column + c);
            expect(covered.has(address)).toBe(false);
            covered.add(address);
          }
        }
      }
      for (const {row, column} of sheet.cells) expect(covered.has(cellAddress(row, column))).toBe(false);
    }
  });

  test('nothing to record', () => {
    const vehicle = vehicleModel([]);
    const plan = planVehicle(vehicle, table, {work: 'as they are', keepSide: false});
    expect(recordSheet(recordInput(vehicle, plan, table))).toBeUndefined();
    const lost = vehicleOf('J-401');
    const wheels = lost.wheels.map((wheel) => ({...wheel, record: {...wheel.record, place: () => undefined}}));
    const other = planVehicle(lost, table, {work: 'as they are', keepSide: false});
    expect(recordSheet(recordInput({...lost, wheels}, other, table))).toBeUndefined();
  });

  test('a matrix of its cells', () => {
    const {sheet} = planned('J-401', 'as they are');
    const all = matrix(sheet, extent(sheet));
    expect(all[0][0]).toBe('Wheel record J-401 · Pool car 1');
    expect(all.flat().filter((content) => content !== '')).toHaveLength(sheet.cells.length);
  });
});

describe('computed', () => {
  const CASES: readonly (readonly [string, Work, boolean])[] = [
    ['J-401', 'turn where found', false],
    ['J-403', 'pair anew', false],
    ['J-405', 'as they are', true],
    ['J-407', 'pair anew', true],
    ['J-412', 'turn where found', true],
  ];
  let computed: Workbook;
  const cases = new Map<string, ReturnType<typeof planned>>();
  beforeAll(async () => {
    for (const [job, work, keepSide] of CASES) cases.set(job, planned(job, work, keepSide));
    const made = await withRecords([...cases.values()].map(({sheet}) => sheet));
    computed = await openWorkbook(made);
    for (const {sheet} of cases.values()) {
      const errors = [...computed.values(sheet.name)].filter(({value}) => value !== null && typeof value === 'object');
      expect(errors).toEqual([]);
    }
  }, 120000);
  afterAll(() => computed?.dispose());

  const rowsBelow = (sheet: SheetPlan, heading: RegExp): number =>
    sheet.cells.find(({content, column}) => column === 0 && heading.test(String(content)))!.row + 2;

  test.each(CASES)('%s, %s: the sheet’s formulas give the figures of the pane', (job) => {
    const {vehicle, plan, sheet} = cases.get(job)!;
    const at = (row: number, column: number): unknown => computed.at(sheet.name, row, column);
    const first = rowsBelow(sheet, /^What was measured/);
    vehicle.wheels.forEach(({position, parts}, i) => {
      const {finding, assembly, plusminus, rim, tire, after, plusafter} = parts.assessed!;
      expect([0, 1].map((c) => at(first + i, c))).toEqual([position, finding]);
      [assembly, plusminus, , rim, tire, after, plusafter].forEach((figure, k) => {
        if (figure !== undefined) expect(at(first + i, 2 + k)).toBeCloseTo(figure, 9);
      });
    });
    const done = rowsBelow(sheet, /^What is done/);
    const byPosition = new Map(placeRows(vehicle, plan).map((row) => [row.position, row]));
    vehicle.wheels.forEach((_, k) => {
      const row = byPosition.get(String(at(done + k, 0)))!;
      byPosition.delete(row.position);
      const [tire, rim] = [at(done + k, 1), at(done + k, 2)];
      expect(tire === rim ? tire : `tire of ${tire} on rim of ${rim}`).toBe(row.from);
      expect(at(done + k, 7)).toBeCloseTo(row.after, 9);
      expect(at(done + k, 8)).toBeCloseTo(row.plusminus!, 9);
      expect(at(done + k, 10)).toBe(
        {within: 'within the limit', exceeds: 'beyond the limit', 'too close to tell': 'too close to tell'}[
          row.standing
        ],
      );
    });
    expect(byPosition.size).toBe(0);
  });

  test('the fingerprint at writing is that of the cells, and a changed reading shows', async () => {
    const {sheet, vehicle} = cases.get('J-401')!;
    const row = sheet.cells.find(({content}) => content === 'At writing')!.row;
    expect(computed.at(sheet.name, row, 8)).toBe('unchanged since this sheet was written');
    const cell = vehicle.wheels[2].record.place('Inner bead seat')!;
    const address = cellAddress(cell.row, cell.column + 3);
    const before = computed.value('Wheels', address) as number;
    computed.set('Wheels', address, before + 0.001);
    await computed.update();
    expect(computed.at(sheet.name, row, 8)).toBe('CHANGED since this sheet was written');
    computed.set('Wheels', address, before);
    await computed.update();
    expect(computed.at(sheet.name, row, 8)).toBe('unchanged since this sheet was written');
  }, 60000);

  test('the curves that the charts draw: rim and tire add up to the assembly, about their mean', () => {
    const {sheet, vehicle} = cases.get('J-401')!;
    const values = ({row, column, rows}: {row: number; column: number; rows: number}): number[] =>
      Array.from({length: rows}, (_, i) => computed.at(sheet.name, row + i, column) as number);
    vehicle.wheels.forEach((_, i) => {
      const [limit, rim, tire, assembly] = sheet.charts[i].series.map((series) => values(series.values));
      expect(limit[0] - limit[2]).toBeCloseTo(vehicle.wheels[i].model.limits!.assembly, 12);
      rim.forEach((v, k) => expect(v + tire[k]).toBeCloseTo(assembly[k], 12));
      expect(assembly.slice(0, 24).reduce((sum, v) => sum + v, 0)).toBeCloseTo(0, 9);
      expect(assembly[24]).toBeCloseTo(assembly[0], 12);
    });
    const harmonics = sheet.charts[4].series[0].values;
    values(harmonics).forEach((v, i) => expect(v).toBeCloseTo(vehicle.wheels[i].parts.harmonics[0].amount, 9));
  });

  test('printed by LibreOffice: one page a vehicle', async () => {
    const shown = await withRecords(
      [...cases.values()].map(({sheet}) => sheet),
      (sheet, row, column) => {
        const value = computed.at(sheet, row, column);
        return value !== null && typeof value === 'object' ? {error: value.code as '#N/A'} : value;
      },
    );
    const {pages} = printed(shown);
    expect(pages.length).toBe(CASES.length);
    [...cases.values()].forEach(({sheet}, i) => expect(pages[i]).toContain(sheet.page.header));
  }, 120000);
});
