import {Radio, RadioGroup, Spinner, Switch} from '@fluentui/react-components';
import {useRef, useState} from 'react';
import {inWords, withUncertainty} from '../../maths/format';
import {readColumns, readRecords, type Ledger, type LedgerRecord} from '../../workbook/ledger';
import {readSensitivities} from '../../workbook/sensitivities';
import type {AtHand} from '../app/useLedger';
import {PlacesChart} from '../charts/PlacesChart';
import {Cautions} from '../shared/Cautions';
import {LedgerGate} from '../shared/LedgerGate';
import {Problem} from '../shared/Problem';
import {usePageStyles} from '../shared/styles';
import {lastOf, useReading} from '../shared/useReading';
import {CAUTIONS} from '../wheel/words';
import {JobPicker} from './JobPicker';
import {placeRows, planVehicle, worstOf, WORKS, type Plan, type Rules, type Work} from './planModel';
import {RecordSheets} from './RecordSheets';
import {jobsOf, rimDiameterMm, vehicleModel, type Job, type Vehicle} from './vehicleModel';
import {steps} from './words';

interface Props {
  readonly atHand: AtHand;
  readonly lookAgain: () => void;
}

/** The wheels of one job: pairing, placing, before and after, and the record sheet. */
export function VehicleView({atHand, lookAgain}: Props) {
  return (
    <LedgerGate atHand={atHand} lookAgain={lookAgain}>
      {({ledger, record}) => <OfLedger ledger={ledger} record={record} />}
    </LedgerGate>
  );
}

async function readJob(ledger: Ledger, record: LedgerRecord | undefined, chosen: string | undefined) {
  const [columns, table] = await Promise.all([readColumns(ledger, ['Job', 'Vehicle']), readSensitivities()]);
  const jobs = jobsOf(columns);
  const job =
    chosen === undefined
      ? jobs.find(({indices}) => record !== undefined && indices.includes(record.index))
      : jobs.find(({name}) => name === chosen);
  const vehicle = job && vehicleModel(await readRecords(ledger, job.indices));
  return {jobs, job, table, vehicle};
}

function OfLedger({ledger, record}: {readonly ledger: Ledger; readonly record: LedgerRecord | undefined}) {
  const page = usePageStyles();
  const [chosen, setChosen] = useState<string>();
  const [rules, setRules] = useState<Rules>({work: 'turn where found', keepSide: false});
  // A record sheet that has been written is what is selected then; its job stays at hand.
  const last = useRef<string>(undefined);
  const reading = useReading(
    () => readJob(ledger, record, chosen ?? (record === undefined ? last.current : undefined)),
    [ledger, record, chosen],
  );
  const found = lastOf(reading);
  if (reading.kind === 'read') last.current = reading.value.job?.name;
  if (reading.kind === 'problem') return <Problem words={reading.words} />;
  if (found === undefined) return <Spinner size="small" label="Reading the ledger …" />;
  const {jobs, job, table, vehicle} = found;
  if (jobs.length === 0) {
    return (
      <p>
        The ledger has no job numbers. Name their column as “Job” in the ledger map, so that the wheels of a vehicle are
        found.
      </p>
    );
  }
  return (
    <article aria-labelledby="vehicle">
      <h1 id="vehicle" className={page.heading}>
        {vehicle?.title ?? 'Vehicle'}
      </h1>
      <JobPicker jobs={jobs} chosen={job} follows={chosen === undefined} onChoose={setChosen} />
      {job === undefined || vehicle === undefined ? (
        <p>Select a row of the table {ledger.map.table}, or pick a job.</p>
      ) : vehicle.wheels.length === 0 ? (
        <Missing vehicle={vehicle} />
      ) : (
        <>
          <Missing vehicle={vehicle} />
          <Choices vehicle={vehicle} rules={rules} onRules={setRules} worst={worstOf(vehicle, table, rules.keepSide)} />
          <Outcome vehicle={vehicle} plan={planVehicle(vehicle, table, rules)} />
          <RecordSheets ledger={ledger} job={job as Job} jobs={jobs} table={table} rules={rules} />
        </>
      )}
    </article>
  );
}

function Missing({vehicle}: {readonly vehicle: Vehicle}) {
  const page = usePageStyles();
  if (vehicle.without.length === 0) return null;
  return (
    <>
      <p>Wheels without figures:</p>
      <ul className={page.list}>
        {vehicle.without.map(({position, why}) => (
          <li key={position}>
            {position}: {why}
          </li>
        ))}
      </ul>
    </>
  );
}

const WORK_WORDS: Readonly<Record<Work, string>> = {
  'as they are': 'Place the wheels as they are',
  'turn where found': 'Turn tires where that is the finding',
  'pair anew': 'Pair tires and rims anew',
};

interface ChoicesProps {
  readonly vehicle: Vehicle;
  readonly rules: Rules;
  readonly onRules: (rules: Rules) => void;
  readonly worst: readonly (readonly [Work, number])[];
}

function Choices({vehicle, rules, onRules, worst}: ChoicesProps) {
  const page = usePageStyles();
  const left = new Map(worst);
  return (
    <section className={page.section} aria-labelledby="choices">
      <h2 id="choices" className={page.heading}>
        How much is done
      </h2>
      <RadioGroup
        aria-labelledby="choices"
        value={rules.work}
        onChange={(_, {value}) => onRules({...rules, work: value as Work})}
      >
        {WORKS.map((work) => (
          <Radio
            key={work}
            value={work}
            label={`${WORK_WORDS[work]}: the worst has ${inWords(Number(left.get(work)!.toPrecision(2)))} ${vehicle.unit}`}
          />
        ))}
      </RadioGroup>
      <Switch
        label="Directional or handed tires: keep each on its side"
        checked={rules.keepSide}
        onChange={(_, {checked}) => onRules({...rules, keepSide: checked})}
      />
    </section>
  );
}

function Outcome({vehicle, plan}: {readonly vehicle: Vehicle; readonly plan: Plan}) {
  const page = usePageStyles();
  const rows = placeRows(vehicle, plan);
  const todo = steps(vehicle, plan, (wheel) => rimDiameterMm(vehicle.wheels[wheel]));
  const {unit} = vehicle;
  return (
    <section className={page.section} aria-labelledby="outcome">
      <h2 id="outcome" className={page.heading}>
        Before and after
      </h2>
      <PlacesChart title="Runout of the assembly at each position" unit={unit} rows={rows} />
      <ul className={page.list} aria-label="Positions">
        {rows.map(({position, from, before, plusBefore, after, plusminus, standing}) => (
          <li key={position}>
            <strong>{position}</strong>: {withUncertainty(before, plusBefore ?? 0)} →{' '}
            {withUncertainty(after, plusminus ?? 0)} {unit}, {STANDING[standing]}
            {from === position ? '' : ` (${from})`}
          </li>
        ))}
      </ul>
      <h3 className={`${page.heading} ${page.section}`}>What to do</h3>
      {todo.steps.length === 0 ? (
        <p>Nothing: every tire stays on its rim and every wheel where it is.</p>
      ) : (
        <ol className={page.list}>
          {todo.steps.map((step) => (
            <li key={step}>{step}</li>
          ))}
        </ol>
      )}
      {todo.steps.length > 0 && <Cautions texts={todo.demounts ? CAUTIONS : CAUTIONS.slice(-1)} />}
      {todo.remarks.length + plan.notes.length > 0 && (
        <ul className={page.list} aria-label="Remarks">
          {[...todo.remarks, ...plan.notes].map((note) => (
            <li key={note} className={page.quiet}>
              {note}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

const STANDING = {
  within: 'within its limit',
  exceeds: 'beyond its limit',
  'too close to tell': 'too close to its limit to tell',
} as const;
