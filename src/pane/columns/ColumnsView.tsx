import {Button, Checkbox, Field, ProgressBar, Select} from '@fluentui/react-components';
import {useCallback, useEffect, useMemo, useRef, useState} from 'react';
import {toLedgerMap} from '../../workbook/columns/ledgerMapping';
import type {Mapping} from '../../workbook/columns/mapping';
import {freeColumn, makePlan, occupied} from '../../workbook/columns/plan';
import {lastLimit} from '../../workbook/columns/evaluate';
import {readWorkbook, type ReadWorkbook} from '../../workbook/columns/readWorkbook';
import {RECIPES} from '../../workbook/columns/recipes';
import type {LimitsFrom, Settings} from '../../workbook/columns/settings';
import {Problem} from '../shared/Problem';
import {usePageStyles} from '../shared/styles';
import {StartLedger} from '../wheel/StartLedger';
import {AddSection} from './AddSection';
import {FillSection} from './FillSection';
import {MappingSection} from './MappingSection';
import {excelToday, known, type Candidate, type Known} from './model';
import {Outcome, type Filling} from './Outcome';
import {PreviewSection} from './PreviewSection';

type Reading =
  | {readonly kind: 'reading'; readonly share: number}
  | {readonly kind: 'problem'; readonly words: string}
  | {readonly kind: 'read'; readonly read: ReadWorkbook; readonly known: Known};

/** The shop's own sheet: what its columns hold, and columns added to it. */
export function ColumnsView({lookAgain}: {readonly lookAgain: () => void}) {
  const page = usePageStyles();
  const [reading, setReading] = useState<Reading>({kind: 'reading', share: 0});
  const [outcome, setOutcome] = useState<Filling>();
  const [recipes, setRecipes] = useState<readonly string[]>(USUAL);
  const outcomes = useRef(0);
  const turn = useRef(0);
  const read = useCallback(() => {
    const mine = ++turn.current;
    const say = (next: Reading): void => {
      if (mine === turn.current) setReading(next);
    };
    say({kind: 'reading', share: 0});
    readWorkbook((share) => say({kind: 'reading', share})).then(
      (found) => say({kind: 'read', read: found, known: known(found)}),
      (error: unknown) => say({kind: 'problem', words: (error as Error).message}),
    );
  }, []);
  useEffect(() => {
    read();
    return () => {
      turn.current++;
    };
  }, [read]);

  return (
    <article aria-labelledby="columns">
      <h1 id="columns" className={page.heading}>
        Columns
      </h1>
      {outcome !== undefined && (
        <Outcome
          key={outcomes.current}
          outcome={outcome}
          onTakenBack={() => {
            lookAgain();
            read();
          }}
        />
      )}
      {reading.kind === 'reading' && (
        <>
          <p role="status">Reading the workbook …</p>
          <ProgressBar aria-label="Cells read" value={reading.share} />
        </>
      )}
      {reading.kind === 'problem' && (
        <div className={page.stack}>
          <Problem words={reading.words} />
          <div>
            <Button onClick={read}>Read again</Button>
          </div>
        </div>
      )}
      {reading.kind === 'read' && (
        <Found
          key={reading.read.selection.sheet}
          read={reading.read}
          known={reading.known}
          recipes={recipes}
          onRecipes={setRecipes}
          onAgain={() => {
            setOutcome(undefined);
            read();
          }}
          onFilled={(filling) => {
            outcomes.current++;
            setOutcome(filling);
            lookAgain();
            read();
          }}
          onStarted={lookAgain}
        />
      )}
    </article>
  );
}

interface Sharing {
  readonly read: ReadWorkbook;
  readonly recipes: readonly string[];
  readonly onRecipes: (recipes: readonly string[]) => void;
  readonly onAgain: () => void;
  readonly onFilled: (filling: Filling) => void;
}

interface FoundProps extends Sharing {
  readonly known: Known;
  readonly onStarted: () => void;
}

function Found({known: {candidates, likely, tables}, onStarted, ...sharing}: FoundProps) {
  const {read, onAgain} = sharing;
  const page = usePageStyles();
  const [at, setAt] = useState(likely);
  const candidate: Candidate | undefined = candidates[at] ?? candidates[0];
  return (
    <div className={page.stack}>
      {read.passedOver.length > 0 && <p>Too large to be read: {read.passedOver.join(', ')}.</p>}
      {candidate === undefined ? (
        <>
          <p>
            No sheet here has headings with readings of wheels below them that Wheel Ledger recognizes: at least six
            readings around the turn, side by side or one below the other. Put headings above them, such as R1, R2, R3
            …, and read again, or start a ledger.
          </p>
          <StartLedger
            onStarted={() => {
              onStarted();
              onAgain();
            }}
          />
        </>
      ) : (
        <>
          <Field label="Wheels are on">
            <Select value={String(candidates.indexOf(candidate))} onChange={(_, {value}) => setAt(Number(value))}>
              {candidates.map(({title}, i) => (
                <option key={title} value={String(i)}>
                  {title}
                </option>
              ))}
            </Select>
          </Field>
          <Chosen key={candidate.title} candidate={candidate} tables={tables} {...sharing} />
        </>
      )}
      <div>
        <Button size="small" onClick={onAgain}>
          Read the workbook again
        </Button>
      </div>
    </div>
  );
}

interface ChosenProps extends Sharing {
  readonly candidate: Candidate;
  readonly tables: Settings['tables'];
}

const USUAL = RECIPES.filter(({usual}) => usual).map(({id}) => id);

function Chosen({read, candidate, tables, recipes, onRecipes, onAgain, onFilled}: ChosenProps) {
  const page = usePageStyles();
  const [mapping, setMapping] = useState<Mapping>(candidate.mapping);
  const [limitsFrom, setLimitsFrom] = useState<LimitsFrom>(candidate.limitsFrom);
  const [spill, setSpill] = useState(false);
  const [from, setFrom] = useState<number>();
  const [busy, setBusy] = useState(false);
  const settings = useMemo<Settings>(
    () => ({tables, limitsFrom: standing(limitsFrom, mapping)}),
    [tables, limitsFrom, mapping],
  );
  const plan = useMemo(
    () => makePlan(mapping, settings, {recipes, reuse: true, from, spill, today: excelToday()}),
    [mapping, settings, recipes, from, spill],
  );
  const sheet = read.sheets.find(({name}) => name === mapping.records.sheet)!;
  const free = freeColumn(plan, sheet);
  const crowded = mapping.records.kind === 'range' && from === undefined && occupied(plan, sheet).length > 0;
  const map = toLedgerMap(mapping, settings.limitsFrom, lastLimit(settings));
  const otherMap = read.map !== undefined && read.map.table !== map.table ? read.map.table : undefined;
  return (
    <>
      <p className={page.quiet}>
        {candidate.origin === 'map'
          ? 'As the sheet “Ledger map” says.'
          : candidate.doubts.length === 0
            ? 'Guessed from headings and contents; nothing is doubtful. Confirm it by going on.'
            : 'Guessed from headings and contents. Confirm or change it.'}
      </p>
      <fieldset disabled={busy} style={{border: 0, margin: 0, padding: 0, minWidth: 0}}>
        <MappingSection candidate={candidate} mapping={mapping} onMapping={setMapping} />
        <AddSection
          mapping={mapping}
          settings={settings}
          chosen={recipes}
          onChosen={onRecipes}
          onLimits={setLimitsFrom}
          onSettings={onAgain}
        />
        {mapping.records.kind === 'range' && mapping.firstOf === undefined && (
          <Checkbox
            checked={spill}
            label="One formula for a whole column where that can be (EACHROW), instead of one in each row"
            onChange={(_, {checked}) => setSpill(checked === true)}
          />
        )}
      </fieldset>
      {plan.columns.length > 0 && <PreviewSection plan={plan} />}
      {from !== undefined && <p>New columns go further right, where the sheet is free.</p>}
      <FillSection
        plan={plan}
        map={map}
        otherMap={otherMap}
        onBusy={setBusy}
        onFilled={onFilled}
        onElsewhere={crowded ? () => setFrom(free) : undefined}
      />
    </>
  );
}

/** Limits from columns that are no longer said to hold them are none. */
function standing(from: LimitsFrom, mapping: Mapping): LimitsFrom {
  if (from.kind === 'none' && mapping.columns.has('Limits')) return {kind: 'columns'};
  const gone =
    (from.kind === 'columns' && !mapping.columns.has('Limits')) ||
    (from.kind === 'class' && !mapping.columns.has('Class'));
  return gone ? {kind: 'none'} : from;
}
