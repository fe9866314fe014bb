import {cosd, direction, sind} from './angles';

/** Amount (never negative) and angle in degrees: the two cells of a worksheet vector. */
export interface Vector {
  readonly amount: number;
  readonly angle: number;
}

/** The same in Cartesian parts: x towards the valve hole, y a quarter turn on. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

export const point = ({amount, angle}: Vector): Point => ({x: amount * cosd(angle), y: amount * sind(angle)});

export const length = ({x, y}: Point): number => Math.sqrt(x * x + y * y);

export const vector = (p: Point): Vector => ({amount: length(p), angle: direction(p.x, p.y)});

export const plus = (p: Point, q: Point): Point => ({x: p.x + q.x, y: p.y + q.y});

export const minus = (p: Point, q: Point): Point => ({x: p.x - q.x, y: p.y - q.y});

export const times = (factor: number, p: Point): Point => ({x: factor * p.x, y: factor * p.y});

/** Product of two points read as complex numbers. */
export const product = (p: Point, q: Point): Point => ({x: p.x * q.x - p.y * q.y, y: p.x * q.y + p.y * q.x});

/** Quotient of two points read as complex numbers; the caller sees to it that q is not the origin. */
export function quotient(p: Point, q: Point): Point {
  const size = q.x * q.x + q.y * q.y;
  return {x: (p.x * q.x + p.y * q.y) / size, y: (p.y * q.x - p.x * q.y) / size};
}

/** The unit vector at an angle, e^{i·angle}. */
export const unit = (degrees: number): Point => ({x: cosd(degrees), y: sind(degrees)});

export const ORIGIN: Point = {x: 0, y: 0};

export const sum = (points: readonly Point[]): Point => points.reduce(plus, ORIGIN);

/** Vector difference whole − known, as in tire = assembly − rim. */
export const difference = (whole: Vector, known: Vector): Vector => vector(minus(point(whole), point(known)));

/** Vector sum of any number of vectors. */
export const resultant = (vectors: readonly Vector[]): Vector => vector(sum(vectors.map(point)));
