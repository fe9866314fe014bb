/** Workings of the control chart and of the test of angles. */
import type {Readings} from '../../maths/readings';
import {as, upTo} from './fit';
import {ROUNDING, type Steps} from './steps';

/** A column of values with gaps: y as it stands, w 1 where one is there, v with 0 for a gap, n of them. */
function values(s: Steps, readings: Readings, says: string, unit?: string): void {
  s.rows(readings.name, readings.positions)
    .columnConstant(readings.name, 'i', upTo(readings.positions), 'number')
    .columnInput(readings.name, 'y', readings.name, says, undefined, unit)
    .column(readings.name, 'w', 'present(y)', '1 where one is there')
    .column(readings.name, 'v', 'w == 1 ? y : 0', `${says}, 0 where none is there`, unit)
    .figure('n', 'sum(w)', {says: 'how many are there'});
}

export function controlSteps(s: Steps, {values: readings}: {values: Readings}): void {
  values(s, readings, 'value', 'as values');
  s.column('values', 'k', 'i == 1 ? 0 : (w == 1 and above(w, 0) == 1 ? 1 : 0)', '1 where the value before is there too')
    .column('values', 'd', 'k == 1 ? abs(v - above(v, 0)) : 0', 'moving range', 'as values')
    .figure('mean', 'sum(v)/n', as('values', 'mean', 'mean'))
    .figure('R', 'sum(d)/sum(k)', as('values', 'mean moving range'))
    .figure('reach', '3*R/1.128', as('values', 'three standard deviations by the mean moving range'))
    .figure('least', 'mean - reach', as('values', 'lower control limit', 'lower'))
    .figure('most', 'mean + reach', as('values', 'upper control limit', 'upper'))
    .column('values', 'o', 'w == 1 ? (v < least or v > most ? 1 : 0) : 0', '1 strictly outside')
    .figure('out', 'sum(o)', {says: 'values strictly outside', part: 'out'});
}

export function angleTestSteps(s: Steps, {angles}: {angles: Readings}): void {
  values(s, angles, 'angle', '°');
  s.figure('M_x', 'sum(w*cosd(v))/n', {says: 'mean of the cosines'})
    .figure('M_y', 'sum(w*sind(v))/n', {says: 'mean of the sines'})
    .figure('length', 'lesser(1, sqrt(M_x^2 + M_y^2))', {says: 'mean resultant length', part: 'length'})
    .figure('mean', `length > ${ROUNDING} ? direction(M_x, M_y) : none()`, {
      unit: '°',
      says: 'circular mean; none where the angles cancel each other',
      part: 'mean',
      around: 360,
    })
    .figure('p', 'exp(sqrt(1 + 4*n + 4*n^2*(1 - length^2)) - (1 + 2*n))', {
      says: 'Rayleigh’s test with Zar’s approximation',
      part: 'p',
    });
}
