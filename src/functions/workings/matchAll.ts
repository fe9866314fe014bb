/** Working of MATCHALL: the figures at the turn that was found, and why no other turn scores less. */
import {allLines, matchAll, type Sides} from '../../maths/matchAll';
import type {Two} from '../../maths/planes';
import type {Vector} from '../../maths/vectors';
import type {Steps} from './steps';
import {sumSteps, twoVectorSteps, vectorSteps, type Parts} from './vector';

interface Given {
  readonly rimRunout: Vector;
  readonly tireRunout: Vector;
  readonly rimUnbalance: Two<Vector>;
  readonly tireUnbalance: Two<Vector>;
  readonly limits: readonly number[];
}

const sides = ([inboard, outboard]: Two<Vector>): Sides => ({inboard, outboard});

/** How many turns the proof may look at before it leaves stretches open. */
const MOST_LINES = 300;

interface Figure {
  readonly name: string;
  readonly unit: string;
  readonly stays: Parts;
  readonly turns: Parts;
}

export function matchAllSteps(s: Steps, given: Given): void {
  const {rimRunout, tireRunout} = given;
  const [rim, tire] = [sides(given.rimUnbalance), sides(given.tireUnbalance)];
  const limits = {runout: given.limits[0], static: given.limits[1], couple: given.limits[2]};
  const {turn, score} = matchAll(rimRunout, tireRunout, rim, tire, limits);
  const runout = {stays: vectorSteps(s, 'R', 'ρ', 'rimRunout'), turns: vectorSteps(s, 'T', 'τ', 'tireRunout')};
  const [stays, turns] = [sideSteps(s, 'P', 'φ', 'rimUnbalance'), sideSteps(s, 'Q', 'κ', 'tireUnbalance')];
  ['runout', 'static', 'couple'].forEach((name, i) => s.input(`L_${i + 1}`, 'limits', i, '', `limit of ${name}`));
  s.found('turn', turn, '°', 'turn of the tire, found by search; shown and proved below', {part: 'turn', around: 360});
  const figures: Figure[] = [
    {name: 'runout', unit: 'as rimRunout', ...runout},
    {name: 'static', unit: 'as rimUnbalance', stays: stays.static, turns: turns.static},
    {name: 'couple', unit: 'as rimUnbalance', stays: stays.couple, turns: turns.couple},
  ];
  for (const {name, unit, stays, turns} of figures)
    s.figure(name, sizeText(stays, turns, 'turn'), {unit, says: `${name} after the turn`, part: name});
  s.figure('score', 'greater(greater(runout/L_1, static/L_2), couple/L_3)', {
    says: 'the largest figure ÷ its limit',
    part: 'score',
  }).figure('tie', '1E-9*score + 1E-12*((R + T)/L_1 + (P_1 + P_2 + Q_1 + Q_2)*(1/L_2 + 1/L_3))', {
    says: 'scores that differ by less are equal',
  });
  besideSteps(s, figures);
  proofSteps(s, figures, allLines(rimRunout, tireRunout, rim, tire, limits, score, MOST_LINES));
}

/** Inboard and outboard vectors, and from them static and couple. */
function sideSteps(s: Steps, name: string, angle: string, argument: string): {static: Parts; couple: Parts} {
  twoVectorSteps(s, name, angle, argument);
  const part = (k: number, f: string): string => `${name}_${k}*${f}(${angle}_${k})`;
  const [x1, x2, y1, y2] = [part(1, 'cosd'), part(2, 'cosd'), part(1, 'sind'), part(2, 'sind')];
  const unit = `as ${argument}`;
  return {
    static: sumSteps(s, `${name}_s`, `${x1} + ${x2}`, `${y1} + ${y2}`, unit, 'inboard + outboard'),
    couple: sumSteps(s, `${name}_c`, `(${x2} - ${x1})/2`, `(${y2} - ${y1})/2`, unit, 'half of outboard − inboard'),
  };
}

/** Size of what stays and what turns together, at a turn. */
const sizeText = (stays: Parts, turns: Parts, turn: string): string =>
  `sqrt((${stays.x} + ${turns.x}*cosd(${turn}) - ${turns.y}*sind(${turn}))^2 + (${stays.y} + ${turns.x}*sind(${turn}) + ${turns.y}*cosd(${turn}))^2)`;

/** The turn and its neighbors, a hundredth of a degree either side. */
function besideSteps(s: Steps, figures: readonly Figure[]): void {
  s.rows('beside', 3)
    .columnConstant('beside', 'v', [-0.01, 0, 0.01], 'from the best turn', '°')
    .column('beside', 't', 'turn + v', 'turn', '°');
  figures.forEach(({name, stays, turns}, i) =>
    s.column('beside', `g_${i + 1}`, `${sizeText(stays, turns, 't')}/L_${i + 1}`, `${name} ÷ limit`),
  );
  s.column('beside', 'score_b', 'greater(greater(g_1, g_2), g_3)', 'score')
    .column('beside', 'total_b', 'g_1^2 + g_2^2 + g_3^2', 'what decides between turns of equal score')
    .figure('least', 'score <= min(score_b) + tie ? 1 : 0', {says: '1 while neither neighbor scores less'});
}

function proofSteps(s: Steps, figures: readonly Figure[], lines: readonly number[]): void {
  figures.forEach(({name, turns}, i) =>
    s.figure(`slope_${i + 1}`, `sqrt(${turns.x}^2 + ${turns.y}^2)/L_${i + 1}*pi/180`, {
      says: `by how much ${name} ÷ limit may change with a degree of turn`,
    }),
  );
  figures.forEach(({name, stays, turns}, i) =>
    s.figure(
      `bend_${i + 1}`,
      `2*sqrt((${stays.x}^2 + ${stays.y}^2)*(${turns.x}^2 + ${turns.y}^2))/L_${i + 1}^2*(pi/180)^2`,
      {
        says: `by how much the square of ${name} ÷ limit may bend with a degree of turn`,
      },
    ),
  );
  s.rows('turns', lines.length).columnFound('turns', 'ζ', lines, 'turn looked at', '°');
  figures.forEach(({name, stays, turns}, i) =>
    s.column('turns', `f_${i + 1}`, `${sizeText(stays, turns, 'ζ')}/L_${i + 1}`, `${name} ÷ limit`),
  );
  const bound = (i: number): string =>
    `greater((f_${i} + next(f_${i}))/2 - slope_${i}*w/2, sqrt(greater(0, lesser(f_${i}, next(f_${i}))^2 - bend_${i}*w^2/8)))`;
  s.column('turns', 'z', 'greater(greater(f_1, f_2), f_3)', 'score there')
    .column('turns', 'w', 'turned(next(ζ) - ζ)', 'degrees to the next turn', '°')
    .column(
      'turns',
      'b',
      `greater(greater(${bound(1)}, ${bound(2)}), ${bound(3)})`,
      'nor is the score less between the two than',
    )
    .column('turns', 'open', 'b < score - tie and w > 0.01001 ? 1 : 0', '1 where that does not suffice')
    .figure('proved', 'min(z) >= score - tie and sum(open) == 0 ? 1 : 0', {
      says: '1 while no turn in hundredths of a degree can score less',
    });
}
