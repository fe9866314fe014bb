/** Excel.Worksheet. */
import {oneCell} from '../../book/addresses';
import {parseAddress, WHOLE_SHEET} from '../areas';
import {renameSheet} from '../structure';
import type {Visibility} from '../state';
import {ChartCollection} from './charts';
import {withEvents} from './following';
import {NamedItemCollection, rangeOfName} from './names';
import {isGiven, number, OfficeObject, sameName, text, type Surrounding} from './officeObject';
import {PageBreakCollection, PageLayout} from './pageLayout';
import {invalid, notFound, OfficeProblem, present} from './problem';
import {Range} from './range';
import {TableCollection} from './tables';
import {WorksheetFreezePanes, WorksheetProtection} from './worksheetParts';
import {checkSheetName} from './worksheets';
import {usedArea} from '../used';

const VISIBILITIES: readonly Visibility[] = ['Visible', 'Hidden', 'VeryHidden'];

export class Worksheet extends OfficeObject {
  readonly officeType = 'Worksheet';

  constructor(
    surrounding: Surrounding,
    readonly sheetId: string,
  ) {
    super(surrounding);
  }

  override identity(): Record<string, unknown> {
    return {Id: this.sheetId};
  }

  get #book() {
    if (!this.surrounding.book.has(this.sheetId)) throw notFound();
    return this.surrounding.book;
  }

  get #state() {
    return this.#book.state(this.sheetId);
  }

  get id(): string {
    return this.sheetId;
  }

  get name(): string {
    return this.#book.sheet(this.sheetId).name;
  }

  set name(given: unknown) {
    const others = this.#book.sheets.filter(({id}) => id !== this.sheetId);
    checkSheetName(
      text(given),
      others.map(({name}) => name),
    );
    renameSheet(this.#book, this.sheetId, text(given));
  }

  get position(): number {
    return this.#book.sheets.findIndex(({id}) => id === this.sheetId);
  }

  set position(given: unknown) {
    const to = number(given);
    if (to < 0 || to >= this.#book.sheets.length) throw invalid();
    this.#book.moveSheet(this.sheetId, to);
  }

  get visibility(): string {
    return this.#state.visibility;
  }

  set visibility(given: unknown) {
    const visibility = VISIBILITIES.find((one) => one === given);
    if (!visibility) throw invalid();
    if (visibility !== 'Visible') this.#leave();
    this.#book.setSheet(this.sheetId, {visibility}, 'sheet');
  }

  /** Another sheet has to be there to be seen. */
  #leave(): void {
    const others = this.#book.sheets.filter(
      ({id}) => id !== this.sheetId && this.#book.state(id).visibility === 'Visible',
    );
    if (others.length === 0)
      throw new OfficeProblem('InvalidOperation', 'A workbook needs one visible sheet at least.');
    if (this.#book.activeSheet === this.sheetId) {
      const next = others.find(({id}) => this.#book.sheets.findIndex((one) => one.id === id) > this.position);
      this.#book.activate((next ?? others.at(-1)!).id);
    }
  }

  get tabColor(): string {
    return this.#state.tabColor;
  }

  set tabColor(given: unknown) {
    this.#book.setSheet(this.sheetId, {tabColor: text(given)}, 'sheet');
  }

  get showGridlines(): boolean {
    return this.#state.gridLines;
  }

  set showGridlines(given: unknown) {
    this.#book.setSheet(this.sheetId, {gridLines: given === true}, 'sheet');
  }

  /** Under these names office.js sets the two. */
  get gridlines(): boolean {
    return this.showGridlines;
  }

  set gridlines(given: unknown) {
    this.showGridlines = given;
  }

  get showHeadings(): boolean {
    return this.#state.headings;
  }

  set showHeadings(given: unknown) {
    this.#book.setSheet(this.sheetId, {headings: given === true}, 'sheet');
  }

  get headings(): boolean {
    return this.showHeadings;
  }

  set headings(given: unknown) {
    this.showHeadings = given;
  }

  get standardHeight(): number {
    return this.#state.rowHeight * POINTS;
  }

  // ---- ranges ----

  /** By an address or a name; without either the whole sheet. */
  getRange(address: unknown): Range {
    if (!isGiven(address) || address === '') return new Range(this.surrounding, this.sheetId, WHOLE_SHEET);
    const written = text(address);
    const parsed = parseAddress(written);
    if (!parsed) {
      const named = rangeOfName(this.surrounding, written, this.sheetId) ?? this.#tableRange(written);
      if (named) return named;
      throw invalid();
    }
    const {sheet, area} = parsed;
    if (sheet !== undefined && !sameName(this.name, sheet)) throw invalid();
    return new Range(this.surrounding, this.sheetId, area);
  }

  #tableRange(name: string): Range | undefined {
    const table = this.#book.tables.find((one) => sameName(one.name, name));
    return table && new TableCollection(this.surrounding).getItem(table.id).getDataBodyRange();
  }

  getRangeByIndexes(row: unknown, column: unknown, rows: unknown, columns: unknown): Range {
    const [top, left] = [number(row), number(column)];
    return new Range(this.surrounding, this.sheetId, {
      top,
      left,
      bottom: top + number(rows) - 1,
      right: left + number(columns) - 1,
    });
  }

  getCell(row: unknown, column: unknown): Range {
    return new Range(this.surrounding, this.sheetId, oneCell(number(row), number(column)));
  }

  getUsedRange(valuesOnly: unknown = false): Range {
    return this.getUsedRangeOrNullObject(valuesOnly) ?? this.getCell(0, 0);
  }

  getUsedRangeOrNullObject(valuesOnly: unknown = false): Range | null {
    const used = usedArea(this.#book, this.sheetId, valuesOnly === true, WHOLE_SHEET);
    return used ? new Range(this.surrounding, this.sheetId, used) : null;
  }

  // ---- other sheets ----

  #neighbor(step: number, visibleOnly: unknown): Worksheet | null {
    const sheets = this.#book.sheets;
    for (let at = this.position + step; at >= 0 && at < sheets.length; at += step) {
      const {id} = sheets[at];
      if (visibleOnly !== true || this.#book.state(id).visibility === 'Visible') {
        return new Worksheet(this.surrounding, id);
      }
    }
    return null;
  }

  getNext(visibleOnly: unknown = false): Worksheet {
    return present(this.#neighbor(1, visibleOnly));
  }

  getNextOrNullObject(visibleOnly: unknown = false): Worksheet | null {
    return this.#neighbor(1, visibleOnly);
  }

  getPrevious(visibleOnly: unknown = false): Worksheet {
    return present(this.#neighbor(-1, visibleOnly));
  }

  getPreviousOrNullObject(visibleOnly: unknown = false): Worksheet | null {
    return this.#neighbor(-1, visibleOnly);
  }

  _GetSheetById(id: unknown): Worksheet {
    if (!this.surrounding.book.has(text(id))) throw notFound();
    return new Worksheet(this.surrounding, text(id));
  }

  _GetAnotherWorksheetById(id: unknown): Worksheet {
    return this._GetSheetById(id);
  }

  // ---- doing ----

  activate(): null {
    if (this.#state.visibility !== 'Visible') {
      throw new OfficeProblem('InvalidOperation', 'A hidden sheet cannot be activated.');
    }
    this.#book.activate(this.sheetId);
    return null;
  }

  delete(): null {
    if (this.#state.visibility === 'VeryHidden') throw new OfficeProblem('InvalidOperation', 'The sheet is hidden.');
    this.#leave();
    this.#book.removeSheet(this.sheetId);
    return null;
  }

  calculate(): null {
    return null;
  }

  // ---- parts ----

  get tables(): TableCollection {
    return new TableCollection(this.surrounding, this.sheetId);
  }

  get names(): NamedItemCollection {
    return new NamedItemCollection(this.surrounding, this.sheetId);
  }

  get charts(): ChartCollection {
    return new ChartCollection(this.surrounding, this.sheetId);
  }

  get pageLayout(): PageLayout {
    return new PageLayout(this.surrounding, this.sheetId);
  }

  get horizontalPageBreaks(): PageBreakCollection {
    return new PageBreakCollection(this.surrounding, this.sheetId, 'rowBreaks');
  }

  get verticalPageBreaks(): PageBreakCollection {
    return new PageBreakCollection(this.surrounding, this.sheetId, 'columnBreaks');
  }

  get protection(): WorksheetProtection {
    return new WorksheetProtection(this.surrounding, this.sheetId);
  }

  get freezePanes(): WorksheetFreezePanes {
    return new WorksheetFreezePanes(this.surrounding, this.sheetId);
  }
}

withEvents(Worksheet.prototype, {
  Activated: 'activated',
  Calculated: 'calculated',
  DataChanged: 'changed',
  Deactivated: 'deactivated',
  FormatChanged: 'formatChanged',
  NameChanged: 'nameChanged',
  SelectionChanged: 'selectionChanged',
});

/** Points of a pixel. */
const POINTS = 0.75;
