/** Having the engine calculate, and knowing when it is done. */
import type {Injector, UniverLibrary} from './univerLibrary';

/** FormulaExecutedStateType.STOP_EXECUTION: the engine starts again by itself. */
const STOPPED = 1;

const NOTHING_DIRTY = {
  forceCalculation: false,
  dirtyRanges: [],
  dirtyNameMap: {},
  dirtyDefinedNameMap: {},
  dirtySuperTableMap: {},
  dirtyUnitFeatureMap: {},
  dirtyUnitOtherFormulaMap: {},
  clearDependencyTreeCache: {},
};

export class Running {
  constructor(
    private readonly library: UniverLibrary,
    private readonly injector: Injector,
  ) {}

  /**
   * Has the engine calculate, and waits for its end. The engine is asked, not made, to begin: it pauses a moment, and
   * joins what it was about to calculate by itself. A calculation begun at once would be stopped half-way by that.
   */
  async run(what: object): Promise<void> {
    const {
      SetTriggerFormulaCalculationStartMutation: trigger,
      SetFormulaCalculationNotificationMutation: notification,
    } = this.library.formula;
    const commands = this.injector.get(this.library.core.ICommandService);
    await new Promise<void>((resolve) => {
      const listening = commands.onCommandExecuted(({id, params}) => {
        if (id !== notification.id) return;
        const state = (params as {functionsExecutedState?: number}).functionsExecutedState;
        if (state === undefined || state === STOPPED) return;
        listening.dispose();
        // The results are applied by commands that are still under way.
        setTimeout(resolve, 0);
      });
      commands.syncExecuteCommand(trigger.id, {...NOTHING_DIRTY, ...what}, {onlyLocal: true});
    });
  }
}
