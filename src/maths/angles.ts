/** Angles in degrees from the valve hole, increasing in the direction in which the readings are numbered. */

export const RADIAN = 180 / Math.PI;

/** Any angle brought into [0, 360). */
export function turned(degrees: number): number {
  const rest = degrees % 360;
  // A tiny negative rest rounds to 360 when a full turn is added; that is 0. "+ 0" turns -0 into 0.
  const angle = rest < 0 ? rest + 360 : rest + 0;
  return angle === 360 ? 0 : angle;
}

/** The same turn the short way round, in (-180, 180]; half a turn is positive. */
export function shortWay(degrees: number): number {
  const angle = turned(degrees);
  return angle > 180 ? angle - 360 : angle;
}

/** Size of the angle less whole turns. A remainder costs as much as the sine: most angles need none. */
function withinTurn(degrees: number): number {
  const size = Math.abs(degrees);
  return size < 360 ? size : size % 360;
}

/**
 * Sine of an angle in degrees. Reducing in degrees first keeps multiples of 90° and 30° exact, so that opposite
 * vectors cancel to zero and not to 1e-17.
 */
export function sind(degrees: number): number {
  let angle = withinTurn(degrees);
  let sign = degrees < 0 ? -1 : 1;
  if (angle >= 180) {
    angle -= 180;
    sign = -sign;
  }
  if (angle > 90) angle = 180 - angle;
  if (angle === 30) return sign * 0.5;
  return sign * (angle <= 45 ? Math.sin(angle / RADIAN) : Math.cos((90 - angle) / RADIAN)) + 0;
}

/** Cosine of an angle in degrees, as exact as {@link sind}. */
export function cosd(degrees: number): number {
  return sind(90 - withinTurn(degrees));
}

/** Direction of the point (x, y) in [0, 360); 0 for the origin. */
export function direction(x: number, y: number): number {
  if (x === 0 && y === 0) return 0;
  const degrees = Math.atan2(y, x) * RADIAN;
  if (degrees >= 0) return degrees + 0;
  // A tiny negative angle rounds to 360 when a full turn is added; that is 0.
  return degrees + 360 === 360 ? 0 : degrees + 360;
}
