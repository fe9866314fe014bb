/** What the Wheel view shows of a record, worked out from its cells. No Excel and no screen in here. */
import {assessReadings, type AssessedReadings} from '../../maths/assessReadings';
import {curveAt, fit, harmonic, harmonics, type HarmonicRow, type Wave} from '../../maths/harmonics';
import {matchCurve, type CurveMatch} from '../../maths/matchCurve';
import {readingCheck} from '../../maths/readingCheck';
import {readingsOf, type Readings} from '../../maths/readings';
import {Refusal} from '../../maths/refusal';
import {peakToPeak, turnedSum} from '../../maths/swing';
import {rimMillimeters, tireSize} from '../../maths/tireSize';
import {length, plus, point, product, unit} from '../../maths/vectors';
import {less, mean} from '../../maths/waves';
import type {CellValue, LedgerRecord} from '../../workbook/ledger';
import type {Role} from '../../workbook/ledgerMap';

/** Harmonics fitted and drawn. */
export const ORDERS = 4;

export interface Measured {
  readonly degrees: number;
  readonly value: number;
}

/** Rim, tire and assembly of one wheel, and what turning the tire makes of them. */
export interface Parts {
  readonly rim: Wave;
  readonly tire: Wave;
  readonly assembly: Wave;
  readonly assessed: AssessedReadings | undefined;
  readonly curve: CurveMatch;
  /** Readings less their mean. */
  readonly rimPoints: readonly Measured[];
  readonly assemblyPoints: readonly Measured[];
  readonly harmonics: readonly HarmonicRow[];
}

export interface WheelModel {
  readonly title: string;
  readonly details: readonly string[];
  readonly runoutUnit: string;
  readonly clockwise: boolean;
  readonly limits: {readonly assembly: number; readonly rim: number; readonly total: number | undefined} | undefined;
  /** What is wrong with readings, by what was measured. */
  readonly checks: readonly {readonly of: string; readonly words: string}[];
  readonly parts: Parts | undefined;
  /** Why there are no figures, in words. */
  readonly missing: string | undefined;
  /** Diameter of the bead seat in mm, if the tire size says it. */
  readonly rimDiameterMm: number | undefined;
}

const READING_ROLES: readonly (readonly [Role, string])[] = [
  ['Assembly readings', 'assembly'],
  ['Inner bead seat', 'inner bead seat'],
  ['Outer bead seat', 'outer bead seat'],
];

export function wheelModel(record: LedgerRecord): WheelModel {
  const {map} = record.ledger;
  const text = (role: Role): string => String(record.cells(role)[0] ?? '').trim();
  const sets = READING_ROLES.map(([role, name]) => ({name, cells: record.cells(role)}));
  const problem = sets.map(({name, cells}) => wrongCell(name, cells)).find((words) => words !== undefined);
  const readings = sets.map(({name, cells}) =>
    readingsOf(
      cells.map((cell) => (typeof cell === 'number' ? cell : NaN)),
      name,
    ),
  );
  const limits = limitsOf(record.cells('Limits'));
  const checks = readings
    .filter(({positions}) => positions > 0)
    .map((r) => ({of: r.name, words: readingCheck(r, ORDERS)}))
    .filter(({words}) => words !== 'ok');
  const {parts, missing} = problem === undefined ? worked(readings, limits) : {parts: undefined, missing: problem};
  return {
    title: [text('Job'), text('Position')].filter((word) => word !== '').join(' · ') || `Record ${record.index + 1}`,
    details: (['Vehicle', 'Tire size', 'Supplier'] as const).map(text).filter((word) => word !== ''),
    runoutUnit: map.runoutUnit,
    clockwise: map.clockwise,
    limits,
    checks,
    parts,
    missing,
    rimDiameterMm: rimDiameter(text('Tire size')),
  };
}

/** The first cell that is neither a number nor empty. */
function wrongCell(name: string, cells: readonly CellValue[]): string | undefined {
  const at = cells.findIndex((cell) => typeof cell !== 'number' && cell !== '');
  return at < 0 ? undefined : `Reading ${at + 1} of the ${name} is no number: “${String(cells[at])}”.`;
}

function limitsOf(cells: readonly CellValue[]): WheelModel['limits'] {
  const numbers = cells.map((cell) => (typeof cell === 'number' && cell > 0 ? cell : undefined));
  const [assembly, rim = assembly, total] = numbers;
  return assembly === undefined || rim === undefined ? undefined : {assembly, rim, total};
}

function worked(readings: readonly Readings[], limits: WheelModel['limits']): Pick<WheelModel, 'parts' | 'missing'> {
  const [assembly, inner, outer] = readings;
  if (readings.every(({present}) => present === 0))
    return {parts: undefined, missing: 'This record has no readings yet.'};
  try {
    const whole = fit(assembly, ORDERS);
    const rim = mean(fit(inner, ORDERS), fit(outer, ORDERS));
    const tire = less(whole, rim);
    return {
      parts: {
        rim,
        tire,
        assembly: whole,
        assessed: limits && assessReadings({assembly, rimInner: inner, rimOuter: outer}, limits, ORDERS),
        curve: matchCurve(rim, tire, ORDERS),
        rimPoints: points(meanReadings(inner, outer)),
        assemblyPoints: points(assembly.values),
        harmonics: harmonics(assembly, ORDERS),
      },
      missing: undefined,
    };
  } catch (error) {
    if (error instanceof Refusal) return {parts: undefined, missing: sentence(error.message)};
    throw error;
  }
}

const sentence = (text: string): string => `${text[0].toUpperCase()}${text.slice(1)}.`;

const meanReadings = (a: Readings, b: Readings): Float64Array => a.values.map((v, i) => (v + b.values[i]) / 2);

function points(values: Float64Array): Measured[] {
  const there = values.filter((v) => !Number.isNaN(v));
  const middle = there.reduce((sum, v) => sum + v, 0) / there.length;
  return Array.from(values, (value, i) => ({degrees: (360 * i) / values.length, value: value - middle})).filter(
    ({value}) => !Number.isNaN(value),
  );
}

function rimDiameter(size: string): number | undefined {
  if (size === '') return undefined;
  try {
    return rimMillimeters(tireSize(size).rim);
  } catch {
    return undefined;
  }
}

/** What a turn of the tire on the rim leaves: first harmonic and whole curve, peak-to-peak. */
export function afterTurn({rim, tire}: Parts, turn: number): {first: number; whole: number} {
  const sum = turned(rim, tire, turn);
  const first = length(plus(point(harmonic(rim, 1)), product(point(harmonic(tire, 1)), unit(turn))));
  return {first, whole: peakToPeak(sum, ORDERS)};
}

function turned(rim: Wave, tire: Wave, turn: number): Wave {
  const sum = {mean: 0, cos: new Float64Array(ORDERS + 1), sin: new Float64Array(ORDERS + 1)};
  turnedSum(rim, tire, turn, ORDERS, sum);
  return sum;
}

/** Heights of a curve around the turn, less its mean. */
export function outline(wave: Wave, step = 3): Measured[] {
  return Array.from({length: 360 / step + 1}, (_, i) => ({
    degrees: i * step,
    value: curveAt(wave, ORDERS, i * step) - wave.mean,
  }));
}

/** The curves with the tire turned on the rim. */
export function turnedOutlines({rim, tire}: Parts, turn: number) {
  const still: Wave = {mean: 0, cos: new Float64Array(ORDERS + 1), sin: new Float64Array(ORDERS + 1)};
  return {rim: outline(rim), tire: outline(turned(still, tire, turn)), assembly: outline(turned(rim, tire, turn))};
}
