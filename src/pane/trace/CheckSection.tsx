import {Button, Link, makeStyles, ProgressBar, tokens} from '@fluentui/react-components';
import {useEffect, useRef, useState} from 'react';
import {cellAddress, sheetPrefix, type Area} from '../../workbook/addresses';
import type {Checked, Finding} from '../../workbook/audit/check';
import {followChanges, type Unfollow} from '../../workbook/selection';
import {counted, findingsPlan} from '../../workbook/audit/plans';
import {Problem} from '../shared/Problem';
import {fetched} from '../shared/fetched';
import {usePageStyles} from '../shared/styles';
import {NewSheet, type NewlyWritten} from './NewSheet';

const useStyles = makeStyles({
  finding: {paddingBlock: tokens.spacingVerticalXS},
  figures: {overflowWrap: 'anywhere'},
});

type State =
  | {readonly kind: 'idle'; readonly said?: string}
  | {readonly kind: 'running'; readonly share: number; readonly what: string}
  | {readonly kind: 'done'; readonly checked: Checked; readonly when: string}
  | {readonly kind: 'problem'; readonly words: string};

/** Findings that are listed at once. */
const AT_FIRST = 100;

interface Props {
  readonly go: (area: Area) => void;
  readonly onWritten: (written: NewlyWritten) => void;
}

/** Whether cells have changed since the check of that number, from 1, began. */
function useChangedSince(check: number): boolean {
  const [changedAfter, setChangedAfter] = useState(0);
  useEffect(() => {
    if (check === 0) return undefined;
    let ended = false;
    let unfollow: Unfollow | undefined;
    followChanges(() => setChangedAfter(check)).then(
      (end) => {
        unfollow = end;
        if (ended) end();
      },
      // Nobody knows then; better a doubt too many.
      () => setChangedAfter(check),
    );
    return () => {
      ended = true;
      unfollow?.();
    };
  }, [check]);
  return check > 0 && changedAfter === check;
}

/** Calculates every WHEEL cell anew and lists what does not fit. */
export function CheckSection({go, onWritten}: Props) {
  const page = usePageStyles();
  const [state, setState] = useState<State>({kind: 'idle'});
  const [check, setCheck] = useState(0);
  const changed = useChangedSince(check);
  const running = useRef<AbortController>(undefined);
  useEffect(() => () => running.current?.abort(), []);
  const run = async (): Promise<void> => {
    const control = new AbortController();
    running.current = control;
    setCheck((before) => before + 1);
    setState({kind: 'running', share: 0, what: 'Reading the workbook'});
    const when = `${new Date().toISOString().slice(0, 16).replace('T', ' ')} UTC`;
    const {checkWorkbook, Cancelled} = await fetched(() => import('../../workbook/audit/check'));
    try {
      const checked = await checkWorkbook({
        signal: control.signal,
        onProgress: (share, what) => setState({kind: 'running', share, what}),
      });
      setState({kind: 'done', checked, when});
    } catch (error) {
      if (error instanceof Cancelled) setState({kind: 'idle', said: 'Cancelled; nothing was changed.'});
      else setState({kind: 'problem', words: (error as Error).message});
    }
  };
  return (
    <section aria-labelledby="check" className={page.stack}>
      <h2 id="check" className={page.heading}>
        Check this workbook
      </h2>
      <p className={page.quiet}>
        Calculates every WHEEL cell anew and lists what does not fit: old values, constants typed over formulas, blanks
        read as zero, mixed units or limits, formulas unlike their neighbors, lost functions, changed records, errors.
        Nothing is changed.
      </p>
      <div className={page.row}>
        <Button size="small" appearance="primary" disabled={state.kind === 'running'} onClick={() => void run()}>
          Check this workbook
        </Button>
        {state.kind === 'running' && (
          <Button size="small" onClick={() => running.current?.abort()}>
            Cancel
          </Button>
        )}
      </div>
      {state.kind === 'running' && (
        <div>
          <ProgressBar value={state.share} aria-label="Check" />
          <p className={page.quiet}>{state.what} …</p>
        </div>
      )}
      {state.kind === 'idle' && state.said !== undefined && <p role="status">{state.said}</p>}
      {state.kind === 'problem' && <Problem words={state.words} />}
      {state.kind === 'done' && (
        <Findings checked={state.checked} when={state.when} changed={changed} go={go} onWritten={onWritten} />
      )}
    </section>
  );
}

interface FindingsProps extends Props {
  readonly checked: Checked;
  /** When the check began. */
  readonly when: string;
  /** Cells have changed since. */
  readonly changed: boolean;
}

function Findings({checked, when, changed, go, onWritten}: FindingsProps) {
  const page = usePageStyles();
  const styles = useStyles();
  const [all, setAll] = useState(false);
  const {findings, formulas, unknown} = checked;
  const listed = all ? findings : findings.slice(0, AT_FIRST);
  return (
    <div className={page.stack}>
      <p role="status">
        {formulas} formulas with WHEEL functions, {counted(findings.length)}.
        {unknown.length > 0 &&
          ` ${unknown.length} could not be calculated here, the first in ${sheetPrefix(unknown[0].place.sheet)}${cellAddress(unknown[0].place.row, unknown[0].place.column)}: ${unknown[0].reason}.`}
      </p>
      {changed && (
        <p role="status">Checked before the last change: what is said here may no longer hold. Check again.</p>
      )}
      {findings.length > 0 && (
        <ul className={page.list} aria-label="Findings">
          {listed.map((finding) => (
            <li key={`${finding.sheet} ${finding.cell}`} className={styles.finding}>
              <Link as="button" onClick={() => go(cellOf(finding))} aria-label={`Go to ${addressOf(finding)}`}>
                {addressOf(finding)}
              </Link>{' '}
              <strong>{finding.kind}</strong>
              {finding.more > 0 ? ` (and ${finding.more} more)` : ''}
              <div className={styles.figures}>Shown: {finding.shown}</div>
              <div className={styles.figures}>Computed: {finding.computed}</div>
              <div className={page.quiet}>{finding.toDo}</div>
            </li>
          ))}
        </ul>
      )}
      {listed.length < findings.length && (
        <Link as="button" onClick={() => setAll(true)}>
          Show all {findings.length} findings
        </Link>
      )}
      {findings.length > 0 && (
        <NewSheet
          action="Write the list to a sheet"
          onWritten={onWritten}
          write={async ({writeSheet}) => ({
            sheet: await writeSheet(findingsPlan(findings, when), false),
            said: '',
          })}
        />
      )}
    </div>
  );
}

const addressOf = ({sheet, cell}: Finding): string => `${sheetPrefix(sheet)}${cell}`;

const cellOf = ({sheet, row, column}: Finding): Area => ({sheet, row, column, rows: 1, columns: 1});
