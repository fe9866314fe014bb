/**
 * Steps for the peak-to-peak of a fitted curve, as src/maths/swing.ts works it out: heights on a grid of the turn, and
 * at each of its local extremes a parabola through three points and one step of Newton's method.
 */
import {gridPoints} from '../../maths/swing';
import {times, upTo} from './fit';
import type {Steps} from './steps';

/** Harmonics of a curve: symbols of its cosine and sine coefficients. */
export interface Wave {
  readonly cos: (order: number) => string;
  readonly sin: (order: number) => string;
}

export const GRID = 'grid';

/** The grid of the turn: number g and angle ϑ of each point. */
export function gridSteps(s: Steps, maxOrder: number): void {
  const points = gridPoints(maxOrder);
  s.rows(GRID, points)
    .columnConstant(GRID, 'g', upTo(points), 'grid point')
    .figure('G', `360/${points}`, {unit: '°', says: 'step of the grid'})
    .column(GRID, 'ϑ', 'G*(g - 1)', 'angle on the grid', '°');
}

/** Harmonics of a curve at an angle, as an expression. */
export const heightText = (wave: Wave, angle: string, maxOrder: number): string =>
  upTo(maxOrder)
    .map((k) => `${wave.cos(k)}*cosd(${times(k, angle)}) + ${wave.sin(k)}*sind(${times(k, angle)})`)
    .join(' + ');

/**
 * Peak-to-peak of a curve as the figure `symbol`; `mark` tells its columns from those of other curves.
 * A curve of K harmonics has up to 2K extremes; on the grid two points may share one.
 */
export function swingSteps(
  s: Steps,
  symbol: string,
  mark: string,
  wave: Wave,
  maxOrder: number,
  says: string,
  unit: string,
  part?: string,
): void {
  const name = (base: string): string => `${base}_${mark}`;
  const [h, c, extremes] = [name('h'), name('c'), `extremes ${mark}`];
  const [before, after] = [`previous(${h})`, `next(${h})`];
  const top = `${h} >= ${before} and ${h} >= ${after} and (${h} > ${before} or ${h} > ${after})`;
  const bottom = `${h} <= ${before} and ${h} <= ${after} and (${h} < ${before} or ${h} < ${after})`;
  s.column(GRID, h, heightText(wave, 'ϑ', maxOrder), `height (${says})`, unit)
    .column(GRID, c, `above(${c}, 0) + ((${top}) or (${bottom}) ? 1 : 0)`, 'extremes up to here')
    .figure(name('E'), `max(${c})`, {says: `local extremes on the grid (${says})`});

  const count = 4 * maxOrder;
  const [r, at, a, b, d] = [name('r'), name('o'), name('x'), name('y'), name('z')];
  const [place, slope, bend, peak, height] = [name('p'), name('s'), name('k'), name('q'), name('e')];
  const there = (expression: string): string => `${r} <= ${name('E')} ? ${expression} : ""`;
  const points = gridPoints(maxOrder);
  const slopes = upTo(maxOrder).map((k) => {
    const angle = times(k, place);
    return times(k, `(${wave.sin(k)}*cosd(${angle}) - ${wave.cos(k)}*sind(${angle}))`);
  });
  const bends = upTo(maxOrder).map((k) => {
    const angle = times(k, place);
    return times(k * k, `(${wave.cos(k)}*cosd(${angle}) + ${wave.sin(k)}*sind(${angle}))`);
  });
  s.rows(extremes, count)
    .columnConstant(extremes, r, upTo(count), 'number of the extreme')
    .column(extremes, at, there(`lookup(${r}, ${c}, g)`), 'its grid point')
    .column(extremes, a, there(`lookup(${at} == 1 ? ${points} : ${at} - 1, g, ${h})`), 'height before it')
    .column(extremes, b, there(`lookup(${at}, g, ${h})`), 'height there')
    .column(extremes, d, there(`lookup(${at} == ${points} ? 1 : ${at} + 1, g, ${h})`), 'height after it')
    .column(extremes, place, there(`G*(${at} - 1 + (${d} - ${a})/(2*(2*${b} - ${a} - ${d})))`), 'vertex', '°')
    .column(extremes, slope, there(slopes.join(' + ')), 'slope there')
    .column(extremes, bend, there(`-(${bends.join(' + ')})`), 'bend there')
    .column(
      extremes,
      peak,
      there(`(abs(${slope}) < G*pi/180*abs(${bend}) ? ${place} - ${slope}/${bend}*180/pi : ${place})`),
      'where the extreme is',
      '°',
    )
    .column(extremes, height, there(heightText(wave, peak, maxOrder)), 'height of the extreme', unit)
    .figure(symbol, `greater(max(${h}), max(${height})) - lesser(min(${h}), min(${height}))`, {unit, says, part});
}

/** Harmonics of rim(θ) + tire(θ − turn), written down under names with a mark. */
export function turnedSumSteps(s: Steps, mark: string, rim: Wave, tire: Wave, turn: string, maxOrder: number): Wave {
  const sum: Wave = {cos: (k) => `u${mark}_${k}`, sin: (k) => `v${mark}_${k}`};
  for (const k of upTo(maxOrder)) {
    const angle = times(k, turn);
    s.figure(sum.cos(k), `${rim.cos(k)} + ${tire.cos(k)}*cosd(${angle}) - ${tire.sin(k)}*sind(${angle})`, {
      says: `order ${k} of rim and turned tire: cosine`,
    }).figure(sum.sin(k), `${rim.sin(k)} + ${tire.cos(k)}*sind(${angle}) + ${tire.sin(k)}*cosd(${angle})`, {
      says: `order ${k} of rim and turned tire: sine`,
    });
  }
  return sum;
}
