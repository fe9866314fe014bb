import {Field, Radio, RadioGroup, Slider, Spinner} from '@fluentui/react-components';
import {useState} from 'react';
import {inWords} from '../../maths/format';
import type {Area} from '../../workbook/addresses';
import {readColumns, readRecords, type LedgerRecord} from '../../workbook/ledger';
import {PRICE_ITEMS, readPrices, type PriceItem, type Prices} from '../../workbook/prices';
import type {AtHand} from '../app/useLedger';
import {TornadoChart} from '../charts/TornadoChart';
import {LedgerGate} from '../shared/LedgerGate';
import {NumberField} from '../shared/NumberField';
import {Problem} from '../shared/Problem';
import {usePageStyles} from '../shared/styles';
import {lastOf, useReading} from '../shared/useReading';
import {WriteBlock} from '../shared/WriteBlock';
import {jobsOf} from '../vehicle/vehicleModel';
import {costBlock} from './costBlock';
import {
  assumptionsOf,
  caseOfJob,
  caseOfRecord,
  tornado,
  WEIGHT_LEFT,
  worth,
  type Assumptions,
  type CostCase,
} from './costModel';

interface Props {
  readonly atHand: AtHand;
  readonly lookAgain: () => void;
}

/** Is turning the tire worth it, for a record or a job? */
export function CostView({atHand, lookAgain}: Props) {
  // What is typed outlives a look at another sheet, such as that of the prices.
  const [typed, setTyped] = useState<Typed>({});
  return (
    <LedgerGate atHand={atHand} lookAgain={lookAgain}>
      {({ledger, record, selection}) =>
        record === undefined ? (
          <p>
            Select a cell in a row of the table <strong>{ledger.map.table}</strong> to see what turning that tire, or
            those of its job, is worth.
          </p>
        ) : (
          <OfRecord record={record} selection={selection} typed={typed} onTyped={setTyped} />
        )
      }
    </LedgerGate>
  );
}

async function readCase(record: LedgerRecord) {
  const [columns, prices] = await Promise.all([readColumns(record.ledger, ['Job']), readPrices()]);
  const job = jobsOf(columns).find(({indices}) => indices.includes(record.index));
  return {prices, ofJob: job === undefined ? [record] : await readRecords(record.ledger, job.indices)};
}

type Typed = Partial<Record<PriceItem, number | undefined>>;

interface OfRecordProps {
  readonly record: LedgerRecord;
  readonly selection: Area;
  readonly typed: Typed;
  readonly onTyped: (typed: Typed) => void;
}

function OfRecord({record, selection, typed, onTyped}: OfRecordProps) {
  const page = usePageStyles();
  const [scope, setScope] = useState<'record' | 'job'>('job');
  const reading = useReading(() => readCase(record), [record]);
  const found = lastOf(reading);
  if (reading.kind === 'problem') return <Problem words={reading.words} />;
  if (found === undefined) return <Spinner size="small" label="Reading the ledger …" />;
  const of = scope === 'job' ? caseOfJob(found.ofJob) : caseOfRecord(record, found.ofJob);
  return (
    <article aria-labelledby="cost">
      <h1 id="cost" className={page.heading}>
        Is turning worth it? {of.title}
      </h1>
      <RadioGroup
        aria-label="What is counted"
        value={scope}
        onChange={(_, {value}) => setScope(value as 'record' | 'job')}
      >
        <Radio value="job" label="All wheels of the job" />
        <Radio value="record" label="This record" />
      </RadioGroup>
      {of.notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
      {of.wheels.length > 0 && (
        <Worth of={of} prices={found.prices} record={record} selection={selection} typed={typed} onTyped={onTyped} />
      )}
    </article>
  );
}

interface WorthProps extends OfRecordProps {
  readonly of: CostCase;
  readonly prices: Prices;
}

/** Largest figure that makes sense of an item that is typed. */
const MOST: Partial<Record<PriceItem, number>> = {riskBefore: 1, riskAfter: 1};

function Worth({of, prices, record, selection, typed, onTyped}: WorthProps) {
  const page = usePageStyles();
  const {assumptions, missing} = assumptionsOf(prices, typed);
  const items = Object.keys(PRICE_ITEMS) as PriceItem[];
  const known = items.filter((item) => prices.has(item));
  const open = items.filter((item) => !prices.has(item));
  return (
    <>
      <section className={page.section} aria-labelledby="assumptions">
        <h2 id="assumptions" className={page.heading}>
          What it rests on
        </h2>
        {known.length > 0 && (
          <dl className={page.figures} aria-label="From the table Prices">
            {known.map((item) => (
              <div key={item} style={{display: 'contents'}}>
                <dt>{PRICE_ITEMS[item]}</dt>
                <dd>
                  {inWords(prices.get(item)!.value)} {prices.get(item)!.unit}
                </dd>
              </div>
            ))}
          </dl>
        )}
        <p className={page.quiet}>
          {known.length === 0
            ? 'The workbook has no table Prices with these items; type them here.'
            : 'From the table Prices. Change them there.'}
          {known.length > 0 && open.length > 0
            ? ' It does not have what stands below; type it here, or add it there.'
            : ''}
        </p>
        <div className={page.row}>
          {open.map((item) => (
            <NumberField
              key={item}
              label={PRICE_ITEMS[item]}
              value={typed[item] ?? (item === 'weightLeft' ? WEIGHT_LEFT : undefined)}
              least={0}
              {...(MOST[item] === undefined ? {} : {most: MOST[item]})}
              optional
              onNumber={(value) => onTyped({...typed, [item]: value})}
            />
          ))}
        </div>
        {open.includes('weightLeft') && of.wheels.some(({again}) => again === undefined) && (
          <p className={page.quiet}>
            A share of 1 claims no saving of weight. What a match leaves is known only when the wheel is balanced again;
            take the share from your own remounts.
          </p>
        )}
      </section>
      {missing.length > 0 ? (
        <p role="status">Still wanted: {missing.map((item) => PRICE_ITEMS[item].toLowerCase()).join(', ')}.</p>
      ) : (
        <Answer
          of={of}
          prices={prices}
          assumptions={assumptions as Assumptions}
          record={record}
          selection={selection}
        />
      )}
    </>
  );
}

interface AnswerProps extends Omit<WorthProps, 'typed' | 'onTyped'> {
  readonly assumptions: Assumptions;
}

const money = (value: number): string => value.toFixed(2);

function Answer({of, prices, assumptions, record, selection}: AnswerProps) {
  const page = usePageStyles();
  const [share, setShare] = useState(20);
  const value = worth(of, assumptions);
  const tires = of.wheels.length;
  const figures = (amount: number, item: PriceItem): string =>
    item === 'weightLeft' || item.startsWith('risk') ? inWords(amount) : inWords(Number(amount.toPrecision(3)));
  const swings = tornado(of, assumptions, share / 100);
  return (
    <>
      <section className={page.section} aria-labelledby="net" aria-live="polite">
        <h2 id="net" className={page.heading}>
          {value.net >= 0
            ? `Worth it by ${money(value.net)}`
            : `Not worth it: it costs ${money(-value.net)} more than it brings`}
        </h2>
        <p>
          Turning {tires === 1 ? 'the tire' : `${tires} tires`} of {of.wheels.map(({position}) => position).join(', ')}.{' '}
          {value.breakeven === undefined
            ? 'No time makes it worth it, or labor costs nothing.'
            : `It breaks even at ${inWords(Number(value.breakeven.toPrecision(3)))} minutes of labor in all${tires === 1 ? '' : ` (${inWords(Number((value.breakeven / tires).toPrecision(3)))} a tire)`}.`}
        </p>
        <dl className={page.figures}>
          <dt>Weight saved</dt>
          <dd>
            {inWords(value.saved)} {of.massUnit}, {money(value.weightsaving)}
          </dd>
          <dt>Comebacks averted</dt>
          <dd>{money(value.riskaverted)}</dd>
          <dt>Labor</dt>
          <dd>{money(value.labor)}</dd>
          <dt>Net</dt>
          <dd>
            <strong>{money(value.net)}</strong>
          </dd>
        </dl>
        {of.wheels.some(({again}) => again !== undefined) && (
          <p className={page.quiet}>Where a wheel was measured again below, its own weights count.</p>
        )}
      </section>
      <section className={page.section} aria-labelledby="moves">
        <h2 id="moves" className={page.heading}>
          How the answer moves
        </h2>
        <Field label={`Every assumption moved by ${share} %`}>
          <Slider
            min={5}
            max={50}
            step={5}
            value={share}
            style={{width: '100%', minWidth: 0}}
            onChange={(_, {value: moved}) => setShare(moved)}
            aria-valuetext={`${share} percent`}
          />
        </Field>
        {swings.length === 0 ? (
          <p>No assumption moves it.</p>
        ) : (
          <TornadoChart
            title={`Net when one assumption moves by ${share} %`}
            net={value.net}
            rows={swings.map(({item, low, high, netAtLow, netAtHigh}) => ({
              name: PRICE_ITEMS[item],
              low: figures(low, item),
              high: figures(high, item),
              netAtLow,
              netAtHigh,
            }))}
          />
        )}
      </section>
      <section className={page.section} aria-label="In the sheet">
        <WriteBlock
          action="Write the formula block"
          sheet={record.ledger.body.sheet}
          row={record.ledger.body.row + record.index}
          selection={selection}
          block={(corner) => costBlock(of, prices, assumptions, corner)}
        />
      </section>
    </>
  );
}
