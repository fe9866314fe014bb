/**
 * Random valid arguments for every worksheet function. Some of the draws are refused by the function (a match that
 * leaves too much, a weight that would be negative); whoever asks draws again.
 */
import type {Cell, Raw} from '../../functions/cells';
import {SPEED_SYMBOLS} from '../../maths/tireTables';
import {Draw} from './draw';

export type Inputs = (d: Draw) => Raw[];

/** Readings, and where wanted their angles: even and complete, with missing ones, uneven, both. */
function measured(d: Draw, least: number, columns = 1): {readings: Raw[]; angles: Raw} {
  const n = Math.max(least, d.one([8, 9, 12, 16, 24]));
  const gaps = d.chance(0.4) ? d.whole(1, Math.max(1, Math.floor((n - least) / 2))) : 0;
  const missing = n - gaps >= least ? gaps : 0;
  const readings = d.list(columns, () => d.line(d.turn(n, missing)));
  return {readings, angles: d.chance(0.4) ? d.line(d.angles(n, d.chance(0.15) ? 90 : 360)) : null};
}

const pairOf = (d: Draw, high = 60): Raw => d.vectors(2, high);

/** Speed, rolling circumference, units. */
function road(d: Draw): Cell[] {
  return d.chance(0.5)
    ? [d.number(40, 140, 0), d.number(1600, 2400, 1), d.one(['metric', null])]
    : [d.number(25, 90, 0), d.number(62, 95, 2), 'us'];
}

function flags(d: Draw, count: number, share: number, unknown = 0): Cell[] {
  return d.list(count, () => (d.chance(unknown) ? '' : d.chance(share)));
}

const RUNOUT: Readonly<Record<string, Inputs>> = {
  TIR: (d) => [d.line(d.turn(d.whole(5, 24), d.whole(0, 2)))],
  HARMONIC: (d) => {
    const order = d.whole(1, 3);
    const {readings, angles} = measured(d, 2 * order + 1);
    return [readings[0], d.one([order, order === 1 ? null : order]), angles];
  },
  HARMONICS: (d) => {
    const {readings, angles} = measured(d, 9);
    return [readings[0], d.one([null, 1, 2, 3]), angles];
  },
  CURVE: (d) => {
    const {readings, angles} = measured(d, 9);
    return [readings[0], d.one([null, 2]), angles, d.chance(0.5) ? null : d.line(d.list(5, () => d.angle()))];
  },
  LOCAL: (d) => {
    const {readings, angles} = measured(d, 9);
    return [readings[0], d.one([null, 1]), angles];
  },
  CLOSURE: (d) => [d.line(closing(d))],
  CLOSED: (d) => [d.line(closing(d))],
  ROUNDNESS: (d) => {
    const {readings, angles} = measured(d, 9);
    return [readings[0], d.one(['LS', 'MZ', 'mz', null]), angles];
  },
  BEADSEATS: (d) => [[d.vector()], [d.vector()]],
  REMOUNT: (d) => [[d.vector()], [d.vector()], d.one([null, 72, 144, d.number(20, 340, 0)])],
  READINGCHECK: (d) => {
    const {readings, angles} = measured(d, 7);
    const cells = (readings[0] as Cell[][]).map((row) => [...row]);
    // One in three has something to find.
    if (d.chance(0.3)) cells[0][0] = d.one([0, 3.5, 0.1]);
    return [cells, angles, d.one([1, 2, null])];
  },
};

/** A turn and the first position again. */
function closing(d: Draw): Cell[] {
  const turn = d.turn(d.whole(6, 20), d.whole(0, 2));
  turn[0] = d.number(-0.4, 0.4, 3);
  return [...turn, d.number(-0.4, 0.4, 3)];
}

const MATCHING: Readonly<Record<string, Inputs>> = {
  DIFFERENCE: (d) => [[d.vector()], [d.vector()]],
  MATCH: (d) => [[d.vector()], [d.chance(0.05) ? [0, 40] : d.vector()]],
  MATCHCURVE: (d) => {
    const {readings, angles} = measured(d, 9, 2);
    return [...readings, d.one([1, 2, 3, 4]), angles];
  },
  MATCHALL: (d) => [
    [d.vector(1)],
    [d.vector(1)],
    pairOf(d, 40),
    pairOf(d, 40),
    [[d.number(0.2, 1), d.number(5, 40, 0), d.number(5, 40, 0)]],
  ],
  SEPARATE: (d) => [[d.vector()], [d.vector()], d.one([180, d.number(20, 340, 0)])],
  TURNED: (d) => [[d.vector()], [d.vector()], [d.vector()]],
  VERIFY: (d) => [
    [d.chance(0.5) ? d.vector() : [...d.vector(), ...d.vector()]],
    d.amount(0.5),
    [d.vector()],
    d.amount(0.5),
    d.amount(1),
  ],
  TURNWINDOW: (d) => [[d.vector(1)], [d.vector(1)], d.number(0.1, 1.5), d.one([null, 0.05])],
  UNTANGLE: (d) => {
    const n = d.whole(4, 8);
    const turns = (): Raw => d.line(d.list(n, () => d.whole(0, 7) * 45));
    return [d.vectors(n), turns(), turns()];
  },
  PAIR: (d) => [d.vectors(d.whole(1, 5)), d.vectors(d.whole(1, 5)), d.one(['worst', 'total', null])],
  MARK: (d) => [d.angle(), d.number(300, 700, 0)],
  CLOCK: (d) => [d.angle(), d.one([null, true, false])],
};

const UNBALANCE: Readonly<Record<string, Inputs>> = {
  RESULTANT: (d) => [d.vectors(d.whole(1, 6), 60)],
  AVERAGE: (d) => {
    const [amount, angle] = [d.number(5, 40), d.angle()];
    return [d.list(d.whole(2, 6), () => [amount + d.number(0, 3), angle + d.number(-8, 8, 1)])];
  },
  STATICCOUPLE: (d) => [pairOf(d), d.planes()],
  TRANSFER: (d) => [pairOf(d), d.planes(), d.planes()],
  ONEPLANE: (d) => [pairOf(d), d.planes(), [[d.number(-50, 50, 0), d.number(150, 250, 0)]]],
  SPLIT: (d) => {
    const [a, gap] = [d.angle(), d.number(10, 160, 1)];
    return [[[d.number(5, 60), a + d.number(0, gap, 1)]], a, a + gap];
  },
  SPOKES: (d) => {
    const spokes = d.chance(0.6)
      ? d.whole(3, 12)
      : d.line(d.list(d.whole(5, 9), (i) => Number((i * 40 + d.number(0, 25, 1)).toFixed(1))));
    return [[[d.number(5, 60), d.angle()]], spokes, d.one([null, d.number(0, 70, 0)]), d.one([null, 5, 2.5])];
  },
  STRIP: (d) => [d.number(5, 90), d.number(0.1, 0.5, 3), d.number(150, 250, 0)],
  STOCK: (d) => [d.number(0, 90), d.one([5, 2.5, 0.25, 7]), d.one([null, 4])],
  STOCKPAIR: (d) => [pairOf(d), d.planes(), d.one([5, 10])],
  RESIDUAL: (d) => [
    pairOf(d),
    d.chance(0.5)
      ? d.vectors(2, 60)
      : d.list(d.whole(2, 4), () => [...d.vector(60), d.number(-150, 150, 0), d.number(150, 250, 0)]),
    d.planes(),
  ],
  TOLERANCE: (d) => [d.one([16, 40]), d.number(8, 60), ...road(d)],
  TOLERANCEPLANES: (d) => [d.number(500, 9000, 0), [[d.number(-200, -10, 0), d.number(-5, 200, 0)]]],
  FORCE: (d) => [d.number(1, 90), d.number(7, 260), ...road(d)],
  TRIALWEIGHT: (d) => [[d.vector(20)], [d.vector(20)], [d.vector(50)]],
  TRIALWEIGHT2: (d) => [pairOf(d, 20), pairOf(d, 20), pairOf(d, 20), pairOf(d, 50)],
  TRIALSWEEP: (d) => {
    const n = d.whole(3, 7);
    const [before, effect, phase] = [d.number(2, 20), d.number(1, 10), 360 * d.random()];
    const angles = d.list(n, (i) => Number(((i * 360) / n + d.number(0, 20, 0)).toFixed(0)));
    const size = (a: number): number =>
      Math.hypot(
        before + effect * Math.cos(((a + phase) * Math.PI) / 180),
        effect * Math.sin(((a + phase) * Math.PI) / 180),
      );
    const readings = angles.map((a) => Number((size(a) + d.number(0, 0.3, 3)).toFixed(3)));
    return [before, [readings], [angles], d.number(5, 50)];
  },
};

const VIBRATION: Readonly<Record<string, Inputs>> = {
  SPINRATE: (d) => road(d),
  ORDER: (d) => [d.number(5, 90, 1), ...road(d)],
  SOURCES: (d) => {
    const [speed, circumference, units] = road(d);
    return [
      d.number(8, 60, 1),
      speed,
      circumference,
      d.one([null, 3.42]),
      d.one([null, 1750, 2400]),
      d.number(0.05, 0.2),
      units,
    ];
  },
  RUNOUTFORCE: (d) => [d.amount(), d.number(100, 300, 0)],
  EQUIVALENT: (d) => [d.amount(), d.number(100, 300, 0), d.number(7, 260), ...road(d)],
};

const TIRES: Readonly<Record<string, Inputs>> = {
  TIRESIZE: (d) => [
    d.one([
      `${d.whole(14, 31)}5/${d.whole(6, 17) * 5}${d.one(['R', 'ZR', '-', 'B', 'D'])}${d.whole(13, 22)} ${d.whole(70, 120)}${d.one(['H', 'V', 'W'])}`,
      `${d.one(['P', 'LT', ''])}${d.whole(14, 31)}5/${d.whole(7, 17) * 5}R${d.whole(13, 22)}`,
      `${d.one([31, 33, 35])}x${d.one(['10.50', '12.50'])}R${d.one([15, 17])}LT`,
      `${d.whole(16, 23)}5R${d.whole(13, 16)}C`,
      `${d.one([225, 275, 295])}/${d.one([70, 80])}R${d.one(['19.5', '22.5'])}`,
    ]),
  ],
  LOADINDEX: (d) => [d.whole(0, 200)],
  SPEEDSYMBOL: (d) => [d.one([...SPEED_SYMBOLS]).toLowerCase()],
  TIN: (d) => {
    const code = d.list(6, () => d.one([...'ABCDEFHJKLMNPRTUVWXY123456789'])).join('');
    const date = `${String(d.whole(1, 52)).padStart(2, '0')}${String(d.whole(0, 25)).padStart(2, '0')}`;
    return [`${d.one(['DOT ', '', 'dot '])}${d.one(['1HD', '4B9'])} ${code} ${date}`];
  },
};

const PLACING: Readonly<Record<string, Inputs>> = {
  ASSESS: (d) => [
    [d.vector(1)],
    [d.vector(0.8)],
    [[d.number(0.2, 0.9), d.number(0.2, 0.9)]],
    d.one([null, [[d.amount(0.1)]], [[d.amount(0.1), d.amount(0.1)]]]),
  ],
  ASSESSREADINGS: (d) => {
    const {readings, angles} = measured(d, 7, 3);
    // A tire turns more than its rim; the bead seats' part is made smaller.
    const smaller = (raw: Raw): Raw =>
      (raw as Cell[][]).map((row) => row.map((c) => (typeof c === 'number' ? Number((c * 0.6).toFixed(4)) : c)));
    const limits = [d.number(0.3, 1.2), d.number(0.3, 0.9), ...(d.chance(0.3) ? [d.number(0.5, 1.5)] : [])];
    return [readings[0], smaller(readings[1]), smaller(readings[2]), [limits], d.one([1, 2]), angles];
  },
  ENOUGH: (d) => [d.amount(1), d.number(0.2, 0.9, 3), d.amount(0.2), d.whole(4, 48)],
  PLACE: (d) => {
    const wheels = d.whole(2, 5);
    const positions = wheels + d.whole(0, 1);
    return [
      d.line(d.list(wheels, () => d.amount(1))),
      d.line(d.list(positions, () => d.number(1, 5, 0))),
      d.one([null, 0.1]),
      d.chance(0.5) ? null : d.list(wheels, () => flags(d, positions, 0.75)),
      d.chance(0.8) ? null : d.whole(1, wheels),
    ];
  },
};

const QUALITY: Readonly<Record<string, Inputs>> = {
  PROPORTION: (d) => {
    const total = d.whole(1, 400);
    return [d.chance(0.1) ? d.one([0, total]) : d.whole(0, total), total, d.one([null, 0.9, 0.99])];
  },
  COMPARE: (d) => {
    const [one, two] = [d.whole(1, 60), d.whole(1, 60)];
    return [d.whole(0, one), one, d.whole(0, two), two];
  },
  GROUPRATE: (d) => {
    const n = d.whole(8, 40);
    return [
      d.line(d.list(n, () => d.one(['North', 'south', ' South', 'East Depot', 'NORTH', '', '7']))),
      d.line(flags(d, n, 0.4, 0.1)),
      d.one([null, 0.9]),
      d.one([null, 2]),
    ];
  },
  CONTROL: (d) => [d.line(d.turn(d.whole(6, 30), d.whole(0, 3)))],
  GAUGE: (d) => {
    const [parts, operators, repeats] = [d.whole(2, 5), d.whole(2, 3), d.whole(2, 3)];
    const [byPart, byOperator] = [d.list(parts, () => d.number(0, 2)), d.list(operators, () => d.number(0, 0.3))];
    const rows = byPart.flatMap((p, i) =>
      byOperator.flatMap((o, j) =>
        d.list(repeats, (): Cell[] => [
          Number((5 + p + o + d.number(0, 0.4, 3)).toFixed(3)),
          `Part ${i + 1}`,
          d.one([`op ${j}`, `OP ${j}`]),
        ]),
      ),
    );
    const column = (k: number): Raw => rows.map((row) => [row[k]]);
    return [column(0), column(1), column(2), d.one([null, 3])];
  },
  ANGLETEST: (d) => {
    const middle = d.angle();
    return [
      d.line(d.list(d.whole(3, 20), () => (d.chance(0.1) ? '' : Number((middle + d.number(-90, 90, 1)).toFixed(1))))),
    ];
  },
  RISK: (d) => {
    const n = d.whole(6, 30);
    const amounts = d.list(n, () => d.amount(1));
    const back = amounts.map((a): Cell => (d.chance(0.05) ? '' : d.random() < a));
    return [amounts.map((a) => [d.chance(0.05) ? '' : a]), back.map((b) => [b]), d.amount(1)];
  },
};

const MONEY: Readonly<Record<string, Inputs>> = {
  MATCHVALUE: (d) => [
    d.number(20, 150, 0),
    d.number(0, 60, 0),
    d.number(0.02, 0.2),
    d.number(5, 30, 0),
    d.one([0, 60, 95.5]),
    d.one([null, 0.1]),
    d.one([null, 0.02]),
    d.one([null, 180]),
  ],
  CHOICE: (d) => {
    const n = d.whole(2, 6);
    return [d.line(d.list(n, () => d.number(0, 150))), d.line(d.list(n, () => d.number(0, 1))), d.number(0, 400, 0)];
  },
};

const COLUMNS: Readonly<Record<string, Inputs>> = {
  EACHROW: (d) => {
    const n = d.whole(1, 5);
    const vectors = (): Raw => d.list(n, () => (d.chance(0.1) ? ['', ''] : d.vector()));
    const calls: readonly (readonly Raw[])[] = [
      ['MATCH', vectors(), d.chance(0.5) ? vectors() : [d.vector()], d.one([null, 'turn'])],
      ['STOCK', d.list(n, () => [d.number(0, 60)]), 5],
      ['HARMONIC', d.list(n, () => d.turn(9, d.whole(0, 1)))],
      ['wheel.mark', d.list(n, () => [d.angle()]), d.number(300, 700, 0)],
    ];
    const [name, ...rest] = d.one(calls);
    return [name, rest as unknown as Raw];
  },
  FINGERPRINT: (d) => [
    d.list(d.whole(1, 2), () => [`J-${d.whole(100, 999)}`, d.number(0, 2), '', d.chance(0.5), 'café']),
    d.one([null, '0ed44303f712bfe4']),
    d.one([null, '0ed44303f712bfe4']),
  ],
  EDITION: () => [],
  WORKING: (d) => ['STOCK', [d.number(0, 60), 5] as unknown as Raw],
};

export const INPUTS: Readonly<Record<string, Inputs>> = {
  ...RUNOUT,
  ...MATCHING,
  ...UNBALANCE,
  ...VIBRATION,
  ...TIRES,
  ...PLACING,
  ...QUALITY,
  ...MONEY,
  ...COLUMNS,
};
