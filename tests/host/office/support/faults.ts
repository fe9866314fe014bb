/** A conversation between pane and workbook that fails where a test wants it to. */
import type {CellLook} from '../../../../src/host/files/looks';
import {cellOfKey} from '../../../../src/host/book/addresses';
import {cellAddress} from '../../../../src/workbook/addresses';
import type {HostBook} from '../../../../src/host/office/hostBook';
import type {Answering} from './officeJs';
import type {Pane} from './panes';

export interface Fault {
  /** The request that fails, counted from 0. */
  readonly request: number;
  /** So many of its actions are carried out before; all of them when only the answer is lost. */
  readonly actions: number;
  /** Whether every request after it fails too, from the first action on. */
  readonly lasting: boolean;
}

interface Batch {
  readonly Actions?: readonly object[];
}

const failure = (index: number): string =>
  JSON.stringify({
    Results: [],
    Error: {
      ActionIndex: index,
      Code: 'GeneralException',
      Message: 'Something failed',
      HttpStatusCode: 500,
      Location: '',
    },
  });

/** Stands between the pane's library and the workbook. */
export class Faulty implements Answering {
  /** For each request so far, how many actions it had. */
  readonly requests: number[] = [];
  #fault: Fault | undefined;
  #isDown = false;
  /** Somebody's act just before a request is carried out. */
  before: (request: number) => void = () => {};

  constructor(private readonly connection: Answering) {}

  /** Counts anew, with this fault ahead. */
  begin(fault?: Fault): void {
    this.requests.length = 0;
    this.#fault = fault;
    this.#isDown = false;
  }

  async run(json: string): Promise<string> {
    const batch = JSON.parse(json) as Batch;
    const actions = batch.Actions ?? [];
    const number = this.requests.push(actions.length) - 1;
    this.before(number);
    if (this.#isDown) return failure(0);
    if (number !== this.#fault?.request) return this.connection.run(json);
    this.#isDown = this.#fault.lasting;
    const done = Math.min(this.#fault.actions, actions.length);
    if (done > 0) await this.connection.run(JSON.stringify({...batch, Actions: actions.slice(0, done)}));
    return failure(Math.min(done, actions.length - 1));
  }
}

/** Has the requests of a pane go through faults. */
export function faultyPane(pane: Pane): Faulty {
  const faulty = new Faulty(pane.connection);
  pane.office.connect(faulty);
  return faulty;
}

/** Faults in every request, before, between and after its actions; of many actions a spread of them. */
export const faultsOf = (requests: readonly number[], spread: number): Fault[] =>
  requests.flatMap((actions, request) => {
    const count = Math.min(spread, actions + 1);
    const cuts = Array.from({length: count}, (_, i) => Math.round((i * actions) / Math.max(1, count - 1)));
    return cuts.flatMap((cut) => [false, true].map((lasting) => ({request, actions: cut, lasting})));
  });

const usual = ({numberFormat, ...look}: CellLook): object => ({
  ...Object.fromEntries(Object.entries(look).filter(([, value]) => value !== undefined && value !== false)),
  ...(numberFormat === undefined || numberFormat === 'General' ? {} : {numberFormat}),
});

/** What a workbook holds: for every sheet its cells and their looks by address; and its tables. */
export interface Held {
  readonly cells: ReadonlyMap<string, string>;
  readonly tables: readonly string[];
}

export function held(book: HostBook): Held {
  const cells = new Map<string, string>();
  const names = new Map(book.sheets.map(({id, name}) => [id, name]));
  for (const {id, name, cells: all} of book.sheets) {
    cells.set(name, 'sheet');
    const looks = new Map([...book.looks(id)].map(({row, column, look}) => [cellAddress(row, column), look]));
    const put = (address: string, content: unknown): void => {
      const look = JSON.stringify(usual(looks.get(address) ?? {}));
      if (content !== '' || look !== '{}') cells.set(`${name}!${address}`, `${String(content)} ${look}`);
    };
    for (const address of looks.keys()) put(address, '');
    for (const at of all.keys()) {
      const {row, column} = cellOfKey(at);
      const {value, formula} = book.content(id, row, column);
      put(cellAddress(row, column), formula === undefined ? (value ?? '') : book.formula(id, row, column));
    }
  }
  return {
    cells,
    tables: book.tables.map(({name, sheetId, area}) => `${name} ${names.get(sheetId)} ${JSON.stringify(area)}`).sort(),
  };
}

/** The sheets and cells in which two states differ. */
export const differing = (a: Held, b: Held): string[] =>
  [...new Set([...a.cells.keys(), ...b.cells.keys()])].filter((at) => a.cells.get(at) !== b.cells.get(at)).sort();
