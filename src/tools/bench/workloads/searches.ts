/** The searches: best turn of the whole curve, stock weights, pairing of a set. */
import munkres from 'munkres-js';
import type {Wave} from '../../../maths/harmonics';
import type {Plane, Two} from '../../../maths/planes';
import {readingsOf} from '../../../maths/readings';
import type {Vector} from '../../../maths/vectors';
import {randomFrom} from '../../random';
import {mathematics} from '../bundle';
import {readingRows} from '../data';
import {time} from '../measure';
import {atLeast, type Result, type Run} from '../workload';

export const curveMatches: Run = async ({quick, rounds}) => {
  const {fit, matchCurve, turnByBruteForce} = await mathematics();
  const [pairs, sample, positions] = [quick ? 400 : 2_000, 40, 64];
  const values = readingRows(2 * pairs, positions);
  const wave = (i: number): Wave => fit(readingsOf(values.subarray(i * positions, (i + 1) * positions)), 4);
  const waves = Array.from({length: pairs}, (_, i): [Wave, Wave] => [wave(2 * i), wave(2 * i + 1)]);
  const agrees = waves.slice(0, sample).every(([rim, tire]) => {
    const brute = turnByBruteForce(rim, tire, 4);
    const {turn, after} = matchCurve(rim, tire, 4);
    return Math.abs(after - brute.after) < 1e-9 && Math.abs(turn - brute.turn) < 1e-9;
  });
  const over = (count: number, work: (rim: Wave, tire: Wave) => unknown) => () =>
    time(() => waves.slice(0, count).forEach(([rim, tire]) => work(rim, tire)));
  return [
    await atLeast(10, {
      workload: `MATCHCURVE, ${pairs} pairs of 64 readings, to 0.1°`,
      against: 'all 3,600 turns in plain TypeScript',
      ours: over(pairs, (rim, tire) => matchCurve(rim, tire, 4)),
      theirs: over(sample, (rim, tire) => turnByBruteForce(rim, tire, 4)),
      times: pairs / sample,
      rounds,
      agrees,
    }),
  ];
};

export const stockPairs: Run = async ({quick, rounds}) => {
  const {stockPair, stockByEnumeration} = await mathematics();
  const [calls, sample, step] = [quick ? 2_000 : 10_000, quick ? 5 : 40, 5];
  const random = randomFrom(3);
  const planes: Two<Plane> = [
    {position: -80, radius: 200},
    {position: 80, radius: 190},
  ];
  const weights = Array.from({length: calls}, (): Two<Vector> => [
    {amount: 60 * random(), angle: 360 * random()},
    {amount: 60 * random(), angle: 360 * random()},
  ]);
  const objective = (two: Two<Vector>): number => {
    const {static: left, couple} = stockPair(two, planes, step);
    return left ** 2 + (couple / 160) ** 2;
  };
  // Whole degrees stop short of the best by up to the square of half a degree on these radii.
  const agrees = weights.slice(0, sample).every((two) => {
    const [ours, theirs] = [objective(two), stockByEnumeration(two, planes, step)];
    return ours <= theirs * (1 + 1e-9) && theirs - ours < 0.02 * theirs + 2 * (70 * 200 * 0.0088) ** 2;
  });
  return [
    await atLeast(1000, {
      workload: `STOCKPAIR, ${calls} calls`,
      against: `all stock pairs and whole degrees, a sample of ${sample}`,
      ours: () => time(() => weights.forEach((two) => stockPair(two, planes, step))),
      theirs: () => time(() => weights.slice(0, sample).forEach((two) => stockByEnumeration(two, planes, step))),
      times: calls / sample,
      rounds: quick ? 5 : Math.min(rounds, 5),
      agrees,
    }),
  ];
};

export const pairings: Run = async ({quick, rounds}) => [
  // Over and over, so that the engine of JavaScript has compiled both before they count.
  await pairing(4, quick ? 500 : 2_000, quick ? 20 : 10, rounds),
  await pairing(40, quick ? 20 : 50, 1, rounds),
];

async function pairing(size: number, sets: number, passes: number, rounds: number): Promise<Result> {
  const {pair} = await mathematics();
  const random = randomFrom(size);
  const vectors = () =>
    Array.from({length: size}, (): Vector => ({amount: Math.round(1000 * random()) / 1000, angle: 360 * random()}));
  const all = Array.from({length: sets}, () => ({rims: vectors(), tires: vectors()}));
  const costs = ({rims, tires}: (typeof all)[number]) =>
    tires.map((tire) => rims.map((rim) => Math.abs(rim.amount - tire.amount)));
  const agrees = all.slice(0, 20).every((set) => {
    const c = costs(set);
    const theirs = munkres(c).reduce((sum, [i, j]) => sum + c[i][j], 0);
    const ours = pair(set.rims, set.tires, 'total').reduce((sum, {rim}, i) => sum + c[i][rim!], 0);
    return Math.abs(ours - theirs) < 1e-9;
  });
  const often = (work: (set: (typeof all)[number]) => unknown) => () =>
    time(() => {
      for (let pass = 0; pass < passes; pass++) all.forEach(work);
    });
  return atLeast(5, {
    workload: `PAIR ${size} × ${size}, least total (${sets} sets)`,
    against: 'munkres-js',
    ours: often(({rims, tires}) => pair(rims, tires, 'total')),
    theirs: often((set) => munkres(costs(set))),
    rounds,
    agrees,
  });
}
