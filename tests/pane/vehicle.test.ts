/** @jest-environment ./tests/host/support/environment.cjs */
import type {Workbook} from '../../src/host/book/workbook';
import {pair} from '../../src/maths/pair';
import {placeBlock, placeRows, planVehicle, worstOf, type Rules, WORKS} from '../../src/pane/vehicle/planModel';
import {sideOf} from '../../src/pane/vehicle/sides';
import {jobsOf, vehicleModel, type Vehicle} from '../../src/pane/vehicle/vehicleModel';
import type {CellValue, LedgerRecord} from '../../src/workbook/ledger';
import type {Role} from '../../src/workbook/ledgerMap';
import {parseSensitivities, sensitivityOf, type Sensitivity} from '../../src/workbook/sensitivities';
import {openWorkbook} from '../host/support/books';
import {demoBytes, demoLedger, demoPositions, demoRecords} from '../support/demoLedger';

let workbook: Workbook;
let records: LedgerRecord[];
let table: readonly Sensitivity[];
let jobs: ReturnType<typeof jobsOf>;
beforeAll(async () => {
  workbook = await openWorkbook(demoBytes);
  records = demoRecords(workbook);
  const positions = demoPositions(workbook);
  table = parseSensitivities(positions.headings, positions.rows);
  const column = (role: Role): [Role, CellValue[]] => [role, records.map((record) => record.cells(role)[0])];
  jobs = jobsOf(new Map([column('Job'), column('Vehicle')]));
}, 60000);
afterAll(() => workbook.dispose());

const vehicleOf = (job: string): Vehicle =>
  vehicleModel(jobs.find(({name}) => name === job)!.indices.map((i) => records[i]));

const rules = (over: Partial<Rules> = {}): Rules => ({work: 'as they are', keepSide: false, ...over});

describe('jobs', () => {
  test('in the order in which they occur, with their rows', () => {
    expect(jobs).toHaveLength(15);
    expect(jobs[0]).toEqual({name: 'J-401', vehicle: 'Pool car 1', indices: [0, 1, 2, 3]});
    expect(jobs.flatMap(({indices}) => indices)).toHaveLength(records.length);
  });

  test('blanks and letter case do not make another job; a row without one is left out', () => {
    const columns = new Map<Role, CellValue[]>([['Job', ['j-1', '', ' J-1', 7, 7]]]);
    expect(jobsOf(columns).map(({name, indices}) => [name, indices])).toEqual([
      ['j-1', [0, 2]],
      ['7', [3, 4]],
    ]);
  });
});

describe('sides', () => {
  test.each([
    ['LF', 'left'],
    ['RR', 'right'],
    ['LR outer', 'left'],
    ['Left front', 'left'],
    ['rear-right', 'right'],
    ['VL', 'left'],
    ['HR', 'right'],
    ['hinten rechts', 'right'],
    ['AVG', 'left'],
    ['ARD', 'right'],
    ['spare', undefined],
    ['3', undefined],
    ['', undefined],
  ])('%s: %s', (words, side) => expect(sideOf(words)).toBe(side));
});

describe('sensitivities', () => {
  test('by class and position; a table without classes serves all', () => {
    expect(sensitivityOf(table, 'Passenger', ' lf ')).toBe(4);
    expect(sensitivityOf(table, 'heavy', 'LF')).toBe(6);
    expect(sensitivityOf(table, 'heavy', 'spare')).toBeUndefined();
    const plain = parseSensitivities(
      ['Position', 'Sensitivity'],
      [
        ['LF', 3],
        ['RF', 'much'],
        ['', 1],
      ],
    );
    expect(plain).toEqual([{class: '', position: 'lf', value: 3}]);
    expect(sensitivityOf(plain, 'anything', 'LF')).toBe(3);
    expect(parseSensitivities(['Where', 'How much'], [['LF', 3]])).toEqual([]);
  });
});

describe('a vehicle', () => {
  test('has its wheels with figures', () => {
    const vehicle = vehicleOf('J-402');
    expect(vehicle.title).toBe('J-402 · Pool car 2');
    expect(vehicle.wheels.map(({position}) => position)).toEqual(['LF', 'RF', 'LR', 'RR']);
    expect(vehicle.without).toEqual([]);
    for (const {parts, assembly} of vehicle.wheels) expect(assembly.amount).toBeCloseTo(parts.assessed!.assembly, 12);
  });

  test('of two records of a position the last counts; one without readings is named', () => {
    const again = {...records[2], index: 70};
    const empty: LedgerRecord = {
      ...records[3],
      cells: (role) => (/readings|seat/.test(role) ? new Array(16).fill('') : records[3].cells(role)),
    };
    const vehicle = vehicleModel([records[0], records[1], records[2], empty, again]);
    expect(vehicle.wheels.map(({record}) => record.index)).toEqual([0, 1, 70]);
    expect(vehicle.without).toEqual([{position: 'RR', why: 'This record has no readings yet.'}]);
  });

  test('without wheels', () => {
    expect(vehicleModel([])).toMatchObject({title: '', wheels: [], without: []});
    expect(demoLedger.body.rows).toBe(66);
  });
});

describe('placing', () => {
  test('the worst goes where it is felt least', () =>
    expect(placeBlock([9, 1, 2, 3], [4, 3, 2, 1], 0)).toEqual([3, 0, 1, 2]));

  test('equals stay where they are', () => {
    expect(placeBlock([1, 1.1, 1, 1.05], [4, 3, 2, 1], 0.2)).toEqual([0, 1, 2, 3]);
    // Only the worst and the one in its way change places.
    expect(placeBlock([9, 1, 1.1, 1.05], [4, 3, 2, 1], 0.2)).toEqual([3, 1, 2, 0]);
  });

  test('never worse felt than by order alone, and everybody has a place of his own', () => {
    for (const {name} of jobs) {
      const vehicle = vehicleOf(name);
      for (const work of WORKS) {
        const {planned, sensitivities} = planVehicle(vehicle, table, rules({work}));
        expect(new Set(planned.map(({position}) => position)).size).toBe(vehicle.wheels.length);
        const felt = (place: (i: number) => number): number =>
          planned.reduce((sum, {after}, i) => sum + after * sensitivities[place(i)]!, 0);
        // What lies within the uncertainty may cost a little; without it placing is the best of all.
        const slack = planVehicle(vehicle, table, rules({work})).tolerance * vehicle.wheels.length * 6;
        expect(felt((i) => planned[i].position)).toBeLessThanOrEqual(felt((i) => i) + slack);
      }
    }
  });

  test('directional tires stay on their side', () => {
    for (const {name} of jobs) {
      const vehicle = vehicleOf(name);
      const {planned, notes} = planVehicle(vehicle, table, rules({work: 'turn where found', keepSide: true}));
      expect(notes[0]).toMatch(/^Directional or handed/);
      for (const {tire, position} of planned) {
        expect(sideOf(vehicle.wheels[tire].position)).toBe(sideOf(vehicle.wheels[position].position));
      }
    }
  });

  test('staggered sizes stay among themselves, and it is said', () => {
    const vehicle = vehicleOf('J-401');
    const wheels = vehicle.wheels.map((wheel, i) => ({...wheel, size: i < 2 ? 'front' : 'rear'}));
    for (const work of WORKS) {
      const {planned, notes, groups} = planVehicle({...vehicle, wheels}, table, rules({work}));
      expect(groups.map((group) => group.wheels)).toEqual([
        [0, 1],
        [2, 3],
      ]);
      expect(notes[0]).toMatch(/^Tire sizes differ \(.* at LF, RF; .* at LR, RR\)/);
      for (const {tire, rim, position} of planned) {
        expect(wheels[rim].size).toBe(wheels[tire].size);
        expect(wheels[position].size).toBe(wheels[tire].size);
      }
    }
  });

  test('without a table of positions, or with a side that is not plain, wheels stay', () => {
    const vehicle = vehicleOf('J-401');
    const bare = planVehicle(vehicle, [], rules({work: 'pair anew'}));
    expect(bare.planned.map(({position}) => position)).toEqual([0, 1, 2, 3]);
    expect(bare.notes[0]).toMatch(/does not say how much the driver feels at LF, RF, LR, RR/);
    const renamed = vehicle.wheels.map((wheel, i) => (i === 0 ? {...wheel, position: 'one'} : wheel));
    const {planned, notes} = planVehicle(
      {...vehicle, wheels: renamed},
      [...table, {class: '', position: 'one', value: 4}],
      rules({keepSide: true}),
    );
    expect(planned[0].position).toBe(0);
    expect(notes[1]).toMatch(/^The side of one is not plain/);
  });
});

describe('the work', () => {
  test('turning only where that is the finding', () => {
    const vehicle = vehicleOf('J-401');
    const {planned} = planVehicle(vehicle, table, rules({work: 'turn where found'}));
    planned.forEach(({turn, after, demounted}, i) => {
      const {finding, after: best} = vehicle.wheels[i].parts.assessed!;
      expect(demounted).toBe(finding === 'match mount');
      expect(after).toBe(finding === 'match mount' ? best : vehicle.wheels[i].assembly.amount);
      if (!demounted) expect(turn).toBe(0);
    });
  });

  test('pairing anew is that of the function, and its worst is never above that of turning', () => {
    for (const {name} of jobs) {
      const vehicle = vehicleOf(name);
      const {planned} = planVehicle(vehicle, table, rules({work: 'pair anew'}));
      const pairs = pair(
        vehicle.wheels.map(({rim}) => rim),
        vehicle.wheels.map(({tire}) => tire),
        'worst',
      );
      expect(planned.map(({rim}) => rim)).toEqual(pairs.map(({rim}) => rim));
      const worst = new Map(worstOf(vehicle, table, false));
      const allTurned = Math.max(...vehicle.wheels.map(({rim, tire}) => Math.abs(rim.amount - tire.amount)));
      expect(worst.get('pair anew')!).toBeLessThanOrEqual(allTurned + 1e-12);
      for (const {plusminus} of planned) expect(plusminus).toBeGreaterThan(0);
    }
  });

  test('before and after by place', () => {
    const vehicle = vehicleOf('J-403');
    const plan = planVehicle(vehicle, table, rules({work: 'pair anew'}));
    const rows = placeRows(vehicle, plan);
    expect(rows.map(({before}) => before)).toEqual(vehicle.wheels.map(({assembly}) => assembly.amount));
    expect(rows.map(({after}) => after).sort()).toEqual(plan.planned.map(({after}) => after).sort());
  });
});
