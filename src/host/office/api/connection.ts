/** The conversation of one pane with the workbook: what it keeps hold of, and what it wants to be told. */
import type {BookEvent} from '../changes';
import type {HostBook} from '../hostBook';
import {BatchRun, type Batch, type BatchAnswer} from './batch';
import {messageOf, targetsOf, TYPES, WORKBOOK_TARGET} from './events';
import type {EventName, OfficeObject, Surrounding} from './officeObject';
import {Range} from './range';

/** Tells the pane of an event: an entry of the message "richApiMessage". */
export type OnEvent = (type: number, target: string, message: object) => void;

export class Connection {
  readonly #kept = new Map<string, OfficeObject>();
  readonly #followed = new Set<string>();
  readonly #surrounding: Surrounding;
  readonly #stopListening: () => void;
  #waiting: BookEvent[] | undefined;
  #references = 0;

  /**
   * @param onSelection the selection has changed; what a pane asks for by the event that all documents have
   * @param calculate has what a batch changed calculated, now or soon; without it that is done before the answer
   */
  constructor(
    private readonly book: HostBook,
    private readonly onEvent: OnEvent,
    private readonly onSelection: () => void = () => undefined,
    private readonly calculate: () => Promise<void> | void = () => book.settle(),
  ) {
    this.#surrounding = {
      book,
      keep: (object) => this.#keep(object),
      kept: (id) => this.#kept.get(id),
      release: (id) => void this.#kept.delete(id),
      releaseAll: () => this.#kept.clear(),
      follow: (event, target, follow) => this.#follow(event, target, follow),
    };
    this.#stopListening = book.listen((event) => this.#hear(event));
  }

  /** Runs a batch, given and answered as JSON. Everything it changes is one step for undoing. */
  async run(json: string): Promise<string> {
    return this.book.exclusively(async () => JSON.stringify(await this.#answer(JSON.parse(json) as Batch)));
  }

  async #answer(batch: Batch): Promise<BatchAnswer> {
    if (this.book.isEditing) return EDITING;
    this.#waiting = [];
    this.book.begin();
    try {
      const answer = await new BatchRun(batch, this.#surrounding).run();
      if (this.book.calculationMode !== 'Manual') await this.calculate();
      return answer;
    } finally {
      this.book.end();
      const events = this.#waiting;
      this.#waiting = undefined;
      // The answer comes first, as in Excel.
      setTimeout(() => events.forEach((event) => this.#tell(event)), 0);
    }
  }

  close(): void {
    this.#stopListening();
    this.#kept.clear();
    this.#followed.clear();
  }

  #keep(object: OfficeObject): string {
    for (const [id, kept] of this.#kept) if (kept === object) return id;
    const id = `kept-${++this.#references}`;
    this.#kept.set(id, object);
    return id;
  }

  #follow(event: EventName, target: string, follow: boolean): null {
    if (follow) this.#followed.add(`${event} ${target}`);
    else this.#followed.delete(`${event} ${target}`);
    return null;
  }

  #hear(event: BookEvent): void {
    if (event.kind === 'moved') {
      for (const kept of this.#kept.values()) {
        if (kept instanceof Range && kept.sheetId === event.sheetId) kept.follow(event.shift);
      }
      return;
    }
    if (this.#waiting) this.#waiting.push(event);
    else this.#tell(event);
  }

  #tell(event: BookEvent): void {
    if (event.kind === 'selection') this.onSelection();
    for (const {name, target} of targetsOf(event, this.book)) {
      for (const one of [target, WORKBOOK_TARGET]) {
        if (!this.#followed.has(`${name} ${one}`)) continue;
        this.onEvent(
          TYPES[name],
          one,
          messageOf(event, {name, target}, (object) => this.#keep(object), this.#surrounding),
        );
      }
    }
  }
}

const EDITING: BatchAnswer = {
  Results: [],
  Error: {
    ActionIndex: 0,
    Code: 'InvalidOperationInCellEditMode',
    Message: 'A cell is being edited: press Enter or Esc in the sheet first.',
    HttpStatusCode: 400,
    Location: '',
  },
};
