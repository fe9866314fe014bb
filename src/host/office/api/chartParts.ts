/** Parts of a chart, kept as they were set. */
import {isGiven, text} from './officeObject';
import {invalid} from './problem';
import {record, Recorded, recordedClass, type RecordedClass} from './recorded';

const ChartFont = recordedClass('ChartFont', {
  values: {bold: false, color: '#000000', italic: false, name: 'Calibri', size: 10, underline: 'None'},
});
const ChartFill = recordedClass('ChartFill', {setters: {setSolidColor: 'color'}, clearers: ['clear']});
const ChartLineFormat = recordedClass('ChartLineFormat', {
  values: {color: '', lineStyle: 'Automatic', weight: -1},
  clearers: ['clear'],
});
const ChartBorder = recordedClass('ChartBorder', {
  values: {color: '', lineStyle: 'Automatic', weight: -1},
  clearers: ['clear'],
});

const textFormat = (officeType: string): RecordedClass =>
  recordedClass(officeType, {parts: {border: ChartBorder, fill: ChartFill, font: ChartFont}});

const PLACED = {left: 0, top: 0, width: 0, height: 0};

const ChartTitleFormat = textFormat('ChartTitleFormat');

export const ChartTitle = recordedClass('ChartTitle', {
  values: {
    ...PLACED,
    horizontalAlignment: 'Center',
    overlay: false,
    position: 'Top',
    showShadow: false,
    text: '',
    textOrientation: 0,
    verticalAlignment: 'Center',
    visible: true,
  },
  setters: {setFormula: 'formula'},
  parts: {format: ChartTitleFormat},
});

export const ChartLegend = recordedClass('ChartLegend', {
  values: {...PLACED, overlay: false, position: 'Right', showShadow: false, visible: true},
  parts: {format: textFormat('ChartLegendFormat')},
});

export const ChartDataLabels = recordedClass('ChartDataLabels', {
  values: {
    autoText: true,
    horizontalAlignment: 'Center',
    linkNumberFormat: true,
    numberFormat: 'General',
    position: 'None',
    separator: ',',
    showBubbleSize: false,
    showCategoryName: false,
    showLegendKey: false,
    showPercentage: false,
    showSeriesName: false,
    showValue: false,
    textOrientation: 0,
    verticalAlignment: 'Center',
  },
  parts: {format: textFormat('ChartDataLabelFormat')},
});

export const ChartAreaFormat = recordedClass('ChartAreaFormat', {
  values: {colorScheme: 'ColorfulPalette1', roundedCorners: false},
  parts: {border: ChartBorder, fill: ChartFill, font: ChartFont},
});

export const ChartPlotArea = recordedClass('ChartPlotArea', {
  values: {...PLACED, insideHeight: 0, insideLeft: 0, insideTop: 0, insideWidth: 0, position: 'Automatic'},
  parts: {format: recordedClass('ChartPlotAreaFormat', {parts: {border: ChartBorder, fill: ChartFill}})},
});

export const ChartSeriesFormat = recordedClass('ChartSeriesFormat', {
  parts: {fill: ChartFill, line: ChartLineFormat},
});

const ChartAxisTitle = recordedClass('ChartAxisTitle', {
  values: {text: '', textOrientation: 0, visible: false},
  setters: {setFormula: 'formula'},
  parts: {format: textFormat('ChartAxisTitleFormat')},
});

/** A text makes the title of an axis visible. */
const titleText = Object.getOwnPropertyDescriptor(ChartAxisTitle.prototype, 'text')!;
Object.defineProperty(ChartAxisTitle.prototype, 'text', {
  ...titleText,
  set(this: Recorded, given: unknown) {
    this.store.set(this.below('visible'), true);
    this.store.set(this.below('text'), text(given));
  },
});

const gridlines = (visible: boolean): RecordedClass =>
  recordedClass('ChartGridlines', {
    values: {visible},
    parts: {format: recordedClass('ChartGridlinesFormat', {parts: {line: ChartLineFormat}})},
  });

const axis = (type: 'Category' | 'Value' | 'Series'): RecordedClass =>
  recordedClass('ChartAxis', {
    values: {
      ...PLACED,
      alignment: 'Center',
      axisGroup: 'Primary',
      baseTimeUnit: 'Days',
      categoryType: 'Automatic',
      customDisplayUnit: 0,
      displayUnit: 'None',
      isBetweenCategories: true,
      linkNumberFormat: true,
      logBase: 10,
      majorTickMark: 'Outside',
      majorTimeUnitScale: 'Days',
      majorUnit: '',
      maximum: '',
      minimum: '',
      minorTickMark: 'None',
      minorTimeUnitScale: 'Days',
      minorUnit: '',
      multiLevel: true,
      numberFormat: 'General',
      offset: 100,
      position: 'Automatic',
      positionAt: 0,
      reversePlotOrder: false,
      scaleType: 'Linear',
      showDisplayUnitLabel: true,
      textOrientation: 0,
      tickLabelPosition: 'NextToAxis',
      tickLabelSpacing: '',
      tickMarkSpacing: 1,
      type,
      visible: true,
    },
    setters: {
      setCustomDisplayUnit: 'customDisplayUnit',
      setPositionAt: 'positionAt',
    },
    parts: {
      format: recordedClass('ChartAxisFormat', {parts: {fill: ChartFill, font: ChartFont, line: ChartLineFormat}}),
      majorGridlines: gridlines(type === 'Value'),
      minorGridlines: gridlines(false),
      title: ChartAxisTitle,
    },
  });

const AXES = {Category: 'categoryAxis', Value: 'valueAxis', Series: 'seriesAxis'} as const;
const CategoryAxis = axis('Category');
const ValueAxis = axis('Value');
const SeriesAxis = axis('Series');

export class ChartAxes extends Recorded {
  readonly officeType = 'ChartAxes';

  /** An axis of the first or the second group. */
  getItem(type: unknown, group: unknown): Recorded {
    const kind = Object.entries(AXES).find(([name]) => name === type);
    if (!kind) throw invalid();
    const of = {Category: CategoryAxis, Value: ValueAxis, Series: SeriesAxis}[kind[0] as keyof typeof AXES];
    const second = isGiven(group) && group === 'Secondary' ? 'secondary.' : '';
    return new of(this.surrounding, this.store, this.below(second + kind[1]));
  }
}

record(ChartAxes as never, {parts: {categoryAxis: CategoryAxis, seriesAxis: SeriesAxis, valueAxis: ValueAxis}});

/** By their names in office.js. */
export const CHART_PARTS: Readonly<Record<string, RecordedClass>> = {
  ChartAreaFormat,
  ChartAxes: ChartAxes as unknown as RecordedClass,
  ChartAxis: ValueAxis,
  ChartAxisTitle,
  ChartBorder,
  ChartDataLabels,
  ChartFill,
  ChartFont,
  ChartLegend,
  ChartLineFormat,
  ChartPlotArea,
  ChartSeriesFormat,
  ChartTitle,
  ChartTitleFormat,
};
