/** The panes beside the grid, each in its own conversation with the workbook. */
import {Connection} from '../office/api/connection';
import {withFaults, type Faults} from './faults';
import type {OpenedBook} from './openedBook';
import {PaneChannel} from './paneChannel';

const PAGE = '/dist/taskpane.html';

export class Panes {
  #open: {readonly channel: PaneChannel; readonly connection: Connection}[] = [];

  constructor(
    private readonly place: HTMLElement,
    private readonly count: number,
    private readonly faults: Faults,
  ) {}

  /** Opens the panes anew, for a workbook that has been opened. */
  show({book, editing, settling}: OpenedBook): void {
    this.close();
    for (let i = 0; i < this.count; i++) {
      const frame = document.createElement('iframe');
      frame.title = this.count === 1 ? 'Wheel Ledger task pane' : `Wheel Ledger task pane ${i + 1}`;
      this.place.append(frame);
      const connection: Connection = new Connection(
        book,
        (type, target, message) => channel.tell(type, target, message),
        () => channel.tellSelection(),
        settling.soon,
      );
      const channel: PaneChannel = new PaneChannel(frame, (body, waits) =>
        withFaults(this.faults, async () => {
          if (waits) await editing.rest();
          book.isEditing = editing.isEditing;
          return connection.run(body);
        }),
      );
      this.#open.push({channel, connection});
      channel.show(PAGE);
    }
  }

  close(): void {
    for (const {channel, connection} of this.#open.splice(0)) {
      channel.close();
      connection.close();
    }
  }
}
