/** What a person does in the grid becomes an edit of the workbook, and a step of undoing. */
import {cellKey, oneCell, type Area} from '../book/addresses';
import type {CellContent} from '../book/content';
import type {CellLook} from '../files/looks';
import {changeBands} from '../office/bands';
import type {HostBook} from '../office/hostBook';
import type {Step} from '../office/steps';
import {enter} from '../office/writing';
import type {Editing, Editor} from './editing';
import type {Grid, GridCommand} from './grid';
import {lookOfStyle, type GridStyle} from './gridStyles';
import {refusal} from './refusals';
import {ownEdit} from './ownCommands';

export interface PersonEditorOptions {
  readonly grid: Grid;
  readonly book: HostBook;
  readonly editing: Editing;
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
    const {book} = this.with_;
    void book.exclusively(() => book.settle());
  }

  enter(sheet: string, contents: readonly CellContent[]): void {
    this.#taking(() => enter(this.with_.book, sheet, contents));
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
    const own = words === undefined ? ownEdit(this.with_.book, command) : undefined;
    if (words !== undefined) this.with_.say(words);
    if (own) this.#carryOut(own);
    return words === undefined && own === undefined;
  }

  #carryOut(act: () => void): void {
    const {book, say} = this.with_;
    void book.exclusively(async () => {
      try {
        book.step(act);
      } catch (error) {
        say((error as Error).message);
      }
      await book.settle();
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
