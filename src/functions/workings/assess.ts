/** Workings of the functions that say what to do with an assembly. */
import {assess} from '../../maths/assess';
import {assessReadings} from '../../maths/assessReadings';
import {fit, type Wave as Fitted} from '../../maths/harmonics';
import {matchCurve} from '../../maths/matchCurve';
import type {Angles, Readings} from '../../maths/readings';
import type {Vector} from '../../maths/vectors';
import {peakToPeak} from '../../maths/swing';
import {less, mean} from '../../maths/waves';
import {as, fitSteps, harmonicSteps, scatterSteps, spreadSteps, upTo, type FitSymbols} from './fit';
import {ROUNDING, type Steps} from './steps';
import {gridSteps, swingSteps, turnedSumSteps, type Wave} from './swing';
import {partsSteps, polarSteps, sumSteps} from './vector';

interface Assessed {
  readonly assembly: Vector;
  readonly rim: Vector;
  readonly limits: readonly number[];
  readonly plusminus: readonly number[];
}

export function assessSteps(s: Steps, {assembly, rim, limits, plusminus}: Assessed): void {
  const [plus, plusAfter = plus] = plusminus;
  const {reason} = assess(assembly, rim, {assembly: limits[0], rim: limits[1]}, {assembly: plus, after: plusAfter});
  s.vector('a', 'α', 'assembly').vector('r', 'ρ', 'rim');
  const whole = partsSteps(s, 'A', 'a', 'α', 'as assembly');
  const known = partsSteps(s, 'R', 'r', 'ρ', 'as assembly');
  s.input('L', 'limits', 0, 'as assembly', 'limit of the assembly').input(
    'L_r',
    'limits',
    1,
    'as assembly',
    'limit of the rim',
  );
  s.input('p', 'plusminus', 0, 'as assembly', '95 % half-width of the assembly’s runout');
  if (plusminus.length > 1) s.input('q', 'plusminus', 1, 'as assembly', '95 % half-width of what a match leaves');
  else s.figure('q', 'p', as('assembly', '95 % half-width of what a match leaves: the same'));
  s.figure('whole', 'a + r', as('assembly', 'sizes added up'));
  const rest = sumSteps(s, 'T', `${whole.x} - ${known.x}`, `${whole.y} - ${known.y}`, 'as assembly', 'assembly − rim');
  polarSteps(s, rest, {amount: 't', angle: 'τ', unit: 'as assembly', whole: 'whole', says: 'tire'});
  s.figure('after', 'abs(r - t)', as('assembly', 'what the best match leaves', 'after'));
  s.figure('turn', 'r == 0 or t == 0 ? 0 : turned(180 + ρ - τ)', {
    unit: '°',
    says: 'high point of the tire opposite that of the rim',
    part: 'turn',
    around: 360,
    vanishing: {size: 't', whole: 'whole'},
  });
  s.figure('finding', findingText({a: 'a', r: 'r', t: 't', p: 'p', q: 'q'}), {
    says: 'by the rule, in its order',
    part: 'finding',
  }).found('reason', reason, '', 'the finding in a sentence', {part: 'reason'});
}

/** The rule, from the symbols of its figures; L and L_r are the limits, `after` is what the best match leaves. */
function findingText({a, r, t, p, q}: Readonly<Record<'a' | 'r' | 't' | 'p' | 'q', string>>): string {
  const larger = `(${r} > ${t} ? "replace rim" : "replace tire")`;
  const one = `(${r} > L_r ? "replace rim" : (${t} > L ? "replace tire" : ${larger}))`;
  const replace = `(${r} > L_r and ${t} > L ? "replace both" : ${one})`;
  return `abs(${a} - L) < ${p} ? "remeasure" : (${a} <= L ? "accept" : (after + ${q} <= L ? "match mount" : ${replace}))`;
}

interface Wheel {
  readonly assembly: Readings;
  readonly rimInner: Readings;
  readonly rimOuter: Readings;
  readonly limits: readonly number[];
  readonly maxOrder: number;
  readonly angles: Angles | undefined;
}

export function assessReadingsSteps(s: Steps, wheel: Wheel): void {
  const {maxOrder, angles, limits} = wheel;
  const fitted = (readings: Readings, mark: string): FitSymbols => {
    const f = fitSteps(s, {readings, angles, order: maxOrder, mark});
    scatterSteps(s, f);
    return f;
  };
  const [whole, inner, outer] = [fitted(wheel.assembly, 'a'), fitted(wheel.rimInner, 'b'), fitted(wheel.rimOuter, 'c')];
  ['', '_r', '_t']
    .slice(0, limits.length)
    .forEach((index, i) =>
      s.input(
        `L${index}`,
        'limits',
        i,
        'as assembly',
        `limit of ${['the assembly', 'the rim', 'the assembly’s whole curve'][i]}`,
      ),
    );
  harmonicSteps(s, whole, 1, 'assembly', 'α', {amount: 'assembly'});
  const [rim, tire] = partSteps(s, whole, inner, outer, maxOrder);
  uncertaintySteps(s, whole, inner, outer);
  s.figure('after', 'abs(rim - tire)', as('assembly', 'what the best match leaves'))
    .figure('best', 'rim == 0 or tire == 0 ? 0 : turned(180 + ρ - τ)', {unit: '°', says: 'turn of the best match'})
    .figure(
      'first',
      `ν > 0 ? (${findingText({a: 'assembly', r: 'rim', t: 'tire', p: 'plusminus', q: 'plusafter'})}) : "remeasure"`,
      {says: 'by the rule on first harmonics; without a degree of freedom: measure again'},
    );
  if (limits.length < 3) plainSteps(s);
  else curveSteps(s, wheel, whole, rim, tire);
  const [limit, rimLimit, total] = limits;
  const {reason} = assessReadings(wheel, {assembly: limit, rim: rimLimit, total}, maxOrder, angles);
  s.found('reason', reason, '', 'the finding in a sentence', {part: 'reason'});
}

/** Rim as the mean of its bead seats, tire as assembly − rim: harmonics, and amount and angle of the first. */
function partSteps(s: Steps, whole: FitSymbols, inner: FitSymbols, outer: FitSymbols, maxOrder: number): [Wave, Wave] {
  const rim: Wave = {cos: (k) => `a_${k}r`, sin: (k) => `b_${k}r`};
  const tire: Wave = {cos: (k) => `a_${k}t`, sin: (k) => `b_${k}t`};
  for (const k of upTo(maxOrder)) {
    for (const f of ['cos', 'sin'] as const) {
      s.figure(
        rim[f](k),
        `(${inner[f](k)} + ${outer[f](k)})/2`,
        as('assembly', `rim, order ${k}: mean of both bead seats`),
      );
      s.figure(tire[f](k), `${whole[f](k)} - ${rim[f](k)}`, as('assembly', `tire, order ${k}: assembly − rim`));
    }
  }
  s.figure('whole', `${whole.size} + ${inner.size} + ${outer.size}`, as('assembly', 'sizes added up'));
  for (const [name, angle, wave] of [
    ['rim', 'ρ', rim],
    ['tire', 'τ', tire],
  ] as const) {
    const [a, b] = [wave.cos(1), wave.sin(1)];
    s.figure(
      name,
      `2*sqrt(${a}^2 + ${b}^2)`,
      as('assembly', `first harmonic of the ${name}, peak-to-peak`, name),
    ).figure(angle, `direction(${a}, ${b})`, {unit: '°', says: 'its high point'});
  }
  return [rim, tire];
}

function uncertaintySteps(s: Steps, whole: FitSymbols, inner: FitSymbols, outer: FitSymbols): void {
  const direct = (mark: string, f: FitSymbols, angle: string, symbol: string): void =>
    spreadSteps(s, f, mark, new Map([[1, angle]]), () => symbol);
  direct('P', whole, 'α', 'g_p');
  s.figure('plusminus', 'νa > 0 ? 2*ta*σa*g_p : none()', as('assembly', '95 % half-width of the assembly', 'plusminus'))
    .figure('ν', 'lesser(νa, lesser(νb, νc))', {says: 'fewest degrees of freedom'})
    .figure('t', 'ν > 0 ? student(0.05, ν) : none()', {says: 'Student’s t for 95 %'});
  const both = sumSteps(s, 'q', 'cosd(ρ) + cosd(τ)', 'sind(ρ) + sind(τ)', '', 'directions of rim and tire added');
  s.figure('q', `sqrt(${both.x}^2 + ${both.y}^2)`, {says: 'size of that'}).figure(
    'ψ',
    `direction(${both.x}, ${both.y})`,
    {
      unit: '°',
      says: 'its direction',
    },
  );
  direct('U', whole, 'τ', 'g_a');
  direct('V', inner, 'ψ', 'g_b');
  direct('W', outer, 'ψ', 'g_c');
  s.figure(
    'plusafter',
    'ν > 0 ? 2*t*sqrt((σa*g_a)^2 + q^2*((σb*g_b)^2 + (σc*g_c)^2)/4) : none()',
    as('assembly', '95 % half-width of what the best match leaves', 'plusafter'),
  );
}

const TURN = {unit: '°', part: 'turn', around: 360, vanishing: {size: 'tire', whole: 'whole'}};

function plainSteps(s: Steps): void {
  s.answer('after', {part: 'after'})
    .figure('turn', 'best', {...TURN, says: 'turn of the tire'})
    .figure('finding', 'first', {says: 'finding', part: 'finding'});
}

/**
 * The assembly's whole curve counts too. What it decides when this is written decides which curves are written down; a
 * guard says when that is no longer so. The turn that is best for it is MATCHCURVE's, whose own working proves it.
 */
function curveSteps(s: Steps, wheel: Wheel, whole: FitSymbols, rim: Wave, tire: Wave): void {
  const {maxOrder, angles, limits} = wheel;
  const [assembly, inner, outer] = [wheel.assembly, wheel.rimInner, wheel.rimOuter].map((r) =>
    fit(r, maxOrder, angles),
  );
  const [rimWave, unit] = [mean(inner, outer), 'as assembly'];
  const tireWave = less(assembly, rimWave);
  const {finding, plusafter} = assessReadings(
    wheel,
    {assembly: limits[0], rim: limits[1], total: undefined},
    maxOrder,
    angles,
  );
  const decides =
    plusafter !== undefined && peakToPeak(assembly, maxOrder) > limits[2] && !finding.startsWith('replace');
  gridSteps(s, maxOrder);
  swingSteps(s, 'total', 'A', whole, maxOrder, 'peak-to-peak of the assembly’s curve', unit);
  s.figure(
    'decides',
    'ν > 0 and total > L_t and (same(first, "remeasure") or same(first, "accept") or same(first, "match mount")) ? 1 : 0',
    {says: '1 when the curve decides: it is beyond its limit and the first harmonic alone replaces nothing'},
  );
  if (!decides) {
    s.figure('written', 'decides == 0 ? 1 : 0', {says: '1 while the curve decides nothing, as written here'});
    plainSteps(s);
    return;
  }
  const {turn} = matchCurve(rimWave, tireWave, maxOrder);
  s.found(
    'curveturn',
    turn,
    '°',
    'turn that is best for the whole curve, found by search; the working of MATCHCURVE shows and proves it',
  );
  searchedSteps(s, [rim, rimWave], [tire, tireWave], maxOrder);
  const sum = turnedSumSteps(s, 'M', rim, tire, 'curveturn', maxOrder);
  swingSteps(s, 'curveafter', 'M', sum, maxOrder, 'peak-to-peak of the curve after it', unit);
  s.figure(
    'left',
    `2*sqrt(${sum.cos(1)}^2 + ${sum.sin(1)}^2)`,
    as('assembly', 'first harmonic after that turn'),
  ).figure('saves', 'curveafter <= L_t and left + plusafter <= L ? 1 : 0', {
    says: '1 when the turn brings curve and first harmonic within their limits',
  });
  const saves = assessReadings(
    wheel,
    {assembly: limits[0], rim: limits[1], total: limits[2]},
    maxOrder,
    angles,
  ).finding;
  if (saves === 'match mount') {
    s.figure('written', 'decides == 1 and saves == 1 ? 1 : 0', {
      says: '1 while the turn saves the parts, as written here',
    })
      .answer('left', {part: 'after'})
      .figure('turn', 'curveturn', {...TURN, says: 'turn of the tire'})
      .figure('finding', '"match mount"', {says: 'finding', part: 'finding'});
    return;
  }
  swingSteps(s, 'rimcurve', 'R', rim, maxOrder, 'peak-to-peak of the rim’s own curve', unit);
  swingSteps(s, 'tirecurve', 'T', tire, maxOrder, 'peak-to-peak of the tire’s own curve', unit);
  s.figure('written', 'decides == 1 and saves == 0 ? 1 : 0', {
    says: '1 while the curve decides and no turn saves the parts, as written here',
  })
    .answer('after', {part: 'after'})
    .figure('turn', 'best', {...TURN, says: 'turn of the tire'})
    .figure('finding', 'rimcurve > tirecurve ? "replace rim" : "replace tire"', {
      says: 'the part with the larger curve of its own',
      part: 'finding',
    });
}

/** Whether the curves are still those whose best turn was searched. */
function searchedSteps(s: Steps, rim: readonly [Wave, Fitted], tire: readonly [Wave, Fitted], maxOrder: number): void {
  const off = [rim, tire].flatMap(([wave, {cos, sin}]) =>
    upTo(maxOrder).flatMap((k) => [
      `abs(${wave.cos(k)} - (${cos[k].toPrecision(14)}))`,
      `abs(${wave.sin(k)} - (${sin[k].toPrecision(14)}))`,
    ]),
  );
  const sizes = [rim, tire].flatMap(([wave]) => upTo(maxOrder).flatMap((k) => [wave.cos(k), wave.sin(k)]));
  const all = sizes.map((symbol) => `abs(${symbol})`).join(' + ');
  s.figure('searched', `${off.join(' + ')} <= 1E-7*(whole + ${all}) ? 1 : 0`, {
    says: '1 while the curves are those whose best turn was searched',
  });
}

export function enoughSteps(s: Steps): void {
  s.input('a', 'amount', 0, 'as amount', 'amount found')
    .input('L', 'limit', 0, 'as amount', 'limit')
    .input('p', 'plusminus', 0, 'as amount', '95 % half-width found')
    .input('n', 'readings', 0, '', 'readings it was found with')
    .figure('wanted', `a == L ? n : n*(p/(a - L))^2*(1 - ${ROUNDING})`, {
      says: 'a half-width shrinks with the square root of their number; less what is rounding',
    })
    .figure('enough', 'greater(n, -floor(-wanted))', {says: 'rounded up, at least n', part: 'enough'});
}
