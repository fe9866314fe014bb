/**
 * The real library of office.js in Node: its classes, its batches and its answers, with requests that go to a connection
 * of the host instead of through messages.
 */
import {readFileSync} from 'node:fs';
import path from 'node:path';
import vm from 'node:vm';
import type {Connection} from '../../../../src/host/office/api/connection';

/** A batch as it went out and what came back, for looking at. */
export interface Exchange {
  readonly request: string;
  readonly answer: string;
}

interface Message {
  readonly entries: readonly object[];
}

interface Library {
  readonly Excel: typeof Excel;
  OSF: {
    DDA: {
      RichApi: {
        executeRichApiRequestAsync?: (data: readonly unknown[], answer: (result: object) => void) => void;
        richApiMessageManager: {register: (handler: (message: Message) => void) => Promise<void>};
      };
    };
  };
  Office: object;
}

const FILE = path.join(
  path.dirname(require.resolve('@microsoft/office-js/package.json')),
  'dist',
  'excel-web-16.00.debug.js',
);
/** Where the batch's JSON stands within a request, and what surrounds the JSON of an answer. */
const BODY = 4;
const EVENT_CATEGORY = 65536;

/** What answers requests. */
export type Answering = Pick<Connection, 'run'>;

let script: vm.Script | undefined;

export interface OfficeJs {
  readonly Excel: typeof Excel;
  readonly exchanges: Exchange[];
  /** Hands an event to the handlers that are registered for it. */
  readonly tell: (type: number, target: string, message: object) => void;
  /** The selection of the document has changed. */
  readonly selectionChanged: () => void;
  /** Requests go to this connection. */
  connect: (connection: Answering) => void;
}

/** One fresh copy of the library. */
export function loadOfficeJs(): OfficeJs {
  script ??= new vm.Script(readFileSync(FILE, 'utf8'), {filename: 'excel-web.js'});
  const page: Record<string, unknown> = {
    console,
    // After a failure the library tries to let go of what it followed for seconds; the tests need not wait for that.
    setTimeout: (act: () => void, delay?: number) => setTimeout(act, delay).unref(),
    clearTimeout,
    location: {href: 'https://localhost/', search: '', hash: '', hostname: 'localhost'},
    document: {createElement: () => ({}), getElementsByTagName: () => [], addEventListener: () => undefined},
    navigator: {userAgent: 'test'},
    addEventListener: () => undefined,
  };
  page.window = page;
  page.self = page;
  script.runInContext(vm.createContext(page));
  const library = page as unknown as Library;
  const exchanges: Exchange[] = [];
  const handlers: ((message: Message) => void)[] = [];
  let connection: Answering | undefined;
  library.OSF.DDA.RichApi.executeRichApiRequestAsync = (data, answer) => {
    const request = String(data[BODY]);
    void connection!.run(request).then((body) => {
      exchanges.push({request, answer: body});
      // As the part of the library that handles messages hands it on.
      answer({status: 'succeeded', value: {data: [200, ['content-type', 'application/json'], body]}});
    });
  };
  library.OSF.DDA.RichApi.richApiMessageManager = {
    register: async (handler) => {
      handlers.push(handler);
    },
  };
  const following = new Set<() => void>();
  const document = {
    addHandlerAsync: (_type: string, handler: () => void, done: (result: object) => void) => {
      following.add(handler);
      done({status: 'succeeded'});
    },
    removeHandlerAsync: (_type: string, {handler}: {handler: () => void}, done: (result: object) => void) => {
      following.delete(handler);
      done({status: 'succeeded'});
    },
  };
  // Without a host there is no context; this much of it is asked for.
  library.Office = Object.create(library.Office, {context: {value: {document}}}) as object;
  return {
    Excel: library.Excel,
    exchanges,
    tell: (messageType, targetId, message) => {
      const entry = {messageCategory: EVENT_CATEGORY, messageType, targetId, message: JSON.stringify(message), id: 0};
      for (const handler of handlers) handler({entries: [entry]});
    },
    selectionChanged: () => following.forEach((handler) => handler()),
    connect: (one) => (connection = one),
  };
}
