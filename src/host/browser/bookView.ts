/** Keeps the grid like the workbook: what panes and undoing change is drawn at once. */
import {within, type Area} from '../book/addresses';
import type {BookChange} from '../office/changes';
import type {HostBook} from '../office/hostBook';
import type {Band} from '../office/state';
import type {Grid} from './grid';
import {GridView} from './gridView';
import {TableThemes} from './tableThemes';

/** Areas with more cells are drawn by those that have a look of their own. */
const LARGE = 50_000;

interface Drawn {
  readonly columns: readonly Band[];
  readonly rows: readonly Band[];
  readonly merges: readonly Area[];
}

export class BookView {
  readonly #view: GridView;
  readonly #themes: TableThemes;
  /** What of each sheet has been drawn. */
  readonly #drawn = new Map<string, Drawn>();
  readonly #end: () => void;

  constructor(
    grid: Grid,
    private readonly book: HostBook,
  ) {
    this.#view = new GridView(grid, book.calculation.unit);
    this.#themes = new TableThemes(grid, book.calculation.unit);
    for (const {id} of book.sheets) this.#drawn.set(id, book.state(id));
    this.#themes.draw(book.tables);
    this.#end = book.observe((change) => this.#draw(change));
  }

  end(): void {
    this.#end();
  }

  #draw(change: BookChange): void {
    switch (change.kind) {
      case 'looks':
        return this.#drawLooks(change.sheetId, change.area);
      case 'sizes':
      case 'merges':
      case 'sheet':
        return this.#drawSheet(change.sheetId);
      case 'tables':
        return this.#themes.draw(this.book.tables.filter(({sheetId}) => this.book.has(sheetId)));
      case 'sheets':
        return this.#drawSheets();
      case 'active':
        return this.#view.activate(this.book.activeSheet);
      case 'selection':
        return this.#view.select(this.book.activeSheet, this.book.selection()[0]);
    }
  }

  #drawLooks(sheet: string, area: Area): void {
    const {top, left, bottom, right} = area;
    if ((bottom - top + 1) * (right - left + 1) <= LARGE) {
      this.#view.drawLooks(sheet, area, (row, column) => this.book.look(sheet, row, column));
      return;
    }
    for (const {row, column, look} of this.book.looks(sheet)) {
      if (!within(area, row, column)) continue;
      this.#view.drawLooks(sheet, {top: row, left: column, bottom: row, right: column}, () => look);
    }
  }

  #drawSheet(id: string): void {
    const state = this.book.state(id);
    const before = this.#drawn.get(id);
    if (before?.columns !== state.columns) this.#view.drawColumns(id, state.columns, before?.columns ?? []);
    if (before?.rows !== state.rows) this.#view.drawRows(id, state.rows, before?.rows ?? []);
    if (before?.merges !== state.merges) this.#view.merge(id, state.merges, before?.merges ?? []);
    this.#view.freeze(id, state.frozenRows, state.frozenColumns);
    this.#view.showGridLines(id, state.gridLines);
    this.#view.colorTab(id, state.tabColor);
    this.#view.hide(id, state.visibility !== 'Visible');
    this.#drawn.set(id, state);
  }

  /** Sheets that were not there are drawn as a whole. */
  #drawSheets(): void {
    for (const id of this.#drawn.keys()) if (!this.book.has(id)) this.#drawn.delete(id);
    for (const {id} of this.book.sheets) {
      if (this.#drawn.has(id)) continue;
      this.#drawSheet(id);
      for (const {row, column} of this.book.looks(id)) {
        this.#drawLooks(id, {top: row, left: column, bottom: row, right: column});
      }
    }
    this.#themes.draw(this.book.tables.filter(({sheetId}) => this.book.has(sheetId)));
  }
}
