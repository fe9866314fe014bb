/**
 * Calculates what panes have changed once they ask for nothing more for a moment: a pane that writes thousands of rows
 * part by part would wait for all formulas of the workbook after each part. What is read is always calculated before.
 */
import type {HostBook} from '../office/hostBook';

/** Milliseconds without a batch. */
const QUIET = 100;
/** A timer that is so many milliseconds late has waited for the page or for a pane, which share one thread. */
const LATE = 30;

export class Settling {
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(private readonly book: HostBook) {}

  readonly soon = (): void => {
    clearTimeout(this.#timer);
    const due = performance.now() + QUIET;
    this.#timer = setTimeout(() => {
      if (performance.now() > due + LATE) this.soon();
      else void this.now();
    }, QUIET);
  };

  /** When everything is calculated that is to be. */
  now(): Promise<void> {
    this.end();
    return this.book.exclusively(async () => {
      if (this.book.calculationMode !== 'Manual') await this.book.settle();
    });
  }

  end(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
  }
}
