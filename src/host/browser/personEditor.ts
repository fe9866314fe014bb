/** What a person does in the grid becomes an edit of the workbook, and a step of undoing. */
import {cellKey, oneCell, type Area} from '../book/addresses';
import type {CellContent} from '../book/content';
import type {CellLook} from '../files/looks';
import {changeBands} from '../office/bands';
import type {HostBook} from '../office/hostBook';
import type {Step} from '../office/steps';
import type {Editing, Editor} from './editing';
import type {Grid, GridCommand} from './grid';
import {lookOfStyle, type GridStyle} from './gridStyles';
import {refusal} from './refusals';
import type {Turns} from './turns';

export interface PersonEditorOptions {
  readonly grid: Grid;
  readonly book: HostBook;
  readonly editing: Editing;
  readonly turns: Turns;
  /** Says something to the person. */
  readonly say: (words: string) => void;
}

export class PersonEditor implements Editor {
  readonly #steps: Step[] = [];
  /** An edit of the person is being taken over from the grid, which keeps an entry of undoing for it. */
  #isTaking = false;
  readonly #end: () => void;

  constructor(private readonly with_: PersonEditorOptions) {
    this.#end = with_.book.observe((change) => {
      if (change.kind === 'step') this.#keep(change.step);
    });
  }

  end(): void {
    this.#end();
  }

  #keep(step: Step): void {
    const number = this.#steps.push(step) - 1;
    if (this.#isTaking) this.with_.editing.joinStep(number);
    else this.with_.editing.addStep(number);
  }

  /** The grid has done it already: the workbook follows. */
  #taking(act: () => void): void {
    this.#isTaking = true;
    try {
      this.with_.book.step(act);
    } finally {
      this.#isTaking = false;
    }
    this.#settle();
  }

  #settle(): void {
    const {book, turns} = this.with_;
    void turns.take(() => book.settle());
  }

  enter(sheet: string, contents: readonly CellContent[]): void {
    const {book} = this.with_;
    this.#taking(() => book.write(sheet, contents));
    book.touched({sheetId: sheet, area: around(contents)});
  }

  restyle(sheet: string, cells: readonly {readonly row: number; readonly column: number}[]): void {
    const {grid, book} = this.with_;
    const shown = grid.started.univerAPI.getUniverSheet(book.calculation.unit)?.getSheetBySheetId(sheet)?.getSheet();
    if (!shown) return;
    const looks = new Map<number, CellLook | undefined>();
    for (const {row, column} of cells) {
      const style = shown.getCellStyle(row, column) as GridStyle | null | undefined;
      const look = lookOfStyle(style ?? {});
      if (!sameLook(look, book.look(sheet, row, column))) looks.set(cellKey(row, column), look);
    }
    if (looks.size > 0) this.#taking(() => book.putLooks(sheet, around(cells), looks));
  }

  command(command: GridCommand): boolean {
    const words = refusal(command);
    if (words !== undefined) {
      this.with_.say(words);
      return false;
    }
    return this.#asOwnEdit(command) !== true;
  }

  /** Sheets are added, named and moved by the workbook itself; the grid follows. True when that was done. */
  #asOwnEdit({id, params}: GridCommand): boolean {
    const {book} = this.with_;
    const given = (params ?? {}) as {subUnitId?: string; name?: string; order?: number; index?: number};
    const sheet = given.subUnitId ?? book.activeSheet;
    switch (id) {
      case 'sheet.command.insert-sheet': {
        const index = given.index ?? book.sheets.length;
        this.#own(() => book.activate(book.addSheet(freeName(book), index)));
        return true;
      }
      case 'sheet.command.set-worksheet-order': {
        this.#own(() => book.moveSheet(sheet, given.order ?? 0));
        return true;
      }
      default:
        return false;
    }
  }

  #own(act: () => void): void {
    const {book, turns} = this.with_;
    void turns.take(() => {
      book.step(act);
      return book.settle();
    });
  }

  undo(step: number, back: boolean): void {
    const {say} = this.with_;
    const found = this.#steps[step];
    if (!found) return say('This step can no longer be undone.');
    if (back) found.undo();
    else found.redo();
    this.#settle();
  }

  select(sheet: string, areas: readonly Area[]): void {
    if (areas.length > 0) this.with_.book.select(sheet, areas);
  }

  activate(sheet: string): void {
    if (this.with_.book.has(sheet)) this.with_.book.activate(sheet);
  }

  /** A column or row was dragged to another size; the grid shows it already. */
  resize(sheet: string, kind: 'rows' | 'columns', from: number, to: number, size: number): void {
    const {book} = this.with_;
    const bands = changeBands(book.state(sheet)[kind], from, to, () => ({size}));
    this.#taking(() => book.setSheet(sheet, {[kind]: bands}, 'sizes'));
  }
}

function around(cells: readonly {readonly row: number; readonly column: number}[]): Area {
  let {top, left, bottom, right} = oneCell(cells[0].row, cells[0].column);
  for (const {row, column} of cells) {
    top = Math.min(top, row);
    bottom = Math.max(bottom, row);
    left = Math.min(left, column);
    right = Math.max(right, column);
  }
  return {top, left, bottom, right};
}

/** Looks are small and made of plain values. */
const sameLook = (a: CellLook, b: CellLook): boolean => JSON.stringify(sorted(a)) === JSON.stringify(sorted(b));

const sorted = (look: object): unknown =>
  Object.entries(look)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, value]: [string, unknown]) => [
      key,
      typeof value === 'object' && value !== null ? sorted(value) : value,
    ]);

function freeName({sheets}: HostBook): string {
  const taken = new Set(sheets.map(({name}) => name.toLowerCase()));
  let number = sheets.length + 1;
  while (taken.has(`sheet${number}`)) number++;
  return `Sheet${number}`;
}
