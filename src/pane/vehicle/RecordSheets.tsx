import {Button, ProgressBar} from '@fluentui/react-components';
import {useEffect, useRef, useState} from 'react';
import {readRecords, type Ledger, type LedgerRecord} from '../../workbook/ledger';
import type {SheetPlan} from '../../workbook/record/plan';
import {recordSheet} from '../../workbook/record/sheet';
import {writeSheets, type Progress, type WrittenSheets} from '../../workbook/record/write';
import type {Sensitivity} from '../../workbook/sensitivities';
import {Problem} from '../shared/Problem';
import {usePageStyles} from '../shared/styles';
import {planVehicle, type Rules} from './planModel';
import {readingAhead} from './readAhead';
import {recordInput} from './recordInput';
import {vehicleModel, type Job} from './vehicleModel';

interface Props {
  readonly ledger: Ledger;
  readonly job: Job;
  readonly jobs: readonly Job[];
  readonly table: readonly Sensitivity[];
  readonly rules: Rules;
}

type State =
  | {readonly kind: 'idle'}
  | {readonly kind: 'asking'}
  | {readonly kind: 'writing'; readonly progress: Progress}
  | {readonly kind: 'done'; readonly written: WrittenSheets};

/** Names that are listed one by one. */
const LISTED = 5;

/** Writes the record sheet of the job at hand, or of all jobs, with progress and a way to stop. */
export function RecordSheets({ledger, job, jobs, table, rules}: Props) {
  const page = usePageStyles();
  const [state, setState] = useState<State>({kind: 'idle'});
  const stop = useRef<AbortController>(undefined);
  useEffect(() => () => stop.current?.abort(), []);
  useEffect(() => setState((old) => (old.kind === 'writing' ? old : {kind: 'idle'})), [job.name]);

  const planOf = (records: readonly LedgerRecord[]): SheetPlan | undefined => {
    const vehicle = vehicleModel(records);
    if (vehicle.wheels.length === 0) return undefined;
    return recordSheet(recordInput(vehicle, planVehicle(vehicle, table, rules), table));
  };
  const write = async (list: readonly Job[]): Promise<void> => {
    const controller = new AbortController();
    stop.current = controller;
    const recordsOf = readingAhead(list, (indices) => readRecords(ledger, indices));
    const written = await writeSheets(
      list.map(({name}) => name),
      async (i) => planOf(await recordsOf(i)),
      (progress) => setState({kind: 'writing', progress}),
      controller.signal,
    );
    setState({kind: 'done', written});
  };

  return (
    <section className={page.section} aria-labelledby="record-sheet">
      <h2 id="record-sheet" className={page.heading}>
        Record sheet
      </h2>
      <p>
        A new sheet for customer, file and supplier: the figures as formulas into your cells, charts, findings in plain
        words, what is done, evidence and fingerprint. It prints on one page. No sheet of yours is changed.
      </p>
      {state.kind === 'writing' ? (
        <div className={page.stack} role="status">
          <ProgressBar max={state.progress.of} value={state.progress.done} aria-label="Record sheets written" />
          <span>
            {state.progress.done} of {state.progress.of} {state.progress.of === 1 ? 'sheet' : 'sheets'} written …
          </span>
          <div>
            <Button size="small" onClick={() => stop.current?.abort()}>
              Stop
            </Button>
          </div>
        </div>
      ) : (
        <div className={page.row}>
          <Button size="small" appearance="primary" onClick={() => void write([job])}>
            Write the record sheet
          </Button>
          {jobs.length > 1 && (
            <Button size="small" onClick={() => setState({kind: 'asking'})}>
              For all {jobs.length} jobs …
            </Button>
          )}
        </div>
      )}
      {state.kind === 'asking' && (
        <div role="alert">
          <p>
            This adds {jobs.length} sheets to the workbook, one for each job, all by the choices above. It can be
            stopped at any time; what is written by then stays.
          </p>
          <div className={page.row}>
            <Button size="small" onClick={() => void write(jobs)}>
              Add {jobs.length} sheets
            </Button>
            <Button size="small" onClick={() => setState({kind: 'idle'})}>
              Leave it
            </Button>
          </div>
        </div>
      )}
      {state.kind === 'done' && <Done {...state.written} />}
    </section>
  );
}

function Done({names, failed, cancelled}: WrittenSheets) {
  const page = usePageStyles();
  return (
    <>
      <p role="status">
        {names.length === 0
          ? 'No sheet was written.'
          : names.length <= LISTED
            ? `Written: ${names.join(', ')}.`
            : `${names.length} sheets written, from ${names[0]} to ${names[names.length - 1]}.`}
        {cancelled ? ' Stopped before the rest.' : ''}
      </p>
      {failed.length === 1 && <Problem words={`${failed[0].job}: ${failed[0].why}`} />}
      {failed.length > 1 && (
        <div role="alert">
          <p>{failed.length} jobs have no sheet:</p>
          <ul className={page.list}>
            {failed.map(({job, why}) => (
              <li key={job}>
                {job}: {why}
              </li>
            ))}
          </ul>
        </div>
      )}
    </>
  );
}
