/**
 * Two stock masses and their angles by trying all of them: every mass from none to two steps beyond what is required,
 * every pair, every whole degree for each.
 */
import {unbalances, type Plane, type Two} from '../../../maths/planes';
import {nearestStock} from '../../../maths/stock';
import {point, type Vector} from '../../../maths/vectors';

/** The least static² + (couple ÷ separation)² with a static of no more than rounding each plane alone leaves. */
export function stockByEnumeration(weights: Two<Vector>, planes: Two<Plane>, step: number): number {
  const [first, second] = unbalances(weights, planes).map(({at}) => at);
  const errorsOf = (i: 0 | 1, mass: number, angle: number) => {
    const at = point({amount: mass * planes[i].radius, angle});
    return {x: at.x - [first, second][i].x, y: at.y - [first, second][i].y};
  };
  const judged = (a: {x: number; y: number}, b: {x: number; y: number}) => ({
    left: (a.x + b.x) ** 2 + (a.y + b.y) ** 2,
    all: (a.x + b.x) ** 2 + (a.y + b.y) ** 2 + ((b.x - a.x) ** 2 + (b.y - a.y) ** 2) / 4,
  });
  const alone = judged(
    errorsOf(0, nearestStock(weights[0].amount, step), weights[0].angle),
    errorsOf(1, nearestStock(weights[1].amount, step), weights[1].angle),
  );
  const stockUpTo = (mass: number): number[] => Array.from({length: Math.floor(mass / step) + 3}, (_, k) => k * step);
  const around = Array.from({length: 360}, (_, angle) => angle);
  let best = alone.all;
  for (const one of stockUpTo(weights[0].amount)) {
    const inboard = around.map((angle) => errorsOf(0, one, angle));
    for (const other of stockUpTo(weights[1].amount)) {
      const outboard = around.map((angle) => errorsOf(1, other, angle));
      for (const a of inboard) {
        for (const b of outboard) {
          const {left, all} = judged(a, b);
          if (left <= alone.left && all < best) best = all;
        }
      }
    }
  }
  return best;
}
