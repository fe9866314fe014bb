/** What happens to a workbook: who is told of it, what is undone together, and what has to wait. */
import type {BookChange, BookEvent, ContentsChangeType} from './changes';
import type {Shift} from './rewriting';
import type {CellsOf} from './state';
import {Step, type Edit} from './steps';

export abstract class Journal {
  readonly #observers = new Set<(change: BookChange) => void>();
  readonly #listeners = new Set<(event: BookEvent) => void>();
  #edits: Edit[] | undefined;
  #queue: Promise<unknown> = Promise.resolve();

  /** Whether the workbook has a sheet with this id. */
  abstract has(sheetId: string): boolean;

  // ---- observing ----

  /** Tells of every change at once; returns what ends it. */
  observe(observer: (change: BookChange) => void): () => void {
    this.#observers.add(observer);
    return () => void this.#observers.delete(observer);
  }

  /** Tells what panes may want to know; returns what ends it. */
  listen(listener: (event: BookEvent) => void): () => void {
    this.#listeners.add(listener);
    return () => void this.#listeners.delete(listener);
  }

  /** Tells the listeners. */
  raise(event: BookEvent): void {
    for (const listener of this.#listeners) listener(event);
  }

  protected tell(change: BookChange): void {
    for (const observer of this.#observers) observer(change);
  }

  // ---- steps ----

  /** Everything done until `end` is one step for undoing. Within a step another one is part of it. */
  begin(): void {
    this.#edits ??= [];
  }

  /** Ends the step; undefined when nothing was changed. The observers are told. */
  end(): Step | undefined {
    const edits = this.#edits ?? [];
    this.#edits = undefined;
    if (edits.length === 0) return undefined;
    const step = new Step(edits, (cells) => this.touched(cells));
    this.tell({kind: 'step', step});
    return step;
  }

  /** Does something as one step, or as part of the one that is open. */
  step<T>(act: () => T): T {
    if (this.#edits) return act();
    this.begin();
    try {
      return act();
    } finally {
      this.end();
    }
  }

  protected do(edit: Edit): void {
    this.step(() => {
      edit.apply();
      this.#edits!.push(edit);
    });
  }

  /**
   * Does something when everything before it is done: batches of several panes and edits of the person must not mix,
   * since each waits for the calculation.
   */
  exclusively<T>(task: () => Promise<T>): Promise<T> {
    const done = this.#queue.then(task);
    this.#queue = done.catch(() => undefined);
    return done;
  }

  /** Cells of a sheet have moved: what panes keep hold of moves along. */
  moved(sheetId: string, shift: Shift): void {
    this.raise({kind: 'moved', sheetId, shift});
  }

  /** Tells panes that contents of cells have been changed. */
  touched({sheetId, area}: CellsOf, changeType: ContentsChangeType = 'RangeEdited'): void {
    if (!this.has(sheetId)) return;
    this.raise({kind: 'contents', sheetId, area, changeType});
  }
}
