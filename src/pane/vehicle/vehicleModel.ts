/** The wheels of one job. No Excel and no screen in here. */
import {fit, harmonic, plusMinus} from '../../maths/harmonics';
import {readingsOf} from '../../maths/readings';
import {rimMillimeters, tireSize} from '../../maths/tireSize';
import type {Vector} from '../../maths/vectors';
import type {CellValue, LedgerRecord} from '../../workbook/ledger';
import type {Role} from '../../workbook/ledgerMap';
import {ORDERS, wheelModel, type Parts, type WheelModel} from '../wheel/model';

export interface VehicleWheel {
  readonly record: LedgerRecord;
  readonly model: WheelModel;
  readonly parts: Parts;
  readonly position: string;
  readonly class: string;
  /** Tire size, blanks and letter case aside; wheels of one size can take each other's places. */
  readonly size: string;
  readonly assembly: Vector;
  readonly rim: Vector;
  readonly tire: Vector;
  /** 95 % half-widths; undefined where the readings leave none to judge by. */
  readonly plusAssembly: number | undefined;
  readonly plusRim: number | undefined;
  readonly plusAfter: number | undefined;
}

export interface Vehicle {
  readonly job: string;
  readonly title: string;
  readonly unit: string;
  readonly clockwise: boolean;
  readonly wheels: readonly VehicleWheel[];
  /** Wheels without figures, and why. */
  readonly without: readonly {readonly position: string; readonly why: string}[];
}

export interface Job {
  readonly name: string;
  readonly vehicle: string;
  /** Rows of its records in the ledger. */
  readonly indices: readonly number[];
}

const text = (cell: CellValue | undefined): string => String(cell ?? '').trim();
const alike = (cell: CellValue | undefined): string => text(cell).toLowerCase().replace(/\s+/g, '');

/** The jobs of the ledger in the order in which they first occur; rows without a job are left out. */
export function jobsOf(columns: ReadonlyMap<Role, readonly CellValue[]>): Job[] {
  const jobs = new Map<string, {name: string; vehicle: string; indices: number[]}>();
  columns.get('Job')?.forEach((cell, i) => {
    const key = alike(cell);
    if (key === '') return;
    const job = jobs.get(key);
    if (job === undefined) jobs.set(key, {name: text(cell), vehicle: text(columns.get('Vehicle')?.[i]), indices: [i]});
    else job.indices.push(i);
  });
  return [...jobs.values()];
}

/** Of several records of one position the last one counts: the wheel was measured again. */
function current(records: readonly LedgerRecord[]): LedgerRecord[] {
  const latest = new Map<string, LedgerRecord>();
  records.forEach((record) => {
    const position = alike(record.cells('Position')[0]);
    latest.set(position === '' ? `row ${record.index}` : position, record);
  });
  return [...latest.values()];
}

export function vehicleModel(records: readonly LedgerRecord[]): Vehicle {
  const wheels: VehicleWheel[] = [];
  const without: {position: string; why: string}[] = [];
  const [first] = records;
  for (const record of current(records)) {
    const model = wheelModel(record);
    const position = text(record.cells('Position')[0]) || `row ${record.ledger.body.row + record.index + 1}`;
    const {parts, limits, missing} = model;
    if (parts === undefined || limits === undefined || parts.assessed === undefined) {
      without.push({position, why: missing ?? 'No limits are known for it.'});
      continue;
    }
    wheels.push({
      record,
      model,
      parts,
      position,
      class: text(record.cells('Class')[0]),
      size: alike(record.cells('Tire size')[0]),
      assembly: harmonic(parts.assembly, 1),
      rim: harmonic(parts.rim, 1),
      tire: harmonic(parts.tire, 1),
      plusAssembly: parts.assessed.plusminus,
      plusRim: plusOfRim(record),
      plusAfter: parts.assessed.plusafter,
    });
  }
  const [job, vehicle] = [text(first?.cells('Job')[0]), text(first?.cells('Vehicle')[0])];
  return {
    job,
    title: [job, vehicle].filter((word) => word !== '').join(' · '),
    unit: first?.ledger.map.runoutUnit ?? '',
    clockwise: first?.ledger.map.clockwise ?? true,
    wheels,
    without,
  };
}

/** 95 % half-width of the rim, the mean of both bead seats. */
function plusOfRim(record: LedgerRecord): number | undefined {
  const [inner, outer] = (['Inner bead seat', 'Outer bead seat'] as const).map((role) =>
    plusMinus(
      fit(
        readingsOf(
          record.cells(role).map((cell) => (typeof cell === 'number' ? cell : NaN)),
          role,
        ),
        ORDERS,
      ),
      1,
    ),
  );
  return inner === undefined || outer === undefined ? undefined : Math.hypot(inner, outer) / 2;
}

/** Diameter of the bead seat in mm, if the tire size says it. */
export function rimDiameterMm(wheel: VehicleWheel): number | undefined {
  try {
    return rimMillimeters(tireSize(text(wheel.record.cells('Tire size')[0])).rim);
  } catch {
    return undefined;
  }
}
