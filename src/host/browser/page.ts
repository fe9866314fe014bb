/** The script of the workbook host's page. */
import {FileProblem} from '../files/problems';
import {Editing} from './editing';
import {builtFunctions} from './functions';
import {Grid} from './grid';
import {OpenedBook, type Surroundings} from './openedBook';
import {PaneChannel} from './paneChannel';
import {gridEngine} from './univer';
import {functionClasses} from '../engine/start';

const element = (id: string): HTMLElement => document.getElementById(id)!;
const status = element('status');

function say(words: string, isProblem = false): void {
  status.textContent = words;
  status.classList.toggle('problem', isProblem);
}

class Page {
  #opened: OpenedBook | undefined;
  #channels: PaneChannel[] = [];

  constructor(private readonly surroundings: Surroundings) {}

  get book() {
    return this.#opened?.book;
  }

  async open(bytes: Uint8Array, name: string): Promise<void> {
    say(`Opening ${name} …`);
    try {
      const before = this.#opened;
      this.#channels.splice(0).forEach((channel) => channel.close());
      await before?.close();
      this.#opened = await OpenedBook.open(bytes, name, this.surroundings);
    } catch (error) {
      say(
        error instanceof FileProblem ? `${name} ${error.message}` : `${name} cannot be opened: ${String(error)}`,
        true,
      );
      return;
    }
    element('name').textContent = name;
    this.#showPane();
    say('');
  }

  #showPane(): void {
    const frame = document.createElement('iframe');
    frame.title = 'Wheel Ledger task pane';
    element('panes').append(frame);
    const channel = new PaneChannel(frame, {
      batch: async (body) => {
        console.info('BATCH', body.slice(0, 600));
        return JSON.stringify({Results: []});
      },
      followSelection: () => undefined,
    });
    channel.show('/dist/taskpane.html');
    this.#channels.push(channel);
  }
}

async function fetched(address: string): Promise<Uint8Array> {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${address} cannot be loaded (${response.status})`);
  return new Uint8Array(await response.arrayBuffer());
}

async function start(): Promise<void> {
  const engine = gridEngine(element('grid'), await builtFunctions());
  const grid = new Grid(engine.start(functionClasses(engine)));
  let editing: Editing | undefined;
  const page = new Page({engine, grid, editing: () => (editing ??= new Editing(grid)), say: (words) => say(words)});
  await page.open(await fetched('/demo.xlsx'), 'demo.xlsx');
  Object.assign(globalThis, {hostPage: page, grid});
}

start().catch((error: unknown) => say(`The workbook host cannot start: ${String(error)}`, true));
