/** Steps of a harmonic fit, shared by the workings of all functions that make one. */
import {fittedOrders} from '../maths/basis';
import type {Angles, Readings} from '../maths/readings';
import type {Steps} from './steps';

export interface FitNames {
  /** Argument with the readings; also the name of the row set. */
  readonly readings: Readings;
  readonly angles: Angles | undefined;
  /** Highest order asked for. */
  readonly order: number;
  /** Appended to every symbol, so that several fits stand in one working. */
  readonly mark?: string;
}

/** k times a symbol, without a factor of 1 to read. */
const times = (k: number, symbol: string): string => (k === 1 ? symbol : `${k}*${symbol}`);

/** Symbols of a fit that has been written down. */
export interface FitSymbols {
  readonly orders: number;
  readonly rows: string;
  readonly mean: string;
  cos(order: number): string;
  sin(order: number): string;
  /** Column of the angles, and of 1 where a reading is there. */
  readonly angle: string;
  readonly there: string;
  /** Column of the readings with 0 where one is missing, and block of the regressors. */
  readonly reading: string;
  readonly block: string;
  readonly count: string;
}

/**
 * Writes down mean and harmonics of readings. Even and complete angles: sums over the readings. Otherwise least squares
 * with LINEST's own coefficients, every column 0 where a reading is missing, so that a reading blanked later is left out
 * by the same formulas.
 */
export function fitSteps(s: Steps, {readings, angles, order, mark = ''}: FitNames): FitSymbols {
  const rows = readings.name;
  const n = readings.present;
  const orders = fittedOrders(order, n);
  const name = (symbol: string): string => `${symbol}${mark}`;
  const symbols: FitSymbols = {
    orders,
    rows,
    mean: name('m'),
    cos: (k) => name(`a_${k}`),
    sin: (k) => name(`b_${k}`),
    angle: name('θ'),
    there: name('w'),
    reading: name('v'),
    block: name('M'),
    count: name('n'),
  };
  s.rows(rows, readings.positions)
    .columnFound(
      rows,
      name('i'),
      Array.from({length: readings.positions}, (_, i) => i + 1),
      'position',
    )
    .columnInput(rows, name('y'), rows, `reading (${rows})`);
  if (angles === undefined && n === readings.positions) even(s, symbols, name);
  else uneven(s, symbols, name, angles);
  return symbols;
}

function even(s: Steps, f: FitSymbols, name: (symbol: string) => string): void {
  s.column(f.rows, f.angle, `360*(${name('i')} - 1)/max(${name('i')})`, 'even steps from 0°', '°')
    .column(f.rows, f.there, `present(${name('y')})`, '1 where a reading is there')
    .column(f.rows, f.reading, `${f.there} == 1 ? ${name('y')} : 0`, 'reading')
    .figure(f.count, `sum(${f.there})`, {says: 'readings present; all of them: sums give the least-squares fit'})
    .figure(f.mean, `sum(${f.reading})/${f.count}`, {says: 'mean'});
  for (let k = 1; k <= f.orders; k++) {
    s.figure(f.cos(k), `2/${f.count}*sum(${f.reading}*cosd(${times(k, f.angle)}))`, {
      says: `cosine coefficient of order ${k}`,
    });
    s.figure(f.sin(k), `2/${f.count}*sum(${f.reading}*sind(${times(k, f.angle)}))`, {
      says: `sine coefficient of order ${k}`,
    });
  }
}

function uneven(s: Steps, f: FitSymbols, name: (symbol: string) => string, angles: Angles | undefined): void {
  s.column(f.rows, f.there, `present(${name('y')})`, '1 where a reading is there');
  if (angles === undefined)
    s.column(f.rows, f.angle, `360*(${name('i')} - 1)/max(${name('i')})`, 'even steps from 0°', '°');
  else {
    s.columnInput(f.rows, name('φ'), angles.name, 'angle given').column(
      f.rows,
      f.angle,
      `${f.there} == 1 ? ${name('φ')} : 0`,
      'angle of a reading that is there',
      '°',
    );
  }
  s.column(f.rows, f.reading, `${f.there} == 1 ? ${name('y')} : 0`, 'reading, 0 where it is missing');
  const columns = [name('u')];
  s.column(f.rows, name('u'), f.there, 'for the mean');
  for (let k = 1; k <= f.orders; k++) {
    columns.push(name(`c_${k}`), name(`s_${k}`));
    s.column(f.rows, name(`c_${k}`), `${f.there}*cosd(${times(k, f.angle)})`).column(
      f.rows,
      name(`s_${k}`),
      `${f.there}*sind(${times(k, f.angle)})`,
    );
  }
  s.block(f.rows, f.block, columns)
    .figure(f.count, `sum(${f.there})`, {says: 'readings present'})
    .figure(f.mean, `coefficient(1, ${f.reading}, ${f.block})`, {says: 'mean, by least squares'});
  for (let k = 1; k <= f.orders; k++) {
    s.figure(f.cos(k), `coefficient(${2 * k}, ${f.reading}, ${f.block})`, {says: `cosine coefficient of order ${k}`});
    s.figure(f.sin(k), `coefficient(${2 * k + 1}, ${f.reading}, ${f.block})`, {says: `sine coefficient of order ${k}`});
  }
}

/** Peak-to-peak amount and first high point of one harmonic of a fit. */
export function harmonicSteps(
  s: Steps,
  f: FitSymbols,
  order: number,
  amount: string,
  angle: string,
  answer = true,
): void {
  const [a, b] = [f.cos(order), f.sin(order)];
  s.figure(amount, `2*sqrt(${a}^2 + ${b}^2)`, {says: 'peak-to-peak', ...(answer ? {part: 'amount'} : {})});
  s.figure(angle, order === 1 ? `direction(${a}, ${b})` : `direction(${a}, ${b})/${order}`, {
    unit: '°',
    says: 'first high point',
    ...(answer ? {part: 'angle', around: 360 / order} : {}),
  });
}

/** Residual standard deviation of a fit; undefined symbol names are given by the caller. */
export function scatterSteps(s: Steps, f: FitSymbols, e: string, freedom: string, deviation: string): void {
  const wave = Array.from({length: f.orders}, (_, i) => i + 1)
    .map((k) => ` + ${f.cos(k)}*cosd(${times(k, f.angle)}) + ${f.sin(k)}*sind(${times(k, f.angle)})`)
    .join('');
  s.column(f.rows, e, `${f.reading} - ${f.there}*(${f.mean}${wave})`, 'what the fit leaves')
    .figure(freedom, `${f.count} - ${2 * f.orders + 1}`, {says: 'degrees of freedom'})
    .figure(deviation, `sqrt(sum(${e}^2)/${freedom})`, {says: 'residual standard deviation'});
}
