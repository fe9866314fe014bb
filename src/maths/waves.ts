import type {Wave} from './harmonics';

/** Order by order, as far as both waves go: what readings lack decides how many harmonics a fit has. */
function combine(f: Wave, g: Wave, of: (a: number, b: number) => number): Wave {
  const orders = Math.min(f.cos.length, g.cos.length);
  const each = (a: ArrayLike<number>, b: ArrayLike<number>) => {
    const combined = new Array<number>(orders);
    for (let k = 0; k < orders; k++) combined[k] = of(a[k], b[k]);
    return combined;
  };
  return {mean: of(f.mean, g.mean), cos: each(f.cos, g.cos), sin: each(f.sin, g.sin)};
}

/** The mean of two waves, such as both bead seats. */
export const mean = (f: Wave, g: Wave): Wave => combine(f, g, (a, b) => (a + b) / 2);

/** One wave less another, as in tire = assembly − rim. */
export const less = (f: Wave, g: Wave): Wave => combine(f, g, (a, b) => a - b);
