/** Drawing a chart of the workbook as the local host can: a preview, said to be one. */
import {extent, max, min} from 'd3-array';
import {scaleBand, scaleLinear, type ScaleLinear} from 'd3-scale';
import {line} from 'd3-shape';
import type {DrawnChart, DrawnSeries} from './chartModel';

const SVG = 'http://www.w3.org/2000/svg';
const MARGIN = {top: 28, right: 14, bottom: 40, left: 48};
const LEGEND = 18;
const NOTE = 'Preview drawn by the local host';

type Attributes = Readonly<Record<string, string | number>>;

function element(name: string, attributes: Attributes = {}, ...inside: (Node | string)[]): SVGElement {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  made.append(...inside);
  return made;
}

const words = (text: string, attributes: Attributes): SVGElement =>
  element('text', {'font-size': 11, 'font-family': 'sans-serif', fill: '#404040', ...attributes}, text);

/** The chart in a size in pixels. */
export function chartSvg(chart: DrawnChart, width: number, height: number): SVGElement {
  const bottom = MARGIN.bottom + (chart.legend ? LEGEND : 0) + LEGEND;
  const plot = {left: MARGIN.left, right: width - MARGIN.right, top: MARGIN.top, bottom: height - bottom};
  const y = valueScale(chart).range([plot.bottom, plot.top]);
  const svg = element('svg', {
    width,
    height,
    viewBox: `0 0 ${width} ${height}`,
    role: 'img',
    style: 'display: block',
    'aria-label': `${chart.title}. ${NOTE}.`,
  });
  svg.append(
    element('rect', {x: 0.5, y: 0.5, width: width - 3, height: height - 3, fill: '#fff', stroke: '#8a8a8a'}),
    words(chart.title, {x: width / 2, y: 18, 'text-anchor': 'middle', 'font-size': 13, 'font-weight': 600}),
    ...valueAxis(y, plot, chart.valueTitle),
    ...(chart.kind === 'scatter' ? scatter(chart, y, plot) : categories(chart, y, plot)),
    words(chart.categoryTitle, {x: (plot.left + plot.right) / 2, y: plot.bottom + 32, 'text-anchor': 'middle'}),
    ...(chart.legend ? legend(chart.series, plot.left, height - LEGEND - 8) : []),
    words(NOTE, {x: width - 6, y: height - 6, 'text-anchor': 'end', 'font-size': 10, fill: '#666'}),
  );
  return svg;
}

interface Plot {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

type Scale = ScaleLinear<number, number>;

/** Columns begin at 0; an axis whose ends are given keeps them. */
function valueScale({series, minimum, maximum}: DrawnChart): Scale {
  const all = series.flatMap(({values}) => values.filter((value) => value !== undefined));
  const low = minimum ?? Math.min(0, min(all) ?? 0);
  const high = maximum ?? Math.max(0, max(all) ?? 1);
  const scale = scaleLinear([low, high === low ? low + 1 : high], [0, 1]);
  return minimum === undefined && maximum === undefined ? scale.nice() : scale;
}

function valueAxis(y: Scale, {left, right, top, bottom}: Plot, title: string): SVGElement[] {
  const form = y.tickFormat(5);
  return [
    ...y
      .ticks(5)
      .flatMap((tick) => [
        element('line', {x1: left, x2: right, y1: y(tick), y2: y(tick), stroke: tick === 0 ? '#666' : '#ddd'}),
        words(form(tick), {x: left - 6, y: y(tick) + 4, 'text-anchor': 'end'}),
      ]),
    words(title, {transform: `translate(12 ${(top + bottom) / 2}) rotate(-90)`, 'text-anchor': 'middle'}),
  ];
}

const stroke = ({color, weight, dashed}: DrawnSeries): Attributes => ({
  fill: 'none',
  stroke: color,
  'stroke-width': weight,
  'stroke-dasharray': dashed ? '6 4' : 'none',
});

function scatter({series, from, to}: DrawnChart, y: Scale, plot: Plot): SVGElement[] {
  const numbers = series.flatMap(({across}) => across.filter((value) => typeof value === 'number'));
  const [low = 0, high = 1] = extent(numbers);
  const x = scaleLinear([from ?? low, to ?? high], [plot.left, plot.right]);
  const form = x.tickFormat(5);
  return [
    ...x.ticks(5).map((tick) => words(form(tick), {x: x(tick), y: plot.bottom + 16, 'text-anchor': 'middle'})),
    ...series.map((one) => path(one, (i) => (typeof one.across[i] === 'number' ? x(one.across[i] as number) : NaN), y)),
  ];
}

function path(one: DrawnSeries, x: (index: number) => number, y: Scale): SVGElement {
  const indices = one.values.map((_, i) => i);
  const drawn = line<number>()
    .defined((i) => one.values[i] !== undefined && Number.isFinite(x(i)))
    .x(x)
    .y((i) => y(one.values[i]!));
  return element('path', {d: drawn(indices) ?? '', ...stroke(one)});
}

function categories({series, kind}: DrawnChart, y: Scale, plot: Plot): SVGElement[] {
  const labels = series[0]?.across.map(String) ?? [];
  const places = labels.map((_, i) => i);
  const x = scaleBand(places, [plot.left, plot.right]).padding(0.2);
  const inner = scaleBand(
    series.map((_, i) => i),
    [0, x.bandwidth()],
  );
  const each = Math.ceil(labels.length / 10);
  const under = labels.flatMap((label, i) =>
    i % each === 0 ? [words(label, {x: x(i)! + x.bandwidth() / 2, y: plot.bottom + 16, 'text-anchor': 'middle'})] : [],
  );
  if (kind === 'lines') {
    return [...under, ...series.map((one) => path(one, (i) => x(i)! + x.bandwidth() / 2, y))];
  }
  const bars = series.flatMap((one, s) =>
    one.values.flatMap((value, i) =>
      value === undefined
        ? []
        : [
            element('rect', {
              x: x(i)! + inner(s)!,
              width: inner.bandwidth(),
              y: Math.min(y(0), y(value)),
              height: Math.abs(y(value) - y(0)),
              fill: one.color,
            }),
          ],
    ),
  );
  return [...under, ...bars];
}

function legend(series: readonly DrawnSeries[], left: number, at: number): SVGElement[] {
  let x = left;
  return series.flatMap((one) => {
    const made = [
      element('line', {x1: x, x2: x + 20, y1: at - 4, y2: at - 4, ...stroke(one)}),
      words(one.name, {x: x + 24, y: at}),
    ];
    x += 40 + one.name.length * 6.5;
    return made;
  });
}
