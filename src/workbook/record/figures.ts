/** The figures behind the record: right of the printed page, visible, each a formula over the user's own cells. */
import {RIM, TIRE, ASSEMBLY, LIMIT} from './colors';
import type {RecordInput} from './input';
import {fixed, span, type Pen} from './pen';
import {plainText} from '../escape';
import {place, type ChartPlan, type Place} from './plan';
import {sensitivityFormula, type WheelReferences} from './references';

/** First column of the figures. */
export const FIRST = 13;

const TITLE = 0;
const HEADS = 1;
const TOP = 2;

/** Columns of the table of wheels, from its first. */
const AT = {
  name: 0,
  assembly: 1,
  assemblyAngle: 2,
  rim: 3,
  rimAngle: 4,
  tire: 5,
  tireAngle: 6,
  rimPlus: 7,
  check: 8,
  inMass: 9,
  inAngle: 10,
  outMass: 11,
  outAngle: 12,
  pairRim: 13,
  pairTurn: 14,
  pairAfter: 15,
  placeName: 17,
  placeFelt: 18,
} as const;

const HEADINGS: readonly (readonly [number, string])[] = [
  [AT.name, 'Wheel'],
  [AT.assembly, 'Assembly'],
  [AT.assemblyAngle, 'at °'],
  [AT.rim, 'Rim'],
  [AT.rimAngle, 'at °'],
  [AT.tire, 'Tire'],
  [AT.tireAngle, 'at °'],
  [AT.rimPlus, 'Rim ±'],
  [AT.check, 'Readings'],
  [AT.inMass, 'Inboard'],
  [AT.inAngle, 'at °'],
  [AT.outMass, 'Outboard'],
  [AT.outAngle, 'at °'],
];

/** Degrees between the points of a drawn curve. */
const STEP = 15;
const POINTS = 360 / STEP + 1;
const ORDERS = 4;

/** Where the figures of each wheel stand. */
export interface Figures {
  /** "$N$5" of a column of the table of wheels. */
  readonly at: (wheel: number, column: keyof typeof AT) => string;
  /** Positions and sensitivities of a block, one below the other. */
  readonly block: (index: number) => {readonly names: string; readonly felt: string};
  /** Names of the wheels of the group that a wheel is in. */
  readonly groupNames: (wheel: number) => string;
  readonly charts: (areas: readonly Place[]) => ChartPlan[];
}

interface Formats {
  readonly runout: string;
  readonly plusminus: string;
  readonly mass: string;
}

/** Writes the figures and says where they stand. */
export function figures(
  pen: Pen,
  input: RecordInput,
  references: readonly WheelReferences[],
  formats: Formats,
): Figures {
  const {wheels, groups, blocks} = input;
  const unit = wheels[0].record.ledger.map.runoutUnit;
  pen.put(TITLE, FIRST, 'Figures behind the record: formulas over the ledger’s own cells, not printed');
  pen.look(place(TITLE, FIRST), {bold: true});
  for (const [column, text] of HEADINGS) pen.put(HEADS, FIRST + column, text);
  pen.look(place(HEADS, FIRST, 1, AT.placeFelt + 1), {bold: true, line: true});

  // Wheels of one size stand one below the other, so that pairing can name them as one range.
  const order = groups.flat();
  const rowOf = (wheel: number): number => TOP + order.indexOf(wheel);
  const at: Figures['at'] = (wheel, column) => fixed(rowOf(wheel), FIRST + AT[column]);
  wheels.forEach((wheel, i) => {
    const {assembly, inner, outer, unbalance, planes, step} = references[i];
    const row = rowOf(i);
    const put = (column: keyof typeof AT, formula: string | undefined, format?: string): void =>
      pen.put(row, FIRST + AT[column], formula, format);
    const vector = (name: 'assembly' | 'rim' | 'tire', call: string): void => {
      put(name, `=${call},"amount")`, formats.runout);
      put(`${name}Angle`, `=${call},"angle")`, '0');
    };
    put('name', references[i].text('Position') ?? plainText(wheel.position));
    vector('assembly', `WHEEL.HARMONIC(${assembly},1,`);
    vector('rim', `WHEEL.BEADSEATS(WHEEL.HARMONIC(${inner}),WHEEL.HARMONIC(${outer})`);
    const both = (name: 'assembly' | 'rim'): string => `${at(i, name)}:${at(i, `${name}Angle`)}`;
    vector('tire', `WHEEL.DIFFERENCE(${both('assembly')},${both('rim')}`);
    const plus = (readings: string): string => `WHEEL.HARMONICS(${readings},${ORDERS},,"plusminus",1)`;
    put('rimPlus', `=SQRT(SUMSQ(${plus(inner)},${plus(outer)}))/2`, formats.plusminus);
    const check = (readings: string): string => `WHEEL.READINGCHECK(${readings})="ok"`;
    put('check', `=IF(AND(${[assembly, inner, outer].map(check).join(',')}),"ok","look")`);
    if (unbalance === undefined || planes === undefined || step === undefined) return;
    const stock = (part: string): string => `=WHEEL.STOCKPAIR(${unbalance},${planes},${step},"${part}")`;
    put('inMass', stock('inboard'), formats.mass);
    put('inAngle', stock('inboardangle'), '0');
    put('outMass', stock('outboard'), formats.mass);
    put('outAngle', stock('outboardangle'), '0');
  });

  const firstOf = (wheel: number): {row: number; size: number} => {
    const group = groups.find((members) => members.includes(wheel))!;
    return {row: rowOf(group[0]), size: group.length};
  };
  const groupNames: Figures['groupNames'] = (wheel) => {
    const {row, size} = firstOf(wheel);
    return span(row, FIRST + AT.name, size, 1);
  };
  if (input.work === 'pair anew') {
    ['on rim no.', 'turn °', 'leaves'].forEach((text, i) => pen.put(HEADS, FIRST + AT.pairRim + i, text));
    wheels.forEach((_, i) => {
      const {row, size} = firstOf(i);
      const vectors = (column: number): string => span(row, FIRST + column, size, 2);
      const pair = (part: string): string =>
        `=WHEEL.PAIR(${vectors(AT.rim)},${vectors(AT.tire)},"worst","${part}",${rowOf(i) - row + 1})`;
      pen.put(rowOf(i), FIRST + AT.pairRim, pair('rim'), '0');
      pen.put(rowOf(i), FIRST + AT.pairTurn, pair('turn'), '0');
      pen.put(rowOf(i), FIRST + AT.pairAfter, pair('after'), formats.runout);
    });
  }

  const places = blocks.flat();
  if (places.length > 0) {
    pen.put(HEADS, FIRST + AT.placeName, 'Position');
    pen.put(HEADS, FIRST + AT.placeFelt, 'felt');
    places.forEach((wheel, k) => {
      const {record, position} = wheels[wheel];
      pen.put(TOP + k, FIRST + AT.placeName, references[wheel].text('Position') ?? plainText(position));
      pen.put(TOP + k, FIRST + AT.placeFelt, sensitivityFormula(record, input.byClass) ?? input.sensitivities[wheel]);
    });
  }
  const block: Figures['block'] = (index) => {
    const before = blocks.slice(0, index).flat().length;
    const column = (name: 'placeName' | 'placeFelt'): string =>
      span(TOP + before, FIRST + AT[name], blocks[index].length, 1);
    return {names: column('placeName'), felt: column('placeFelt')};
  };
  return {at, block, groupNames, charts: curves(pen, input, references, TOP + wheels.length + 2, unit, formats)};
}

/** Columns of a wheel among the curves: fitted assembly and bead seats, then what is drawn. */
const CURVE = {assembly: 0, inner: 1, outer: 2, rimDrawn: 3, tireDrawn: 4, assemblyDrawn: 5} as const;
const CURVE_COLUMNS = 6;
const DRAWN = [
  ['rimDrawn', RIM],
  ['tireDrawn', TIRE],
  ['assemblyDrawn', ASSEMBLY],
] as const;

/** The figures that the charts draw. */
function curves(
  pen: Pen,
  {wheels}: RecordInput,
  references: readonly WheelReferences[],
  top: number,
  unit: string,
  formats: Formats,
): Figures['charts'] {
  const orderTop = top + 2;
  pen.put(top, FIRST, 'Harmonics of each assembly, peak-to-peak, and their 95 % half-widths');
  pen.look(place(top, FIRST), {bold: true});
  for (let k = 1; k <= ORDERS; k++) {
    pen.put(top + 1, FIRST + k, `${k}× a turn`);
    pen.put(top + 1, FIRST + ORDERS + k, `± ${k}×`);
  }
  wheels.forEach((wheel, i) => {
    pen.put(orderTop + i, FIRST, references[i].text('Position') ?? plainText(wheel.position));
    for (let k = 1; k <= ORDERS; k++) {
      const part = (name: string): string => `=WHEEL.HARMONICS(${references[i].assembly},${ORDERS},,"${name}",${k})`;
      pen.put(orderTop + i, FIRST + k, part('amount'), formats.runout);
      pen.put(orderTop + i, FIRST + ORDERS + k, part('plusminus'), formats.plusminus);
    }
  });

  const title = orderTop + wheels.length + 1;
  const heads = title + 1;
  const first = title + 2;
  pen.put(
    title,
    FIRST,
    'Curves as fitted, and as drawn: less their mean, rim from both bead seats, tire = assembly − rim',
  );
  pen.look(place(title, FIRST), {bold: true});
  pen.put(heads, FIRST, 'angle °');
  for (let k = 0; k < POINTS; k++) pen.put(first + k, FIRST, k * STEP);
  const angles = place(first, FIRST, POINTS, 1);
  const columnOf = (wheel: number, name: keyof typeof CURVE): number => FIRST + 1 + wheel * CURVE_COLUMNS + CURVE[name];
  const limitColumn = FIRST + 1 + wheels.length * CURVE_COLUMNS;
  wheels.forEach((wheel, i) => {
    const {assembly, inner, outer} = references[i];
    const at = span(first, FIRST, POINTS, 1);
    (
      [
        ['assembly', assembly],
        ['inner', inner],
        ['outer', outer],
      ] as const
    ).forEach(([name, readings]) => {
      pen.put(heads, columnOf(i, name), plainText(`${wheel.position} ${name}`));
      // One formula that spills down the angles.
      pen.put(first, columnOf(i, name), `=WHEEL.CURVE(${readings},${ORDERS},,${at})`);
    });
    for (const [name, {name: word}] of DRAWN) pen.put(heads, columnOf(i, name), word);
    // The last point repeats the first; the mean of the others is that of the fit.
    const mean = (name: 'assembly' | 'inner' | 'outer'): string =>
      `AVERAGE(${span(first, columnOf(i, name), POINTS - 1, 1)})`;
    for (let k = 0; k < POINTS; k++) {
      const cell = (name: keyof typeof CURVE): string => fixed(first + k, columnOf(i, name));
      pen.put(
        first + k,
        columnOf(i, 'rimDrawn'),
        `=(${cell('inner')}+${cell('outer')}-${mean('inner')}-${mean('outer')})/2`,
      );
      pen.put(first + k, columnOf(i, 'assemblyDrawn'), `=${cell('assembly')}-${mean('assembly')}`);
      pen.put(first + k, columnOf(i, 'tireDrawn'), `=${cell('assemblyDrawn')}-${cell('rimDrawn')}`);
    }
    // The limit as the outline of a band about the middle.
    [1, 1, -1, -1, 1].forEach((sign, k) =>
      pen.put(first + k, limitColumn + 1 + i, `=${sign < 0 ? '-' : ''}${references[i].limit}/2`),
    );
    pen.put(heads, limitColumn + 1 + i, plainText(`${wheel.position} limit`));
  });
  pen.put(heads, limitColumn, 'limit at °');
  [0, 360, 360, 0, 0].forEach((angle, k) => pen.put(first + k, limitColumn, angle));
  pen.look(place(top + 1, FIRST, 1, 2 * ORDERS + 1), {bold: true});
  pen.look(place(heads, FIRST, 1, wheels.length * (CURVE_COLUMNS + 1) + 2), {bold: true});
  pen.format(place(first, FIRST + 1, POINTS, wheels.length * CURVE_COLUMNS), formats.plusminus);

  return (areas) => [
    ...wheels.map((wheel, i): ChartPlan => ({
      title: `${wheel.position}: runout over the turn`,
      kind: 'lines',
      at: areas[i],
      series: [
        {
          name: LIMIT.name,
          values: place(first, limitColumn + 1 + i, 5, 1),
          x: place(first, limitColumn, 5, 1),
          color: LIMIT.color,
          weight: LIMIT.weight,
          dash: false,
        },
        ...DRAWN.map(([name, {name: word, color, weight, dash}]) => ({
          name: word,
          values: place(first, columnOf(i, name), POINTS, 1),
          x: angles,
          color,
          weight,
          dash,
        })),
      ],
      categories: undefined,
      yTitle: unit,
      legend: false,
    })),
    {
      title: 'Harmonics of the assemblies',
      kind: 'columns',
      at: areas[wheels.length],
      series: Array.from({length: ORDERS}, (_, k) => ({
        name: `${k + 1}× a turn`,
        values: place(orderTop, FIRST + 1 + k, wheels.length, 1),
        x: undefined,
        color: ['#404040', '#7A7A7A', '#A6A6A6', '#CFCFCF'][k],
        weight: undefined,
        dash: false,
      })),
      categories: place(orderTop, FIRST, wheels.length, 1),
      yTitle: unit,
      legend: true,
    },
  ];
}
