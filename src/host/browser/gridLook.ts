/** How cells look, in the words of the grid. */
import {cellKey, cellOfKey, type Area} from '../book/addresses';
import type {Look} from '../engine/session';
import type {SheetData} from '../engine/univerLibrary';
import type {ConditionalFormat} from '../files/conditionalFormats';
import {USUAL_HEIGHT, USUAL_WIDTH} from '../office/state';
import type {Band, Border, CellLook, LineStyle, Looks, SheetLook} from '../files/looks';

/** BorderStyleTypes of the grid. */
const LINES: Readonly<Record<LineStyle, number>> = {
  thin: 1,
  hair: 2,
  dotted: 3,
  dashed: 4,
  dashDot: 5,
  dashDotDot: 6,
  double: 7,
  medium: 8,
  mediumDashed: 9,
  mediumDashDot: 10,
  mediumDashDotDot: 11,
  slantDashDot: 12,
  thick: 13,
};

const HORIZONTAL = {left: 1, center: 2, right: 3, justify: 4};
const VERTICAL = {top: 1, center: 2, bottom: 3};
/** WrapStrategy.WRAP of the grid. */
const WRAP = 3;
/** What the grid takes for a cell that says nothing. */
const USUAL_SIZE = 11;

const line = ({style, color}: Border) => ({s: LINES[style] ?? LINES.thin, cl: {rgb: color}});

/** A style of the grid. */
export function gridStyle(look: CellLook): object {
  const {borders = {}} = look;
  const sides = {
    ...(borders.top ? {t: line(borders.top)} : {}),
    ...(borders.right ? {r: line(borders.right)} : {}),
    ...(borders.bottom ? {b: line(borders.bottom)} : {}),
    ...(borders.left ? {l: line(borders.left)} : {}),
  };
  return {
    ...(look.numberFormat === undefined ? {} : {n: {pattern: look.numberFormat}}),
    ...(look.font === undefined ? {} : {ff: look.font}),
    ...(look.size === undefined || look.size === USUAL_SIZE ? {} : {fs: look.size}),
    ...(look.bold ? {bl: 1} : {}),
    ...(look.italic ? {it: 1} : {}),
    ...(look.underline ? {ul: {s: 1}} : {}),
    ...(look.strikethrough ? {st: {s: 1}} : {}),
    ...(look.color === undefined ? {} : {cl: {rgb: look.color}}),
    ...(look.fill === undefined ? {} : {bg: {rgb: look.fill}}),
    ...(look.horizontal === undefined ? {} : {ht: HORIZONTAL[look.horizontal]}),
    ...(look.vertical === undefined ? {} : {vt: VERTICAL[look.vertical]}),
    ...(look.wrap ? {tb: WRAP} : {}),
    ...(Object.keys(sides).length === 0 ? {} : {bd: sides}),
  };
}

const styleName = (look: number): string => `look${look}`;

/** The look of a whole workbook, by the ids of its sheets. */
export function gridLook({looks, sheets}: Looks, ids: ReadonlyMap<string, string>): Look {
  const byId = new Map(sheets.map((sheet) => [ids.get(sheet.name)!, sheet]));
  return {
    styles: Object.fromEntries(looks.map((look, i) => [styleName(i), gridStyle(look)])),
    sheet: (id) => {
      const sheet = byId.get(id);
      // A sheet that is added has the sizes of a new one in Excel.
      return sheet ? sheetData(sheet) : {defaultColumnWidth: USUAL_WIDTH, defaultRowHeight: USUAL_HEIGHT};
    },
    cell: (id, row, column) => {
      const look = byId.get(id)?.cells.get(cellKey(row, column));
      return look === undefined ? undefined : styleName(look);
    },
    styled: (id) => [...(byId.get(id)?.cells.keys() ?? [])].map(cellOfKey),
    resources: [
      {
        name: 'SHEET_CONDITIONAL_FORMATTING_PLUGIN',
        data: JSON.stringify(
          Object.fromEntries([...byId].map(([id, {conditional}]) => [id, conditional.map(conditionalRule)])),
        ),
      },
    ],
  };
}

function sheetData(sheet: SheetLook): Partial<SheetData> {
  const {frozenRows: ySplit, frozenColumns: xSplit} = sheet;
  return {
    hidden: sheet.hidden ? 1 : 0,
    showGridlines: sheet.gridLines ? 1 : 0,
    defaultColumnWidth: sheet.columnWidth,
    defaultRowHeight: sheet.rowHeight,
    columnData: bands(sheet.columns, (size) => ({w: size})),
    rowData: bands(sheet.rows, (size) => ({h: size, ia: 0})),
    mergeData: sheet.merges.map(gridRange),
    ...(ySplit > 0 || xSplit > 0
      ? {freeze: {xSplit, ySplit, startRow: ySplit > 0 ? ySplit : -1, startColumn: xSplit > 0 ? xSplit : -1}}
      : {}),
  };
}

/** Bands to the end of the sheet are cut: each of their rows or columns would be an object of its own. */
const LONGEST_BAND = 20_000;

function bands(all: readonly Band[], sized: (size: number) => object) {
  const data: Record<number, object> = {};
  for (const {from, to, size, look} of all) {
    for (let i = from; i <= Math.min(to, from + LONGEST_BAND); i++) {
      data[i] = {
        ...(size === undefined ? {} : sized(size)),
        ...(size === 0 ? {hd: 1} : {}),
        ...(look === undefined ? {} : {s: styleName(look)}),
      };
    }
  }
  return data;
}

export const gridRange = ({top, left, bottom, right}: Area) => ({
  startRow: top,
  endRow: bottom,
  startColumn: left,
  endColumn: right,
});

const OPERATORS: Readonly<Record<string, string>> = {
  greaterThan: '>',
  lessThan: '<',
  equal: '=',
  notEqual: '<>',
  greaterThanOrEqual: '>=',
  lessThanOrEqual: '<=',
};

function conditionalRule({areas, first, stop, rule}: ConditionalFormat, i: number): object {
  return {cfId: `cf${i}`, stopIfTrue: stop, ranges: areas.map(gridRange), rule: gridRule(rule, first)};
}

function gridRule(rule: ConditionalFormat['rule'], first: string): object {
  if (rule.kind === 'formula') return highlighted(rule.formula, rule.look);
  if (rule.kind === 'bar') {
    const config = {min: {type: 'min'}, max: {type: 'max'}, isGradient: true, positiveColor: rule.color};
    return {type: 'dataBar', isShowValue: true, config: {...config, nativeColor: '#D55E00'}};
  }
  if (rule.kind === 'scale') {
    const config = rule.points.map(({type, value, color}, index) => ({
      index,
      color,
      value: {type, ...(value === undefined ? {} : {value})},
    }));
    return {type: 'colorScale', config};
  }
  const [low, high] = rule.formulas;
  if (rule.operator === 'between') return highlighted(`AND(${first}>=${low},${first}<=${high})`, rule.look);
  if (rule.operator === 'notBetween') return highlighted(`OR(${first}<${low},${first}>${high})`, rule.look);
  return highlighted(`${first}${OPERATORS[rule.operator] ?? '='}${low}`, rule.look);
}

const highlighted = (formula: string, look: CellLook): object => ({
  type: 'highlightCell',
  subType: 'formula',
  value: `=${formula}`,
  style: gridStyle(look),
});
