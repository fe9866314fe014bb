/** Whether two engines agree on the figures of a working, and by how much they differ. */
import type {Raw} from '../../functions/cells';
import type {Declaration} from '../../functions/declare';
import {ROUNDING, type AnswerOf} from '../../functions/workings/steps';
import {anyBasis, fittedOrders} from '../../maths/basis';
import type {Angles, Readings} from '../../maths/readings';
import type {Working} from '../../working/workingOf';

/**
 * Two figures agree within this share of the largest input of the same unit; angles are compared around the circle and
 * on a scale of 360. Where a basis is worse conditioned than `CONDITION` the share grows with it.
 */
export const TOLERANCE = 1e-9;
const CONDITION = 1e6;

/** The difference of two figures in relation to their scale; 0 for the same text, infinite where one has no figure. */
export function differs(one: number | string, other: number | string, scale: number, around?: number): number {
  if (typeof one === 'string' || typeof other === 'string') return one === other ? 0 : Infinity;
  if (Number.isNaN(one) || Number.isNaN(other)) return Number.isNaN(one) && Number.isNaN(other) ? 0 : Infinity;
  if (around === undefined) return one === other ? 0 : Math.abs(one - other) / scale;
  const apart = one - other;
  return Math.abs(apart - around * Math.round(apart / around)) / 360;
}

/** The scale of a figure: the largest input of the same unit, else the largest figure of it. */
export function scaleOf({declared, steps, figures}: Working, answer: AnswerOf): number {
  const unit = declared.parts[answer.part]?.unit ?? '';
  const own = figures.find(({part, row}) => part === answer.part && row === answer.row)!;
  const sizes = (kinds: readonly string[]): number[] =>
    steps
      .filter((step) => step.unit === unit && kinds.includes(step.kind))
      .flatMap((step) => step.values ?? [step.value!])
      .map((v) => (typeof v === 'number' && !Number.isNaN(v) ? Math.abs(v) : 0));
  if (unit === '°') return 360;
  const inputs = unit === '' ? [] : sizes(['input']);
  const size = Math.max(0, ...(inputs.some((v) => v > 0) || unit === '' ? inputs : sizes(['formula'])));
  const value = typeof own.answered === 'number' && !Number.isNaN(own.answered) ? Math.abs(own.answered) : 0;
  return Math.max(size, value, unit === '' ? 1 : 0) || 1;
}

/** An angle of an amount that is nothing but rounding says nothing. */
export function saysNothing({worked}: Working, {vanishing}: AnswerOf): boolean {
  if (vanishing === undefined) return false;
  const value = (symbol: string): number => worked.steps.find((step) => step.symbol === symbol)!.result as number;
  return value(vanishing.size) <= ROUNDING * value(vanishing.whole);
}

/** By how much the tolerance grows because readings lie at angles from which little can be told. */
export function conditionFactor(declared: Declaration, args: readonly Raw[]): number {
  const given = declared.given(args);
  const all = Object.values(given).filter((v): v is Readings => isReadings(v));
  const angles = declared.arguments.some(({kind}) => kind === 'angles')
    ? (Object.values(given).find((v) => isAngles(v)) as Angles | undefined)
    : undefined;
  const order = (given.order ?? given.maxOrder ?? 1) as number;
  const conditions = all.map((readings) =>
    readings.present < 3 ? 1 : anyBasis(readings, angles, fittedOrders(order, readings.present)).condition,
  );
  return Math.max(1, ...conditions.map((c) => (Number.isFinite(c) ? c / CONDITION : 1)));
}

const isReadings = (v: unknown): v is Readings => typeof v === 'object' && v !== null && 'present' in v;
const isAngles = (v: unknown): v is Angles => typeof v === 'object' && v !== null && 'degrees' in v && 'name' in v;
