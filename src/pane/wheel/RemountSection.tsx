import {useEffect, useState} from 'react';
import {inWords, withUncertainty} from '../../maths/format';
import {readColumns, readRecords, type CellValue, type LedgerRecord} from '../../workbook/ledger';
import {NumberField} from '../shared/NumberField';
import {Problem} from '../shared/Problem';
import {usePageStyles} from '../shared/styles';
import {wheelModel} from './model';
import {askedTurn, remount} from './remountModel';

const same = (a: CellValue | undefined, b: CellValue | undefined): boolean =>
  String(a ?? '')
    .trim()
    .toLowerCase() ===
  String(b ?? '')
    .trim()
    .toLowerCase();

/** The nearest record above with the same job and position: the wheel as it was measured before. */
export async function recordBefore(record: LedgerRecord): Promise<LedgerRecord | undefined> {
  const [job, position] = [record.cells('Job')[0], record.cells('Position')[0]];
  if (same(job, '') || same(position, '')) return undefined;
  const columns = await readColumns(record.ledger, ['Job', 'Position']);
  const [jobs, positions] = [columns.get('Job') ?? [], columns.get('Position') ?? []];
  for (let i = record.index - 1; i >= 0; i--) {
    if (same(jobs[i], job) && same(positions[i], position)) return (await readRecords(record.ledger, [i]))[0];
  }
  return undefined;
}

/** Where a wheel has a record before this one: was the remount what it was said to be? */
export function RemountSection({record}: {readonly record: LedgerRecord}) {
  const [before, setBefore] = useState<LedgerRecord>();
  const [problem, setProblem] = useState<string>();
  useEffect(() => {
    let current = true;
    recordBefore(record).then(
      (found) => {
        if (!current) return;
        setBefore(found);
        setProblem(undefined);
      },
      (error: unknown) => {
        if (current) setProblem((error as Error).message);
      },
    );
    return () => {
      current = false;
    };
  }, [record]);
  if (problem !== undefined) return <Problem words={problem} />;
  return before === undefined ? null : <Compared key={before.index} before={before} now={record} />;
}

function Compared({before, now}: {readonly before: LedgerRecord; readonly now: LedgerRecord}) {
  const page = usePageStyles();
  const [turn, setTurn] = useState(() => askedTurn(wheelModel(before)));
  const found = remount(before, now, turn);
  const unit = now.ledger.map.runoutUnit;
  return (
    <section className={page.section} aria-labelledby="remount">
      <h2 id="remount" className={page.heading}>
        After the remount
      </h2>
      <p className={page.quiet}>
        The record in row {now.ledger.body.row + before.index + 1} is of the same job and position, measured before.
      </p>
      <NumberField
        label="The tire was turned by"
        unit="°"
        value={turn}
        least={-360}
        most={360}
        onNumber={(value) => setTurn(value!)}
      />
      {typeof found === 'string' ? (
        <p>{found}</p>
      ) : (
        <div aria-live="polite">
          <p>
            <strong>{TITLES[found.verified.finding]}</strong>. {found.verified.reason}
          </p>
          <dl className={page.figures}>
            <dt>Predicted</dt>
            <dd>
              {withUncertainty(found.predicted.amount, found.plusPredicted)} {unit} at{' '}
              {Math.round(found.predicted.angle)}°
            </dd>
            <dt>Measured</dt>
            <dd>
              {withUncertainty(found.measured.amount, found.plusMeasured)} {unit} at {Math.round(found.measured.angle)}°
            </dd>
            <dt>Difference ÷ uncertainty</dt>
            <dd>{inWords(found.verified.en)} (up to 1 they agree)</dd>
            <dt>Really turned by</dt>
            <dd>{found.reallyTurned === undefined ? 'not to be told' : `${Math.round(found.reallyTurned)}°`}</dd>
          </dl>
        </div>
      )}
    </section>
  );
}

const TITLES = {
  'as predicted': 'As predicted',
  'turned wrong': 'Turned by another angle',
  'seating or other': 'The tire sits differently',
} as const;
