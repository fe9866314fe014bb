import {assess, type Assessed, type Finding} from './assess';
import {spreadOf} from './basis';
import {student95} from './distributions';
import {inWords} from './format';
import {fit, harmonic, plusMinus, variance, type Fit, type Wave} from './harmonics';
import {matchCurve} from './matchCurve';
import type {Angles, Readings} from './readings';
import {peakToPeak} from './swing';
import {less, mean} from './waves';
import {difference, length, plus, point, product, unit, type Point, type Vector} from './vectors';

export interface ReadingLimits {
  readonly assembly: number;
  readonly rim: number;
  /** Peak-to-peak of the fitted assembly curve. */
  readonly total: number | undefined;
}

export interface AssessedReadings extends Omit<Assessed, 'finding'> {
  readonly finding: Finding;
  readonly assembly: number;
  readonly plusminus: number | undefined;
  readonly rim: number;
  readonly tire: number;
  readonly plusafter: number | undefined;
}

export interface WheelReadings {
  readonly assembly: Readings;
  readonly rimInner: Readings;
  readonly rimOuter: Readings;
}

/**
 * The whole assessment of one wheel from its readings: fits, mean of the bead seats, tire = assembly − rim, assess() on
 * the first harmonics with their own uncertainties, and, where there is a limit for it, the whole curve.
 */
export function assessReadings(
  wheel: WheelReadings,
  limits: ReadingLimits,
  maxOrder: number,
  angles?: Angles,
): AssessedReadings {
  const whole = fit(wheel.assembly, maxOrder, angles);
  const inner = fit(wheel.rimInner, maxOrder, angles);
  const outer = fit(wheel.rimOuter, maxOrder, angles);
  const rimWave = mean(inner, outer);
  const assembly = harmonic(whole, 1);
  const rim = harmonic(rimWave, 1);
  const tire = difference(assembly, rim);
  const plusminus = plusMinus(whole, 1);
  const plusafter = plusAfter(whole, inner, outer, rim, tire);
  const figures = {assembly: assembly.amount, plusminus, rim: rim.amount, tire: tire.amount, plusafter};

  if (plusminus === undefined || plusafter === undefined) {
    const {after, turn} = assess(assembly, rim, limits, {assembly: 0, after: 0}, tire);
    const reason =
      'The readings are just enough for the curve and leave nothing to tell how sure the figures are: take more, or lower the order.';
    return withFigures({finding: 'remeasure', after, turn, reason}, figures);
  }
  const first = assess(assembly, rim, limits, {assembly: plusminus, after: plusafter}, tire);
  if (limits.total === undefined) return withFigures(first, figures);
  const total = peakToPeak(whole, maxOrder);
  if (total <= limits.total) return withFigures(first, figures);
  return withFigures(overall(first, rimWave, less(whole, rimWave), maxOrder, total, limits, plusafter), figures);
}

type Figures = Pick<AssessedReadings, 'assembly' | 'plusminus' | 'rim' | 'tire' | 'plusafter'>;

/** Field by field: two objects spread into a third took three times as long as all the rest of an assessment. */
const withFigures = ({finding, after, turn, reason}: Assessed, figures: Figures): AssessedReadings => ({
  finding,
  after,
  turn,
  reason,
  assembly: figures.assembly,
  plusminus: figures.plusminus,
  rim: figures.rim,
  tire: figures.tire,
  plusafter: figures.plusafter,
});

/** The assembly's curve is out of its limit: only a turn that brings the whole curve within it saves the parts. */
function overall(
  first: Assessed,
  rim: Wave,
  tire: Wave,
  maxOrder: number,
  total: number,
  limits: ReadingLimits,
  plusafter: number,
): Assessed {
  if (first.finding.startsWith('replace')) return first;
  const allowed = limits.total!;
  const {turn, after} = matchCurve(rim, tire, maxOrder);
  const left = harmonic1After(rim, tire, turn);
  const out = `The assembly's whole curve spans ${inWords(total)}, beyond ${inWords(allowed)}`;
  if (after <= allowed && left + plusafter <= limits.assembly) {
    return {
      finding: 'match mount',
      after: left,
      turn,
      reason: `${out}; this turn brings it to ${inWords(after)}, within it.`,
    };
  }
  const [r, t] = [peakToPeak(rim, maxOrder), peakToPeak(tire, maxOrder)];
  const spans = `the rim's own curve spans ${inWords(r)}, the tire's ${inWords(t)}`;
  const finding: Finding = r > t ? 'replace rim' : 'replace tire';
  return {...first, finding, reason: `${out}, and the best turn leaves ${inWords(after)}; ${spans}.`};
}

const harmonic1After = (rim: Wave, tire: Wave, turn: number): number =>
  length(plus(point(harmonic(rim, 1)), product(point(harmonic(tire, 1)), unit(turn))));

/**
 * 95 % half-width of what the best match leaves, |r − t|: t·√(t̂ᵀC_a t̂ + (r̂ + t̂)ᵀC_r(r̂ + t̂)) with the unit vectors
 * r̂, t̂, peak-to-peak covariances C, C_r = (C_inner + C_outer)/4, and the fewest degrees of freedom of the three.
 */
function plusAfter(whole: Fit, inner: Fit, outer: Fit, rim: Vector, tire: Vector): number | undefined {
  const freedom = Math.min(whole.freedom, inner.freedom, outer.freedom);
  if (freedom < 1) return undefined;
  const [r, t] = [unit(rim.angle), unit(tire.angle)];
  const both = plus(r, t);
  const spread = quadratic(whole, t) + (quadratic(inner, both) + quadratic(outer, both)) / 4;
  return student95(freedom) * Math.sqrt(spread);
}

/** gᵀCg for the peak-to-peak first harmonic: twice the amplitude, four times its covariance. */
function quadratic(f: Fit, g: Point): number {
  const {cc, cs, ss} = spreadOf(f.basis, 1);
  return 4 * variance(f)! * (g.x * g.x * cc + 2 * g.x * g.y * cs + g.y * g.y * ss);
}
