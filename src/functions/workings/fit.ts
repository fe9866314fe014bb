/** Steps of a harmonic fit, shared by the workings of all functions that make one. */
import {fittedOrders} from '../../maths/basis';
import type {Angles, Readings} from '../../maths/readings';
import {ROUNDING, type FigureOptions, type Steps, type Vanishing} from './steps';

export interface FitOptions {
  /** Argument with the readings; also the name of the row set. */
  readonly readings: Readings;
  readonly angles: Angles | undefined;
  /** Highest order asked for. */
  readonly order: number;
  /** Appended to every symbol, so that several fits stand in one working. */
  readonly mark?: string;
  /** Fit exactly the orders asked for, and none that the readings would allow beyond. */
  readonly exactly?: boolean;
  /** Write the regressors down even where sums would do, for what is worked out from them. */
  readonly regressors?: boolean;
}

/** Symbols of a fit that has been written down. */
export interface FitSymbols {
  readonly orders: number;
  readonly rows: string;
  /** Sums over the readings give the coefficients: even angles, none missing. */
  readonly even: boolean;
  readonly name: (symbol: string) => string;
  readonly mean: string;
  readonly cos: (order: number) => string;
  readonly sin: (order: number) => string;
  /** Column of the position numbers, and of the readings as they stand. */
  readonly position: string;
  readonly raw: string;
  /** Column of the angles, and of 1 where a reading is there. */
  readonly angle: string;
  readonly there: string;
  /** Column of the readings with 0 where one is missing, and block of the regressors. */
  readonly reading: string;
  readonly block: string;
  readonly count: string;
  /** Total indicator reading, beside which a harmonic may be nothing but rounding. */
  readonly span: string;
  /** Largest reading by its size: equal readings leave rounding of it where the span is 0. */
  readonly size: string;
}

/** k times a symbol, without a factor of 1 to read. */
export const times = (k: number, symbol: string): string => (k === 1 ? symbol : `${k}*${symbol}`);

/** Orders 1 to `orders`. */
export const upTo = (orders: number): number[] => Array.from({length: orders}, (_, i) => i + 1);

/**
 * Writes down mean and harmonics of readings. Even and complete angles: sums over the readings. Otherwise least squares
 * with LINEST's own coefficients, every column 0 where a reading is missing, so that a reading blanked later is left out
 * by the same formulas. How many harmonics are fitted follows from the readings present at the time of writing.
 */
export function fitSteps(s: Steps, options: FitOptions): FitSymbols {
  const {readings, angles, order, mark = '', exactly = false, regressors = false} = options;
  const rows = readings.name;
  const name = (symbol: string): string => `${symbol}${mark}`;
  const f: FitSymbols = {
    orders: exactly ? order : fittedOrders(order, readings.present),
    rows,
    even: angles === undefined && readings.present === readings.positions,
    name,
    mean: name('m'),
    cos: (k) => name(`a_${k}`),
    sin: (k) => name(`b_${k}`),
    position: name('i'),
    raw: name('y'),
    angle: name('θ'),
    there: name('w'),
    reading: name('v'),
    block: name('M'),
    count: name('n'),
    span: name('T'),
    size: name('Y'),
  };
  s.rows(rows, readings.positions)
    .columnConstant(rows, f.position, upTo(readings.positions), 'position')
    .columnInput(rows, f.raw, rows, `reading (${rows})`)
    .column(rows, f.there, `present(${f.raw})`, '1 where a reading is there');
  angleColumn(s, f, angles);
  s.column(rows, f.reading, `${f.there} == 1 ? ${f.raw} : 0`, 'reading, 0 where it is missing')
    .figure(f.count, `sum(${f.there})`, {says: 'readings present'})
    .figure(f.span, `max(${f.raw}) - min(${f.raw})`, {unit: `as ${rows}`, says: 'total indicator reading'})
    .figure(f.size, `greater(max(${f.raw}), -min(${f.raw}))`, {
      unit: `as ${rows}`,
      says: 'largest reading by its size',
    });
  if (regressors || !f.even) regressorColumns(s, f);
  if (f.even && !regressors) sums(s, f);
  else leastSquares(s, f);
  if (!exactly) regime(s, f, order);
  return f;
}

function angleColumn(s: Steps, f: FitSymbols, angles: Angles | undefined): void {
  if (angles === undefined) {
    s.column(f.rows, f.angle, `360*(${f.position} - 1)/max(${f.position})`, 'even steps from 0°', '°');
    return;
  }
  const given = f.name('φ');
  s.columnInput(f.rows, given, angles.name, 'angle given', undefined, '°');
  s.column(f.rows, f.angle, `${f.there} == 1 ? ${given} : 0`, 'angle of a reading that is there', '°');
}

/** The number of readings decides how many harmonics are fitted; a 0 here says that the working wants writing again. */
function regime(s: Steps, f: FitSymbols, order: number): void {
  const wanted = `greater(${order}, lesser(4, floor((${f.count} - 2)/2)))`;
  const complete = f.even ? ` and ${f.count} == max(${f.position})` : '';
  s.figure(f.name('fits'), `${wanted} == ${f.orders}${complete} ? 1 : 0`, {
    says: `1 while the readings present call for harmonics up to ${f.orders}${f.even ? ' and none is missing' : ''}, as written here`,
  });
}

function sums(s: Steps, f: FitSymbols): void {
  const unit = `as ${f.rows}`;
  s.figure(f.mean, `sum(${f.reading})/${f.count}`, {unit, says: 'mean'});
  for (const k of upTo(f.orders)) {
    s.figure(f.cos(k), `2/${f.count}*sum(${f.reading}*cosd(${times(k, f.angle)}))`, {
      unit,
      says: `cosine coefficient of order ${k}`,
    });
    s.figure(f.sin(k), `2/${f.count}*sum(${f.reading}*sind(${times(k, f.angle)}))`, {
      unit,
      says: `sine coefficient of order ${k}`,
    });
  }
}

/** Columns of the regressors, 0 where a reading is missing, and the block of them. */
function regressorColumns(s: Steps, f: FitSymbols): void {
  const columns = copyRegressors(s, f, '', (k) => ({
    cos: `${f.there}*cosd(${times(k, f.angle)})`,
    sin: `${f.there}*sind(${times(k, f.angle)})`,
  }));
  s.block(f.rows, f.block, columns);
}

/**
 * Writes regressor columns under names of their own and gives these.
 * @param of cosine and sine column of an order, as expressions
 * @param constant the column for the mean
 */
export function copyRegressors(
  s: Steps,
  f: FitSymbols,
  mark: string,
  of: (order: number) => {cos: string; sin: string} = (k) => ({cos: f.name(`c_${k}`), sin: f.name(`s_${k}`)}),
  constant = f.there,
): string[] {
  const columns = [f.name(`u${mark}`)];
  s.column(f.rows, columns[0], constant, 'for the mean');
  for (const k of upTo(f.orders)) {
    const [c, d] = [f.name(`c${mark}_${k}`), f.name(`s${mark}_${k}`)];
    columns.push(c, d);
    const {cos, sin} = of(k);
    s.column(f.rows, c, cos).column(f.rows, d, sin);
  }
  return columns;
}

function leastSquares(s: Steps, f: FitSymbols): void {
  const unit = `as ${f.rows}`;
  const coefficient = (j: number): string => `coefficient(${j}, ${f.reading}, ${f.block})`;
  s.figure(f.mean, coefficient(1), {unit, says: 'mean, by least squares'});
  for (const k of upTo(f.orders)) {
    s.figure(f.cos(k), coefficient(2 * k), {unit, says: `cosine coefficient of order ${k}`});
    s.figure(f.sin(k), coefficient(2 * k + 1), {unit, says: `sine coefficient of order ${k}`});
  }
}

/**
 * Peak-to-peak amount and first high point of one harmonic of a fit; `part` and `row` mark them as answers.
 * A harmonic that is nothing but rounding has no high point: 0.
 */
export function harmonicSteps(
  s: Steps,
  f: FitSymbols,
  order: number,
  amount: string,
  angle: string,
  answer: {amount?: string; angle?: string; row?: number} = {},
): Vanishing {
  const [a, b] = [f.cos(order), f.sin(order)];
  const {row = 1} = answer;
  const vanishing = {size: amount, whole: f.size};
  s.figure(amount, `2*sqrt(${a}^2 + ${b}^2)`, {
    unit: `as ${f.rows}`,
    says: `order ${order}, peak-to-peak`,
    part: answer.amount,
    row,
  });
  const high = order === 1 ? `direction(${a}, ${b})` : `direction(${a}, ${b})/${order}`;
  s.figure(angle, `${amount} <= ${ROUNDING}*${f.size} ? 0 : ${high}`, {
    unit: '°',
    says: `first high point of order ${order}`,
    part: answer.angle,
    row,
    around: 360 / order,
    vanishing,
  });
  return vanishing;
}

/** The curve of a fit at an angle: mean and harmonics 1 to `orders`, as an expression. */
export function curveText(f: FitSymbols, angle: string, orders = f.orders): string {
  const waves = upTo(orders).map(
    (k) => ` + ${f.cos(k)}*cosd(${times(k, angle)}) + ${f.sin(k)}*sind(${times(k, angle)})`,
  );
  return `${f.mean}${waves.join('')}`;
}

/**
 * What the fit leaves, its degrees of freedom and the residual standard deviation, none without a degree of freedom;
 * under the names e, ν, σ and t with the fit's mark.
 */
export function scatterSteps(s: Steps, f: FitSymbols): {freedom: string; deviation: string; t: string} {
  const [e, freedom, deviation, t] = [f.name('e'), f.name('ν'), f.name('σ'), f.name('t')];
  s.column(f.rows, e, `${f.reading} - ${f.there}*(${curveText(f, f.angle)})`, 'what the fit leaves')
    .figure(freedom, `${f.count} - ${2 * f.orders + 1}`, {says: 'degrees of freedom'})
    .figure(deviation, `${freedom} > 0 ? sqrt(sum(${e}^2)/${freedom}) : none()`, {
      unit: `as ${f.rows}`,
      says: 'residual standard deviation',
    })
    .figure(t, `${freedom} > 0 ? student(0.05, ${freedom}) : none()`, {says: 'Student’s t for 95 %'});
  return {freedom, deviation, t};
}

/** A fit that leaves less than this share of the readings leaves rounding. */
const EXACT = 1e-13;

/**
 * For each order of a fit, how uncertain its part towards a direction is: standard error of the coefficient along the
 * axis turned to it ÷ residual standard deviation, as a figure `symbol(order)`. For even angles the same for all.
 *
 * @param high direction, in degrees of the order's own turn, of each order of interest
 */
export function spreadSteps(
  s: Steps,
  f: FitSymbols,
  mark: string,
  high: ReadonlyMap<number, string>,
  symbol: (order: number) => string,
): void {
  const says = (k: number) => `order ${k}: standard error along its axis ÷ residual standard deviation`;
  if (f.even) {
    for (const k of high.keys()) s.figure(symbol(k), `sqrt(2/${f.count})`, {says: says(k)});
    return;
  }
  const block = f.name(`Q${mark}`);
  const columns = copyRegressors(s, f, mark, (k) => {
    const axis = high.get(k);
    if (axis === undefined) return {cos: f.name(`c_${k}`), sin: f.name(`s_${k}`)};
    const turned = `${times(k, f.angle)} - ${axis}`;
    return {cos: `${f.there}*cosd(${turned})`, sin: `${f.there}*sind(${turned})`};
  });
  s.block(f.rows, block, columns);
  const [freedom, deviation] = [f.name('ν'), f.name('σ')];
  for (const k of high.keys()) {
    const along = `spread(${2 * k}, ${f.reading}, ${block})`;
    s.figure(symbol(k), `${freedom} > 0 ? (${deviation} > ${EXACT}*${f.size} ? ${along} : 0) : none()`, {
      says: says(k),
    });
  }
}

/** Options of a figure in the unit of an argument. */
export const as = (argument: string, says: string, part?: string): FigureOptions => ({
  unit: `as ${argument}`,
  says,
  part,
});
