import {turned} from './angles';

/**
 * An angle as a clock face seen from outboard, valve hole at 12, to the nearest quarter hour, halves up. Counted
 * clockwise, or for shops that number the other way counter-clockwise.
 */
export function clock(angle: number, clockwise: boolean): string {
  const quarters = Math.floor(turned(clockwise ? angle : -angle) / 7.5 + 0.5 + 1e-9) % 48;
  const hour = Math.floor(quarters / 4);
  return `${hour === 0 ? 12 : hour}:${String((quarters % 4) * 15).padStart(2, '0')}`;
}
