/** Findings and instructions in words. */
import {shortWay} from '../../maths/angles';
import {clock} from '../../maths/clock';
import {arcLength} from '../../maths/match';
import type {Finding} from '../../maths/assess';

export {CAUTIONS} from '../../workbook/record/words';

export const FINDINGS: Readonly<Record<Finding, {readonly title: string; readonly next: string}>> = {
  accept: {title: 'Accept', next: 'Round enough: balance it.'},
  remeasure: {
    title: 'Measure again',
    next: 'Too close to the limit to decide. Clean the seats, clamp the wheel anew and take more readings.',
  },
  'match mount': {
    title: 'Turn the tire on the rim',
    next: 'Both parts are usable; turned on the rim, the high point of the tire meets the low point of the rim.',
  },
  'replace tire': {
    title: 'Replace the tire',
    next: 'No turn on this rim brings the assembly within its limit, and the tire is at fault.',
  },
  'replace rim': {
    title: 'Replace the rim',
    next: 'No turn of this tire brings the assembly within its limit, and the rim is at fault.',
  },
  'replace both': {
    title: 'Replace tire and rim',
    next: 'No turn brings the assembly within its limit, and both parts are at fault.',
  },
};

/** How to turn the tire on the rim, step by step. */
export function instruction(turn: number, clockwise: boolean, rimDiameterMm: number | undefined): string[] {
  const way = shortWay(turn);
  if (Math.round(way) === 0) return ['Leave the tire where it is on the rim.'];
  const time = clock(turn, clockwise);
  const side = way > 0 === clockwise ? 'clockwise' : 'counter-clockwise';
  const along =
    rimDiameterMm === undefined
      ? ''
      : ` That is ${Math.round(Math.abs(arcLength(turn, rimDiameterMm)))} mm along the edge of the rim.`;
  return [
    'Chalk the tire at the valve hole.',
    'Demount the tire.',
    `Turn it ${Math.abs(Math.round(way))}° ${side}, seen from outboard: with the valve at 12, the chalk goes to ${time} o’clock.${along}`,
    'Mount it, inspect bead and sensor, measure again and balance.',
  ];
}

/** A number with a true minus sign, as text has it. */
export const signed = (value: number): string => String(value).replace('-', '−');
