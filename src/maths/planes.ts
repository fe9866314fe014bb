import {length, minus, plus, point, times, vector, type Point, type Vector} from './vectors';

/** A correction plane: position along the axle from any datum, and the radius at which its weight sits. */
export interface Plane {
  readonly position: number;
  readonly radius: number;
}

/** Inboard first, outboard second, wherever planes or their weights come in pairs. */
export type Two<T> = readonly [T, T];

export interface StaticCouple {
  readonly static: Vector;
  readonly couple: Vector;
}

/** A weight as an unbalance, mass · radius, at a position. */
export interface Unbalance {
  readonly position: number;
  readonly at: Point;
}

/** Weights in planes as unbalances. */
export const unbalances = (weights: readonly Vector[], planes: readonly Plane[]): Unbalance[] =>
  weights.map((weight, i) => ({position: planes[i].position, at: times(planes[i].radius, point(weight))}));

/** Resultant ΣU and moment Σ(z − datum)·U of unbalances (resultant and resultant moment unbalance, ISO 21940-2). */
export function resultants(all: readonly Unbalance[], datum: number): {sum: Point; moment: Point} {
  let sum: Point = {x: 0, y: 0};
  let moment = sum;
  for (const {position, at} of all) {
    sum = plus(sum, at);
    moment = plus(moment, times(position - datum, at));
  }
  return {sum, moment};
}

export const middle = (planes: Two<Plane>): number => (planes[0].position + planes[1].position) / 2;

/** Static unbalance, and couple unbalance about the middle between the planes. */
export function staticCouple(weights: Two<Vector>, planes: Two<Plane>): StaticCouple {
  const {sum, moment} = resultants(unbalances(weights, planes), middle(planes));
  return {static: vector(sum), couple: vector(moment)};
}

/** The same resultant and the same moment by weights in other planes at other radii. */
export function transfer(weights: Two<Vector>, from: Two<Plane>, to: Two<Plane>): {inboard: Vector; outboard: Vector} {
  const {sum, moment} = resultants(unbalances(weights, from), to[0].position);
  const outboard = times(1 / (to[1].position - to[0].position), moment);
  return {
    inboard: vector(times(1 / to[0].radius, minus(sum, outboard))),
    outboard: vector(times(1 / to[1].radius, outboard)),
  };
}

/** One weight for the static unbalance alone, and the size of the couple that it leaves, about its own plane. */
export function onePlane(weights: Two<Vector>, from: Two<Plane>, to: Plane): Vector & {coupleleft: number} {
  const {sum, moment} = resultants(unbalances(weights, from), to.position);
  return {...vector(times(1 / to.radius, sum)), coupleleft: length(moment)};
}

/** A weight fitted anywhere. */
export interface Fitted extends Plane {
  readonly weight: Vector;
}

/** What is still to add, as static and couple, when the weights really fitted are taken from those required. */
export function residual(required: Two<Vector>, fitted: readonly Fitted[], planes: Two<Plane>): StaticCouple {
  const datum = middle(planes);
  const wanted = resultants(unbalances(required, planes), datum);
  const given = resultants(
    fitted.map(({weight, position, radius}) => ({position, at: times(radius, point(weight))})),
    datum,
  );
  return {static: vector(minus(wanted.sum, given.sum)), couple: vector(minus(wanted.moment, given.moment))};
}
