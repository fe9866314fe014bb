/** Random arguments of the kinds that worksheet functions take. All figures have few digits, as a shop writes them. */
import type {Cell, Raw} from '../../functions/cells';

export type Random = () => number;

export class Draw {
  constructor(readonly random: Random) {}

  /** A number of so many decimals between two bounds. */
  number(low: number, high: number, decimals = 2): number {
    return Number((low + (high - low) * this.random()).toFixed(decimals));
  }

  whole(low: number, high: number): number {
    return low + Math.floor((high - low + 1) * this.random());
  }

  chance(share: number): boolean {
    return this.random() < share;
  }

  one<T>(of: readonly T[]): T {
    return of[this.whole(0, of.length - 1)];
  }

  list<T>(count: number, of: (i: number) => T): T[] {
    return Array.from({length: count}, (_, i) => of(i));
  }

  /** As a column or as a row. */
  line(cells: readonly Cell[]): Raw {
    return this.chance(0.5) ? [cells] : cells.map((cell) => [cell]);
  }

  angle(): number {
    return this.number(-30, 400, 1);
  }

  amount(high = 2): number {
    return this.number(0.01, high, 3);
  }

  vector(high = 2): Cell[] {
    return [this.amount(high), this.angle()];
  }

  /** Vectors below each other, or in one row. */
  vectors(count: number, high = 2): Raw {
    const rows = this.list(count, () => this.vector(high));
    return this.chance(0.5) ? rows : [rows.flat()];
  }

  /** Position and radius of an inboard and an outboard plane. */
  planes(): Cell[][] {
    const inboard = this.number(-150, -20, 0);
    return [
      [inboard, this.number(150, 250, 1)],
      [inboard + this.number(60, 220, 0), this.number(150, 250, 1)],
    ];
  }

  /** Readings around the turn with waves, noise, and as many missing ones as wanted. */
  turn(count: number, missing = 0): Cell[] {
    const waves = this.list(4, () => [this.number(0, 0.5), 360 * this.random()]);
    const cells = this.list(count, (i): Cell => {
      const y = waves.reduce(
        (sum, [size, phase], k) => sum + (size / (k + 1)) * Math.cos((((k + 1) * i) / count) * 2 * Math.PI - phase),
        0,
      );
      return Number((y + this.number(-0.05, 0.05, 3)).toFixed(3));
    });
    for (let i = 0; i < missing; i++) cells[this.whole(0, count - 1)] = '';
    return cells;
  }

  /** Angles that are not even, in rising order. */
  angles(count: number, reach = 360): Cell[] {
    return this.list(count, (i) => Number(((i * reach) / count + this.number(0, (0.7 * reach) / count, 1)).toFixed(1)));
  }
}
