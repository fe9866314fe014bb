/** A chart in the words of the file format. Charts of kinds that it does not know are not written; see `isWritable`. */
import {encodeXml} from './xml';
import {xmlText} from './sheetElements';

export interface DataToSave {
  /** Such as "'Record J-401'!$N$3:$N$6"; undefined for values that stand in the chart itself. */
  readonly formula: string | undefined;
  /** What the cells show; undefined for a cell without a value. */
  readonly values: readonly (number | string | undefined)[];
}

export interface SeriesToSave {
  readonly name: DataToSave;
  readonly values: DataToSave;
  /** Numbers across of a scatter chart, or the labels of categories. */
  readonly across: DataToSave | undefined;
  /** What was set, by its path in office.js, such as "format.line.color". */
  readonly set: Settings;
}

export interface ChartToSave {
  readonly name: string;
  /** As office.js names it, such as "ColumnClustered". */
  readonly type: string;
  readonly series: readonly SeriesToSave[];
  /** What was set, by its path in office.js, such as "axes.valueAxis.minimum". */
  readonly set: Settings;
}

type Settings = Readonly<Record<string, unknown>>;

const CHART = 'http://schemas.openxmlformats.org/drawingml/2006/chart';
const DRAWING = 'http://schemas.openxmlformats.org/drawingml/2006/main';
/** Any two numbers; the axes refer to each other by them. */
const [ACROSS, UP] = [1001, 1002];
const EMU_OF_POINT = 12700;

type Kind = 'scatter' | 'line' | 'bar';

function kindOf(type: string): Kind | undefined {
  if (/^XYScatter(?:Lines|Smooth)?(?:NoMarkers)?$/.test(type)) return 'scatter';
  if (/^Line(?:Markers)?$/.test(type)) return 'line';
  return /^(?:Column|Bar)(?:Clustered|Stacked|Stacked100)$/.test(type) ? 'bar' : undefined;
}

export const isWritable = ({type}: Pick<ChartToSave, 'type'>): boolean => kindOf(type) !== undefined;

/** @throws RangeError for a kind of chart that is not written */
export function chartXml({name, type, series, set}: ChartToSave): string {
  const kind = kindOf(type);
  if (kind === undefined) throw new RangeError(`a chart of the kind ${type} is not written`);
  const text = textOf(set, 'title.text') ?? name;
  const hasTitle = set['title.visible'] !== false && text !== '';
  const chart = [
    hasTitle ? title(text, set, 'title', 14) : '',
    val('autoTitleDeleted', !hasTitle),
    xmlText('c:plotArea', {}, xmlText('c:layout') + plot(kind, type, series) + axes(kind, type, set)),
    set['legend.visible'] === false ? '' : legend(textOf(set, 'legend.position')),
    val('plotVisOnly', set.plotVisibleOnly !== false),
    val('dispBlanksAs', BLANKS[textOf(set, 'displayBlanksAs') ?? ''] ?? 'gap'),
  ];
  const space = val('roundedCorners', set['format.roundedCorners'] === true) + xmlText('c:chart', {}, chart.join(''));
  return xmlText('c:chartSpace', {'xmlns:c': CHART, 'xmlns:a': DRAWING}, space);
}

const BLANKS: Readonly<Record<string, string>> = {NotPlotted: 'gap', Zero: 'zero', Interplotted: 'span'};

const val = (name: string, value: string | number | boolean): string => xmlText(`c:${name}`, {val: value});

const textOf = (set: Settings, path: string): string | undefined => {
  const found = set[path];
  return typeof found === 'string' ? found : undefined;
};

const numberOf = (set: Settings, path: string): number | undefined => {
  const found = set[path];
  return typeof found === 'number' ? found : undefined;
};

// ---- words ----

const solid = (color: string): string =>
  xmlText('a:solidFill', {}, xmlText('a:srgbClr', {val: color.replace('#', '').toUpperCase()}));

const isColor = (color: unknown): color is string => typeof color === 'string' && /^#[\da-f]{6}$/i.test(color);

function font(element: string, set: Settings, path: string, usualSize: number): string {
  const color = set[`${path}.format.font.color`];
  return xmlText(
    element,
    {
      ...(element === 'a:rPr' ? {lang: 'en-US'} : {}),
      sz: Math.round(100 * (numberOf(set, `${path}.format.font.size`) ?? usualSize)),
      b: set[`${path}.format.font.bold`] === true,
      i: set[`${path}.format.font.italic`] === true ? true : undefined,
    },
    isColor(color) ? solid(color) : '',
  );
}

function title(text: string, set: Settings, path: string, usualSize: number, turned = false): string {
  const body = xmlText('a:bodyPr', turned ? {rot: -5400000, vert: 'horz'} : {});
  const run = font('a:rPr', set, path, usualSize) + xmlText('a:t', {}, encodeXml(text));
  const paragraph = xmlText('a:pPr', {}, font('a:defRPr', set, path, usualSize)) + xmlText('a:r', {}, run);
  const rich = body + xmlText('a:lstStyle') + xmlText('a:p', {}, paragraph);
  const words = xmlText('c:tx', {}, xmlText('c:rich', {}, rich));
  return xmlText('c:title', {}, words + val('overlay', false));
}

const LEGEND: Readonly<Record<string, string>> = {Top: 't', Bottom: 'b', Left: 'l', Right: 'r', Corner: 'tr'};

const legend = (position = 'Right'): string =>
  xmlText('c:legend', {}, val('legendPos', LEGEND[position] ?? 'r') + val('overlay', false));

// ---- data ----

function cached(values: DataToSave['values'], formatted: boolean): string {
  const points = values.flatMap((value, idx) =>
    value === undefined ? [] : xmlText('c:pt', {idx}, xmlText('c:v', {}, encodeXml(String(value)))),
  );
  const format = formatted ? xmlText('c:formatCode', {}, 'General') : '';
  return format + val('ptCount', values.length) + points.join('');
}

function data(name: string, {formula, values}: DataToSave, wanted?: 'numbers'): string {
  const isNumbers = wanted === 'numbers' || values.every((value) => typeof value !== 'string');
  const shown = isNumbers ? values.map((value) => (typeof value === 'number' ? value : undefined)) : values;
  const kind = isNumbers ? 'num' : 'str';
  if (formula === undefined) return xmlText(name, {}, xmlText(`c:${kind}Lit`, {}, cached(shown, isNumbers)));
  const cells = xmlText('c:f', {}, encodeXml(formula)) + xmlText(`c:${kind}Cache`, {}, cached(shown, isNumbers));
  return xmlText(name, {}, xmlText(`c:${kind}Ref`, {}, cells));
}

/** A name stands as a text, or in a cell. */
function seriesName({formula, values}: DataToSave): string {
  if (formula === undefined) return xmlText('c:tx', {}, xmlText('c:v', {}, encodeXml(String(values[0] ?? ''))));
  const texts = {formula, values: values.map((value) => (value === undefined ? undefined : String(value)))};
  const cells = xmlText('c:f', {}, encodeXml(formula)) + xmlText('c:strCache', {}, cached(texts.values, false));
  return xmlText('c:tx', {}, xmlText('c:strRef', {}, cells));
}

const DASHES: Readonly<Record<string, string>> = {
  Continuous: 'solid',
  Dash: 'dash',
  DashDot: 'dashDot',
  DashDotDot: 'lgDashDotDot',
  Dot: 'sysDot',
  RoundDot: 'sysDot',
};

function line(set: Settings, hidden: boolean): string {
  if (hidden) return xmlText('a:ln', {}, xmlText('a:noFill'));
  const color = set['format.line.color'];
  const weight = numberOf(set, 'format.line.weight');
  const dash = DASHES[textOf(set, 'format.line.lineStyle') ?? ''];
  return xmlText(
    'a:ln',
    {w: weight === undefined || weight < 0 ? undefined : Math.round(weight * EMU_OF_POINT), cap: 'rnd'},
    (isColor(color) ? solid(color) : '') + (dash ? xmlText('a:prstDash', {val: dash}) : '') + xmlText('a:round'),
  );
}

const MARKERS: readonly string[] = ['Circle', 'Dash', 'Diamond', 'Dot', 'Plus', 'Square', 'Star', 'Triangle', 'X'];

function marker(set: Settings, shown: boolean): string {
  const style = textOf(set, 'markerStyle') ?? 'Automatic';
  if (style === 'None' || (!shown && style === 'Automatic')) return xmlText('c:marker', {}, val('symbol', 'none'));
  if (!MARKERS.includes(style)) return '';
  return xmlText('c:marker', {}, val('symbol', style.toLowerCase()) + val('size', numberOf(set, 'markerSize') ?? 5));
}

function plot(kind: Kind, type: string, series: readonly SeriesToSave[]): string {
  const each = series.map((one, i) => seriesXml(kind, type, one, i)).join('');
  const ends = val('axId', ACROSS) + val('axId', UP);
  const gap = series.map(({set}) => numberOf(set, 'gapWidth')).find((width) => width !== undefined);
  const plain = val('varyColors', false);
  switch (kind) {
    case 'scatter':
      return xmlText('c:scatterChart', {}, val('scatterStyle', 'lineMarker') + plain + each + ends);
    case 'line':
      return xmlText('c:lineChart', {}, val('grouping', 'standard') + plain + each + val('marker', true) + ends);
    case 'bar': {
      const stacked = /Stacked100$/.test(type) ? 'percentStacked' : /Stacked$/.test(type) ? 'stacked' : 'clustered';
      const direction = val('barDir', type.startsWith('Bar') ? 'bar' : 'col') + val('grouping', stacked);
      const overlap = stacked === 'clustered' ? '' : val('overlap', 100);
      return xmlText('c:barChart', {}, direction + plain + each + val('gapWidth', gap ?? 150) + overlap + ends);
    }
  }
}

function seriesXml(kind: Kind, type: string, {name, values, across, set}: SeriesToSave, i: number): string {
  const head = val('idx', i) + val('order', i) + seriesName(name);
  const numbers = (element: string): string => data(element, values, 'numbers');
  if (kind === 'bar') {
    const fill = set['format.fill.solidColor'] ?? set['format.fill.color'];
    const look = isColor(fill) ? xmlText('c:spPr', {}, solid(fill)) : '';
    const labels = across ? data('c:cat', across) : '';
    return xmlText('c:ser', {}, head + look + val('invertIfNegative', false) + labels + numbers('c:val'));
  }
  const noLine = type === 'XYScatter' || set['format.line.lineStyle'] === 'None';
  const hasMarkers = type === 'LineMarkers' || (kind === 'scatter' && !type.endsWith('NoMarkers'));
  const look = xmlText('c:spPr', {}, line(set, noLine)) + marker(set, hasMarkers);
  const isSmooth = type.startsWith('XYScatterSmooth') || set.smooth === true;
  const points =
    kind === 'scatter'
      ? (across ? data('c:xVal', across) : '') + numbers('c:yVal')
      : (across ? data('c:cat', across) : '') + numbers('c:val');
  return xmlText('c:ser', {}, head + look + points + val('smooth', isSmooth));
}

// ---- axes ----

const LABELS: Readonly<Record<string, string>> = {NextToAxis: 'nextTo', Low: 'low', High: 'high', None: 'none'};
const TICKS: Readonly<Record<string, string>> = {Outside: 'out', Inside: 'in', Cross: 'cross', None: 'none'};

function axes(kind: Kind, type: string, set: Settings): string {
  const lying = type.startsWith('Bar');
  const across = axis({
    path: 'axes.categoryAxis',
    set,
    element: kind === 'scatter' ? 'c:valAx' : 'c:catAx',
    ids: [ACROSS, UP],
    place: lying ? 'l' : 'b',
    hasGrid: false,
  });
  const up = axis({
    path: 'axes.valueAxis',
    set,
    element: 'c:valAx',
    ids: [UP, ACROSS],
    place: lying ? 'b' : 'l',
    hasGrid: true,
    between: kind === 'scatter' ? 'midCat' : 'between',
  });
  return across + up;
}

interface Axis {
  readonly path: string;
  readonly set: Settings;
  readonly element: 'c:valAx' | 'c:catAx';
  readonly ids: readonly [number, number];
  readonly place: 'l' | 'b';
  readonly hasGrid: boolean;
  readonly between?: string;
}

function axis({path, set, element, ids, place, hasGrid, between = 'midCat'}: Axis): string {
  const own = (name: string): string => `${path}.${name}`;
  const number = (name: string): number | undefined => numberOf(set, own(name));
  const [most, least, unit] = [number('maximum'), number('minimum'), number('majorUnit')];
  const numbers = element === 'c:valAx';
  const scaling = [
    val('orientation', set[own('reversePlotOrder')] === true ? 'maxMin' : 'minMax'),
    most === undefined ? '' : val('max', most),
    least === undefined ? '' : val('min', least),
  ];
  const text = textOf(set, own('title.text')) ?? '';
  const grid = set[own('majorGridlines.visible')] ?? hasGrid;
  const look = xmlText('a:ln', {w: 6350}, solid('#BFBFBF'));
  const format = textOf(set, own('numberFormat'));
  const parts = [
    val('axId', ids[0]),
    xmlText('c:scaling', {}, scaling.join('')),
    val('delete', set[own('visible')] === false),
    val('axPos', place),
    grid === true ? xmlText('c:majorGridlines', {}, xmlText('c:spPr', {}, look)) : '',
    text === '' || set[own('title.visible')] === false ? '' : title(text, set, own('title'), 9, place === 'l'),
    xmlText('c:numFmt', {formatCode: format ?? 'General', sourceLinked: format === undefined}),
    val('majorTickMark', TICKS[textOf(set, own('majorTickMark')) ?? ''] ?? 'out'),
    val('minorTickMark', TICKS[textOf(set, own('minorTickMark')) ?? ''] ?? 'none'),
    val('tickLblPos', LABELS[textOf(set, own('tickLabelPosition')) ?? ''] ?? 'nextTo'),
    xmlText('c:txPr', {}, xmlText('a:bodyPr') + xmlText('a:lstStyle') + labels(set, path)),
    val('crossAx', ids[1]),
    val('crosses', 'autoZero'),
    numbers
      ? val('crossBetween', between) + (unit === undefined ? '' : val('majorUnit', unit))
      : val('auto', true) + val('lblAlgn', 'ctr') + val('lblOffset', 100) + val('noMultiLvlLbl', false),
  ];
  return xmlText(element, {}, parts.join(''));
}

const labels = (set: Settings, path: string): string =>
  xmlText('a:p', {}, xmlText('a:pPr', {}, font('a:defRPr', set, path, 9)) + xmlText('a:endParaRPr', {lang: 'en-US'}));
