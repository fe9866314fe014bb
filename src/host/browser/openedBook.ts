/** A workbook that is open in the page: in the grid, for the person at it, and for panes. */
import {Calculation} from '../book/calculation';
import {extentOf} from '../book/extent';
import type {Engine} from '../engine/start';
import {readWithLooks} from '../files/read';
import {saveBook} from '../files/saveBook';
import {HostBook} from '../office/hostBook';
import {BookView} from './bookView';
import {ChartPreviews} from './chartPreviews';
import type {Editing} from './editing';
import type {Grid} from './grid';
import {gridLook} from './gridLook';
import {PersonEditor} from './personEditor';
import {bookToSave, originalOf, type Original} from './saving';
import {Settling} from './settling';

export interface Surroundings {
  readonly engine: Engine;
  readonly grid: Grid;
  /** Of the grid, which has its services only when its first workbook is there. */
  readonly editing: () => Editing;
  readonly say: (words: string) => void;
}

export class OpenedBook {
  readonly settling: Settling;

  private constructor(
    /** The file that it came from. */
    readonly bytes: Uint8Array,
    readonly fileName: string,
    readonly book: HostBook,
    readonly editing: Editing,
    private readonly original: Original,
    private readonly parts: readonly {end(): void}[],
  ) {
    this.settling = new Settling(book);
  }

  /**
   * Reads a file, calculates it and shows it in the grid.
   * @param close takes what is open out of the grid; called when the file has been read
   * @throws FileProblem when it cannot be read, in words that go on behind the file's name
   */
  static async open(
    bytes: Uint8Array,
    fileName: string,
    close: () => Promise<void>,
    {engine, grid, editing: editingOf, say}: Surroundings,
  ): Promise<OpenedBook> {
    const {book: content, looks: readLooks} = await readWithLooks(bytes);
    const looks = readLooks();
    await close();
    const sheets = content.sheets.map((sheet, i) => ({...sheet, id: `s${i}`}));
    const ids = new Map(sheets.map(({name, id}) => [name, id]));
    const calculation = new Calculation(engine, sheets, content, extentOf(content), gridLook(looks, ids));
    await grid.rendered;
    await calculation.calculate();
    const editing = editingOf();
    const book = new HostBook(calculation, content, looks);
    const parts: {end(): void}[] = [];
    const opened = new OpenedBook(bytes, fileName, book, editing, originalOf(book, content, looks, ids), parts);
    const editor = new PersonEditor({grid, book, editing, say});
    parts.push(new BookView(grid, book), new ChartPreviews(grid, book), editor);
    editing.attach(calculation, editor);
    return opened;
  }

  /**
   * A copy of its file with all that was changed since, and what of that could not be saved.
   * @throws FileProblem when the file does not allow it
   */
  save(): Promise<{readonly bytes: Uint8Array; readonly lost: readonly string[]}> {
    return this.book.exclusively(async () => {
      await this.book.settle();
      const {book, lost} = bookToSave(this.book, this.original);
      return {bytes: saveBook(this.bytes, book), lost};
    });
  }

  /** When all that was asked of it is done. */
  idle(): Promise<void> {
    return this.settling.now();
  }

  /** Takes it out of the grid. */
  async close(): Promise<void> {
    await this.idle();
    this.settling.end();
    this.editing.detach();
    this.parts.forEach((part) => part.end());
    this.book.calculation.dispose();
  }
}
