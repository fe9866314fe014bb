import {useEffect, useMemo, useState} from 'react';
import {shortWay} from '../../maths/angles';
import {inWords, withUncertainty} from '../../maths/format';
import type {Area} from '../../workbook/addresses';
import type {LedgerRecord} from '../../workbook/ledger';
import type {AtHand} from '../app/useLedger';
import {HarmonicsChart} from '../charts/HarmonicsChart';
import {LedgerGate} from '../shared/LedgerGate';
import {usePageStyles} from '../shared/styles';
import {wheelModel, type Parts, type WheelModel} from './model';
import {RemountSection} from './RemountSection';
import {TurnSection} from './TurnSection';
import {WeightsSection} from './WeightsSection';
import {FINDINGS, signed} from './words';

interface Props {
  readonly atHand: AtHand;
  readonly lookAgain: () => void;
}

/** The record under the cursor. */
export function WheelView({atHand, lookAgain}: Props) {
  const page = usePageStyles();
  return (
    <LedgerGate atHand={atHand} lookAgain={lookAgain}>
      {({ledger, record, selection}) =>
        record ? (
          <Wheel record={record} selection={selection} />
        ) : (
          <>
            <h1 className={page.heading}>No wheel selected</h1>
            <p>
              Select a cell in a row of the table <strong>{ledger.map.table}</strong> to see that wheel here.
            </p>
          </>
        )
      }
    </LedgerGate>
  );
}

function Wheel({record, selection}: {readonly record: LedgerRecord; readonly selection: Area}) {
  const page = usePageStyles();
  const model = useMemo(() => wheelModel(record), [record]);
  const guessed = record.ledger.map.origin === 'guess';
  const {parts, checks, missing} = model;
  return (
    <article aria-labelledby="wheel">
      <h1 id="wheel" className={page.heading}>
        {model.title}
      </h1>
      <p className={page.quiet}>{model.details.join(' · ')}</p>
      {guessed && <p className={page.quiet}>Which columns hold what was guessed from the headings.</p>}
      {parts === undefined ? (
        <p>{missing}</p>
      ) : (
        <>
          <FindingSection model={model} parts={parts} />
          <Checks checks={checks} />
          <Turning model={model} parts={parts} />
          <section className={page.section}>
            <HarmonicsChart
              title="Harmonics of the assembly, peak-to-peak"
              unit={model.runoutUnit}
              rows={parts.harmonics}
            />
          </section>
          <Exact model={model} parts={parts} />
        </>
      )}
      {parts === undefined && <Checks checks={checks} />}
      <RemountSection record={record} />
      <WeightsSection record={record} title={model.title} selection={selection} />
    </article>
  );
}

function FindingSection({model, parts}: {readonly model: WheelModel; readonly parts: Parts}) {
  const page = usePageStyles();
  const {assessed} = parts;
  const {runoutUnit: unit, limits} = model;
  if (assessed === undefined || limits === undefined) {
    return <p>No limits are known for this record, so there is no finding. Name their columns in the ledger map.</p>;
  }
  const {title, next} = FINDINGS[assessed.finding];
  return (
    <section className={page.stack} aria-labelledby="finding" aria-live="polite">
      <h2 id="finding" className={page.heading}>
        {title}
      </h2>
      <p>{assessed.reason}</p>
      <p>{next}</p>
      <dl className={page.figures}>
        <dt>Assembly</dt>
        <dd>
          {withUncertainty(assessed.assembly, assessed.plusminus ?? 0)} {unit}, limit {inWords(limits.assembly)}
        </dd>
        <dt>Rim</dt>
        <dd>
          {inWords(assessed.rim)} {unit}, limit {inWords(limits.rim)}
        </dd>
        <dt>Tire</dt>
        <dd>
          {inWords(assessed.tire)} {unit}
        </dd>
        <dt>After the best match</dt>
        <dd>
          {withUncertainty(assessed.after, assessed.plusafter ?? 0)} {unit} at{' '}
          {signed(Math.round(shortWay(assessed.turn)))}°
        </dd>
      </dl>
    </section>
  );
}

/** Which readings are poor, and why. */
function Checks({checks}: Pick<WheelModel, 'checks'>) {
  const page = usePageStyles();
  if (checks.length === 0) return null;
  return (
    <section className={page.section} aria-labelledby="checks">
      <h2 id="checks" className={page.heading}>
        Look at these readings
      </h2>
      <ul className={page.list}>
        {checks.map(({of, words}) => (
          <li key={of}>
            {of}: {words}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The turn shown starts at the best one where a match is the finding, else as measured; a new record starts anew. */
function Turning({model, parts}: {readonly model: WheelModel; readonly parts: Parts}) {
  const start = useMemo(
    () => (parts.assessed?.finding === 'match mount' ? Math.round(shortWay(parts.assessed.turn)) : 0),
    [parts.assessed?.finding, parts.assessed?.turn],
  );
  const [turn, setTurn] = useState(start);
  useEffect(() => setTurn(start), [start, model.title]);
  return <TurnSection model={model} parts={parts} turn={turn} onTurn={setTurn} />;
}

/** Every figure at full precision, on demand. */
function Exact({model, parts}: {readonly model: WheelModel; readonly parts: Parts}) {
  const page = usePageStyles();
  const {assessed, curve} = parts;
  const unit = model.runoutUnit;
  const rows: [string, number | undefined, string][] = [
    ['Assembly, first harmonic', assessed?.assembly, unit],
    ['± 95 %', assessed?.plusminus, unit],
    ['Rim, first harmonic', assessed?.rim, unit],
    ['Tire, first harmonic', assessed?.tire, unit],
    ['After the best match', assessed?.after, unit],
    ['± 95 %, after', assessed?.plusafter, unit],
    ['Best turn, first harmonic', assessed?.turn, '°'],
    ['Best turn, whole curve', curve.turn, '°'],
    ['Whole curve as it is', curve.before, unit],
    ['Whole curve after its best turn', curve.after, unit],
    ['Whole curve at the worst turn', curve.worst, unit],
  ];
  return (
    <details className={page.section}>
      <summary>All figures in full</summary>
      <dl className={page.figures}>
        {rows.map(([name, value, of]) => (
          <div key={name} style={{display: 'contents'}}>
            <dt>{name}</dt>
            <dd>{value === undefined ? 'none' : `${value} ${of}`}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}
