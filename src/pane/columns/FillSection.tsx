import {Button, Checkbox, ProgressBar} from '@fluentui/react-components';
import {useRef, useState} from 'react';
import type {InTheWay} from '../../workbook/columns/inspect';
import {fillWorkbook, undoesInOneStep} from '../../workbook/columns/fillWorkbook';
import type {Plan} from '../../workbook/columns/plan';
import type {LedgerMap} from '../../workbook/ledgerMap';
import type {Filling} from './Outcome';
import {Problem} from '../shared/Problem';
import {usePageStyles} from '../shared/styles';

interface Props {
  readonly plan: Plan;
  readonly map: LedgerMap;
  /** What the map tells now, where that is another sheet or table. */
  readonly otherMap: string | undefined;
  readonly onBusy: (busy: boolean) => void;
  readonly onFilled: (outcome: Filling) => void;
  /** New columns go where the sheet is free. */
  readonly onElsewhere: (() => void) | undefined;
}

type State =
  | {readonly kind: 'ready'}
  | {readonly kind: 'filling'; readonly done: number; readonly of: number; readonly cancelling: boolean}
  | {readonly kind: 'asks'; readonly inTheWay: readonly InTheWay[]}
  | {readonly kind: 'problem'; readonly words: string};

const FEW = 12;

/** Writes the columns: asks before it replaces, shows how far it is, can be stopped and taken back. */
export function FillSection({plan, map, otherMap, onBusy, onFilled, onElsewhere}: Props) {
  const page = usePageStyles();
  const [state, setState] = useState<State>({kind: 'ready'});
  const [keepsMap, setKeepsMap] = useState(otherMap === undefined);
  const cancelled = useRef(false);
  const {columns, rows} = plan;

  const run = async (conflict: 'ask' | 'keep' | 'replace', agreed: readonly InTheWay[] = []): Promise<void> => {
    cancelled.current = false;
    onBusy(true);
    setState({kind: 'filling', done: 0, of: rows.length, cancelling: false});
    try {
      const filled = await fillWorkbook(plan, keepsMap ? map : undefined, {
        conflict,
        agreed,
        onProgress: (done, of) => setState({kind: 'filling', done, of, cancelling: cancelled.current}),
        isCancelled: () => cancelled.current,
      });
      if (filled.kind === 'asks') setState(filled);
      else {
        setState({kind: 'ready'});
        onFilled({filled, records: plan.mapping.records});
      }
    } catch (error) {
      setState({kind: 'problem', words: (error as Error).message});
    } finally {
      onBusy(false);
    }
  };

  if (state.kind === 'filling') {
    return (
      <section className={page.section} aria-label="Filling">
        <p role="status">
          Filling: {state.done} of {state.of} records
        </p>
        <ProgressBar aria-label="Records filled" value={state.of === 0 ? 0 : state.done / state.of} />
        <Button
          disabled={state.cancelling}
          onClick={() => {
            cancelled.current = true;
            setState({...state, cancelling: true});
          }}
        >
          {state.cancelling ? 'Stopping …' : 'Cancel'}
        </Button>
      </section>
    );
  }
  return (
    <section className={`${page.section} ${page.stack}`} aria-label="Fill">
      {state.kind === 'asks' && (
        <div role="alert" className={page.stack}>
          <p>
            {state.inTheWay.length === 1 ? 'A cell holds' : `${state.inTheWay.length} cells hold`} something where
            columns are to go. Nothing was written.
          </p>
          <ul className={page.list}>
            {state.inTheWay.slice(0, FEW).map(({address, content}) => (
              <li key={address}>
                {address}: <code>{content.length > 60 ? `${content.slice(0, 60)}…` : content}</code>
              </li>
            ))}
            {state.inTheWay.length > FEW && <li>and {state.inTheWay.length - FEW} more</li>}
          </ul>
          <div className={page.row}>
            {onElsewhere !== undefined && (
              <Button
                onClick={() => {
                  setState({kind: 'ready'});
                  onElsewhere();
                }}
              >
                Put new columns further right
              </Button>
            )}
            <Button onClick={() => void run('keep')}>Keep them, fill the rest</Button>
            <Button onClick={() => void run('replace', state.inTheWay)}>Replace {state.inTheWay.length}</Button>
            <Button onClick={() => setState({kind: 'ready'})}>Leave it</Button>
          </div>
        </div>
      )}
      {state.kind === 'problem' && <Problem words={state.words} />}
      {otherMap !== undefined && (
        <Checkbox
          checked={keepsMap}
          label={`Keep this mapping on the sheet “Ledger map”, in place of that of ${otherMap}`}
          onChange={(_, {checked}) => setKeepsMap(checked === true)}
        />
      )}
      {state.kind !== 'asks' && (
        <div>
          <Button
            appearance="primary"
            disabled={columns.length === 0 || rows.length === 0}
            onClick={() => void run('ask')}
          >
            {fillWords(plan)}
          </Button>
          <p className={page.quiet}>
            {undoesInOneStep(plan)
              ? 'Excel’s Undo takes it back in one step.'
              : 'So many cells go in several parts: Excel’s Undo takes them back one by one, “Take it back” here all at once.'}
            {otherMap === undefined && ' The mapping is kept on the sheet “Ledger map”.'}
          </p>
        </div>
      )}
    </section>
  );
}

const fillWords = ({columns, rows}: Plan): string =>
  `Fill ${columns.length} column${columns.length === 1 ? '' : 's'} for ${rows.length} record${rows.length === 1 ? '' : 's'}`;
