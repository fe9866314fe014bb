/** One after another: batches of panes, edits of the person and undoing never run at the same time. */
export class Turns {
  #last: Promise<unknown> = Promise.resolve();

  take<T>(act: () => T | Promise<T>): Promise<T> {
    const turn = this.#last.then(act);
    this.#last = turn.catch(() => undefined);
    return turn;
  }

  /** When everything is done that has been asked for by now. */
  async idle(): Promise<void> {
    for (let last: unknown; last !== this.#last;) {
      last = this.#last;
      await this.#last;
    }
  }
}
