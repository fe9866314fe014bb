/** UNTANGLE on spins made up of known parts, against ml-matrix, and at the limit of what turns can tell apart. */
import {Matrix, SingularValueDecomposition, solve} from 'ml-matrix';
import {untangle} from '../../src/maths/untangle';
import {randomFrom} from '../support/random';
import {RAD, add, always, at, between, expectVector, polar, refused, someVector, turn, xy} from '../support/polar';
import type {Vector} from '../../src/maths/vectors';

/** What the balancer shows: rim + tire turned on + clamping turned back. */
const spin = (rim: Vector, tire: Vector, clamping: Vector, tireTurn: number, shaftTurn: number): Vector =>
  polar(add(xy(rim), turn(xy(tire), tireTurn), turn(xy(clamping), -shaftTurn)));

/** Real and imaginary parts as rows, the three complex unknowns as columns in pairs. */
function basis(tireTurns: number[], shaftTurns: number[]): Matrix {
  const rows = tireTurns.flatMap((tireTurn, i) => {
    const angles = [0, tireTurn, -shaftTurns[i]].map((a) => a * RAD);
    return [angles.flatMap((a) => [Math.cos(a), -Math.sin(a)]), angles.flatMap((a) => [Math.sin(a), Math.cos(a)])];
  });
  return new Matrix(rows);
}

const condition = (tireTurns: number[], shaftTurns: number[]): number =>
  new SingularValueDecomposition(basis(tireTurns, shaftTurns)).condition;

test('three spins by hand', () => {
  // 0.7 + 0.5 + 0.3 = 1.5; the tire half a turn on: 0.7 − 0.5 + 0.3 = 0.5; the wheel half a turn on the shaft: 0.9.
  const found = untangle([at(1.5), at(0.5), at(0.9)], [0, 180, 0], [0, 0, 180]);
  expectVector(found.rim, at(0.7), 12);
  expectVector(found.tire, at(0.5), 12);
  expectVector(found.clamping, at(0.3), 12);
  expect(found.misfit).toBeLessThan(1e-14);
});

test('the tire turns on, the clamping turns back', () => {
  // Tire alone, 1 at 10°: turned by 90° it is seen at 100°. Clamping alone, 1 at 10°: with the wheel turned by 90°, at −80°.
  const turns: [number[], number[]] = [
    [0, 90, 0],
    [0, 0, 90],
  ];
  const tire = untangle([at(1, 10), at(1, 100), at(1, 10)], ...turns);
  expectVector(tire.tire, at(1, 10), 12);
  expect(tire.rim.amount + tire.clamping.amount).toBeLessThan(1e-13);
  const clamping = untangle([at(1, 10), at(1, 10), at(1, 280)], ...turns);
  expectVector(clamping.clamping, at(1, 10), 12);
  expect(clamping.rim.amount + clamping.tire.amount).toBeLessThan(1e-13);
});

test('recovers rim, tire and clamping from four spins', () => {
  always([someVector(0.1, 1), someVector(0.1, 1), someVector(0.1, 1), between(60, 300)], (rim, tire, clamping, by) => {
    const [tireTurns, shaftTurns] = [
      [0, by, 0, 180],
      [0, 0, by, 90],
    ];
    const found = untangle(
      tireTurns.map((t, i) => spin(rim, tire, clamping, t, shaftTurns[i])),
      tireTurns,
      shaftTurns,
    );
    expectVector(found.rim, rim, 9);
    expectVector(found.tire, tire, 9);
    expectVector(found.clamping, clamping, 9);
    expect(found.misfit).toBeLessThan(1e-12);
  });
});

test('spins that contradict each other: least squares as ml-matrix finds it, the misfit per spin', () => {
  const random = randomFrom(12);
  for (const n of [4, 5, 8]) {
    const spins = Array.from({length: n}, () => at(0.5 + random(), 360 * random()));
    const tireTurns = spins.map((_, i) => (i * 360) / n);
    const shaftTurns = spins.map((_, i) => 137 * i);
    const [x, y] = [basis(tireTurns, shaftTurns), Matrix.columnVector(spins.flatMap(xy))];
    const c = solve(x, y, true);
    const left = Matrix.sub(y, x.mmul(c)).to1DArray();
    const found = untangle(spins, tireTurns, shaftTurns);
    for (const [k, name] of (['rim', 'tire', 'clamping'] as const).entries()) {
      expectVector(found[name], polar([c.get(2 * k, 0), c.get(2 * k + 1, 0)]), 10);
    }
    expect(found.misfit).toBeCloseTo(Math.sqrt(left.reduce((s, e) => s + e * e, 0) / n), 12);
    expect(found.misfit).toBeGreaterThan(0.05);
  }
});

describe('turns that cannot tell the parts apart', () => {
  const argument = 'tireTurns and shaftTurns';
  const spins = [at(1), at(2), at(3)];

  test.each([
    ['the tire is never turned', [0, 0, 0], [0, 90, 180]],
    ['the wheel is never turned on the shaft', [0, 90, 180], [0, 0, 0]],
    ['the tire goes back as the wheel goes on', [0, 90, 200], [0, -90, -200]],
  ])('%s', (_, tireTurns, shaftTurns) => {
    expect(refused(() => untangle(spins, tireTurns, shaftTurns))).toEqual({
      reason: 'invalid',
      argument,
      message: `${argument}: these turns cannot tell rim, tire and clamping apart (they repeat or go together)`,
    });
  });

  test('condition 100 is the limit', () => {
    const turns = (by: number): [number[], number[]] => [
      [0, by, 0],
      [0, 0, 180],
    ];
    let [low, high] = [0.1, 90];
    for (let n = 0; n < 60; n++) {
      const middle = (low + high) / 2;
      if (condition(...turns(middle)) > 100) low = middle;
      else high = middle;
    }
    expect(high).toBeLessThan(5);
    const parts = [at(0.7, 20), at(0.5, 80), at(0.3, 140)] as const;
    const made = (by: number) => {
      const [tireTurns, shaftTurns] = turns(by);
      return tireTurns.map((t, i) => spin(...parts, t, shaftTurns[i]));
    };
    expectVector(untangle(made(high * 1.000001), ...turns(high * 1.000001)).tire, at(0.5, 80), 9);
    expect(refused(() => untangle(made(low), ...turns(low * 0.999999)))).toEqual({
      reason: 'invalid',
      argument,
      message: `${argument}: these turns cannot tell rim, tire and clamping apart (condition number 100, at most 100 is wanted)`,
    });
    const found = condition(...turns(0.3));
    expect(refused(() => untangle(spins, ...turns(0.3))).message).toContain(
      `condition number ${found.toPrecision(4)},`,
    );
  });
});
