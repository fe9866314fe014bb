/** The script of the workbook host's page. */
import {functionClasses} from '../engine/start';
import {FileProblem} from '../files/problems';
import {Editing} from './editing';
import {faultsAsked, type Faults} from './faults';
import {builtFunctions} from './functions';
import {Grid} from './grid';
import {OpenedBook, type Surroundings} from './openedBook';
import {Panes} from './panes';
import {gridEngine} from './univer';

const element = <E extends HTMLElement>(id: string): E => document.getElementById(id) as E;

/** Workbooks that the server has, by their name in the address: "?book=empty". */
const SERVED = {demo: 'demo.xlsx', empty: 'empty.xlsx'} as const;

const XLSX = 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet';
/** Milliseconds after which the browser has surely begun to keep a download. */
const REVOKED_AFTER = 60_000;

class Page {
  #opened: OpenedBook | undefined;
  readonly #status = element('status');

  constructor(
    private readonly surroundings: Omit<Surroundings, 'say'>,
    private readonly panes: Panes,
    readonly faults: Faults,
  ) {}

  /** The workbook at hand, for tests. */
  get book() {
    return this.#opened?.book;
  }

  /** When all that was asked of the workbook is done, for tests. */
  async idle(): Promise<void> {
    await this.#opened?.idle();
  }

  say(words: string, isProblem = false): void {
    this.#status.textContent = words;
    this.#status.classList.toggle('problem', isProblem);
  }

  /** What is open stays open when the file cannot be read. */
  async open(bytes: Uint8Array, name: string): Promise<void> {
    this.say(`Opening ${name} …`);
    try {
      const close = async (): Promise<void> => {
        this.panes.close();
        await this.#opened?.close();
        this.#opened = undefined;
      };
      const say = (words: string): void => this.say(words, true);
      this.#opened = await OpenedBook.open(bytes, name, close, {...this.surroundings, say});
    } catch (error) {
      const words = error instanceof FileProblem ? error.message : `cannot be opened: ${String(error)}`;
      return this.say(`${name} ${words}.`, true);
    }
    element('name').textContent = name;
    this.panes.show(this.#opened);
    element<HTMLButtonElement>('save').disabled = false;
    this.say('');
  }

  async openServed(which: keyof typeof SERVED): Promise<void> {
    const name = SERVED[which];
    const response = await fetch(`/${name}`);
    if (!response.ok) throw new Error(`${name} cannot be loaded (${response.status})`);
    await this.open(new Uint8Array(await response.arrayBuffer()), name);
  }

  /** Hands the browser a copy of the file with all changes, to be kept where downloads go. */
  async saveCopy(): Promise<void> {
    const opened = this.#opened;
    if (!opened) return;
    const name = `${opened.fileName.replace(/\.xlsx$/i, '')} (copy).xlsx`;
    try {
      const {bytes, lost} = await opened.save();
      const link = document.createElement('a');
      link.href = URL.createObjectURL(new Blob([bytes as BlobPart], {type: XLSX}));
      link.download = name;
      link.click();
      setTimeout(() => URL.revokeObjectURL(link.href), REVOKED_AFTER);
      this.say(
        lost.length === 0 ? `Saved as ${name}.` : `Saved as ${name}, but without ${lost.join('; ')}.`,
        lost.length > 0,
      );
    } catch (error) {
      const words = error instanceof FileProblem ? error.message : `cannot be saved: ${String(error)}`;
      this.say(`${opened.fileName} ${words}.`, true);
    }
  }

  connectCommands(): void {
    const file = element<HTMLInputElement>('file');
    element('open').addEventListener('click', () => file.click());
    file.addEventListener('change', async () => {
      const [chosen] = file.files ?? [];
      file.value = '';
      if (chosen) await this.open(new Uint8Array(await chosen.arrayBuffer()), chosen.name);
    });
    element('save').addEventListener('click', () => void this.saveCopy());
    for (const which of ['demo', 'empty'] as const) {
      element(which).addEventListener('click', () => void this.openServed(which));
    }
  }
}

async function start(): Promise<void> {
  const asked = new URLSearchParams(location.search);
  const width = Number(asked.get('pane')) || 0;
  if (width > 0) document.documentElement.style.setProperty('--pane-width', `${width}px`);
  const engine = gridEngine(element('grid'), await builtFunctions());
  const grid = new Grid(engine.start(functionClasses(engine)));
  let editing: Editing | undefined;
  const faults = faultsAsked(asked);
  const panes = new Panes(element('panes'), Math.min(4, Number(asked.get('panes')) || 1), faults);
  const page = new Page({engine, grid, editing: () => (editing ??= new Editing(grid))}, panes, faults);
  page.connectCommands();
  await page.openServed(asked.get('book') === 'empty' ? 'empty' : 'demo');
  Object.assign(globalThis, {workbookHost: page});
}

start().catch((error: unknown) => {
  const status = element('status');
  status.textContent = `The workbook host cannot start: ${String(error)}`;
  status.classList.add('problem');
});
