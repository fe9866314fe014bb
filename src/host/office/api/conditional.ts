/** Excel.ConditionalFormat and its collection: recorded as they were described. */
import {meet, type Area} from '../../book/addresses';
import type {ConditionalState} from '../state';
import {Collection, sameName, text} from './officeObject';
import {invalid, notFound} from './problem';
import {Range} from './range';
import type {FormattedCells} from './formatParts';
import {record, Recorded, recordedClass, storeOver, type RecordedClass} from './recorded';

const TYPES = [
  'Custom',
  'DataBar',
  'ColorScale',
  'IconSet',
  'TopBottom',
  'PresetCriteria',
  'ContainsText',
  'CellValue',
];

export class ConditionalFormatCollection extends Collection<ConditionalFormat> {
  readonly officeType = 'ConditionalFormatCollection';

  constructor(readonly cells: FormattedCells) {
    super(cells.surrounding);
  }

  get #all(): readonly ConditionalState[] {
    return this.surrounding.book.state(this.cells.sheetId).addedConditional;
  }

  listed(): readonly ConditionalFormat[] {
    return this.#all
      .filter(({areas}) => areas.some((area) => meet(area, this.cells.area)))
      .map(({id}) => new ConditionalFormat(this.cells, id));
  }

  isMeant(item: ConditionalFormat, key: unknown): boolean {
    return sameName(item.formatId, key);
  }

  add(given: unknown): ConditionalFormat {
    const type = text(given);
    if (!TYPES.includes(type)) throw invalid();
    const {sheetId, area} = this.cells;
    this.mayChange(sheetId);
    const {book} = this.surrounding;
    const id = `{${String(book.newId()).padStart(8, '0')}-0000-4000-8000-0000000000CF}`;
    const made: ConditionalState = {id, type, areas: [area], set: {}};
    book.setSheet(sheetId, {addedConditional: [made, ...this.#all]}, 'conditional');
    return new ConditionalFormat(this.cells, id);
  }

  clearAll(): null {
    const {sheetId, area} = this.cells;
    this.mayChange(sheetId);
    const addedConditional = this.#all.filter(({areas}) => !areas.some((one: Area) => meet(one, area)));
    this.surrounding.book.setSheet(sheetId, {addedConditional}, 'conditional');
    return null;
  }
}

export class ConditionalFormat extends Recorded {
  readonly officeType = 'ConditionalFormat';

  constructor(
    readonly cells: FormattedCells,
    readonly formatId: string,
  ) {
    super(
      cells.surrounding,
      storeOver(
        () => this.#state.set,
        (set) => this.#change({set}),
      ),
      '',
    );
  }

  override identity(): Record<string, unknown> {
    return {Id: this.formatId};
  }

  get #all(): readonly ConditionalState[] {
    return this.surrounding.book.state(this.cells.sheetId).addedConditional;
  }

  get #state(): ConditionalState {
    const found = this.#all.find(({id}) => id === this.formatId);
    if (!found) throw notFound();
    return found;
  }

  #change(change: Partial<ConditionalState>): void {
    const {sheetId} = this.cells;
    this.mayChange(sheetId);
    const addedConditional = this.#all.map((one) => (one.id === this.formatId ? {...one, ...change} : one));
    this.surrounding.book.setSheet(sheetId, {addedConditional}, 'conditional');
  }

  get id(): string {
    return this.formatId;
  }

  get type(): string {
    return this.#state.type;
  }

  getRange(): Range {
    return new Range(this.surrounding, this.cells.sheetId, this.#state.areas[0]);
  }

  delete(): null {
    const {sheetId} = this.cells;
    this.mayChange(sheetId);
    const addedConditional = this.#all.filter(({id}) => id !== this.formatId);
    this.surrounding.book.setSheet(sheetId, {addedConditional}, 'conditional');
    return null;
  }
}

const Fill = recordedClass('ConditionalRangeFill', {values: {color: ''}, clearers: ['clear']});
const Font = recordedClass('ConditionalRangeFont', {
  values: {bold: false, color: '', italic: false, strikethrough: false, underline: 'None'},
  clearers: ['clear'],
});
const Format = recordedClass('ConditionalRangeFormat', {
  values: {numberFormat: 'General'},
  parts: {fill: Fill, font: Font},
});
const Custom = recordedClass('CustomConditionalFormat', {
  parts: {
    format: Format,
    rule: recordedClass('ConditionalFormatRule', {values: {formula: '', formulaLocal: '', formulaR1C1: ''}}),
  },
});
const ruled = (officeType: string): RecordedClass =>
  recordedClass(officeType, {values: {rule: null}, parts: {format: Format}});
const DataBarHalf = recordedClass('ConditionalDataBarFormat', {
  values: {borderColor: '', fillColor: '#638EC6', gradientFill: true, matchPositiveBorderColor: true},
});
const DataBar = recordedClass('DataBarConditionalFormat', {
  values: {
    axisColor: '',
    axisFormat: 'Automatic',
    barDirection: 'Context',
    lowerBoundRule: {type: 'Automatic'},
    showDataBarOnly: false,
    upperBoundRule: {type: 'Automatic'},
  },
  parts: {negativeFormat: DataBarHalf, positiveFormat: DataBarHalf},
});

record(ConditionalFormat as never, {
  values: {priority: 0, stopIfTrue: false},
  parts: {
    cellValue: ruled('CellValueConditionalFormat'),
    colorScale: recordedClass('ColorScaleConditionalFormat', {values: {criteria: null, threeColorScale: false}}),
    custom: Custom,
    dataBar: DataBar,
    iconSet: recordedClass('IconSetConditionalFormat', {
      values: {criteria: null, reverseIconOrder: false, showIconOnly: false, style: 'ThreeTrafficLights1'},
    }),
    preset: ruled('PresetCriteriaConditionalFormat'),
    textComparison: ruled('TextConditionalFormat'),
    topBottom: ruled('TopBottomConditionalFormat'),
  },
});

/** By their names in office.js. */
export const CONDITIONAL_PARTS: Readonly<Record<string, RecordedClass>> = {
  ConditionalRangeFill: Fill,
  ConditionalRangeFont: Font,
  ConditionalRangeFormat: Format,
  CustomConditionalFormat: Custom,
  DataBarConditionalFormat: DataBar,
};
