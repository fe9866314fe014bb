/** The record sheet of one vehicle, laid out for one printed page: every figure a formula over the ledger's cells. */
import {ASSEMBLY, RIM, TIRE} from './colors';
import {figures, type Figures} from './figures';
import type {RecordInput} from './input';
import {fixed, Pen, span} from './pen';
import {plainText} from '../escape';
import {place, sheetName, type Place, type SheetPlan} from './plan';
import {fingerprintFormula, fingerprintNow, referencesOf, type WheelReferences} from './references';
import {CAUTIONS, CUSTOMER_WORDS, wordsFormula} from './words';

/** Printed columns, in characters. */
const WIDTHS = [13, 14, 10, 9, 8, 8, 9, 9, 9, 9, 15, 15];
const COLUMNS = WIDTHS.length;
/** Characters of a line across all columns but the first; measured with the fonts at hand, on the safe side. */
const LINE = 108;
const WHOLE_LINE = 120;
const CHART_ROWS = 11;
/** Where there are three rows of charts, so that the page keeps its shape. */
const MANY_CHART_ROWS = 9;

const lines = (text: string, perLine = LINE): number => Math.max(1, Math.ceil(text.length / perLine));

interface Formats {
  readonly runout: string;
  readonly plusminus: string;
  readonly mass: string;
  readonly decimals: number;
}

const METRIC: Formats = {runout: '0.00', plusminus: '0.000', mass: '0.0', decimals: 2};
const INCH: Formats = {runout: '0.000', plusminus: '0.0000', mass: '0.00', decimals: 3};

/**
 * The plan of a vehicle's record sheet.
 * @returns undefined when there is no wheel, or the ledger does not name the cells that its formulas need
 */
export function recordSheet(input: RecordInput): SheetPlan | undefined {
  const {wheels} = input;
  const references = wheels.map(referencesOf);
  if (wheels.length === 0 || references.some((found) => found === undefined)) return undefined;
  const of = references as WheelReferences[];
  const {runoutUnit: unit, weightUnit} = wheels[0].record.ledger.map;
  const inch = unit.startsWith('in');
  const formats = inch ? INCH : METRIC;
  const pen = new Pen();
  const behind = figures(pen, input, of, formats);

  const head = title(pen, input, of);
  const table = measured(pen, head, input, of, behind, formats, unit, weightUnit);
  const words = plainWords(pen, table.next, input, of, table.row, formats, unit);
  const done = whatIsDone(pen, words, input, of, behind, table.row, formats);
  chartKey(pen, done + 1, unit);
  const drawn = chartAreas(done + 2, wheels.length + 1);
  const proof = evidence(pen, drawn.next + 1, input, of, behind);
  const end = closing(pen, proof.next, input, proof.fingerprint);
  return pen.plan({
    name: sheetName(`Record ${input.job}`),
    widths: [...WIDTHS, 3],
    charts: behind.charts(drawn.areas),
    page: {
      area: place(0, 0, end, COLUMNS),
      paper: inch ? 'letter' : 'a4',
      header: `Wheel record ${input.job}`,
      footer: 'Limits are the shop’s own. Printed from the workbook that holds the readings.',
    },
  });
}

function title(pen: Pen, {job, vehicle, wheels}: RecordInput, [first]: readonly WheelReferences[]): number {
  pen.put(0, 0, `Wheel record ${[job, vehicle].filter((word) => word !== '').join(' · ')}`);
  pen.look(place(0, 0), {bold: true, size: 16});
  pen.heights.push({row: 0, points: 24});
  pen.put(1, 0, 'Measured');
  pen.put(1, 1, first.text('Date'), 'yyyy-mm-dd');
  pen.look(place(1, 1), {align: 'left'});
  pen.put(1, 2, 'Tire size');
  pen.put(1, 4, first.text('Tire size'));
  pen.put(1, 8, 'Wheels');
  pen.put(1, 9, wheels.length);
  return 3;
}

interface Table {
  readonly row: (wheel: number) => number;
  readonly next: number;
}

/** Columns of the table of what was measured. */
const M = {
  name: 0,
  finding: 1,
  assembly: 2,
  plus: 3,
  limit: 4,
  rim: 5,
  tire: 6,
  after: 7,
  plusAfter: 8,
  turn: 9,
} as const;

function measured(
  pen: Pen,
  top: number,
  {wheels}: RecordInput,
  references: readonly WheelReferences[],
  behind: Figures,
  formats: Formats,
  unit: string,
  weightUnit: string,
): Table {
  pen.heading(top, 'What was measured');
  const heads = top + 1;
  pen.line(
    heads,
    0,
    [
      'Wheel',
      'Finding',
      `Assembly ${unit}`,
      '±',
      'Limit',
      'Rim',
      'Tire',
      'After a match',
      '±',
      'Turn °',
      'Inboard weight',
      'Outboard weight',
    ],
    {bold: true, wrap: true, line: true, top: true},
  );
  pen.look(place(heads, M.assembly, 1, COLUMNS - M.assembly), {align: 'right'});
  pen.heights.push({row: heads, points: 29});
  const row = (wheel: number): number => heads + 1 + wheel;
  wheels.forEach((wheel, i) => {
    const {assembly, inner, outer, limits, limit, text} = references[i];
    const part = (name: string): string =>
      `=WHEEL.ASSESSREADINGS(${assembly},${inner},${outer},${limits},4,,"${name}")`;
    const put = (column: number, formula: string, format?: string): void => pen.put(row(i), column, formula, format);
    pen.put(row(i), M.name, text('Position') ?? plainText(wheel.position));
    put(M.finding, part('finding'));
    put(M.assembly, part('assembly'), formats.runout);
    put(M.plus, part('plusminus'), formats.plusminus);
    put(M.limit, `=${limit}`, formats.runout);
    put(M.rim, part('rim'), formats.runout);
    put(M.tire, part('tire'), formats.runout);
    put(M.after, part('after'), formats.runout);
    put(M.plusAfter, part('plusafter'), formats.plusminus);
    put(M.turn, part('turn'), '0');
    (['in', 'out'] as const).forEach((side, k) => {
      const [mass, angle] = [behind.at(i, `${side}Mass`), behind.at(i, `${side}Angle`)];
      const weighed =
        references[i].unbalance !== undefined && references[i].planes !== undefined && references[i].step !== undefined;
      put(
        M.turn + 1 + k,
        weighed ? `=IF(${mass}=0,"none",${mass}&" ${weightUnit} at "&ROUND(${angle},0)&"°")` : 'not measured',
      );
    });
  });
  pen.look(place(heads + 1, M.name, wheels.length, 2), {bold: true});
  pen.look(place(heads + 1, M.turn + 1, wheels.length, 2), {align: 'right'});
  const note = heads + 1 + wheels.length;
  pen.text(
    note,
    0,
    COLUMNS,
    `Runout is peak-to-peak, first harmonic, in ${unit}; ± is its 95 % half-width. Angles count from the valve hole in the direction of the readings. Weights are what to add before any tire is turned.`,
    2,
  );
  pen.look(place(note, 0), {italic: true});
  return {row, next: note + 2};
}

function plainWords(
  pen: Pen,
  top: number,
  {wheels, without}: RecordInput,
  references: readonly WheelReferences[],
  tableRow: (wheel: number) => number,
  {decimals}: Formats,
  unit: string,
): number {
  pen.heading(top, 'In plain words');
  let next = top + 1;
  wheels.forEach((wheel, i) => {
    const at = (column: number): string => fixed(tableRow(i), column);
    const amount = (column: number): string => `FIXED(${at(column)},${decimals})&" ${unit}"`;
    const values = {a: amount(M.assembly), l: amount(M.limit), m: amount(M.after)};
    const formula = Object.entries(CUSTOMER_WORDS).reduceRight(
      (rest, [finding, words]) => `IF(${at(M.finding)}="${finding}",${wordsFormula(words, values)},${rest})`,
      '""',
    );
    pen.put(next, 0, references[i].text('Position') ?? plainText(wheel.position));
    pen.text(next, 1, COLUMNS - 1, `=${formula}`, lines(CUSTOMER_WORDS[wheel.finding]));
    pen.look(place(next, 0), {top: true});
    next++;
  });
  for (const {position, why} of without) {
    pen.put(next, 0, plainText(position));
    pen.text(next, 1, COLUMNS - 1, `Not assessed: ${why}`, lines(why));
    next++;
  }
  return next + 1;
}

const WORK_WORDS = {
  'as they are': 'Wheels are placed as they are; nothing is demounted.',
  'turn where found': 'Tires are turned on their rims where that is the finding.',
  'pair anew': 'Tires and rims are paired anew: demount all, chalk each tire at the valve of its old rim.',
} as const;

/** Columns of the table of what is done. */
const W = {to: 0, tire: 1, rim: 2, turn: 4, clock: 5, before: 6, after: 7, plus: 8, limit: 9, verdict: 10} as const;

function whatIsDone(
  pen: Pen,
  top: number,
  input: RecordInput,
  references: readonly WheelReferences[],
  behind: Figures,
  tableRow: (wheel: number) => number,
  formats: Formats,
): number {
  const {wheels, work, planned, blocks} = input;
  pen.heading(top, 'What is done: which tire on which rim at which turn, and where the wheel goes');
  const heads = top + 1;
  pen.line(
    heads,
    0,
    ['Goes to', 'Tire of', 'Rim of', '', 'Turn °', 'Chalk to', 'Before', 'After', '±', 'Limit', 'Verdict', ''],
    {bold: true, line: true},
  );
  pen.look(place(heads, W.turn, 1, W.limit - W.turn + 1), {align: 'right'});
  pen.look(place(heads, W.verdict), {align: 'center'});
  // The rows of a block in the order of how much their places are felt, so that equals come out as planned.
  const felt = (wheel: number): number => input.sensitivities[planned[wheel].position] ?? 0;
  const ordered = blocks.map((block) =>
    [...block].sort((a, b) => felt(a) - felt(b) || planned[a].position - planned[b].position),
  );
  const rows = blocks.length > 0 ? ordered.flat() : planned.map((_, i) => i);
  const first = heads + 1;
  const afterCells = span(first, W.after, rows.length, 1);
  const plusCells = span(first, W.plus, rows.length, 1);
  const clockwise = wheels[0].record.ledger.map.clockwise;
  rows.forEach((wheel, k) => {
    const row = first + k;
    const at = (column: number): string => fixed(row, column);
    const from = (column: number): string => fixed(tableRow(wheel), column);
    const put = (column: number, content: string, format?: string): void => pen.put(row, column, content, format);
    const matched = `${from(M.finding)}="match mount"`;
    const name = references[wheel].text('Position') ?? plainText(wheels[wheel].position);
    put(W.tire, name);
    put(W.before, `=${from(M.assembly)}`, formats.runout);
    put(W.limit, `=${from(M.limit)}`, formats.runout);
    if (work === 'pair anew') {
      const names = behind.groupNames(wheel);
      put(W.rim, `=INDEX(${names},${behind.at(wheel, 'pairRim')})`);
      put(W.turn, `=${behind.at(wheel, 'pairTurn')}`, '0');
      put(W.after, `=${behind.at(wheel, 'pairAfter')}`, formats.runout);
      // On its own rim the uncertainty is that of the match; on another one the parts' uncertainties add up as squares.
      const {rim} = planned[wheel];
      put(
        W.plus,
        rim === wheel
          ? `=${from(M.plusAfter)}`
          : `=SQRT(SUMSQ(${from(M.plus)},${behind.at(wheel, 'rimPlus')},${behind.at(rim, 'rimPlus')}))`,
        formats.plusminus,
      );
    } else if (work === 'turn where found') {
      put(W.rim, name);
      put(W.turn, `=IF(${matched},${from(M.turn)},0)`, '0');
      put(W.after, `=IF(${matched},${from(M.after)},${from(M.assembly)})`, formats.runout);
      put(W.plus, `=IF(${matched},${from(M.plusAfter)},${from(M.plus)})`, formats.plusminus);
    } else {
      put(W.rim, name);
      pen.put(row, W.turn, 0, '0');
      put(W.after, `=${from(M.assembly)}`, formats.runout);
      put(W.plus, `=${from(M.plus)}`, formats.plusminus);
    }
    put(W.clock, `=IF(ROUND(${at(W.turn)},0)=0,"as it is",WHEEL.CLOCK(${at(W.turn)}${clockwise ? '' : ',FALSE'}))`);
    const plus = `IFERROR(${at(W.plus)},0)`;
    put(
      W.verdict,
      `=IF(${at(W.after)}+${plus}<=${at(W.limit)},"within the limit",IF(${at(W.after)}-${plus}>${at(W.limit)},"beyond the limit","too close to tell"))`,
    );
    const index = ordered.findIndex((block) => block.includes(wheel));
    if (index < 0) put(W.to, name);
    else {
      const {names, felt: sensitivities} = behind.block(index);
      const start = first + ordered.slice(0, index).flat().length;
      const severities = span(start, W.after, ordered[index].length, 1);
      put(W.to, `=INDEX(${names},WHEEL.PLACE(${severities},${sensitivities},MAX(0,${plusCells}),,${row - start + 1}))`);
    }
  });
  pen.look(place(first, W.to, rows.length, 1), {bold: true});
  pen.look(place(first, W.clock, rows.length, 1), {align: 'right'});
  pen.look(place(first, W.verdict, rows.length, 1), {align: 'center'});
  const worst = first + rows.length;
  pen.put(worst, W.tire, 'Worst');
  pen.put(worst, W.before, `=MAX(${span(first, W.before, rows.length, 1)})`, formats.runout);
  pen.put(worst, W.after, `=MAX(${afterCells})`, formats.runout);
  pen.look(place(worst, 0, 1, COLUMNS), {bold: true});
  const notes = [WORK_WORDS[work], ...input.notes].join(' ');
  pen.text(worst + 1, 0, COLUMNS, notes, lines(notes, WHOLE_LINE));
  pen.look(place(worst + 1, 0), {italic: true});
  return worst + 2;
}

/** Charts side by side below the tables; each area in whole cells. */
function chartAreas(top: number, count: number): {areas: Place[]; next: number} {
  const starts = [0, 3, 8, COLUMNS];
  const across = starts.length - 1;
  const rows = count > 2 * across ? MANY_CHART_ROWS : CHART_ROWS;
  const areas = Array.from({length: count}, (_, i) => {
    const column = i % across;
    return place(top + rows * Math.floor(i / across), starts[column], rows, starts[column + 1] - starts[column]);
  });
  return {areas, next: top + rows * Math.ceil(count / across)};
}

/** What the lines of the charts are, said once for all: in their colors and in words. */
function chartKey(pen: Pen, row: number, unit: string): void {
  const keys: readonly (readonly [number, string, string])[] = [
    [1, 'rim: thin line', RIM.color],
    [2, 'tire: dashed', TIRE.color],
    [4, 'assembly: heavy', ASSEMBLY.color],
    [7, 'limit: outline', '#6E6E6E'],
  ];
  pen.put(row, 0, 'Charts');
  pen.look(place(row, 0), {bold: true});
  for (const [column, text, color] of keys) {
    pen.put(row, column, text);
    pen.look(place(row, column), {color, bold: true});
  }
  pen.put(row, 9, `across: degrees from the valve; up: ${unit}`);
}

/** Columns of the evidence. */
const E = {name: 0, supplier: 1, tin: 3, plant: 6, made: 7, rimLimit: 8, readings: 9, fingerprint: 10} as const;

function evidence(
  pen: Pen,
  top: number,
  {wheels}: RecordInput,
  references: readonly WheelReferences[],
  behind: Figures,
): {next: number; fingerprint: {formula: string; now: string}} {
  pen.heading(top, 'Evidence for the supplier');
  const heads = top + 1;
  pen.line(
    heads,
    0,
    [
      'Wheel',
      'Supplier',
      '',
      'Tire identification number',
      '',
      '',
      'Plant',
      'Made wk.',
      'Rim limit',
      'Readings',
      'Fingerprint',
      '',
    ],
    {bold: true, line: true},
  );
  pen.look(place(heads, E.rimLimit), {align: 'right'});
  pen.look(place(heads, E.readings), {align: 'center'});
  let next = heads + 1;
  let previous: string | undefined;
  let now: string | undefined;
  wheels.forEach((wheel, i) => {
    const {record, position} = wheel;
    const {text, assembly, inner, outer, limits, rimLimit} = references[i];
    const row = next++;
    pen.put(row, E.name, text('Position') ?? plainText(position));
    pen.put(row, E.supplier, text('Supplier'));
    pen.put(row, E.tin, text('TIN'));
    const tin = fixed(row, E.tin);
    if (text('TIN') !== undefined) {
      pen.put(row, E.plant, `=IF(${tin}="","",WHEEL.TIN(${tin},"plant"))`);
      pen.put(row, E.made, `=IF(${tin}="","",WHEEL.TIN(${tin},"week")&IFERROR("/"&WHEEL.TIN(${tin},"year"),"/?"))`);
    }
    pen.put(row, E.rimLimit, `=${rimLimit}`, '0.00#');
    pen.put(row, E.readings, `=${behind.at(i, 'check')}`);
    pen.put(row, E.fingerprint, `=${fingerprintFormula(record, previous)}`);
    pen.look(place(row, E.fingerprint, 1, 2), {merge: true, align: 'left'});
    pen.look(place(row, E.readings), {align: 'center'});
    previous = fixed(row, E.fingerprint);
    now = fingerprintNow(record, now);
    const reason = next++;
    pen.text(
      reason,
      1,
      COLUMNS - 1,
      `=WHEEL.ASSESSREADINGS(${assembly},${inner},${outer},${limits},4,,"reason")`,
      lines(wheel.reason),
    );
    pen.look(place(reason, 1), {italic: true});
  });
  pen.put(next, 0, 'Gauge, and date of its last check:');
  pen.put(next, 7, 'Measured by:');
  pen.look(place(next, 3, 1, 3), {line: true});
  pen.look(place(next, 9, 1, 3), {line: true});
  pen.heights.push({row: next, points: 24});
  return {next: next + 2, fingerprint: {formula: previous!, now: now!}};
}

function closing(pen: Pen, top: number, _: RecordInput, fingerprint: {formula: string; now: string}): number {
  pen.heading(top, 'Cautions');
  let next = top + 1;
  const halves = [CAUTIONS[2], `${CAUTIONS[0]} ${CAUTIONS[1]} ${CAUTIONS[3]}`];
  for (const text of halves) pen.text(next++, 0, COLUMNS, text, lines(text, WHOLE_LINE));
  pen.put(next, 0, 'Edition');
  pen.put(next, 1, '=WHEEL.EDITION()');
  pen.put(next, 5, 'Fingerprint of the record');
  pen.put(next, 8, `=${fingerprint.formula}`);
  pen.put(next + 1, 0, 'At writing');
  pen.put(next + 1, 1, fingerprint.now);
  pen.format(place(next + 1, 1), '@');
  pen.put(next + 1, 5, 'Readings since');
  pen.put(
    next + 1,
    8,
    `=IF(${fingerprint.formula}=${fixed(next + 1, 1)},"unchanged since this sheet was written","CHANGED since this sheet was written")`,
  );
  return next + 2;
}
