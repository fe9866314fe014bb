/**
 * The messages between this page and a pane in a frame. The pane has the real office.js, which takes this page for Excel
 * on the web; here is the other end of its protocol.
 */

/** A message of office.js; it travels as JSON. */
interface Message {
  readonly _messageType: number;
  readonly _actionName: string;
  readonly _actionType?: number;
  readonly _conversationId: string;
  readonly _correlationId: number;
  readonly _data?: MethodCall;
}

interface MethodCall {
  readonly DdaMethod?: {readonly DispatchId: number};
  readonly ArrayData?: readonly unknown[];
}

/**
 * Answers a batch of requests as JSON; the answer is JSON too.
 * @param waits the batch is to wait until no cell is being edited, instead of failing
 */
export type AnswerBatch = (body: string, waits: boolean) => Promise<string>;

const REQUEST = 0;
const RESPONSE = 1;
/** Register and unregister a handler of an event. */
const LISTEN = 1;
const LISTEN_NO_MORE = 2;
/** Dispatch id of office.js for a batch of requests. */
const BATCH = 93;
/** The event that something else has been selected, which every kind of document has. */
const SELECTION_CHANGED = 'documentSelectionChanged';
const HTTP_OK = 200;
/** The batch's JSON within the data of the call. */
const BODY = 4;
/** The flags of the batch, and the one for waiting until no cell is being edited. */
const FLAGS = 6;
const WAITS = 64;
/** Kind of an entry of a message that tells of events. */
const EVENT_ENTRY = 65536;

/** Requirement sets that the host has, for the pane's own questions about them. */
const REQUIREMENTS = {excelapi: '1.14', customfunctionsruntime: '1.3', sharedruntime: '1.1', delayforcelledit: '1.1'};

let panes = 0;

export class PaneChannel {
  readonly #conversation = `conversation-${++panes}`;
  readonly #pane = `pane-${panes}`;
  #followsSelection = false;
  readonly #listening = (event: MessageEvent): void => this.#receive(event);

  constructor(
    private readonly frame: HTMLIFrameElement,
    private readonly answerBatch: AnswerBatch,
  ) {
    addEventListener('message', this.#listening);
  }

  /** Loads a page into the frame. The order within the address is that in which office.js reads it. */
  show(page: string): void {
    const host = encodeURIComponent('Excel$Web$16.01$en-US$local-host$$disableLogging$0');
    const messages = `${this.#conversation}|${this.#pane}|${location.origin}`;
    this.frame.src = `${page}?_host_Info=${host}#&_serializer_version=1&_xdm_Info=${messages}`;
  }

  /** Ends the conversation. */
  close(): void {
    removeEventListener('message', this.#listening);
    this.frame.remove();
  }

  /** Tells the pane of an event of the workbook. */
  tell(type: number, target: string, message: object): void {
    const entry = [EVENT_ENTRY, type, target, JSON.stringify(message), 0, false];
    this.#send('richApiMessage', -1, 1, {Version: 1, Error: 0, ArrayData: [entry]});
  }

  /** Tells the pane that something else has been selected, by the event that every kind of document has. */
  tellSelection(): void {
    if (this.#followsSelection) this.#send(SELECTION_CHANGED, -1, 1, {});
  }

  #receive({source, origin, data}: MessageEvent): void {
    if (source !== this.frame.contentWindow || origin !== location.origin) return;
    const message = parsed(data);
    if (message?._messageType !== REQUEST || message._conversationId !== this.#conversation) return;
    void this.#answer(message).then((answer) => this.#send(message._actionName, message._correlationId, 0, answer));
  }

  async #answer({_actionName: action, _actionType: kind, _data: data}: Message): Promise<unknown> {
    if (action === 'ContextActivationManager_getAppContextAsync') return this.#context();
    if (kind === LISTEN || kind === LISTEN_NO_MORE) {
      if (action === SELECTION_CHANGED) this.#followsSelection = kind === LISTEN;
      return {Version: 1, Error: 0};
    }
    if (action === 'executeMethod' && data?.DdaMethod?.DispatchId === BATCH) {
      const answer = await this.answerBatch(
        String(data.ArrayData?.[BODY]),
        (Number(data.ArrayData?.[FLAGS]) & WAITS) !== 0,
      );
      return {Version: 1, Error: 0, Data: [HTTP_OK, ['content-type', 'application/json'], answer]};
    }
    return {Version: 1, Error: 0};
  }

  #context(): object {
    return {
      _id: this.#pane,
      _appInstanceId: this.#pane,
      _appName: 16,
      _appVersion: '16.00',
      _appMinorVersion: 0,
      _appUILocale: 'en-US',
      _dataLocale: 'en-US',
      _docUrl: location.href,
      _clientMode: 1,
      _osfControlType: 1,
      _settings: [],
      _reason: 'documentOpened',
      _eToken: '',
      _correlationId: 'local-workbook-host',
      _requirementMatrix: JSON.stringify(REQUIREMENTS),
      _hostFullVersion: '0.0.0.0 (local workbook host, not Excel)',
      _addinName: 'Wheel Ledger',
      _appDomains: [],
      _featureGates: {},
    };
  }

  #send(action: string, correlation: number, responseType: number, data: unknown): void {
    this.frame.contentWindow?.postMessage(
      JSON.stringify({
        _messageType: RESPONSE,
        _actionName: action,
        _conversationId: this.#conversation,
        _correlationId: correlation,
        _origin: location.href,
        _errorCode: 0,
        _responseType: responseType,
        _data: data,
        _serializerVersion: 1,
      }),
      location.origin,
    );
  }
}

function parsed(data: unknown): Message | undefined {
  try {
    return JSON.parse(String(data)) as Message;
  } catch {
    return undefined;
  }
}
