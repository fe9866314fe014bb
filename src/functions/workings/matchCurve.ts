/** Working of MATCHCURVE: the figures at the turn that was found, and why no other turn is better. */
import {curveLines} from '../../maths/curveProof';
import {fit} from '../../maths/harmonics';
import {matchCurve, worstTurn} from '../../maths/matchCurve';
import type {Angles, Readings} from '../../maths/readings';
import {less} from '../../maths/waves';
import {as, fitSteps, times, upTo} from './fit';
import type {Steps} from './steps';
import {gridSteps, heightText, swingSteps, turnedSumSteps, type Wave} from './swing';

interface Given {
  readonly rimReadings: Readings;
  readonly assemblyReadings: Readings;
  readonly maxOrder: number;
  readonly angles: Angles | undefined;
}

/** How many turns the proof may look at before it leaves stretches open. */
const MOST_LINES = 300;

export function matchCurveSteps(s: Steps, {rimReadings, assemblyReadings, maxOrder, angles}: Given): void {
  const rimWave = fit(rimReadings, maxOrder, angles);
  const tireWave = less(fit(assemblyReadings, maxOrder, angles), rimWave);
  const {turn, after} = matchCurve(rimWave, tireWave, maxOrder);
  const rim = fitSteps(s, {readings: rimReadings, angles, order: maxOrder, mark: 'r'});
  const whole = fitSteps(s, {readings: assemblyReadings, angles, order: maxOrder, mark: 'w'});
  const unit = 'as rimReadings';
  const tire: Wave = {cos: (k) => `a_${k}t`, sin: (k) => `b_${k}t`};
  for (const k of upTo(maxOrder)) {
    s.figure(tire.cos(k), `${whole.cos(k)} - ${rim.cos(k)}`, as('rimReadings', `tire, order ${k}: cosine`));
    s.figure(tire.sin(k), `${whole.sin(k)} - ${rim.sin(k)}`, as('rimReadings', `tire, order ${k}: sine`));
  }
  gridSteps(s, maxOrder);
  s.found('turn', turn, '°', 'best turn, found by search to 0.1°; shown and proved below', {
    part: 'turn',
    around: 360,
  }).found('worstturn', worstTurn(rimWave, tireWave, maxOrder), '°', 'worst turn, found by search to 0.1°');
  const at = (symbol: string, mark: string, by: string, says: string, part?: string): void =>
    swingSteps(s, symbol, mark, turnedSumSteps(s, mark, rim, tire, by, maxOrder), maxOrder, says, unit, part);
  at('after', 'a', 'turn', 'peak-to-peak after the turn', 'after');
  swingSteps(s, 'before', 'b', whole, maxOrder, 'peak-to-peak as it is', unit, 'before');
  at('worst', 'w', 'worstturn', 'peak-to-peak at the worst turn', 'worst');

  const size = (wave: Wave, k: number): string => `sqrt(${wave.cos(k)}^2 + ${wave.sin(k)}^2)`;
  const sizes = (factor: (k: number) => number): string =>
    upTo(maxOrder)
      .map((k) => times(factor(k), size(tire, k)))
      .join(' + ');
  s.figure('slope', `pi/90*(${sizes((k) => k)})`, {
    unit: `${unit} a degree`,
    says: 'by how much the peak-to-peak may change with a degree of turn',
  })
    .figure('bend', `2*(pi/180)^2*(${sizes((k) => k * k)})`, {
      unit: `${unit} a square degree`,
      says: 'by how much, with a degree of turn, the rate may change at which two heights draw apart',
    })
    .figure(
      'tie',
      `6E-8*slope + 2E-13*(${upTo(maxOrder)
        .map((k) => size(rim, k))
        .join(' + ')})`,
      {
        unit,
        says: 'turns that differ by less are equal',
      },
    );
  proofSteps(s, curveLines(rimWave, tireWave, maxOrder, after, MOST_LINES), rim, tire, maxOrder);
}

/**
 * At each turn looked at, the curve's height at two angles: their difference is never more than the peak-to-peak, so
 * what it shows holds whatever the readings. With the turn it changes at the rate ρ and bends by no more than `bend`, so
 * on either side it stays above a parabola; between two turns the greater of their parabolas is least where they meet.
 */
function proofSteps(s: Steps, lines: ReturnType<typeof curveLines>, rim: Wave, tire: Wave, maxOrder: number): void {
  const height = (angle: string): string =>
    `${heightText(rim, angle, maxOrder)} + ${heightText(tire, `(${angle} - τ)`, maxOrder)}`;
  const rate = (angle: string): string =>
    upTo(maxOrder)
      .map((k) => {
        const there = times(k, `(${angle} - τ)`);
        return times(k, `(${tire.cos(k)}*sind(${there}) - ${tire.sin(k)}*cosd(${there}))`);
      })
      .join(' + ');
  s.rows('turns', lines.length)
    .columnFound(
      'turns',
      'τ',
      lines.map(({turn}) => turn),
      'turn looked at',
      '°',
    )
    .columnFound(
      'turns',
      'η',
      lines.map(({high}) => high),
      'angle at which the curve is high there',
      '°',
    )
    .columnFound(
      'turns',
      'λ',
      lines.map(({low}) => low),
      'angle at which it is low',
      '°',
    )
    .column('turns', 'H', height('η'), 'height at the one')
    .column('turns', 'L', height('λ'), 'height at the other')
    .column('turns', 'D', 'H - L', 'the peak-to-peak is no less')
    .column('turns', 'w', 'turned(next(τ) - τ)', 'degrees to the next turn', '°')
    .column(
      'turns',
      'ρ',
      `pi/180*((${rate('η')}) - (${rate('λ')}))`,
      'rate at which that changes with a degree of turn',
    )
    .column('turns', 'κ', 'bend*w - ρ + next(ρ)', 'rate at which the bound of the next turn overtakes')
    .column(
      'turns',
      'δ',
      'κ == 0 ? 0 : greater(0, lesser(w, (D - next(D) + w*next(ρ) + bend*w^2/2)/κ))',
      'degrees on, where the two bounds meet',
      '°',
    )
    .column(
      'turns',
      'B',
      'lesser(lesser(D, next(D)), greater(D + ρ*δ - bend*δ^2/2, next(D) - next(ρ)*(w - δ) - bend*(w - δ)^2/2))',
      'nor is it less between the two than',
    )
    .column('turns', 'open', 'B < after - tie and w > 0.1001 ? 1 : 0', '1 where that does not suffice')
    .figure('proved', 'min(D) >= after - tie and sum(open) == 0 ? 1 : 0', {
      says: '1 while no turn in tenths of a degree can leave less',
    });
}
