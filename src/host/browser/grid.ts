/** The running grid: its services, and changes of what it shows that it takes for its own. */
import type {Injector, StartedUniver} from '../engine/univerLibrary';
import {library} from './univer';

/** What a command or a change of the grid is called, and what it is about. */
export interface GridCommand {
  readonly id: string;
  readonly params?: object;
}

export interface GridOptions {
  /** Not done by a person: by the host, or by the calculation. */
  readonly onlyLocal?: boolean;
}

/** Kinds of commands: those that change the workbook are mutations. */
const MUTATION = 2;

export class Grid {
  readonly #injector: Injector;
  /** When it has drawn its first workbook: before that it knows of no formula. */
  readonly rendered: Promise<void>;

  constructor(readonly started: StartedUniver) {
    this.#injector = started.univer.__getInjector();
    const {univerAPI} = started;
    this.rendered = new Promise((resolve) => {
      univerAPI.addEvent(univerAPI.Event.LifeCycleChanged, ({stage}) => {
        if (stage >= univerAPI.Enum.LifecycleStages.Rendered) resolve();
      });
    });
  }

  /** A service of the grid. */
  get<T>(service: unknown): T {
    return this.#injector.get(service as never) as T;
  }

  get #commands() {
    return this.#injector.get(library.core.ICommandService);
  }

  /** Changes what the grid shows, without that being taken for a person's edit or kept for undoing. */
  mutate(id: string, params: object): void {
    this.#commands.syncExecuteCommand(id, params, {onlyLocal: true});
  }

  /** Runs a command as if a person had given it. */
  command(id: string, params: object): Promise<boolean> {
    return this.#commands.executeCommand(id, params);
  }

  /** Adds a change of the host's own, which the list of undoing can name. */
  addMutation(id: string, change: (params: object) => void): void {
    this.#commands.registerCommand({
      id,
      type: MUTATION,
      handler: (_accessor: unknown, params?: object) => {
        change(params ?? {});
        return true;
      },
    });
  }

  /** Calls back after everything that the grid has done. */
  after(listener: (command: GridCommand, options: GridOptions) => void): void {
    this.#commands.onCommandExecuted((command, options) =>
      listener(command as GridCommand, (options ?? {}) as GridOptions),
    );
  }

  /** Asks before a command; it is not run when the answer is false. */
  before(allowed: (command: GridCommand) => boolean): void {
    const {univerAPI} = this.started;
    univerAPI.addEvent(univerAPI.Event.BeforeCommandExecute, (event) => {
      if (!allowed({id: event.id, params: event.params as object})) event.cancel = true;
    });
  }
}
